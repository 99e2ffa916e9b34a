// One gauge over airframe hours as a picture, and the small pictures of all of them. Pure geometry: levels in, pixels out.
//
// Points stand as they were read (gas and bands brought to their reference temperature); what is not comparable is a ring.
// The line is the one of the rate, with every uplift put back on, so that it runs through the points as read. The fan is
// the forecast: the expected line and the interval for a further reading. The scatter band is what the readings since an
// alarm would keep to if nothing had changed but their scatter: two standard deviations about the normal rate.
// Hours run across, levels up. Nothing is drawn past the given hours; of points that fall on one pixel column the small
// picture keeps the lowest and the highest, so that the worst is never left out.
import { marksOf } from "../../core/level/at-temperature.ts";
import type { GaugeLevels } from "../../core/level/craft-levels.ts";
import type { TrendLine } from "../../core/level/gauge-trend.ts";
import type { SeriesPoint } from "../../core/level/gauge-series.ts";
import { predictAt } from "../../core/level/regression.ts";
import { closedPathOf, pathOf, tenth } from "../drawing/path.ts";
import type { Point } from "../drawing/ring.ts";
import { roundSteps, type Tick } from "./envelope-plot.ts";

export type HourSpan = { readonly from_h: number; readonly until_h: number };

export type LevelPlot = {
  /** Dots: strokes of no length with round ends. */
  readonly comparable: string;
  readonly others: string;
  readonly line: string;
  readonly expected: string;
  readonly fan: string;
  readonly scatter: string;
  readonly uplifts: readonly {
    readonly x: number;
    readonly top: number;
    readonly bottom: number;
    readonly rise: number;
  }[];
  readonly limits: readonly { readonly y: number; readonly side: "low" | "high"; readonly value: number }[];
  /** Between the limits; null without any. */
  readonly inside: { readonly top: number; readonly bottom: number } | null;
  readonly hours: readonly Tick[];
  readonly values: readonly Tick[];
  readonly nowX: number | null;
  readonly sinceX: number | null;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
};

const pads = { left: 46, right: 14, top: 14, bottom: 30 };
const fanSteps = 16;

type Placed = SeriesPoint & { readonly hours_h: number; readonly value: number };

/** Points that have a place in a picture. */
export function placedPoints({ series }: Pick<GaugeLevels, "series">): readonly Placed[] {
  return series.points.filter(
    (point): point is Placed =>
      point.hours_h !== null &&
      point.value !== null &&
      !point.whyNot.some((why) => why === "hoursBack" || why === "inFuture"),
  );
}

/** The last hours with room for the forecast; around the change that an alarm tells of; or everything. */
export const lookBacks = ["recent", "change", "whole"] as const;
export type LookBack = (typeof lookBacks)[number];

export const recent_h = 100;
const aroundChange_h = 40;

/** The hours to show; `change` is `recent` where there is no alarm. */
export function spanToShow(levels: GaugeLevels, now_h: number | null, back: LookBack): HourSpan {
  const hours = placedPoints(levels).map(({ hours_h }) => hours_h);
  const newest_h = Math.max(now_h ?? Number.NEGATIVE_INFINITY, ...hours);
  if (!Number.isFinite(newest_h)) return { from_h: 0, until_h: 1 };
  const first_h = Math.min(newest_h, ...hours);
  const since_h = levels.trend?.watch?.alarm?.since_h;
  if (back === "change" && since_h !== undefined) {
    const from_h = Math.max(first_h, since_h - aroundChange_h);
    return { from_h, until_h: Math.max(from_h + 1, Math.min(newest_h, since_h + aroundChange_h)) };
  }
  const from_h = back === "whole" ? first_h : Math.max(first_h, newest_h - recent_h);
  const shown_h = Math.max(newest_h - from_h, 1);
  const ahead_h =
    levels.left === null ? 0 : Math.min(Math.max(levels.left.expected_h ?? 0, 8) * 1.15, shown_h * 0.6);
  return { from_h, until_h: newest_h + Math.max(ahead_h, shown_h * 0.03) };
}

