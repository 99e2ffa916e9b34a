// The standard normal distribution: its tail and its quantiles.
//
// Source: Abramowitz and Stegun 26.2.11 (series, near the middle) and 26.2.14 (continued fraction, in the tail);
// quantiles by Newton's method on the tail. Valid for every finite z and probabilities strictly between 0 and 1.
// Check values: R 4.2.2 qnorm and pnorm (published/trend.json).

import { describe, refuse } from "../quantity/refusal.ts";

/** P(Z > z). The tail is computed as a tail, so that far out it keeps its digits. */
export function normalTail(z: number): number {
  if (!Number.isFinite(z)) refuse("z", "notFinite", describe(z), "a finite number");
  if (z < 0) return 1 - normalTail(-z);
  if (z > 38) return 0;
  return z < 2 ? 0.5 - density(z) * oddSeries(z) : density(z) * millsFraction(z);
}

/** The z with P(Z ≤ z) = p. */
export function normalQuantile(p: number): number {
  if (!(p > 0 && p < 1)) refuse("p", "outsideDomain", describe(p), "a probability between 0 and 1");
  if (p === 0.5) return 0;
  return p > 0.5 ? tailPoint(1 - p) : -tailPoint(p);
}

/** The z > 0 with P(Z > z) = tail, tail < 1/2. */
function tailPoint(tail: number): number {
  // Winitzki's closed form is good to a hundredth; each Newton step on the logarithm squares the error.
  let z = Math.sqrt(-2 * Math.log(2 * tail) * 0.9) + 0.001;
  for (let step = 0; step < 60; step += 1) {
    const here = normalTail(z);
    const change = (here / density(z)) * Math.log(here / tail);
    z = Math.max(z + change, z / 4);
    if (Math.abs(change) <= 4e-16 * z) break;
  }
  return z;
}

function density(z: number): number {
  return Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);
}

/** z + z³/3 + z⁵/15 + … */
function oddSeries(z: number): number {
  let term = z;
  let sum = z;
  for (let odd = 3; term > sum * 1e-17; odd += 2) {
    term *= (z * z) / odd;
    sum += term;
  }
  return sum;
}

/** 1/(z + 1/(z + 2/(z + 3/(z + …)))), from its end forwards; deep enough for z ≥ 2. */
function millsFraction(z: number): number {
  let below = z;
  for (let k = 300; k >= 1; k -= 1) below = z + k / below;
  return 1 / below;
}
