// The craft's own hour meter against the hours of the record: what it showed when it was read, what had been counted by
// then, and whether both agree.
//
// The meter is the sheet's first counter in hours. Compared since the latest signed base: a new base is how a meter that
// was changed, or a difference that was explained, starts again. Both figures are kept; none is averaged into the other.
// Agreement: within half a step of the meter, which is all that it can be read to, and the operator's own tolerance on
// top. A reading that an engineer settled as a question (level.settled) is left out. Common practice: counters are
// reconciled daily after the last flight, a difference asks for a reason.
import type { CraftState, ReadingFact } from "../facts/craft.ts";
import { own } from "../facts/own.ts";
import { above } from "../quantity/compare.ts";
import type { Sheet } from "../sheet/schema.ts";
import { countersAt } from "./counters.ts";

export type MeterRead = {
  readonly reading: ReadingFact;
  /** Hours that the record had counted by then; null where it cannot tell. */
  readonly counted_h: number | null;
  readonly differs: boolean;
  /** The reading before it, where the meter shows less than then. */
  readonly fellFrom: ReadingFact | null;
};

/** The readings of the hour meter since the latest base, oldest first; null for a sheet without one. */
export function meterRead(sheet: Sheet, state: CraftState, tolerance_h: number): readonly MeterRead[] | null {
  const meter = sheet.gauges.find(({ kind, unit }) => kind === "counter" && unit === "h");
  if (meter === undefined) return null;
  const base_ms = Math.max(...state.due.bases.map(({ at_ms }) => at_ms));
  const settled = new Set(
    state.levelsSettled
      .filter(({ gauge, settles }) => gauge === meter.id && settles === "questions")
      .flatMap(({ entries }) => entries),
  );
  const readings = (own(state.readings, meter.id) ?? [])
    .filter(({ at_ms, entry, unit }) => at_ms >= base_ms && !settled.has(entry) && unit === "h")
    .toSorted((a, b) => a.at_ms - b.at_ms || a.value - b.value);
  const allowed_h = meter.step / 2 + tolerance_h;
  return readings.map((reading, index): MeterRead => {
    const counted_h = countersAt(state, reading.at_ms)?.flightHours_h ?? null;
    const before = readings[index - 1];
    return {
      reading,
      counted_h,
      differs: counted_h !== null && above(Math.abs(reading.value - counted_h), allowed_h),
      fellFrom: before !== undefined && above(before.value, reading.value) ? before : null,
    };
  });
}
