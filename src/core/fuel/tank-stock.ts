// How much is left in a tank of the base, as a whole interval: the last dip with its accuracy, what was delivered since, and
// what craft and others took.
//
// Litres as written count as they are written. Kilograms and pounds become litres by the density at the fuel's temperature;
// where that was not measured, by every temperature for which the density is known (fuel-density.ts), so the interval
// widens. Of two amounts that look like one matter written twice (as much in the same unit within half an hour) the second
// may be there or not: both are in the interval, so that it is neither doubled nor dropped. What happened at the very instant of a dip may lie before it or after it: both are in the interval. Within the
// tank's walls by knowledge, never by a clamp: what leaves nothing between empty and full contradicts itself and is said.
// Null where nobody has dipped, or a quantity cannot be turned into litres.
import type { FuelAmount, TankFacts } from "../facts/base-tank.ts";
import { minute_ms } from "../facts/instant.ts";
import { Refusal } from "../quantity/refusal.ts";
import { convert, inUnit } from "../quantity/units.ts";
import { fuelDensity_kgL, fuelRange_C } from "./fuel-density.ts";
import { tankRules } from "./tank-at.ts";

/** What a craft took from a tank: part of its own record. */
export type TakenFuel = FuelAmount & { readonly at_ms: number; readonly baseTank: string | null };

export type TankStock =
  | { readonly is: "known"; readonly low_L: number; readonly high_L: number; readonly dipped_ms: number }
  | { readonly is: "notKnown"; readonly why: "notDescribed" | "notDipped" | "noVolume" | "contradicts" };

type Interval = readonly [low_L: number, high_L: number];

/** Null where its density is outside what is known. */
export function volumeOf({ amount, unit, density_kgL, fuel_C }: FuelAmount): Interval | null {
  if (unit === "L") return [amount, amount];
  if (unit === "usgal") {
    const litres = convert(inUnit(amount, "usgal"), "usgal", "L");
    return [litres, litres];
  }
  const mass_kg = unit === "kg" ? amount : convert(inUnit(amount, "lb"), "lb", "kg");
  try {
    const [cold_C, warm_C] = fuel_C === null ? fuelRange_C : [fuel_C, fuel_C];
    return [mass_kg / fuelDensity_kgL(density_kgL, cold_C), mass_kg / fuelDensity_kgL(density_kgL, warm_C)];
  } catch (error) {
    if (error instanceof Refusal) return null;
    throw error;
  }
}

const alike_ms = 30 * minute_ms;

type Moved = FuelAmount & { readonly at_ms: number };

function looksAlike(one: Moved, other: Moved): boolean {
  const isNear = Math.abs(one.at_ms - other.at_ms) <= alike_ms;
  return isNear && one.amount === other.amount && one.unit === other.unit;
}

export function tankStock(
  facts: TankFacts,
  tank: string,
  taken: readonly TakenFuel[],
  at_ms: number,
): TankStock {
  const rules = tankRules(facts, tank);
  if (rules === null) return { is: "notKnown", why: "notDescribed" };
  const dips = facts.checked.flatMap((one) =>
    one.tank === tank && one.at_ms <= at_ms && one.stock_L !== null
      ? [{ at_ms: one.at_ms, stock_L: one.stock_L }]
      : [],
  );
  if (dips.length === 0) return { is: "notKnown", why: "notDipped" };
  const dipped_ms = Math.max(...dips.map((one) => one.at_ms));
  const dipped = dips.filter((one) => one.at_ms === dipped_ms).map(({ stock_L }) => stock_L);
  let low_L = Math.min(...dipped) - rules.dipWithin_L;
  let high_L = Math.max(...dipped) + rules.dipWithin_L;
  const since = ({ at_ms: then_ms }: { readonly at_ms: number }): boolean =>
    then_ms >= dipped_ms && then_ms <= at_ms;
  const moved = [
    ...facts.delivered.filter((one) => one.tank === tank && since(one)).map((one) => [1, one] as const),
    ...facts.drawn.filter((one) => one.tank === tank && since(one)).map((one) => [-1, one] as const),
    ...taken.filter((one) => one.baseTank === tank && since(one)).map((one) => [-1, one] as const),
  ];
  for (const [index, [sign, one]] of moved.entries()) {
    const volume = volumeOf(one);
    if (volume === null) return { is: "notKnown", why: "noVolume" };
    const isTwice = moved.slice(0, index).some(([of, other]) => of === sign && looksAlike(one, other));
    const [least, most] = isTwice || one.at_ms === dipped_ms ? [0, volume[1]] : volume;
    low_L += sign === 1 ? least : -most;
    high_L += sign === 1 ? most : -least;
  }
  if (high_L < 0 || low_L > rules.capacity_L) return { is: "notKnown", why: "contradicts" };
  return {
    is: "known",
    low_L: Math.max(low_L, 0),
    high_L: Math.min(high_L, rules.capacity_L),
    dipped_ms,
  };
}
