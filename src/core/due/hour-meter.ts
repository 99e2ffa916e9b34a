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

type Fell = { readonly reading: ReadingFact; readonly from: ReadingFact };

export type MeterRead = {
  /** The newest reading since the latest base; null where there is none. */
  readonly latest: {
    readonly reading: ReadingFact;
    /** Hours that the record had counted by then; null where it cannot tell. */
    readonly counted_h: number | null;
    readonly differs: boolean;
  } | null;
  /** Readings that show less than the one before them. */
  readonly fell: readonly Fell[];
};

/** The hour meter since the latest base; null for a sheet without one. */
export function meterRead(sheet: Sheet, state: CraftState, tolerance_h: number): MeterRead | null {
  const meter = sheet.gauges.find(({ kind, unit }) => kind === "counter" && unit === "h");
  if (meter === undefined) return null;
  const base_ms = state.due.bases.reduce((latest, { at_ms }) => Math.max(latest, at_ms), -Infinity);
  const settled = new Set(
    state.levelsSettled
      .filter(({ gauge, settles }) => gauge === meter.id && settles === "questions")
      .flatMap(({ entries }) => entries),
  );
  const readings = (own(state.readings, meter.id) ?? [])
    .filter(({ at_ms, entry, unit }) => at_ms >= base_ms && !settled.has(entry) && unit === "h")
    .toSorted((a, b) => a.at_ms - b.at_ms || a.value - b.value);
  const reading = readings.at(-1);
  const counted_h = reading === undefined ? null : (countersAt(state, reading.at_ms)?.flightHours_h ?? null);
  const allowed_h = meter.step / 2 + tolerance_h;
  return {
    latest:
      reading === undefined
        ? null
        : {
            reading,
            counted_h,
            differs: counted_h !== null && above(Math.abs(reading.value - counted_h), allowed_h),
          },
    fell: readings.flatMap((one, index): Fell[] => {
      const from = readings[index - 1];
      return from !== undefined && above(from.value, one.value) ? [{ reading: one, from }] : [];
    }),
  };
}
