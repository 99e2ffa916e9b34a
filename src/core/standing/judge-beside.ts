// What is judged by parts that an app loads beside its first one, since they are heavy: the sky with its reports and sun,
// mass and balance with its exact solver, and frost on walks, which reads the reports. Until they are there nothing of
// them is known (sky-row.ts), and so no operation is ready.
import { assessLoad } from "../load/assess.ts";
import type { Sun } from "../sky/sun-altitude.ts";
import { assessFrost } from "../walk/frost.ts";
import { skyJudge } from "./sky.ts";
import type { SkyJudge } from "./sky-row.ts";

export function judgeBeside(sun: Sun): SkyJudge {
  const judgeSky = skyJudge(sun);
  return (sheet, state, situation, base) => [
    ...judgeSky(sheet, state, situation, base),
    ...assessLoad(sheet, state, situation),
    ...assessFrost(sheet, state, situation, base),
  ];
}
