// The judge of the sky, in a part of the app that is loaded beside the first.
import { trackSun } from "../../core/sky/sun.ts";
import { skyJudge } from "../../core/standing/sky.ts";

export const judge = skyJudge(trackSun());
