// The judge of the sky and of mass and balance, in a part of the app that is loaded beside the first.
import { trackSun } from "../../core/sky/sun.ts";
import { judgeBeside } from "../../core/standing/judge-beside.ts";

export const judge = judgeBeside(trackSun());
