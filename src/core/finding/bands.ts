// The sheet's damage limits: which band a finding falls into by its part, zone and measure.
//
// A finding names the damage limit (part and zone); its measure is the largest that was ever taken of it, since damage
// does not heal. In a unit that does not belong to the limit's measure nothing is known. A value within a relative 1e−9
// of a band's end counts as on it; whether the end belongs to the band, the sheet says (`closed`).
// Source of the limits: the operator's own manual, by the sheet. Inches: 25.4 mm, exact (core/quantity/units.ts).
import type { FindingFacts, Measure, MeasureAgain } from "../facts/craft.ts";
import { above, below } from "../quantity/compare.ts";
import { convert } from "../quantity/units.ts";
import type { Damage } from "../sheet/finding-blocks.ts";
import type { Sheet } from "../sheet/schema.ts";

export type Band = Damage["bands"][number];

/** What the sheet says of a finding as it was last known. */
export type BandFound =
  /** No limit was named, or the sheet has none of that name: nobody's limit covers it. */
  | { readonly kind: "none" }
  /** The limit wants a measure that nobody has taken, or taken in a unit that does not belong to it. */
  | { readonly kind: "notMeasured"; readonly damage: Damage }
  | {
      readonly kind: "band";
      readonly damage: Damage;
      readonly band: Band;
      readonly index: number;
      /** Null where the limit is for whatever its size. */
      readonly value: number | null;
    };

/** Units as people write them by a measure's dimension; the first is the one that limits are kept in. */
export const measureUnits = {
  length: ["mm", "cm", "in"],
  area: ["cm2", "mm2"],
  drops: ["drops/min"],
  count: ["count"],
} as const;
export type MeasureUnit = (typeof measureUnits)[keyof typeof measureUnits][number];

/** The units in which a limit's measure may be given, the limit's own first; none for "whatever its size". */
export function unitsOf(measure: Damage["measure"]): readonly MeasureUnit[] {
  switch (measure) {
    case "depth_mm":
    case "length_mm":
    case "diameter_mm":
    case "play_mm":
      return measureUnits.length;
    case "area_cm2":
      return measureUnits.area;
    case "rate_dropsmin":
      return measureUnits.drops;
    case "count":
      return measureUnits.count;
    case "any":
      return [];
    default:
      return measure satisfies never;
  }
}

/** A measure in the unit of a limit; null where the two have nothing in common. */
export function measureIn(
  { value, unit }: Pick<Measure, "value" | "unit">,
  wanted: MeasureUnit,
): number | null {
  if (unit === wanted) return value;
  if (wanted === "mm") {
    if (unit === "cm") return value * 10;
    return unit === "in" ? convert(value as never, "in", "mm") : null;
  }
  return wanted === "cm2" && unit === "mm2" ? value / 100 : null;
}

export function damageOf(sheet: Sheet | null, { raised }: Pick<FindingFacts, "raised">): Damage | null {
  return sheet?.damage.find(({ id }) => id === raised.damage) ?? null;
}

/** The largest measure of a finding in the unit of the limit; null where there is none, or one that does not fit it. */
export function measureOf(damage: Damage, { raised, measured }: FindingFacts): number | null {
  const unit = unitsOf(damage.measure)[0];
  if (unit === undefined) return null;
  const taken = [
    ...(raised.measure === null ? [] : [raised.measure]),
    ...measured.map(({ measure }) => measure),
  ];
  const values = taken.map((measure) => measureIn(measure, unit));
  return values.length === 0 || values.includes(null) ? null : Math.max(...values.map(Number));
}

/** The band of a value: the first whose end it does not pass. */
export function bandAt(damage: Damage, value: number): { readonly band: Band; readonly index: number } {
  const index = damage.bands.findIndex(
    ({ upTo, closed = false }) => upTo === undefined || (closed ? !above(value, upTo) : below(value, upTo)),
  );
  // A checked sheet's last band has no end.
  const band = damage.bands[index];
  if (band === undefined) throw new RangeError(`damage limit ${damage.id}: no band for ${value}`);
  return { band, index };
}

export function bandOf(sheet: Sheet | null, finding: FindingFacts): BandFound {
  const damage = damageOf(sheet, finding);
  if (damage === null) return { kind: "none" };
  if (damage.measure === "any")
    return { kind: "band", damage, band: damage.bands[0]!, index: 0, value: null };
  const value = measureOf(damage, finding);
  return value === null
    ? { kind: "notMeasured", damage }
    : { kind: "band", damage, ...bandAt(damage, value), value };
}

/** The value at which a finding of this value leaves its outcome for a worse one; null where there is no worse one. */
export function limitAbove(damage: Damage, value: number): number | null {
  const { band, index } = bandAt(damage, value);
  const last = damage.bands.findLastIndex(({ outcome }) => outcome === band.outcome);
  return damage.bands[Math.max(index, last)]?.upTo ?? null;
}

/** The sooner of two terms, part by part. */
export function soonerAgain(a: MeasureAgain | null, b: MeasureAgain | null): MeasureAgain | null {
  if (a === null || b === null) return a ?? b;
  const sooner = (x: number | null, y: number | null) =>
    x === null || y === null ? (x ?? y) : Math.min(x, y);
  return { days: sooner(a.days, b.days), flight_h: sooner(a.flight_h, b.flight_h) };
}

/** What a band says of measuring again. */
export function againOf({ measureAgain_days, measureAgain_h }: Band): MeasureAgain | null {
  return measureAgain_days === undefined && measureAgain_h === undefined
    ? null
    : { days: measureAgain_days ?? null, flight_h: measureAgain_h ?? null };
}
