// The trend of one gauge of a craft, by the plan that its sheet gives it.
//
// Levels are turned so that falling is worse: as read where lower is worse (or both), negated where higher is. What the
// trend rests on are the comparable readings of the series, with the uplifts taken off.
//   rate      the line through the readings of the last `window_h`; while an alarm *faster* stands, through those since it
//             began. Known from five readings over ten hours on (a window of at least about ten hours is common practice).
//   forecast  from the last of those readings to the mark: the sooner of the two lines.
//   watch     watch.ts over the whole series.
// A fluid that rose without an uplift (rise.ts) ends what is known: until it is written what was filled there is no rate
// and no forecast, and an alarm that stood before stands on. What is no fluid was renewed or charged: it starts anew.
// The scatter in intervals is the sheet's, or what the line leaves over without the newest hour where that is more: so a
// newest reading cannot look better for being wilder, and a lower one never lengthens a forecast.
import type { TrendPlan } from "../sheet/gauge-blocks.ts";
import { marksOf } from "./at-temperature.ts";
import { type Forecast, forecastToMark } from "./forecast.ts";
import type { GaugeSeries, SeriesPoint } from "./gauge-series.ts";
import { fitLevels, type LevelPoint, type Rate, rateOf } from "./rate.ts";
import { negate } from "./double-double.ts";
import type { LineFit } from "./regression.ts";
import { type Rise, standingRise } from "./rise.ts";
import { type Watch, watchRate } from "./watch.ts";

/** A comparable reading with the uplifts taken off, turned so that falling is worse. */
export type TrendPoint = LevelPoint & { readonly point: SeriesPoint };

export type TrendLine = {
  readonly fit: LineFit;
  readonly from_h: number;
  readonly until_h: number;
  readonly readings: number;
  readonly scatter: number;
  readonly rate: Rate;
};

export type GaugeTrend = {
  readonly plan: TrendPlan;
  /** +1: lower is worse; −1: higher is. */
  readonly turn: 1 | -1;
  readonly points: readonly TrendPoint[];
  /** Null where too little is known, or where the level rose by itself. */
  readonly line: TrendLine | null;
  /** Hours from the last comparable reading to the mark that is nearer in the direction of the rate; null without a line or a mark. */
  readonly forecast: (Forecast & { readonly mark: "low" | "high" }) | null;
  readonly watch: Watch | null;
  /** Where a fluid rose without an uplift, and nobody has written it since; null where it did not. */
  readonly rise: Rise | null;
};

const fewest = 5;
const least_h = 10;

/** The trend of a series; null where the sheet gives its gauge no plan. */
export function gaugeTrend(series: GaugeSeries): GaugeTrend | null {
  const { gauge } = series;
  const plan = gauge.trend;
  if (plan === undefined) return null;
  const turn = gauge.worse === "higher" ? -1 : 1;
  const all = trendPoints(series, turn);
  const points = gauge.fluid === undefined ? sinceRenewal(all, plan) : all;
  const watch = watchRate(points, plan, plan.confidence);
  const rise = gauge.fluid === undefined ? null : roseIn(lastHours(points, plan.window_h), watch, plan);
  if (rise !== null) {
    const before = points.filter(({ hours_h }) => hours_h < rise.hours_h);
    const until = watchRate(before, plan, plan.confidence);
    return { plan, turn, points, line: null, forecast: null, watch: until, rise };
  }
  const recent = lineThrough(lastHours(points, plan.window_h), plan, fewest, least_h);
  if (recent === null) return { plan, turn, points, line: null, forecast: null, watch, rise };
  const since = watch?.alarm?.kind === "faster" ? lineSince(points, watch.alarm.since_h, plan) : null;
  const lines = since === null ? [recent] : [since, recent];
  return { plan, turn, points, line: lines[0]!, forecast: soonest(lines, series, turn), watch, rise };
}

