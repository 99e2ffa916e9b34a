// An engine's power check: what was measured against what the sheet's chart expects under the same conditions.
//
// In: the chart (expected gas temperature, shaft speed … at torque, pressure altitude, temperature), on which side of it a
// measured value is worse, the conditions, the measured value in the chart's unit. Out: the margin, positive where the
// engine is better than the chart, 0 on it, and its place among the margins before it; or not known with why. Below zero
// (by more than a relative 1e−9 of the expected value) the engine does not give full power.
// The fitted trend of margins against hours is core/level's, which follows any gauge. Source of the method: common
// practice; the chart is the type's own.

import type { Chart } from "../chart/chart.ts";
import { type Asked, type Lack, readChart, type UsedPoint } from "../chart/read-chart.ts";
import { atLeast, atMost } from "../quantity/compare.ts";

export type PowerCheckChart = { readonly chart: Chart; readonly worse: "higher" | "lower" };

export type PowerCheck =
  | {
      readonly is: "known";
      readonly expected: number;
      readonly margin: number;
      readonly givesFullPower: boolean;
      readonly used: readonly UsedPoint[];
    }
  | { readonly is: "notKnown"; readonly lacks: readonly Lack[] };

export function powerCheck(
  { chart, worse }: PowerCheckChart,
  conditions: Asked,
  measured: number,
): PowerCheck {
  if (!Number.isFinite(measured)) {
    const lack = { why: "notANumber", input: chart.output, asked: null, range: null, step: null } as const;
    return { is: "notKnown", lacks: [lack] };
  }
  const reading = readChart(chart, conditions);
  if (reading.is === "notKnown") return reading;
  const { value: expected, used } = reading;
  return {
    is: "known",
    expected,
    margin: worse === "higher" ? expected - measured : measured - expected,
    givesFullPower: worse === "higher" ? atMost(measured, expected) : atLeast(measured, expected),
    used,
  };
}

export type TrendPlace = {
  /** Against the check before; null for the first. */
  readonly sinceLast: number | null;
  /** The lowest before; null for the first. */
  readonly lowestBefore: number | null;
  readonly isLowest: boolean;
  /** How many of those before were lower. */
  readonly lowerBefore: number;
};

/** Where a margin stands among those before it, oldest first. */
export function placeInTrend(before: readonly number[], margin: number): TrendPlace {
  const last = before.at(-1);
  const lowest = before.length === 0 ? null : Math.min(...before);
  return {
    sinceLast: last === undefined ? null : margin - last,
    lowestBefore: lowest,
    isLowest: lowest === null || margin < lowest,
    lowerBefore: before.filter((one) => one < margin).length,
  };
}
