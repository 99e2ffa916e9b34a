// A line through points (x, y): straight between them, or a cubic that keeps the points' monotony.
//
// The cubic is PCHIP: piecewise cubic Hermite interpolation with the slopes of F. N. Fritsch and J. Butland, A method for
// constructing local monotone piecewise cubic interpolants, SIAM J. Sci. Stat. Comput. 5 (1984) 300-304, in the form of
// their routine PCHIM: inside, a weighted harmonic mean of the neighbouring secants, 0 where these change sign or one is
// 0; at the ends, the three-point formula, kept from changing sign and from overshooting. Two points give the straight
// line. Other rules of the same name (Fritsch and Carlson 1980, Hyman) give other curves.
// Monotone wherever the points are; between two points never beyond either.
// Valid from the first x to the last; refuses nothing itself, callers ask inside only.
// Check values: published/chart.test.ts.

export type Between = "linear" | "pchip";

/**
 * The largest share of the way to the next value that is used: less than 1 by less than a rounding of what is read. With
 * it no rounding in low + share × (high − low) carries a reading past the far end, since the product stays below the
 * distance by more than the roundings in it can add.
 */
export const mostShare = 1 - 2 ** -51;

/** y = y_i + h (c1_i + h (c2_i + h c3_i)) with h = x − x_i from x_i to x_{i+1}. The last point has coefficients of 0. */
export type Curve = {
  readonly x: readonly number[];
  readonly y: readonly number[];
  readonly c1: readonly number[];
  readonly c2: readonly number[];
  readonly c3: readonly number[];
};

/** @param x rising; @param y as long; at least two points */
export function curveThrough(x: readonly number[], y: readonly number[], between: Between): Curve {
  const last = x.length - 1;
  const secants = x.slice(0, last).map((here, i) => (y[i + 1]! - y[i]!) / (x[i + 1]! - here));
  const zero = x.map(() => 0);
  if (between === "linear") {
    const c1 = secants.map((secant, i) => keptShort(secant, x[i + 1]! - x[i]!, y[i]!, y[i + 1]!));
    return { x, y, c1: [...c1, 0], c2: zero, c3: zero };
  }
  const slopes = pchipSlopes(x, y);
  const c2 = secants.map((secant, i) => (3 * secant - 2 * slopes[i]! - slopes[i + 1]!) / (x[i + 1]! - x[i]!));
  const c3 = secants.map(
    (secant, i) => (slopes[i]! + slopes[i + 1]! - 2 * secant) / (x[i + 1]! - x[i]!) ** 2,
  );
  return { x, y, c1: [...slopes.slice(0, last), 0], c2: [...c2, 0], c3: [...c3, 0] };
}

/** The slope of a straight part, a little less steep where rounding would carry its end past the next point. */
function keptShort(secant: number, width: number, from: number, to: number): number {
  const end = from + width * secant;
  const isPast = to > from ? end > to : end < to;
  return isPast ? secant * mostShare : secant;
}

/** The slope of the monotone cubic at every point. */
export function pchipSlopes(x: readonly number[], y: readonly number[]): readonly number[] {
  const count = x.length;
  const width = (i: number) => x[i + 1]! - x[i]!;
  const secant = (i: number) => (y[i + 1]! - y[i]!) / width(i);
  if (count === 2) return [secant(0), secant(0)];
  const inside = x.slice(1, -1).map((_, before) => {
    const [left, right] = [secant(before), secant(before + 1)];
    if (left === 0 || right === 0 || left > 0 !== right > 0) return 0;
    const [h0, h1] = [width(before), width(before + 1)];
    // Each secant is weighted by its neighbour's width more than by its own.
    const [w0, w1] = [h0 + 2 * h1, 2 * h0 + h1];
    return (w0 + w1) / (w0 / left + w1 / right);
  });
  const end = count - 2;
  return [
    endSlope(width(0), width(1), secant(0), secant(1)),
    ...inside,
    endSlope(width(end), width(end - 1), secant(end), secant(end - 1)),
  ];
}

/** The three-point formula at an end; `h0`, `s0` belong to the interval at the end, `h1`, `s1` to the next. */
function endSlope(h0: number, h1: number, s0: number, s1: number): number {
  const slope = ((2 * h0 + h1) * s0 - h0 * s1) / (h0 + h1);
  if (Math.sign(slope) !== Math.sign(s0)) return 0;
  if (Math.sign(s0) !== Math.sign(s1) && Math.abs(slope) > 3 * Math.abs(s0)) return 3 * s0;
  return slope;
}

/** The number of the point at or before x: the largest i with x_i ≤ x, by halving. `x` must not be before the first. */
export function pointBefore(xs: readonly number[], x: number): number {
  let low = 0;
  let high = xs.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (xs[middle]! <= x) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** The value at an x from the first to the last. Exact at every point; a cubic's rounding past a neighbour is taken back. */
export function valueOnCurve(curve: Curve, x: number): number {
  const i = pointBefore(curve.x, x);
  const h = x - curve.x[i]!;
  const here = curve.y[i]!;
  if (h === 0) return here;
  const value = here + h * (curve.c1[i]! + h * (curve.c2[i]! + h * curve.c3[i]!));
  const next = curve.y[i + 1]!;
  return Math.min(Math.max(value, Math.min(here, next)), Math.max(here, next));
}
