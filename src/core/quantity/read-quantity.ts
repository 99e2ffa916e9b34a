// Reads one quantity from an object whose keys end in their unit: `tas_kt`, `tas_ms` or `tas_kmh` for `tas`.
//
// Any unit of the dimension is accepted; the same quantity under two keys is refused even when both say the same, since
// one of them will be edited and the other forgotten. Only own keys count. Text is not a number here: typed numbers are
// read by parse-number, where a language is known.

import { atKey, describe, refuse } from "./refusal.ts";
import { convert, type Dimension, type InUnit, type UnitsOf, writtenUnits } from "./units.ts";

export type Reading<D extends Dimension> = {
  /** The key it stood under. */
  readonly key: string;
  readonly path: string;
  readonly unit: UnitsOf<D>;
  /** As written, in `unit`. */
  readonly value: number;
};

/** The keys under which a quantity may stand. */
export function quantityKeys(name: string, dimension: Dimension): string[] {
  return writtenUnits[dimension].map((unit) => `${name}_${unit}`);
}

/**
 * The quantity `name` of `object`, or null when none of its keys is there.
 * Refuses: two of its keys at once; a value that is no number or not finite. `path` is where `object` stands.
 */
export function readQuantity<D extends Dimension>(
  object: Readonly<Record<string, unknown>>,
  name: string,
  dimension: D,
  path: string,
): Reading<D> | null {
  let reading: Reading<D> | null = null;
  for (const unit of writtenUnits[dimension]) {
    const key = `${name}_${unit}`;
    if (!Object.hasOwn(object, key)) continue;
    const where = atKey(path, key);
    if (reading !== null)
      refuse(where, "givenTwice", `${reading.key} and ${key}`, `${name} in one unit only`);
    reading = { key, path: where, unit: unit as UnitsOf<D>, value: readNumber(object[key], where) };
  }
  return reading;
}

/** A finite number, or a refusal that names the path. */
export function readNumber(value: unknown, path: string): number {
  if (typeof value !== "number") refuse(path, "notANumber", describe(value), "a number");
  if (!Number.isFinite(value)) refuse(path, "notFinite", describe(value), "a finite number");
  return value;
}

/** A reading in the unit asked for; the very number that was written when that is its unit. */
export function readingIn<D extends Dimension, U extends UnitsOf<D>>(
  reading: Reading<D>,
  unit: U,
): InUnit[U] {
  return convert(reading.value as never, reading.unit as never, unit as never) as InUnit[U];
}
