// The straight line through points by least squares: slope and intercept with their standard deviations, and the interval
// in which a further point is to be expected.
//
// Source: ordinary least squares as certified in NIST's Statistical Reference Datasets (linear least squares); prediction
// interval ŷ ± t s √(1 + 1/n + (x − x̄)²/Sxx). Without an intercept, r² is about zero and not about the mean, as NIST
// certifies it for NoInt1. Sums are double-double, so that readings far from zero (hours, years) lose no digits.
// Valid for at least one point more than there are coefficients, with x not all equal; otherwise a refusal: without a
// residual there is no standard deviation to state.
// Check values: published/regression.test.ts.

import { describe, refuse } from "../quantity/refusal.ts";
import { add, type DoubleDouble, dd, divide, multiply, subtract, toNumber, zero } from "./double-double.ts";
import { studentInterval } from "./student-t.ts";

export type LineFit = {
  readonly count: number;
  readonly degreesOfFreedom: number;
  readonly slope: number;
  /** 0 where the line was made to pass through zero; its standard deviation is null then. */
  readonly intercept: number;
  readonly slopeSd: number;
  readonly interceptSd: number | null;
  readonly residualSd: number;
  /** Share of the variation explained; null where y does not vary, so that there is none to explain. */
  readonly r2: number | null;
  readonly hasIntercept: boolean;
  readonly moments: Moments;
};

/** What predictions need: x is scaled by a power of two, sums are over scaled x. */
export type Moments = {
  readonly xScale: number;
  readonly xMean: DoubleDouble;
  /** Σ(x − x̄)², or Σx² without an intercept. */
  readonly xSpread: number;
  readonly yScale: number;
  readonly slope: DoubleDouble;
  readonly intercept: DoubleDouble;
};

/** Fits y = intercept + slope x, or y = slope x. */
export function fitLine(
  x: readonly number[],
  y: readonly number[],
  hasIntercept: boolean,
  paths = { x: "x", y: "y" },
): LineFit {
  requirePoints(x, y, hasIntercept, paths);
  const xScale = powerOfTwoNear(x);
  const yScale = powerOfTwoNear(y);
  // Measured from the first point, equal values cancel exactly and far origins cost no digits.
  const xOrigin = hasIntercept ? (x[0] as number) / xScale : 0;
  const yOrigin = hasIntercept ? (y[0] as number) / yScale : 0;
  const n = dd(x.length);
  const sums = sumUp(x, y, { xScale, yScale, xOrigin, yOrigin });
  const about = (square: DoubleDouble, a: DoubleDouble, b: DoubleDouble): DoubleDouble =>
    hasIntercept ? subtract(square, divide(multiply(a, b), n)) : square;
  const xx = about(sums.xx, sums.x, sums.x);
  const xy = about(sums.xy, sums.x, sums.y);
  const yy = about(sums.yy, sums.y, sums.y);
  const spread = toNumber(xx);
  if (!(spread > 0)) {
    refuse(paths.x, "outsideDomain", "all the same", hasIntercept ? "x that vary" : "an x that is not 0");
  }
  const slope = divide(xy, xx);
  const xMean = add(dd(xOrigin), divide(sums.x, n));
  const yMean = add(dd(yOrigin), divide(sums.y, n));
  const intercept = hasIntercept ? subtract(yMean, multiply(slope, xMean)) : zero;
  const degreesOfFreedom = x.length - (hasIntercept ? 2 : 1);
  // A perfect fit can come out a hair below zero.
  const residual2 = Math.max(0, toNumber(subtract(yy, multiply(slope, xy))));
  const residualSd = Math.sqrt(residual2 / degreesOfFreedom);
  const meanOverSpread = toNumber(xMean) ** 2 / spread;
  return {
    count: x.length,
    degreesOfFreedom,
    slope: (toNumber(slope) * yScale) / xScale,
    intercept: toNumber(intercept) * yScale,
    slopeSd: ((residualSd / Math.sqrt(spread)) * yScale) / xScale,
    interceptSd: hasIntercept ? residualSd * Math.sqrt(1 / x.length + meanOverSpread) * yScale : null,
    residualSd: residualSd * yScale,
    r2: toNumber(yy) > 0 ? toNumber(divide(multiply(xy, xy), multiply(xx, yy))) : null,
    hasIntercept,
    moments: { xScale, xMean, xSpread: spread, yScale, slope, intercept },
  };
}

