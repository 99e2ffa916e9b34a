// The craft's own meters against the counters of the record: what each showed when it was read, what had been counted by
// then, and whether both agree.
//
// The hour meter is the sheet's first counter in hours; meters of landings, starts and hoist cycles are those that the
// sheet names as such. Compared since the latest signed base: a new base is how a meter that
// was changed, or a difference that was explained, starts again. Both figures are kept; none is averaged into the other.
// Agreement: within half a step of the meter, which is all that it can be read to, and for hours the operator's own
// tolerance on top; what is counted one by one has none. A reading that an engineer settled as a question (level.settled) is left out. Common practice: counters are
// reconciled daily after the last flight, a difference asks for a reason.
import type { CraftState, ReadingFact } from "../facts/craft.ts";
import type { CounterName } from "../facts/due.ts";
import { own } from "../facts/own.ts";
import { above } from "../quantity/compare.ts";
import type { Gauge } from "../sheet/gauge-blocks.ts";
import type { Sheet } from "../sheet/schema.ts";
import { countersAt } from "./counters.ts";

type Fell = { readonly reading: ReadingFact; readonly from: ReadingFact };

export type MeterRead = {
  readonly counter: CounterName;
  readonly gauge: string;
  /** The newest reading since the latest base; null where there is none. */
  readonly latest: {
    readonly reading: ReadingFact;
    /** What the record had counted by then; null where it cannot tell. */
    readonly counted: number | null;
    readonly differs: boolean;
  } | null;
  /** Readings that show less than the one before them. */
  readonly fell: readonly Fell[];
};

/** The hour meter of a sheet; undefined for one without. */
export function hourMeterOf(sheet: Sheet): Gauge | undefined {
  return sheet.gauges.find(
    ({ kind, unit, counter = "flightHours_h" }) =>
      kind === "counter" && unit === "h" && counter === "flightHours_h",
  );
}

/** The hour meter since the latest base; null for a sheet without one. */
export function meterRead(sheet: Sheet, state: CraftState, tolerance_h: number): MeterRead | null {
  const meter = hourMeterOf(sheet);
  return meter === undefined ? null : readOf(meter, "flightHours_h", state, tolerance_h);
}

/** Every meter since the latest base, the hour meter first. Of one that is not installed nothing grows and nothing is read. */
export function metersRead(sheet: Sheet, state: CraftState, tolerance_h: number): readonly MeterRead[] {
  const hours = meterRead(sheet, state, tolerance_h);
  const counts = sheet.gauges.flatMap((gauge) => {
    const { kind, counter } = gauge;
    if (kind !== "counter" || counter === undefined || counter === "flightHours_h") return [];
    return [readOf(gauge, counter, state, 0)];
  });
  return hours === null ? counts : [hours, ...counts];
}

function readOf(meter: Gauge, counter: CounterName, state: CraftState, tolerance: number): MeterRead {
  const base_ms = state.due.bases.reduce((latest, { at_ms }) => Math.max(latest, at_ms), -Infinity);
  const settled = new Set(
    state.levelsSettled
      .filter(({ gauge, settles }) => gauge === meter.id && settles === "questions")
      .flatMap(({ entries }) => entries),
  );
  const readings = (own(state.readings, meter.id) ?? [])
    .filter(
      ({ at_ms, entry, unit, withdrawn }) =>
        at_ms >= base_ms && !settled.has(entry) && withdrawn === undefined && unit === meter.unit,
    )
    .toSorted((a, b) => a.at_ms - b.at_ms || a.value - b.value);
  const reading = readings.at(-1);
  const counted = reading === undefined ? null : (countersAt(state, reading.at_ms)?.[counter] ?? null);
  const allowed = meter.step / 2 + tolerance;
  return {
    counter,
    gauge: meter.id,
    latest:
      reading === undefined
        ? null
        : {
            reading,
            counted,
            differs: counted !== null && above(Math.abs(reading.value - counted), allowed),
          },
    fell: readings.flatMap((one, index): Fell[] => {
      const from = readings[index - 1];
      return from !== undefined && above(from.value, one.value) ? [{ reading: one, from }] : [];
    }),
  };
}
