// All gauges of a craft at an instant: series, trend, what is left until the mark, what must be asked. The one way by which
// the standing, the screen and the command line come to them.
//
// Hours left are counted from now: those of the forecast less what was flown since its last reading. Without a forecast, a
// gauge with a greatest consumption in the sheet is taken to use that much; without either they are not known.
// A word that the trend starts anew cuts the series there, as an uplift of unknown amount does.
import type { CraftState, LevelSettled } from "../facts/craft.ts";
import { dateAt, type ZoneId } from "../facts/calendar.ts";
import { hour_ms } from "../facts/instant.ts";
import { evaluateApplicability } from "../sheet/applicability.ts";
import type { Gauge } from "../sheet/gauge-blocks.ts";
import type { Sheet } from "../sheet/schema.ts";
import { craftConfigOf } from "../walk/craft-config.ts";
import { marksOf } from "./at-temperature.ts";
import { gaugeSeries, type GaugeSeries, seriesFrame, type SeriesPoint } from "./gauge-series.ts";
import { gaugeTrend, type GaugeTrend } from "./gauge-trend.ts";
import { levelQuestions, type LevelQuestion, passesOver } from "./level-questions.ts";

export type HoursLeft = {
  readonly expected_h: number | null;
  readonly pessimistic_h: number | null;
  /** `trend`: by the forecast; `greatest`: as if it used the sheet's greatest consumption. */
  readonly by: "trend" | "greatest";
  readonly mark: "low" | "high";
};

export type GaugeLevels = {
  readonly gauge: Gauge;
  /** Its place in the sheet's list. */
  readonly index: number;
  readonly series: GaugeSeries;
  readonly trend: GaugeTrend | null;
  readonly left: HoursLeft | null;
  readonly questions: readonly LevelQuestion[];
};

export type CraftLevels = {
  /** Airframe hours now; null where not known. */
  readonly hours_h: number | null;
  readonly gauges: readonly GaugeLevels[];
};

type Computed = {
  readonly sheet: Sheet;
  readonly from_ms: number;
  readonly until_ms: number;
  readonly levels: CraftLevels;
};

/** Levels by the record that they follow from: they are asked for at every tap, and a record changes with an entry only. */
const computed = new WeakMap<CraftState, Computed>();

/** The levels of the gauges that the craft has. Time changes them only where something recorded lies in the future. */
export function craftLevels(sheet: Sheet, state: CraftState, now_ms: number): CraftLevels {
  const held = computed.get(state);
  if (held?.sheet === sheet && now_ms >= held.from_ms && now_ms < held.until_ms) return held.levels;
  const levels = levelsAt(sheet, state, now_ms);
  computed.set(state, { sheet, from_ms: now_ms, until_ms: nextInstant(state, now_ms), levels });
  return levels;
}

/** The first instant after now at which something happens that the record holds already. */
function nextInstant({ readings, uplifts, flights, due, levelsSettled }: CraftState, now_ms: number): number {
  let next = Number.POSITIVE_INFINITY;
  const look = (at_ms: number): void => {
    if (at_ms > now_ms && at_ms < next) next = at_ms;
  };
  for (const list of Object.values(readings)) for (const { at_ms } of list) look(at_ms);
  for (const list of [uplifts, due.bases, levelsSettled]) for (const { at_ms } of list) look(at_ms);
  for (const { off_ms, on_ms } of flights) {
    look(off_ms);
    look(on_ms);
  }
  return next;
}

