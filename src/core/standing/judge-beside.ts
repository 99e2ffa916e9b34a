// What is judged by parts that an app loads beside its first one, since they are heavy: the sky with its reports and sun,
// mass and balance with its exact solver, mass, power and fuel by reference calls, and frost on walks, which reads the
// reports. Until they are there nothing of them is known (sky-row.ts), and so no operation is ready.
import { assessBaseTanks, assessFuel } from "../fuel/assess-fuel.ts";
import { assessLoad } from "../load/assess.ts";
import { convert, inUnit } from "../quantity/units.ts";
import { assessReference } from "../reach/assess-reference.ts";
import type { Sun } from "../sky/sun-altitude.ts";
import { assessFrost } from "../walk/frost.ts";
import { fuelPolicyOf } from "./fuel-policy.ts";
import { skyJudge } from "./sky.ts";
import type { SkyJudge } from "./sky-row.ts";

export function judgeBeside(sun: Sun): SkyJudge {
  const judgeSky = skyJudge(sun);
  return (sheet, state, situation, base) => [
    ...judgeSky(sheet, state, situation, base),
    ...assessLoad(sheet, state, situation),
    ...assessFuel(sheet, state, situation),
    ...(base === null ? [] : assessBaseTanks(base.state.tanks, state, situation)),
    ...assessReference(sheet, state, situation, {
      elevation_ft: base === null ? null : convert(inUnit(base.elevation_m, "m"), "m", "ft"),
      policy: fuelPolicyOf(base?.state.fuelSchemes ?? []),
    }),
    ...assessFrost(sheet, state, situation, base),
  ];
}