type Drawing = {
  readonly levels: GaugeLevels;
  readonly hours: HourSpan;
  readonly now_h: number | null;
  readonly width: number;
  readonly height: number;
};

export function plotLevels({ levels, hours, now_h, width, height }: Drawing): LevelPlot {
  const { gauge, trend } = levels;
  const points = placedPoints(levels).filter(
    ({ hours_h }) => hours_h >= hours.from_h && hours_h <= hours.until_h,
  );
  const marks = marksOf(gauge);
  const fan = fanOf(levels, hours);
  const [v0, v1] = valueRange([
    ...points.map(({ value }) => value),
    ...[marks.low, marks.high].filter((mark) => mark !== null),
    ...(fan?.expected.map(([, value]) => value) ?? []),
  ]);
  const [left, right] = [pads.left, width - pads.right];
  const [top, bottom] = [pads.top, height - pads.bottom];
  const atHour = (hours_h: number): number =>
    left + ((hours_h - hours.from_h) / (hours.until_h - hours.from_h)) * (right - left);
  const atValue = (value: number): number =>
    Math.min(bottom, Math.max(top, bottom - ((value - v0) / (v1 - v0)) * (bottom - top)));
  const to = ([hours_h, value]: Point): Point => [tenth(atHour(hours_h)), tenth(atValue(value))];
  const dots = (some: readonly Placed[]): readonly Point[] =>
    some.map(({ hours_h, value }) => to([hours_h, value]));
  const insideSpan = (at_h: number | null): boolean =>
    at_h !== null && at_h >= hours.from_h && at_h <= hours.until_h;
  const since_h = trend?.watch?.alarm?.since_h ?? null;
  return {
    comparable: dotsPath(dots(points.filter(({ whyNot }) => whyNot.length === 0))),
    others: ringsPath(dots(points.filter(({ whyNot }) => whyNot.length > 0))),
    line:
      trend?.line == null
        ? ""
        : stretchesOf(levels, trend.line, hours)
            .map((some) => pathOf(some.map(to)))
            .join(""),
    expected: fan === null ? "" : pathOf(until(fan.expected, v0, v1).map(to)),
    fan: fan === null ? "" : [fan.high, fan.low].map((edge) => pathOf(until(edge, v0, v1).map(to))).join(""),
    scatter: scatterOf(levels, hours)
      .map((some) => closedPathOf(some.map(to)))
      .join(""),
    uplifts: upliftsIn(levels, hours).map(({ hours_h, from, rise }) => ({
      x: tenth(atHour(hours_h)),
      top: tenth(atValue(from + rise)),
      bottom: tenth(atValue(from)),
      rise,
    })),
    limits: (["low", "high"] as const).flatMap((side) => {
      const value = marks[side];
      return value === null ? [] : [{ y: tenth(atValue(value)), side, value }];
    }),
    inside:
      marks.low === null && marks.high === null
        ? null
        : {
            top: marks.high === null ? top : tenth(atValue(marks.high)),
            bottom: marks.low === null ? bottom : tenth(atValue(marks.low)),
          },
    hours: roundSteps(hours.from_h, hours.until_h).map((value) => ({ at: tenth(atHour(value)), value })),
    values: roundSteps(v0, v1).map((value) => ({ at: tenth(atValue(value)), value })),
    nowX: insideSpan(now_h) ? tenth(atHour(now_h!)) : null,
    sinceX: insideSpan(since_h) ? tenth(atHour(since_h!)) : null,
    left,
    right,
    top,
    bottom,
  };
}

function valueRange(values: readonly number[]): readonly [number, number] {
  const [low, high] = [Math.min(...values), Math.max(...values)];
  if (!Number.isFinite(low)) return [0, 1];
  const room = high > low ? (high - low) * 0.07 : Math.max(Math.abs(high) * 0.1, 1);
  return [low - room, high + room];
}