export type Interval = { readonly value: number; readonly low: number; readonly high: number };

/** Where a further point at x is to be expected, with this confidence; `mean` asks for the line itself instead. */
export function predictAt(
  fit: LineFit,
  x: number,
  confidence: number,
  of: "point" | "mean" = "point",
  paths = { x: "x", confidence: "confidence" },
): Interval {
  if (!Number.isFinite(x)) refuse(paths.x, "notFinite", describe(x), "a finite number");
  const t = studentInterval(confidence, fit.degreesOfFreedom, paths.confidence);
  const { xScale, xMean, xSpread, yScale, slope, intercept } = fit.moments;
  const scaled = dd(x / xScale);
  const value = toNumber(add(intercept, multiply(slope, scaled))) * yScale;
  const away = toNumber(fit.hasIntercept ? subtract(scaled, xMean) : scaled);
  const leverage = (fit.hasIntercept ? 1 / fit.count : 0) + (away * away) / xSpread;
  const half = t * fit.residualSd * Math.sqrt((of === "point" ? 1 : 0) + leverage);
  return { value, low: value - half, high: value + half };
}

/** The slope with an interval of this confidence. */
export function slopeInterval(fit: LineFit, confidence: number, path = "confidence"): Interval {
  const half = studentInterval(confidence, fit.degreesOfFreedom, path) * fit.slopeSd;
  return { value: fit.slope, low: fit.slope - half, high: fit.slope + half };
}

function requirePoints(
  x: readonly number[],
  y: readonly number[],
  hasIntercept: boolean,
  paths: { x: string; y: string },
): void {
  if (x.length !== y.length)
    refuse(paths.y, "outsideDomain", `${y.length} values`, `as many as x, ${x.length}`);
  const fewest = hasIntercept ? 3 : 2;
  if (x.length < fewest) refuse(paths.x, "outsideDomain", `${x.length} values`, `at least ${fewest} points`);
  for (const [values, path] of [
    [x, paths.x],
    [y, paths.y],
  ] as const) {
    values.forEach((value, index) => {
      if (!Number.isFinite(value))
        refuse(`${path}[${index}]`, "notFinite", describe(value), "a finite number");
    });
  }
}

/** A power of two near the largest magnitude: dividing by it is exact and keeps products far from over- and underflow. */
function powerOfTwoNear(values: readonly number[]): number {
  const largest = values.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  return largest === 0 ? 1 : 2 ** Math.min(1022, Math.max(-1022, Math.round(Math.log2(largest))));
}

type Sums = {
  readonly x: DoubleDouble;
  readonly y: DoubleDouble;
  readonly xx: DoubleDouble;
  readonly xy: DoubleDouble;
  readonly yy: DoubleDouble;
};

type Frame = {
  readonly xScale: number;
  readonly yScale: number;
  readonly xOrigin: number;
  readonly yOrigin: number;
};

function sumUp(
  x: readonly number[],
  y: readonly number[],
  { xScale, yScale, xOrigin, yOrigin }: Frame,
): Sums {
  let sums: Sums = { x: zero, y: zero, xx: zero, xy: zero, yy: zero };
  x.forEach((unscaledX, index) => {
    const a = subtract(dd(unscaledX / xScale), dd(xOrigin));
    const b = subtract(dd((y[index] as number) / yScale), dd(yOrigin));
    sums = {
      x: add(sums.x, a),
      y: add(sums.y, b),
      xx: add(sums.xx, multiply(a, a)),
      xy: add(sums.xy, multiply(a, b)),
      yy: add(sums.yy, multiply(b, b)),
    };
  });
  return sums;
}
