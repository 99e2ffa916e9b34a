// Tabular CUSUM: adds up how far values lie beyond a target and an allowance, and signals when the sum is too large. It
// finds small lasting changes that no single value shows.
//
// Source: NIST/SEMATECH e-Handbook of Statistical Methods 6.3.2.3: S⁺ᵢ = max(0, S⁺ᵢ₋₁ + xᵢ − target − slack) and its
// mirror image; a signal where a sum exceeds the decision value. The sums go on after a signal. Since when: the last
// value at which the sum was zero (E. S. Page, Biometrika 41, 1954).
// `most`, where given, holds the sums at that value, so that a long excursion can end; the Handbook has none.
// Mean number of values to a false signal: D. Siegmund, Sequential Analysis (1985), for independent standard normal
// values and one side. Check values: the Handbook's example (published/trend.json).

import { describe, refuse } from "../quantity/refusal.ts";

export type CusumPlan = {
  readonly target: number;
  /** Allowance that is taken off each value. */
  readonly slack: number;
  /** A sum above this signals. */
  readonly decision: number;
  /** Sums are held at this; no bound if left out. */
  readonly most?: number;
};

export type CusumSums = {
  /** Sums towards high and towards low values, one per value. */
  readonly high: readonly number[];
  readonly low: readonly number[];
  /** Positions at which either sum signals, from 0. */
  readonly signals: readonly number[];
};

/** The sums of a list. Refuses a slack or decision that is negative or no number, and values that are not finite. */
export function tabularCusum(values: readonly number[], plan: CusumPlan): CusumSums {
  const { target, slack, decision, most = Number.POSITIVE_INFINITY } = plan;
  for (const [path, value] of Object.entries({ slack, decision })) {
    if (!(value >= 0 && Number.isFinite(value)))
      refuse(path, "outsideDomain", describe(value), "a number of at least 0");
  }
  const high: number[] = [];
  const low: number[] = [];
  const signals: number[] = [];
  let up = 0;
  let down = 0;
  values.forEach((value, index) => {
    if (!Number.isFinite(value)) refuse(`values[${index}]`, "notFinite", describe(value), "a finite number");
    up = Math.min(most, Math.max(0, up + value - target - slack));
    down = Math.min(most, Math.max(0, down + target - value - slack));
    high.push(up);
    low.push(down);
    if (up > decision || down > decision) signals.push(index);
  });
  return { high, low, signals };
}

/** The position after the last zero of a sum, at which its present rise began; the list's length when it is zero now. */
export function riseBegan(sums: readonly number[]): number {
  let at = sums.length;
  while (at > 0 && sums[at - 1]! > 0) at -= 1;
  return at;
}

/** About how many independent standard normal values pass until one sum signals by chance alone. */
export function meanRunToFalseSignal(slack_sd: number, decision_sd: number): number {
  const reach = decision_sd + 1.166;
  if (slack_sd === 0) return reach * reach;
  const exponent = 2 * slack_sd * reach;
  return (Math.exp(exponent) - exponent - 1) / (2 * slack_sd * slack_sd);
}
