// Student's t distribution: its distribution function and its quantiles.
//
// Source: the tail P(|T| > t) is the regularised incomplete beta function I_x(ν/2, 1/2), x = ν/(ν + t²) (Abramowitz and
// Stegun 26.5.27, 26.7.1), by its continued fraction (26.5.8) evaluated forwards; the factor Γ(ν/2 + 1/2)/Γ(ν/2) by its
// asymptotic series (6.1.47) above 200 and the recurrence below. Quantiles by Newton's method on the tail, kept in a
// bracket. The tail is computed as a tail, so that a confidence of 0.999999 keeps its digits.
// Valid for 1 ≤ ν ≤ 1e6, whole or not, and probabilities strictly between 0 and 1; relative error of a quantile below
// 1e−12 for confidences of 0.01 and more. Check values: published/regression.test.ts.

import { describe, refuse } from "../quantity/refusal.ts";

/** P(T ≤ t). */
export function studentCdf(t: number, degreesOfFreedom: number): number {
  requireDegrees(degreesOfFreedom);
  if (!Number.isFinite(t)) refuse("t", "notFinite", describe(t), "a finite number");
  const tail = twoSidedTail(Math.abs(t), degreesOfFreedom) / 2;
  return t > 0 ? 1 - tail : tail;
}

/** The t with P(T ≤ t) = p. */
export function studentQuantile(p: number, degreesOfFreedom: number): number {
  if (!(p > 0 && p < 1)) refuse("p", "outsideDomain", describe(p), "a probability between 0 and 1");
  if (p === 0.5) return 0;
  return p > 0.5 ? tailPoint(2 * (1 - p), degreesOfFreedom) : -tailPoint(2 * p, degreesOfFreedom);
}

/** The t with P(|T| ≤ t) = confidence: half the width of an interval, in standard deviations. */
export function studentInterval(confidence: number, degreesOfFreedom: number, path = "confidence"): number {
  if (!(confidence > 0 && confidence < 1)) {
    refuse(path, "outsideDomain", describe(confidence), "a confidence between 0 and 1, both excluded");
  }
  return tailPoint(1 - confidence, degreesOfFreedom);
}

/** The t > 0 with P(|T| > t) = tail. */
function tailPoint(tail: number, degreesOfFreedom: number): number {
  requireDegrees(degreesOfFreedom);
  const factor = gammaRatio(degreesOfFreedom / 2) / Math.sqrt(Math.PI * degreesOfFreedom);
  const density = (t: number): number =>
    factor * (1 + (t * t) / degreesOfFreedom) ** (-(degreesOfFreedom + 1) / 2);
  let low = 0;
  let high = 1;
  while (twoSidedTail(high, degreesOfFreedom) > tail) {
    low = high;
    high *= 2;
  }
  let t = (low + high) / 2;
  for (let step = 0; step < 200; step += 1) {
    const excess = twoSidedTail(t, degreesOfFreedom) - tail;
    if (excess > 0) low = t;
    else high = t;
    // Newton on the logarithm of the tail, which is nearly straight far out.
    const newton = t + (Math.log1p(excess / tail) * (excess + tail)) / (2 * density(t));
    // Asked before the bracket is: at the root itself the last bit decides which end it becomes.
    if (excess === 0 || Math.abs(newton - t) <= 4e-16 * t) return newton;
    t = newton > low && newton < high ? newton : (low + high) / 2;
  }
  return t;
}

/** P(|T| > t) for t ≥ 0. */
function twoSidedTail(t: number, degreesOfFreedom: number): number {
  const half = degreesOfFreedom / 2;
  const t2 = t * t;
  const x = degreesOfFreedom / (degreesOfFreedom + t2);
  // x^ν/2 (1 − x)^1/2 / B(ν/2, 1/2), the same for both sides of the fraction.
  const front =
    (Math.exp(-half * Math.log1p(t2 / degreesOfFreedom)) *
      Math.sqrt(t2 / (degreesOfFreedom + t2)) *
      gammaRatio(half)) /
    Math.sqrt(Math.PI);
  // The fraction converges fast below this x, and its mirror image above.
  if (x < (half + 1) / (half + 2.5)) return (front / half) * betaFraction(x, half, 0.5);
  return 1 - (front / 0.5) * betaFraction(t2 / (degreesOfFreedom + t2), 0.5, half);
}

/** Γ(z + 1/2)/Γ(z) for z ≥ 1/2. */
function gammaRatio(z: number): number {
  let shrink = 1;
  let at = z;
  while (at < 200) {
    shrink *= at / (at + 0.5);
    at += 1;
  }
  const u = 1 / at;
  const series = 1 + u * (-1 / 8 + u * (1 / 128 + u * (5 / 1024 + u * (-21 / 32_768 - (u * 399) / 262_144))));
  return shrink * Math.sqrt(at) * series;
}

/** The continued fraction of I_x(a, b), by Lentz's forward recurrence. */
function betaFraction(x: number, a: number, b: number): number {
  let c = 1;
  let d = 1 / (1 - ((a + b) * x) / (a + 1));
  let value = d;
  for (let m = 1; m < 20_000; m += 1) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / (1 + even * d);
    c = 1 + even / c;
    value *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / (1 + odd * d);
    c = 1 + odd / c;
    const change = d * c;
    value *= change;
    if (Math.abs(change - 1) <= Number.EPSILON) return value;
  }
  throw new Error(`the fraction for I_${x}(${a}, ${b}) did not settle`);
}

function requireDegrees(degreesOfFreedom: number): void {
  if (!(degreesOfFreedom >= 1 && degreesOfFreedom <= 1e6)) {
    refuse(
      "degreesOfFreedom",
      "outsideDomain",
      describe(degreesOfFreedom),
      "1 … 1,000,000 degrees of freedom",
    );
  }
}
