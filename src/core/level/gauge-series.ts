// The readings of one gauge as a series: each with its airframe hours, brought to one temperature, marked comparable or
// not, and with the sum of what was filled before it.
//
// In the record instants say what came first; a reading at the very instant of an uplift is not comparable. An uplift
// counts in the unit of the gauge: as it is, by the fluid's density, or by the sheet's `perLitre`. One that cannot be
// turned into that unit, or of which nobody said which of several gauges rises by it, ends the series: the trend starts
// anew after it. Where the hours of a reading lie below those before, the fewest that can be wrong are left out.
import type { CraftState, ReadingFact, UpliftFact } from "../facts/craft.ts";
import { openUplifts } from "../facts/look-alikes.ts";
import { own } from "../facts/own.ts";
import type { Fluid, Gauge } from "../sheet/gauge-blocks.ts";
import type { Sheet } from "../sheet/schema.ts";
import { convert, inUnit } from "../quantity/units.ts";
import { airframeHours, type HoursClock } from "./airframe-hours.ts";
import { atReference } from "./at-temperature.ts";
import { shutdownClock, type WhyNot, whyNotComparable } from "./comparability.ts";
import { neverFalling } from "./never-falling.ts";

export type SeriesPoint = {
  readonly reading: ReadingFact;
  readonly hours_h: number | null;
  readonly minutesAfterShutdown: number | null;
  /** As read, at the gauge's reference temperature; null where it cannot be brought there. */
  readonly value: number | null;
  /** Sum of the uplifts before it since the series began, in the gauge's unit. */
  readonly added: number;
  /** Empty: comparable. */
  readonly whyNot: readonly WhyNot[];
};

export type SeriesUplift = {
  readonly uplift: UpliftFact;
  readonly hours_h: number | null;
  /** By how much the gauge reads more; null where that cannot be said, which ends the series. */
  readonly rise: number | null;
  readonly inFuture: boolean;
};

export type GaugeSeries = {
  readonly gauge: Gauge;
  /** By time. */
  readonly points: readonly SeriesPoint[];
  readonly uplifts: readonly SeriesUplift[];
  /** Sum of all uplifts until now since the series began, those after the last reading too. */
  readonly addedNow: number;
  /** Instant from which the series is one: that of the last uplift of unknown rise; null for the whole of it. */
  readonly from_ms: number | null;
};

/** What the series of all gauges of a craft share. */
export type SeriesFrame = {
  readonly sheet: Sheet;
  readonly state: CraftState;
  readonly now_ms: number;
  readonly hours: HoursClock;
  readonly minutes: (at_ms: number) => number | null;
  /** Uplifts that may be one, written twice. */
  readonly alike: readonly (readonly [UpliftFact, UpliftFact])[];
};

export function seriesFrame(sheet: Sheet, state: CraftState, now_ms: number): SeriesFrame {
  const hours = airframeHours(sheet, state);
  const minutes = shutdownClock(state.flights);
  return { sheet, state, now_ms, hours, minutes, alike: openUplifts(state) };
}

/** The series of one gauge. What lies after `now_ms` is kept, not comparable and not counted. */
export function gaugeSeries(gauge: Gauge, frame: SeriesFrame): GaugeSeries {
  const uplifts = upliftsOf(gauge, frame);
  const past = uplifts.filter(({ inFuture }) => !inFuture);
  const from_ms = past.findLast(({ rise }) => rise === null)?.uplift.at_ms ?? null;
  const counted = past.filter(
    ({ rise, uplift }) => rise !== null && !(uplift.at_ms < (from_ms ?? -Infinity)),
  );
  const instants = new Set(uplifts.map(({ uplift }) => uplift.at_ms));
  const readings = (own(frame.state.readings, gauge.id) ?? []).toSorted(
    (a, b) => a.at_ms - b.at_ms || a.value - b.value || (a.entry < b.entry ? -1 : 1),
  );
  let added = 0;
  let next = 0;
  const points = readings.map((reading): SeriesPoint => {
    for (; next < counted.length && counted[next]!.uplift.at_ms < reading.at_ms; next += 1) {
      added += counted[next]!.rise!;
    }
    return pointOf(gauge, reading, frame, added, instants);
  });
  // Two records of perhaps one filling: before a reading the larger sum is the worse (more was used), after the last one
  // the smaller is (less is there), because no reading has seen it yet.
  const last_ms = readings.at(-1)?.at_ms ?? -Infinity;
  const second = new Set(frame.alike.flatMap(([one, other]) => (one.at_ms > last_ms ? [other.uplift] : [])));
  const sure = counted.filter(({ uplift }) => !second.has(uplift.uplift));
  const addedNow = sure.reduce((sum, { rise }) => sum + rise!, 0);
  return { gauge, points: withoutHoursBack(points), uplifts, addedNow, from_ms };
}

