// The wind with which a chart is read: what was reported, by the rule set's shares, as far as the chart has an axis for it.
//
// In: the component along the nose (headwind positive, kt), whether somebody measured it there, the rule, and whether the
// chart already has the factors in it. Out: the headwind to read with, and why it is that. A headwind counts only where it
// was measured; a tailwind counts wherever it is known, since bad news never helps. Without an axis there is no credit,
// and a tailwind cannot be accounted for: not known. NaN and infinity are refused by the reading that follows.

import type { WindCredit } from "../rules/wind-credit.ts";

export type SiteWind = {
  /** Along the nose; negative from behind. */
  readonly headwind_kt: number;
  /** By an instrument or a person there, not by a forecast or a station elsewhere. */
  readonly measured: boolean;
};

export type ChartWind =
  | {
      readonly is: "counted";
      readonly headwind_kt: number;
      readonly why:
        | "noWind"
        | "notMeasured"
        | "noAxis"
        | "headwind"
        | "tailwind"
        | "factoredInChart"
        | "axisEnds";
    }
  | { readonly is: "tailwindNotInChart"; readonly tailwind_kt: number };

export type WindAxis = {
  /** The range of the chart's wind axis; null without one. */
  readonly range: readonly [low: number, high: number] | null;
  /** The chart is never worse for more headwind, so that less may be counted than there is. */
  readonly isHelpful: boolean;
  readonly factored: boolean;
};

/** @param wind null where nothing is known of it: as no wind. */
export function chartWind(
  wind: SiteWind | null,
  { range, isHelpful, factored }: WindAxis,
  rule: WindCredit,
): ChartWind {
  const headwind_kt = wind?.headwind_kt ?? 0;
  if (wind === null || headwind_kt === 0) return { is: "counted", headwind_kt: 0, why: "noWind" };
  if (headwind_kt < 0) {
    if (range === null) return { is: "tailwindNotInChart", tailwind_kt: -headwind_kt };
    return factored
      ? { is: "counted", headwind_kt, why: "factoredInChart" }
      : { is: "counted", headwind_kt: headwind_kt * rule.tailwindShare, why: "tailwind" };
  }
  if (!wind.measured) return { is: "counted", headwind_kt: 0, why: "notMeasured" };
  if (range === null) return { is: "counted", headwind_kt: 0, why: "noAxis" };
  const counted = factored ? headwind_kt : headwind_kt * rule.headwindShare;
  // Counting on less than one may is allowed, and said.
  if (counted > range[1] && isHelpful) return { is: "counted", headwind_kt: range[1], why: "axisEnds" };
  return { is: "counted", headwind_kt: counted, why: factored ? "factoredInChart" : "headwind" };
}
