// The ceiling that a part of a report gives: height of the lowest layer that covers more than half the sky, or of the
// vertical visibility where the sky is obscured.
//
// In: the conditions of one part. Out: feet above the aerodrome and how to take the figure.
//   exact    from the lowest BKN, OVC or VV (Reg. (EU) 965/2012 Annex I, definition of ceiling; FAA AIM for VV)
//   atLeast  CAVOK and NSC say nothing below 5,000 ft (ICAO Annex 3, appendix 3: cloud of operational significance),
//            CLR nothing below 12,000 ft (the reach of US automatic stations)
//   none     SKC, or only FEW and SCT layers
//   unknown  NCD (an instrument saw nothing, which is not that there is nothing), a layer with `///`, a sky that is not
//            given or not read
// Never better than what the text says: a group that says there is no cloud does not outweigh a layer beside it.

import type { Conditions, Layer } from "./report.ts";

export type Ceiling = {
  readonly bound: "exact" | "atLeast" | "none" | "unknown";
  /** Null for `none` and `unknown`. */
  readonly ceiling_ft: number | null;
  /** The lowest ceiling that is certain to be there, also where more is unknown; null when none is. */
  readonly atMost_ft: number | null;
};

/** Nothing of significance below it under CAVOK and NSC, above the aerodrome. */
export const significantBelow_ft = 5000;
/** Nothing below it under CLR. */
export const automaticReach_ft = 12_000;

/** True when the part says anything of the sky, or could have said it in a group that was not read. */
export function mentionsSky(conditions: Conditions): boolean {
  return conditions.stated.includes("sky") || conditions.unsure.includes("sky");
}

export function ceilingOf(conditions: Conditions): Ceiling {
  const atMost_ft = lowestCeiling(conditions);
  if (!isSkyKnown(conditions)) return { bound: "unknown", ceiling_ft: null, atMost_ft };
  if (atMost_ft !== null) return { bound: "exact", ceiling_ft: atMost_ft, atMost_ft };
  const { skyClear, clouds, cavok } = conditions;
  if (skyClear === "NCD") return { bound: "unknown", ceiling_ft: null, atMost_ft };
  if (skyClear === "CLR") return { bound: "atLeast", ceiling_ft: automaticReach_ft, atMost_ft };
  if (cavok || skyClear === "NSC") {
    return { bound: "atLeast", ceiling_ft: significantBelow_ft, atMost_ft };
  }
  if (skyClear === "SKC" || clouds.length > 0) return { bound: "none", ceiling_ft: null, atMost_ft };
  return { bound: "unknown", ceiling_ft: null, atMost_ft };
}

function isSkyKnown({ unsure, clouds, verticalVisibility }: Conditions): boolean {
  if (unsure.includes("sky")) return false;
  if (verticalVisibility !== null && verticalVisibility.height_ft === null) return false;
  return clouds.every((layer) => layer.cover !== null && layer.base_ft !== null);
}

function isCeiling(layer: Layer): boolean {
  return layer.cover === "BKN" || layer.cover === "OVC";
}

function lowestCeiling({ clouds, verticalVisibility }: Conditions): number | null {
  const heights = clouds.filter(isCeiling).map((layer) => layer.base_ft);
  const known = [...heights, verticalVisibility?.height_ft ?? null].filter((height) => height !== null);
  return known.length === 0 ? null : Math.min(...known);
}