/** What was filled before an hour since the series began; at the very hour of an uplift, not yet. */
function addedBefore({ series }: GaugeLevels, hours_h: number): number {
  return series.uplifts
    .filter(
      (uplift) =>
        !uplift.inFuture && uplift.hours_h !== null && uplift.hours_h < hours_h && countsIn(series, uplift),
    )
    .reduce((sum, { rise }) => sum + (rise ?? 0), 0);
}

function countsIn(
  series: GaugeLevels["series"],
  { uplift }: GaugeLevels["series"]["uplifts"][number],
): boolean {
  return series.from_ms === null || uplift.at_ms >= series.from_ms;
}

/** Stretches of hours between which something was filled. */
function stretches(levels: GaugeLevels, from_h: number, until_h: number): readonly HourSpan[] {
  const inner = levels.series.uplifts
    .map(({ hours_h }) => hours_h)
    .filter((hours_h): hours_h is number => hours_h !== null && hours_h > from_h && hours_h < until_h)
    .toSorted((a, b) => a - b);
  const ends = [from_h, ...new Set(inner), until_h];
  return ends.slice(1).map((end, index) => ({ from_h: ends[index]!, until_h: end }));
}

/** The rate's line as read: stretch by stretch, with what was filled before each put back on. */
function stretchesOf(levels: GaugeLevels, line: TrendLine, hours: HourSpan): readonly (readonly Point[])[] {
  const from_h = Math.max(line.from_h, hours.from_h);
  const until_h = Math.min(line.until_h, hours.until_h);
  if (from_h >= until_h) return [];
  const { turn } = levels.trend!;
  return stretches(levels, from_h, until_h).map((stretch) => {
    const added = addedBefore(levels, (stretch.from_h + stretch.until_h) / 2);
    return [stretch.from_h, stretch.until_h].map((at_h): Point => [
      at_h,
      turn * (line.fit.intercept + line.fit.slope * at_h) + added,
    ]);
  });
}

type Fan = {
  readonly expected: readonly Point[];
  readonly low: readonly Point[];
  readonly high: readonly Point[];
};

function fanOf({ trend, series }: GaugeLevels, { until_h }: HourSpan): Fan | null {
  if (trend?.line == null) return null;
  const { line, turn, plan } = trend;
  const from_h = line.until_h;
  if (until_h <= from_h) return null;
  const fit = { ...line.fit, residualSd: line.scatter };
  const steps = Array.from(
    { length: fanSteps + 1 },
    (_, index) => from_h + ((until_h - from_h) * index) / fanSteps,
  );
  const at = (pick: "value" | "low" | "high") =>
    steps.map((at_h): Point => [at_h, turn * predictAt(fit, at_h, plan.confidence)[pick] + series.addedNow]);
  return { expected: at("value"), low: at("low"), high: at("high") };
}

/** Where readings since an alarm would lie at the normal rate; as long as what was filled since has not carried it away. */
function scatterOf(levels: GaugeLevels, hours: HourSpan): readonly (readonly Point[])[] {
  const { trend, gauge } = levels;
  const { low, high } = marksOf(gauge);
  const watch = trend?.watch;
  const alarm = watch?.alarm;
  const last_h = trend?.points.at(-1)?.hours_h ?? 0;
  if (watch == null || alarm == null || last_h <= alarm.since_h) return [];
  const at = watch.hours_h.indexOf(alarm.since_h);
  const begins = at < 0 ? watch.normal.level : watch.carried[at]!;
  const from_h = Math.max(alarm.since_h, hours.from_h);
  const until_h = Math.min(last_h, hours.until_h, alarm.since_h + aroundChange_h);
  if (until_h <= from_h) return [];
  const bands = stretches(levels, from_h, until_h).map((stretch) => {
    const added = addedBefore(levels, (stretch.from_h + stretch.until_h) / 2);
    const ends = [stretch.from_h, stretch.until_h];
    const edge = (by: number) =>
      ends.map((at_h): Point => {
        const level = begins - watch.normal.perHour * (at_h - alarm.since_h) + by * 2 * watch.scatter;
        return [at_h, trend!.turn * level + added];
      });
    return [...edge(1), ...edge(-1).toReversed()];
  });
  const leaves = bands.findIndex((band) =>
    band.every(
      ([, value]) => value > (high ?? Number.POSITIVE_INFINITY) || value < (low ?? Number.NEGATIVE_INFINITY),
    ),
  );
  return leaves < 0 ? bands : bands.slice(0, leaves);
}

