// Whether the consumption has changed: each reading against the level that was carried forward from the readings before
// it at the normal rate, and the CUSUM of how far they lie apart.
//
// 1. The normal rate is the robust line (theil-sen.ts) through the readings of the first hours, the baseline.
// 2. From there a level is carried forward: mᵢ = m′ᵢ + λ (yᵢ − m′ᵢ) with m′ᵢ = mᵢ₋₁ − rate · hours between. The distance
//    yᵢ − m′ᵢ at a steady rate has the variance σ² 2/(2 − λ) (NIST/SEMATECH e-Handbook 6.4.3.1 for exponential smoothing of
//    independent readings); zᵢ is the distance in those standard deviations, held to ± the decision value, so that
//    one wild reading alone signals nothing. A lasting extra consumption d moves the mean of z towards −d · hours/(λ σ √(2/(2 − λ))).
// 3. The tabular CUSUM of −z (tabular-cusum.ts) signals *faster*, that of z *slower*. The allowance grows by what the
//    baseline leaves uncertain of the normal rate. Sums are held at twice the decision value, so that after the cause is
//    gone the signal goes too.
// Readings of one hour count as one, by their mean. A lower newest reading never makes a signal weaker.
// σ is the sheet's, or what the baseline shows where that is more. Without one: what the baseline shows, and never less
// than half the smallest step between two levels.
//
// In: points by hour with uplifts taken off. Out: null where there is too little to judge by.
// Ours, of published parts; how often it is wrong and how late it is: the study in sim/levels, table in bench/.

import { describe, refuse } from "../quantity/refusal.ts";
import { median } from "./order-statistics.ts";
import { byHour, fitLevels, type LevelPoint, type Rate, rateOf } from "./rate.ts";
import { meanRunToFalseSignal, riseBegan, tabularCusum } from "./tabular-cusum.ts";
import { robustScatter, senLine } from "./theil-sen.ts";

export type WatchPlan = {
  /** Hours from the first reading from which the normal rate is learnt. */
  readonly baseline_h: number;
  /** Standard deviation of one reading; null where it is not known beforehand. */
  readonly scatter: number | null;
  /** λ: what the newest reading counts in the level carried forward. */
  readonly smoothing: number;
  readonly slack_sd: number;
  readonly decision_sd: number;
};

/** What a gauge is watched with where nobody has chosen otherwise. Chosen from run lengths, not from histories. */
export const usualWatch = { smoothing: 0.2, slack_sd: 0.5, decision_sd: 6 } as const;

export type Alarm = {
  readonly kind: "faster" | "slower";
  /** Hour of the last reading that still looked normal. */
  readonly since_h: number;
  /** The sum, in standard deviations, and what it had to exceed. */
  readonly sum: number;
  readonly decision: number;
  /** If there were only the scatter of readings: hours that pass on average until a sum as large as this one. */
  readonly chanceEvery_h: number;
  /** Readings since, and the rate in them; null where they are too few. */
  readonly readings: number;
  readonly rate: Rate | null;
};

export type Watch = {
  readonly normal: {
    readonly perHour: number;
    readonly from_h: number;
    readonly until_h: number;
    readonly readings: number;
    /** Level of the baseline's line at `until_h`. */
    readonly level: number;
  };
  readonly scatter: number;
  /** By hour after the baseline: the level carried forward to it, and z. */
  readonly hours_h: readonly number[];
  readonly carried: readonly number[];
  readonly z: readonly number[];
  /** The sum that signals *faster*, after each of those hours. */
  readonly faster: readonly number[];
  readonly alarm: Alarm | null;
};

const fewestInBaseline = 4;

export function watchRate(points: readonly LevelPoint[], plan: WatchPlan, confidence: number): Watch | null {
  checkPlan(plan);
  const hourly = byHour(points);
  const [first] = hourly;
  if (first === undefined) return null;
  const learnt = hourly.filter(({ hours_h }) => hours_h <= first.hours_h + plan.baseline_h);
  const rest = hourly.slice(learnt.length);
  if (learnt.length < fewestInBaseline || rest.length === 0) return null;
  const x = learnt.map(({ hours_h }) => hours_h);
  const y = learnt.map(({ level }) => level);
  const line = senLine(x, y);
  const until_h = x.at(-1)!;
  const normal = {
    perHour: -line.slope + 0,
    from_h: first.hours_h,
    until_h,
    readings: learnt.length,
    level: line.intercept + line.slope * until_h,
  };
  // Two of the readings are spent on the line, and a median distance of few of them says little: no square root here.
  const shown = (robustScatter(x, y, line) * x.length) / (x.length - 2);
  const scatter = Math.max(shown, plan.scatter ?? halfStep(y));
  const steps = carryForward(rest, normal, { ...plan, scatter });
  const slack_sd = plan.slack_sd + unsureOfNormal(x, rest, plan.smoothing);
  const sums = tabularCusum(steps.z, {
    target: 0,
    slack: slack_sd,
    decision: plan.decision_sd,
    most: 2 * plan.decision_sd,
  });
  const judge = (kind: Alarm["kind"], list: readonly number[]): Alarm | null =>
    alarmOf(kind, list, { points, rest, normal, plan, slack_sd, confidence });
  const alarm = judge("faster", sums.low) ?? judge("slower", sums.high);
  return { normal, scatter, ...steps, faster: sums.low, alarm };
}

