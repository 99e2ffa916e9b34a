// The smallest room to each side of the limits over a whole burn: what is left before the nearest limit is met when the
// load moves forward, aft, left or right, or grows.
//
// Exact: along a stretch of the burn each distance is k0/m + k1 + k2·m, so its least value is at an end or at its turning
// point, and follow-path.ts cuts there. Coupled limits count on both axes. Mass: at the start of the burn, where it is
// greatest, at the centre of gravity it has there. Negative where outside; null where nothing is limited, or where at
// some mass no arm is inside (the mass itself is beyond). Units m and kg; refuses what trackBurn refuses.
import type { Burn } from "./burn-track.ts";
import { followPath } from "./follow-path.ts";
import { fuelTotals } from "./fuel-line.ts";
import { checkState, type Limits, planesOf } from "./limits.ts";
import { fuelPath } from "./path.ts";
import { addTotals, type Totals } from "./totals.ts";

export type BurnMargins = {
  readonly forward_m: number | null;
  readonly aft_m: number | null;
  readonly left_m: number | null;
  readonly right_m: number | null;
  readonly heavier_kg: number | null;
};

export function burnMargins(base: Totals, burn: Burn, limits: Limits): BurnMargins {
  const path = fuelPath(base, burn.line, burn.to_kg, burn.from_kg);
  const tracks = planesOf(limits)
    .filter(({ limit }) => limit !== "mass")
    .map((plane) => followPath(path, plane))
    .filter(({ worst }) => worst !== null);
  const least = (axis: "longitudinal" | "lateral", side: "below" | "above"): number | null => {
    const found = tracks
      .filter(({ plane }) => plane.axis === axis)
      .map((track) => track.least?.[side] ?? null);
    return found.reduce<number | null>(
      (one, other) => (one === null || other === null ? null : Math.min(one, other)),
      found[0] ?? null,
    );
  };
  const { margins } = checkState(limits, addTotals(base, fuelTotals(burn.line, burn.from_kg)));
  const heavier = [margins.mass, margins.longitudinal, margins.lateral].flatMap(
    (one) => one?.heavier_kg ?? [],
  );
  return {
    forward_m: least("longitudinal", "below"),
    aft_m: least("longitudinal", "above"),
    left_m: least("lateral", "below"),
    right_m: least("lateral", "above"),
    heavier_kg: heavier.length === 0 ? null : Math.min(...heavier),
  };
}
