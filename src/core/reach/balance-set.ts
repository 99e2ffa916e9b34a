// The quantities of fuel that are in balance for a load, for every mass of everybody who may be aboard: an exact set of
// intervals, worked out once, so that a burn is in balance exactly when it lies in one of them.
//
// Room of a burn: how much fuel more at its start, or less at its end, would still be in balance, in kg; negative is how
// far it is from the nearest interval that could hold it. An end of the tank limits nothing. Mass is judged apart.
// Of several who board, each is taken over its whole range while each other is absent or at its most (core/load).
import { type FuelLine, fuelRange } from "../load/fuel-line.ts";
import { intersectIntervals, type IntervalSet } from "../load/interval-set.ts";
import type { LimitName, Limits } from "../load/limits.ts";
import { type OpenLoad, safeFuels } from "../load/solve.ts";
import { addTotals, type Station, type Totals, totalsAt } from "../load/totals.ts";

export type OpenBoarding = Station & { readonly most_kg: number; readonly isExact: boolean };

export type BalanceSet = {
  /** Whether longitudinal and lateral limits are given at all; without them nothing is known. */
  readonly isKnown: boolean;
  /** Low, high, low, high … in kg of fuel, ascending; infinite where only the tank ends. */
  readonly ends: Float64Array;
  readonly byLimit: readonly { readonly limit: LimitName; readonly ends: Float64Array }[];
};

export function balanceSet(
  base: Totals,
  boardings: readonly OpenBoarding[],
  line: FuelLine,
  limits: Limits,
): BalanceSet {
  const [low, high] = fuelRange(line);
  const fuel_kg = { low, high };
  const ofBalance = { ...limits, mass: null };
  const fixed = boardings
    .filter(({ isExact }) => isExact)
    .reduce((sum, boarding) => addTotals(sum, totalsAt(boarding, boarding.most_kg)), base);
  const open = boardings.filter(({ isExact }) => !isExact);
  const loads =
    open.length === 0
      ? [closed(fixed, line, fuel_kg)]
      : open.flatMap((one) => opened(fixed, one, open, line, fuel_kg));
  const answers = loads.map((load) => safeFuels(load, ofBalance));
  const names = [...new Set(answers.flatMap(({ byLimit }) => byLimit.map(({ limit }) => limit)))];
  const common = (sets: readonly IntervalSet[]): IntervalSet =>
    sets.reduce((one, other) => intersectIntervals(one, other), [fuel_kg]);
  return {
    isKnown: limits.longitudinal !== null && limits.lateral !== null,
    ends: flat(common(answers.map(({ set }) => set)), low, high),
    byLimit: names.map((limit) => ({
      limit,
      ends: flat(
        common(
          answers.flatMap(({ byLimit }) =>
            byLimit.filter((one) => one.limit === limit).map(({ set }) => set),
          ),
        ),
        low,
        high,
      ),
    })),
  };
}

const closed = (base: Totals, line: FuelLine, fuel_kg: OpenLoad["fuel_kg"]): OpenLoad => ({
  base,
  station: { x_m: 0, y_m: 0 },
  mass_kg: { low: 0, high: 0 },
  line,
  fuel_kg,
});

function opened(
  base: Totals,
  one: OpenBoarding,
  all: readonly OpenBoarding[],
  line: FuelLine,
  fuel_kg: OpenLoad["fuel_kg"],
): OpenLoad[] {
  const bases = all
    .filter((other) => other !== one)
    .reduce<Totals[]>(
      (some, other) => [...some, ...some.map((sum) => addTotals(sum, totalsAt(other, other.most_kg)))],
      [base],
    );
  const mass_kg = { low: 0, high: one.most_kg };
  return bases.map((sum) => ({ base: sum, station: one, mass_kg, line, fuel_kg }));
}

function flat(set: IntervalSet, low: number, high: number): Float64Array {
  return Float64Array.from(
    set.flatMap((interval) => [
      interval.low <= low ? Number.NEGATIVE_INFINITY : interval.low,
      interval.high >= high ? Number.POSITIVE_INFINITY : interval.high,
    ]),
  );
}

/** The room of a burn from `from_kg` down to `to_kg`; −infinity where no quantity of fuel is in balance. */
export function balanceRoom(ends: Float64Array, from_kg: number, to_kg: number): number {
  let best = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < ends.length; i += 2) {
    const above = to_kg - ends[i]!;
    const below = ends[i + 1]! - from_kg;
    const room = above < below ? above : below;
    if (room > best) best = room;
  }
  return best;
}