function trendPoints({ points, from_ms }: GaugeSeries, turn: 1 | -1): readonly TrendPoint[] {
  return points
    .filter(
      ({ whyNot, value, reading }) =>
        whyNot.length === 0 && value !== null && (from_ms === null || reading.at_ms > from_ms),
    )
    .map((point) => ({ hours_h: point.hours_h!, level: turn * (point.value! - point.added), point }));
}

function roseIn(points: readonly TrendPoint[], watch: Watch | null, plan: TrendPlan): Rise | null {
  return standingRise(points, watch?.scatter ?? plan.scatter, watch?.normal.perHour ?? 0);
}

/** What nobody fills and still rises was renewed or charged: its trend starts anew. */
function sinceRenewal(points: readonly TrendPoint[], plan: TrendPlan): readonly TrendPoint[] {
  const renewed = roseIn(points, watchRate(points, plan, plan.confidence), plan);
  return renewed === null ? points : points.filter(({ hours_h }) => hours_h >= renewed.hours_h);
}

function lastHours(points: readonly TrendPoint[], window_h: number): readonly TrendPoint[] {
  const last_h = points.at(-1)?.hours_h ?? 0;
  return points.filter(({ hours_h }) => hours_h >= last_h - window_h);
}

function lineThrough(
  points: readonly TrendPoint[],
  { scatter: known, confidence }: TrendPlan,
  readings: number,
  span_h: number,
): TrendLine | null {
  const from_h = points[0]?.hours_h ?? 0;
  const until_h = points.at(-1)?.hours_h ?? 0;
  if (points.length < readings || until_h - from_h < span_h || until_h === from_h) return null;
  const fit = fitLevels(points);
  const scatter = Math.max(known, scatterBefore(points, until_h));
  return {
    fit,
    from_h,
    until_h,
    readings: points.length,
    scatter,
    rate: rateOf(fit, confidence, scatter),
  };
}

/** What a line through the readings before the newest hour leaves over; 0 where those are too few for one. */
function scatterBefore(points: readonly TrendPoint[], newest_h: number): number {
  const before = points.filter(({ hours_h }) => hours_h < newest_h);
  const hours = new Set(before.map(({ hours_h }) => hours_h));
  return before.length < 3 || hours.size < 2 ? 0 : fitLevels(before).residualSd;
}

function lineSince(points: readonly TrendPoint[], since_h: number, plan: TrendPlan): TrendLine | null {
  return lineThrough(
    points.filter(({ hours_h }) => hours_h >= since_h),
    plan,
    3,
    0,
  );
}

/** The sooner of what the lines say; towards the high mark where higher is worse, or where a two-sided level rises. */
function soonest(lines: readonly TrendLine[], series: GaugeSeries, turn: 1 | -1): GaugeTrend["forecast"] {
  const { gauge, addedNow } = series;
  const rises = gauge.worse === "both" && lines[0]!.rate.perHour < 0;
  const towards = gauge.worse === "higher" || rises ? "high" : "low";
  const mark = marksOf(gauge)[towards];
  if (mark === null) return null;
  const from_h = Math.max(...lines.map(({ until_h }) => until_h));
  const side = rises ? -turn : turn;
  const forecasts = lines.map(({ fit, scatter }) =>
    forecastToMark(rises ? turned(fit) : fit, {
      from_h,
      mark: side * (mark - addedNow),
      confidence: gauge.trend!.confidence,
      scatter,
    }),
  );
  const least = (key: keyof Forecast): number | null => {
    const hours = forecasts.map((forecast) => forecast[key]).filter((known) => known !== null);
    return hours.length === 0 ? null : Math.min(...hours);
  };
  return { expected_h: least("expected_h"), pessimistic_h: least("pessimistic_h"), mark: towards };
}

/** The same line upside down. */
function turned(fit: LineFit): LineFit {
  const { moments } = fit;
  return {
    ...fit,
    slope: -fit.slope,
    intercept: -fit.intercept,
    moments: { ...moments, slope: negate(moments.slope), intercept: negate(moments.intercept) },
  };
}
