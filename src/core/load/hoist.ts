// A hover with a load on the hoist: where the lateral centre goes, and which loads the limits allow, for every fuel state
// of the hover and every load from an empty hook to the full one.
//
// The load hangs from the boom, so it acts at the boom's station whatever the length of the cable (common practice; a
// swinging load is not computed). For a given fuel the lateral centre (Y + p·y)/(m + p) is monotone in the load p, so its
// extremes over all loads lie at the empty or the full hook; along the fuel they lie at the ends, at points of the tank
// or where the curve turns. Right positive. The load's mass includes the hook and harness.
// Refusals are those of fuel-line.ts, path.ts and solve.ts.

import { type BurnTrack, trackBurn } from "./burn-track.ts";
import type { FuelLine } from "./fuel-line.ts";
import type { Interval } from "./interval-set.ts";
import type { Limits } from "./limits.ts";
import { fuelPath, type Path, turningMass } from "./path.ts";
import { safeForAll, type Solution } from "./solve.ts";
import { addTotals, centreOf, type Station, type Totals, totalsAt } from "./totals.ts";

export type HoistHover = {
  /** Everything but fuel and hook. */
  readonly base: Totals;
  readonly line: FuelLine;
  /** The fuel states of the hover. */
  readonly fuel_kg: Interval;
  readonly boom: Station;
  /** From the empty hook to the full one. */
  readonly hook_kg: Interval;
  /** The limits that hold while hoisting. */
  readonly limits: Limits;
};

export type LateralExtreme = { readonly y_m: number; readonly fuel_kg: number; readonly hook_kg: number };

export type HoverCheck = {
  readonly empty: BurnTrack;
  readonly full: BurnTrack;
  readonly furthestLeft: LateralExtreme;
  readonly furthestRight: LateralExtreme;
  /** Every load with every fuel state is inside every limit. */
  readonly safe: boolean;
  /** The loads that are inside for every fuel state of the hover. */
  readonly loads: Solution;
  /** The fuel states that are inside for every load. */
  readonly fuels: Solution;
};

export function checkHoistHover(hover: HoistHover): HoverCheck {
  const { base, line, fuel_kg, boom, hook_kg, limits } = hover;
  const withHook = (mass_kg: number): Totals => addTotals(base, totalsAt(boom, mass_kg));
  const burn = { line, from_kg: fuel_kg.high, to_kg: fuel_kg.low };
  const { safe, masses, fuels } = safeForAll(
    { base, station: boom, mass_kg: hook_kg, line, fuel_kg },
    limits,
  );
  const extremes = [hook_kg.low, hook_kg.high].flatMap((load_kg) =>
    lateralStates(fuelPath(withHook(load_kg), line, fuel_kg.low, fuel_kg.high), load_kg),
  );
  return {
    empty: trackBurn(withHook(hook_kg.low), burn, limits),
    full: trackBurn(withHook(hook_kg.high), burn, limits),
    furthestLeft: extremes.reduce((one, other) => (other.y_m < one.y_m ? other : one)),
    furthestRight: extremes.reduce((one, other) => (other.y_m > one.y_m ? other : one)),
    safe,
    loads: masses,
    fuels,
  };
}

/** The states of a burn among which the lateral centre is furthest to either side. */
function lateralStates(path: Path, load_kg: number): LateralExtreme[] {
  const fuels = path.pieces.flatMap(({ low_kg, high_kg, other_kg, y }) => {
    const turning = turningMass(y);
    const fuel = turning === null ? low_kg : turning - other_kg;
    return [low_kg, high_kg, ...(fuel > low_kg && fuel < high_kg ? [fuel] : [])];
  });
  return fuels.map((fuel) => ({ y_m: centreOf(path.totalsAt(fuel)).y_m, fuel_kg: fuel, hook_kg: load_kg }));
}
