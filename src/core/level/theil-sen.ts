// The line whose slope is the median of the slopes between all pairs of points: a reading that is far off moves it
// hardly at all, and up to 29 % of them may be wrong.
//
// Source: H. Theil, A rank-invariant method of linear and polynomial regression analysis (1950); P. K. Sen, Estimates of
// the regression coefficient based on Kendall's tau, J. Am. Stat. Assoc. 63 (1968) 1379–1389. Pairs of equal x have no
// slope and are left out. The interval is Sen's, by the normal form of Kendall's statistic with its correction for ties,
// its ranks taken outwards (the limit is a slope that was seen, never one between two).
// Two intercepts are in use: the median of y − slope x, and median y − slope median x; they differ on Sen's own data.
// Valid for at least two points whose x differ, and at most 3,000 (the slopes of all pairs are held at once).
// Check values: Sen's example with limits 26/7 and 35/8 (published/trend.json), where the interval that Sen prints
// himself is known to be wrong; SciPy's degenerate case.

import { describe, refuse } from "../quantity/refusal.ts";
import { normalQuantile } from "./normal.ts";
import { median } from "./order-statistics.ts";
import type { Interval } from "./regression.ts";

export type SenLine = {
  readonly slope: number;
  /** Median of y − slope x. */
  readonly intercept: number;
  /** median y − slope median x. */
  readonly interceptOfMedians: number;
};

const mostPoints = 3000;

/** The robust line through the points. Refuses lists of different length, too few or too many, and equal x. */
export function senLine(x: readonly number[], y: readonly number[]): SenLine {
  const slope = median(pairSlopes(x, y));
  const rests = Float64Array.from(x, (at, index) => y[index]! - slope * at);
  const middle = median(Float64Array.from(y)) - slope * median(Float64Array.from(x));
  return { slope, intercept: median(rests), interceptOfMedians: middle };
}

/** Sen's interval for the slope. */
export function senInterval(x: readonly number[], y: readonly number[], confidence: number): Interval {
  if (!(confidence > 0 && confidence < 1)) {
    refuse(
      "confidence",
      "outsideDomain",
      describe(confidence),
      "a confidence between 0 and 1, both excluded",
    );
  }
  const slopes = pairSlopes(x, y).toSorted();
  const value = median(Float64Array.from(slopes));
  const pairs = (n: number): number => n * (n - 1) * (2 * n + 5);
  const spread = Math.sqrt((pairs(x.length) - tied(x, pairs) - tied(y, pairs)) / 18);
  const reach = normalQuantile((1 + confidence) / 2) * spread;
  const first = Math.max(0, Math.floor((slopes.length - reach) / 2) - 1);
  const last = Math.min(slopes.length - 1, Math.ceil((slopes.length + reach) / 2));
  return { value, low: slopes[first]!, high: slopes[last]! };
}

/** Standard deviation of the points about a line, by 1.4826 times the median distance (normal consistency). */
export function robustScatter(x: readonly number[], y: readonly number[], line: SenLine): number {
  return (
    1.4826 *
    median(Float64Array.from(x, (at, index) => Math.abs(y[index]! - line.intercept - line.slope * at)))
  );
}

function pairSlopes(x: readonly number[], y: readonly number[]): Float64Array {
  if (x.length !== y.length) refuse("y", "outsideDomain", `${y.length} values`, `as many as x, ${x.length}`);
  if (x.length < 2 || x.length > mostPoints)
    refuse("x", "outsideDomain", `${x.length} values`, `2 … ${mostPoints} points`);
  for (const [name, values] of [
    ["x", x],
    ["y", y],
  ] as const) {
    const wrong = values.findIndex((value) => !Number.isFinite(value));
    if (wrong >= 0) refuse(`${name}[${wrong}]`, "notFinite", describe(values[wrong]), "a finite number");
  }
  const slopes = new Float64Array((x.length * (x.length - 1)) / 2);
  let count = 0;
  for (let i = 1; i < x.length; i += 1) {
    for (let j = 0; j < i; j += 1) {
      const apart = x[i]! - x[j]!;
      if (apart === 0) continue;
      // `+ 0` turns −0, which depends on the order of the pair, into 0.
      slopes[count] = (y[i]! - y[j]!) / apart + 0;
      count += 1;
    }
  }
  if (count === 0) refuse("x", "outsideDomain", "all the same", "x that vary");
  return slopes.subarray(0, count);
}

/** Sum of `pairs` over the groups of equal values. */
function tied(values: readonly number[], pairs: (n: number) => number): number {
  const counts = new Map<number, number>();
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1);
  let sum = 0;
  for (const count of counts.values()) sum += pairs(count);
  return sum;
}
