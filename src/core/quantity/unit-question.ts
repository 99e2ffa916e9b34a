// Notices a number that fits better in another unit: 185 typed as a patient's kilograms, 700 litres of fuel typed as
// kilograms. It only asks; it never converts in silence, and it does not say that a number is right.
//
// Common practice behind it: pounds for kilograms is off by 2.2, litres for kilograms of jet fuel by about 1.25, and the
// wrong one often still lies within the limits. So a number is questioned when its written reading cannot be and another
// can; or when both can be, a usual value is known, and the other reading is nearer to it (by ratio).

import { describe, refuse } from "./refusal.ts";
import { units } from "./units.ts";

/** One way to take the number: the unit it would be in, and its value in the unit that the field is kept in. */
export type UnitReading = { readonly unit: string; readonly value: number };

/** What the quantity can be, in the unit that the field is kept in; `usual` where something is known of this one. */
export type Plausible = { readonly min: number; readonly max: number; readonly usual?: number };

export type UnitAnswer =
  | { readonly kind: "fits" }
  /** Ask: did you mean `instead`? */
  | { readonly kind: "question"; readonly written: UnitReading; readonly instead: UnitReading }
  /** No reading can be. */
  | { readonly kind: "implausible" };

export function unitQuestion(
  written: UnitReading,
  others: readonly UnitReading[],
  plausible: Plausible,
): UnitAnswer {
  for (const reading of [written, ...others]) {
    if (!Number.isFinite(reading.value))
      refuse(reading.unit, "notFinite", describe(reading.value), "a finite number");
  }
  const possible = others.filter((reading) => isPossible(reading, plausible));
  const best = nearest(possible, plausible.usual);
  if (!isPossible(written, plausible)) {
    return best === undefined ? { kind: "implausible" } : { kind: "question", written, instead: best };
  }
  const { usual } = plausible;
  if (best === undefined || usual === undefined) return { kind: "fits" };
  return distance(best, usual) < distance(written, usual)
    ? { kind: "question", written, instead: best }
    : { kind: "fits" };
}

/** A number written as kilograms, and taken as pounds, in kilograms. */
export function massReadings(value: number): { readonly kg: UnitReading; readonly lb: UnitReading } {
  const [numerator, denominator] = units.lb.factor;
  return { kg: { unit: "kg", value }, lb: { unit: "lb", value: (value * numerator) / denominator } };
}

/** A number of fuel, taken as kilograms, pounds, litres or US gallons of a density, in kilograms. */
export function fuelReadings(
  value: number,
  densityKgPerL: number,
): {
  readonly kg: UnitReading;
  readonly lb: UnitReading;
  readonly L: UnitReading;
  readonly usgal: UnitReading;
} {
  if (!(densityKgPerL >= 0.6 && densityKgPerL <= 1)) {
    refuse("density", "outsideDomain", `${describe(densityKgPerL)} kg/L`, "a fuel density of 0.6 … 1 kg/L");
  }
  const [numerator, denominator] = units.usgal.factor;
  const litresPerGallon = (numerator * 1000) / denominator;
  return {
    ...massReadings(value),
    L: { unit: "L", value: value * densityKgPerL },
    usgal: { unit: "usgal", value: value * litresPerGallon * densityKgPerL },
  };
}

function isPossible({ value }: UnitReading, { min, max }: Plausible): boolean {
  return value >= min && value <= max;
}

function nearest(readings: readonly UnitReading[], usual: number | undefined): UnitReading | undefined {
  if (usual === undefined) return readings[0];
  return readings.toSorted((a, b) => distance(a, usual) - distance(b, usual))[0];
}

/** How far a reading is from the usual value, by ratio; a ratio with 0 or between signs is as far as can be. */
function distance({ value }: UnitReading, usual: number): number {
  const ratio = value / usual;
  return ratio > 0 ? Math.abs(Math.log(ratio)) : Number.POSITIVE_INFINITY;
}