function checkPlan({ baseline_h, scatter, smoothing }: WatchPlan): void {
  if (!(baseline_h > 0)) refuse("baseline_h", "outsideDomain", describe(baseline_h), "above 0 h");
  if (scatter !== null && !(scatter > 0)) refuse("scatter", "outsideDomain", describe(scatter), "above 0");
  if (!(smoothing > 0 && smoothing <= 1))
    refuse("smoothing", "outsideDomain", describe(smoothing), "above 0 and at most 1");
}

/**
 * Half of what the gauge can be read to, when nothing else is known: half the smallest step between two levels where one
 * comes back at another hour (so that they are read to steps), half a unit of the last decimal otherwise.
 */
function halfStep(levels: readonly number[]): number {
  const largest = Math.max(...levels.map(Math.abs));
  // Less than a relative 1e−9 is rounding of the subtraction of uplifts.
  const rounding = largest * 1e-9;
  const sorted = levels.toSorted((a, b) => a - b);
  const steps = sorted.slice(1).map((level, index) => level - sorted[index]!);
  const real = steps.filter((step) => step > rounding);
  const decimal = Math.min(...levels.map((level) => lastDecimal(level, rounding)));
  const step = real.length < steps.length && real.length > 0 ? Math.min(...real) : decimal;
  return Math.max(step / 2, rounding, Number.MIN_VALUE);
}

/** The unit of the last decimal that a number shows; of a list, the finest counts. */
function lastDecimal(value: number, rounding: number): number {
  for (let decimals = 0; decimals < 12; decimals += 1) {
    const unit = 10 ** -decimals;
    if (Math.abs(value - Math.round(value / unit) * unit) <= rounding) return unit;
  }
  return rounding;
}

function carryForward(
  rest: readonly LevelPoint[],
  normal: Watch["normal"],
  { scatter, smoothing, decision_sd }: WatchPlan & { readonly scatter: number },
): Pick<Watch, "hours_h" | "carried" | "z"> {
  const sd = scatter * Math.sqrt(2 / (2 - smoothing));
  let at_h = normal.until_h;
  let level = normal.level;
  const carried: number[] = [];
  const distances = rest.map((point) => {
    level -= normal.perHour * (point.hours_h - at_h);
    at_h = point.hours_h;
    carried.push(level);
    const z = Math.min(decision_sd, Math.max(-decision_sd, (point.level - level) / sd));
    level += smoothing * sd * z;
    return z;
  });
  return { hours_h: rest.map(({ hours_h }) => hours_h), carried, z: distances };
}

/** By how much of z the baseline's own uncertainty can shift every later reading. */
function unsureOfNormal(x: readonly number[], rest: readonly LevelPoint[], smoothing: number): number {
  const mean = x.reduce((sum, at) => sum + at, 0) / x.length;
  const spread = Math.sqrt(x.reduce((sum, at) => sum + (at - mean) ** 2, 0));
  const between = rest.map(({ hours_h }, index) => hours_h - (rest[index - 1]?.hours_h ?? x.at(-1)!));
  return median(Float64Array.from(between)) / (spread * smoothing * Math.sqrt(2 / (2 - smoothing)));
}

type Judging = {
  readonly points: readonly LevelPoint[];
  readonly rest: readonly LevelPoint[];
  readonly normal: Watch["normal"];
  readonly plan: WatchPlan;
  readonly slack_sd: number;
  readonly confidence: number;
};

function alarmOf(kind: Alarm["kind"], sums: readonly number[], judging: Judging): Alarm | null {
  const { points, rest, normal, plan, slack_sd, confidence } = judging;
  const sum = sums.at(-1)!;
  if (!(sum > plan.decision_sd)) return null;
  const since_h = rest[riseBegan(sums) - 1]?.hours_h ?? normal.until_h;
  const since = points.filter(({ hours_h }) => hours_h >= since_h);
  const hours = since.map(({ hours_h }) => hours_h);
  const hasRate = since.length >= 3 && Math.max(...hours) > Math.min(...hours);
  const perReading_h = (rest.at(-1)!.hours_h - normal.until_h) / rest.length;
  return {
    kind,
    since_h,
    sum,
    decision: plan.decision_sd,
    chanceEvery_h: meanRunToFalseSignal(slack_sd, sum) * perReading_h,
    readings: since.length,
    rate: hasRate ? rateOf(fitLevels(since), confidence) : null,
  };
}