function levelsAt(sheet: Sheet, state: CraftState, now_ms: number): CraftLevels {
  const frame = seriesFrame(sheet, state, now_ms);
  const hours_h = frame.hours(now_ms);
  const craft = craftConfigOf(state);
  const each = sheet.gauges.flatMap((gauge, index) => {
    if (evaluateApplicability(gauge.applies, craft, {}).value === false) return [];
    const series = since(gaugeSeries(gauge, frame), state.levelsSettled);
    const trend = gaugeTrend(series);
    const fluid = sheet.fluids.find(({ id }) => id === gauge.fluid);
    const questions = levelQuestions(series, trend, fluid, state.levelsSettled);
    return [{ gauge, index, series, trend, questions, left: hoursLeft(series, trend, hours_h) }];
  });
  const over = passesOver(each);
  const gauges = each.map((one) => ({
    ...one,
    questions: [...one.questions, ...over.filter(({ gauge }) => gauge === one.gauge.id)],
  }));
  return { hours_h, gauges };
}

function since(series: GaugeSeries, settled: readonly LevelSettled[]): GaugeSeries {
  const anew = settled.filter(({ gauge, settles }) => gauge === series.gauge.id && settles === "trend");
  const from_ms = Math.max(series.from_ms ?? -Infinity, ...anew.map(({ at_ms }) => at_ms));
  return from_ms === -Infinity || from_ms === series.from_ms ? series : { ...series, from_ms };
}

/** The newest reading that tells a level in the gauge's own unit, comparable or not; null without one. */
export function latestPoint({ points }: GaugeSeries): SeriesPoint | null {
  const counts = ({ value, whyNot }: SeriesPoint): boolean =>
    value !== null && !whyNot.includes("inFuture") && !whyNot.includes("withdrawn");
  return points.findLast(counts) ?? null;
}

function hoursLeft(series: GaugeSeries, trend: GaugeTrend | null, now_h: number | null): HoursLeft | null {
  const until_h = trend?.points.at(-1)?.hours_h;
  const lessFlown = (hours: number | null, from_h: number): number | null =>
    hours === null ? null : Math.max(0, hours - Math.max(0, (now_h ?? from_h) - from_h));
  if (trend?.forecast != null && until_h !== undefined) {
    const { expected_h, pessimistic_h, mark } = trend.forecast;
    return {
      expected_h: lessFlown(expected_h, until_h),
      pessimistic_h: lessFlown(pessimistic_h, until_h),
      by: "trend",
      mark,
    };
  }
  return byGreatest(series, now_h);
}

function byGreatest(series: GaugeSeries, now_h: number | null): HoursLeft | null {
  const { gauge, uplifts } = series;
  const latest = latestPoint(series);
  const { low } = marksOf(gauge);
  const most = gauge.consumptionMax_perHour;
  if (most === undefined || low === null || latest?.value == null || gauge.worse === "higher") return null;
  if (latest.hours_h === null || now_h === null) return null;
  const filled = uplifts
    .filter(({ uplift, inFuture }) => !inFuture && uplift.at_ms > latest.reading.at_ms)
    .reduce((sum, { rise }) => sum + (rise ?? 0), 0);
  const hours = (latest.value + filled - low) / most - Math.max(0, now_h - latest.hours_h);
  const left = Math.max(0, hours);
  return { expected_h: left, pessimistic_h: left, by: "greatest", mark: "low" };
}

/** Days with flights whose hours say what a busy day is. */
const recentDays = 60;

/** Flight hours that are still likely today: those of a busy day, as in the sheet or as in nine of ten recent days with flights where that is more, less what was flown today. */
export function likelyHours(
  flights: CraftState["flights"],
  busyDay_h: number,
  now_ms: number,
  zone: ZoneId,
): number {
  const today = dateAt(now_ms, zone);
  const byDay = new Map<string, number>();
  for (const { on_ms, flight_h } of flights) {
    if (on_ms > now_ms || on_ms < now_ms - recentDays * 24 * hour_ms) continue;
    const day = dateAt(on_ms, zone);
    byDay.set(day, (byDay.get(day) ?? 0) + flight_h);
  }
  const days = [...byDay].filter(([day]) => day !== today).map(([, hours]) => hours);
  const busy = days.toSorted((a, b) => a - b)[Math.ceil(days.length * 0.9) - 1] ?? 0;
  return Math.max(0, Math.max(busyDay_h, busy) - (byDay.get(today) ?? 0));
}