function pointOf(
  gauge: Gauge,
  reading: ReadingFact,
  { hours, minutes, now_ms }: SeriesFrame,
  added: number,
  upliftInstants: ReadonlySet<number>,
): SeriesPoint {
  const since_min = reading.conditions.minutesAfterShutdown ?? minutes(reading.at_ms);
  const hours_h = reading.hours_h ?? hours(reading.at_ms);
  const whyNot = [...whyNotComparable(gauge, reading, since_min)];
  if (hours_h === null) whyNot.push("hoursNotKnown");
  if (upliftInstants.has(reading.at_ms)) whyNot.push("upliftAtSameInstant");
  if (reading.at_ms > now_ms) whyNot.push("inFuture");
  if (reading.withdrawn !== undefined) whyNot.push("withdrawn");
  const { value } = atReference(gauge, reading.value, reading.conditions);
  return {
    reading,
    hours_h,
    minutesAfterShutdown: since_min,
    value: reading.unit === gauge.unit && value !== null && Number.isFinite(value) ? value : null,
    added,
    whyNot,
  };
}

function withoutHoursBack(points: readonly SeriesPoint[]): readonly SeriesPoint[] {
  const placed = points.filter(
    ({ hours_h, whyNot }) =>
      hours_h !== null && !whyNot.includes("inFuture") && !whyNot.includes("withdrawn"),
  );
  const kept = neverFalling(placed.map(({ hours_h }) => hours_h!));
  if (kept.every(Boolean)) return points;
  const back = new Set(placed.filter((_, index) => !kept[index]));
  return points.map((point) =>
    back.has(point) ? { ...point, whyNot: [...point.whyNot, "hoursBack"] } : point,
  );
}

function upliftsOf(gauge: Gauge, { sheet, state, hours, now_ms }: SeriesFrame): readonly SeriesUplift[] {
  const { fluid } = gauge;
  const of = sheet.fluids.find(({ id }) => id === fluid);
  const sharing = fluid === undefined ? 0 : sheet.gauges.filter((other) => other.fluid === fluid).length;
  return state.uplifts
    .filter((uplift) => uplift.gauge === gauge.id || (uplift.gauge === null && uplift.fluid === fluid))
    .toSorted((a, b) => a.at_ms - b.at_ms || (a.uplift < b.uplift ? -1 : 1))
    .map((uplift) => ({
      uplift,
      hours_h: uplift.hours_h ?? hours(uplift.at_ms),
      inFuture: uplift.at_ms > now_ms,
      rise: uplift.gauge === null && sharing > 1 ? null : riseOf(gauge, of, uplift),
    }));
}

/** By how much the gauge reads more after an uplift; null where the sheet does not say. */
export function riseOf(
  gauge: Pick<Gauge, "unit" | "perLitre">,
  fluid: Fluid | undefined,
  { amount, unit }: Pick<UpliftFact, "amount" | "unit">,
): number | null {
  if (unit === gauge.unit) return amount;
  const litres = litresOf(fluid, amount, unit);
  if (litres === null) return null;
  if (gauge.unit === "L") return litres;
  if (gauge.unit === "kg") return fluid?.density_kgL === undefined ? null : litres * fluid.density_kgL;
  return gauge.perLitre === undefined ? null : litres * gauge.perLitre;
}

function litresOf(fluid: Fluid | undefined, amount: number, unit: string): number | null {
  if (unit === "L") return amount;
  if (unit === "usgal") return convert(inUnit(amount, "usgal"), "usgal", "L");
  if (unit === "kg") return fluid?.density_kgL === undefined ? null : amount / fluid.density_kgL;
  return null;
}
