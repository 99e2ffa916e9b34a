// EWMA chart: the exponentially weighted moving average of values, against limits about their target.
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods 6.3.2.4: zᵢ = λ xᵢ + (1 − λ) zᵢ₋₁ from z₀ = target, limits
// target ± width sd √(λ/(2 − λ)), the steady ones from the first value on. Check values: the Handbook's example
// (published/trend.json), which uses the factor 0.4201 where the exact one is √(0.3/1.7) = 0.420084.

import { describe, refuse } from "../quantity/refusal.ts";

export type EwmaPlan = {
  readonly target: number;
  readonly sd: number;
  /** λ: what the newest value counts, above 0 and at most 1. */
  readonly weight: number;
  /** Limits lie at so many standard deviations of the average. */
  readonly width: number;
};

export type EwmaChart = {
  readonly average: readonly number[];
  readonly low: number;
  readonly high: number;
  /** Positions outside the limits, from 0. */
  readonly signals: readonly number[];
};

/** The chart of a list. Refuses a weight outside (0, 1], a negative sd or width, and values that are not finite. */
export function ewmaChart(values: readonly number[], { target, sd, weight, width }: EwmaPlan): EwmaChart {
  if (!(weight > 0 && weight <= 1))
    refuse("weight", "outsideDomain", describe(weight), "above 0 and at most 1");
  const reach = width * sd * Math.sqrt(weight / (2 - weight));
  if (!(reach >= 0 && Number.isFinite(reach)))
    refuse("sd", "outsideDomain", describe(sd), "a number of at least 0");
  let now = target;
  const average = values.map((value, index) => {
    if (!Number.isFinite(value)) refuse(`values[${index}]`, "notFinite", describe(value), "a finite number");
    return (now = weight * value + (1 - weight) * now);
  });
  const [low, high] = [target - reach, target + reach];
  const signals = average.flatMap((value, index) => (value < low || value > high ? [index] : []));
  return { average, low, high, signals };
}