function upliftsIn(
  levels: GaugeLevels,
  hours: HourSpan,
): readonly { readonly hours_h: number; readonly from: number; readonly rise: number }[] {
  const points = placedPoints(levels);
  return levels.series.uplifts.flatMap(({ uplift, hours_h, rise, inFuture }) => {
    if (rise === null || inFuture || hours_h === null || hours_h < hours.from_h || hours_h > hours.until_h)
      return [];
    const before = points.findLast(({ reading }) => reading.at_ms <= uplift.at_ms);
    return before === undefined ? [] : [{ hours_h, from: before.value, rise }];
  });
}

/** A line as far as it stays between two values. */
function until(line: readonly Point[], low: number, high: number): readonly Point[] {
  const out = line.findIndex(([, value]) => value < low || value > high);
  const [before, after] = [line[out - 1], line[out]];
  if (before === undefined || after === undefined) return out === 0 ? [] : line;
  const edge = after[1] < low ? low : high;
  const share = (edge - before[1]) / (after[1] - before[1]);
  return [...line.slice(0, out), [before[0] + share * (after[0] - before[0]), edge]];
}

function dotsPath(points: readonly Point[]): string {
  return points.map(([x, y]) => `M${x} ${y}h0`).join("");
}

const ring = 2.4;
function ringsPath(points: readonly Point[]): string {
  return points
    .map(
      ([x, y]) =>
        `M${tenth(x - ring)} ${y}a${ring} ${ring} 0 1 0 ${2 * ring} 0a${ring} ${ring} 0 1 0 ${-2 * ring} 0`,
    )
    .join("");
}

export type SmallPlot = {
  readonly points: string;
  readonly limits: readonly number[];
  readonly sinceX: number | null;
  readonly newest: Point | null;
};

/** A gauge's whole history in a small picture; null without a point to show. */
export function smallPlot(levels: GaugeLevels, width: number, height: number): SmallPlot {
  const points = placedPoints(levels).filter(({ whyNot }) => whyNot.length === 0);
  const marks = marksOf(levels.gauge);
  const limits = [marks.low, marks.high].filter((mark) => mark !== null);
  const [v0, v1] = valueRange([...points.map(({ value }) => value), ...limits]);
  const first_h = points[0]?.hours_h ?? 0;
  const last_h = Math.max(points.at(-1)?.hours_h ?? 1, first_h + 1);
  const pad = 3;
  const atX = (hours_h: number): number =>
    pad + ((hours_h - first_h) / (last_h - first_h)) * (width - 2 * pad);
  const atY = (value: number): number =>
    tenth(height - pad - ((value - v0) / (v1 - v0)) * (height - 2 * pad));
  const columns = Map.groupBy(points, ({ hours_h }) => Math.round(atX(hours_h)));
  const kept = [...columns].flatMap(([x, some]): Point[] => {
    const values = some.map(({ value }) => value);
    const ends = new Set([Math.min(...values), Math.max(...values)]);
    return [...ends].map((value) => [x, atY(value)]);
  });
  const newest = points.at(-1);
  const since_h = levels.trend?.watch?.alarm?.since_h ?? null;
  return {
    points: dotsPath(kept),
    limits: limits.map(atY),
    sinceX: since_h === null ? null : tenth(atX(since_h)),
    newest: newest === undefined ? null : [tenth(atX(newest.hours_h)), atY(newest.value)],
  };
}
