// The visibility that a part of a report gives, in metres.
//
// The prevailing one; 10 km or more under CAVOK (ICAO Annex 3, appendix 3, 2.2); where only directions are given (an
// older form) the least of them, since no other figure is certain. `worstVisibilityOf` is the least figure in any
// direction, which is what a minimum has to be held against: the flight may go there.

import { atLeast } from "../quantity/compare.ts";
import type { Measured } from "./ceiling-above-ground.ts";
import type { Conditions, Visibility } from "./report.ts";

const cavokVisibility: Visibility = { value_m: 10_000, bound: "atLeast" };

export function visibilityOf(conditions: Conditions): Visibility | null {
  if (conditions.visibility !== null) return conditions.visibility;
  // A second group that contradicted the first took the figure back; CAVOK beside it does not give a better one.
  if (conditions.cavok && !conditions.unsure.includes("visibility")) return cavokVisibility;
  return leastDirectional(conditions);
}

/** The worst visibility in any direction; null when none is given. */
export function worstVisibilityOf(conditions: Conditions): Visibility | null {
  const main = visibilityOf(conditions);
  const least = leastDirectional(conditions);
  return main === null || (least !== null && least.value_m < main.value_m) ? (least ?? main) : main;
}

function leastDirectional({ directional }: Conditions): Visibility | null {
  if (directional.length === 0) return null;
  return { value_m: Math.min(...directional.map(({ value_m }) => value_m)), bound: "exact" };
}

/** Whether a visibility is at least `needed_m`. */
export function meetsVisibility(visibility: Visibility | null, needed_m: number): Measured {
  if (visibility === null) return "unknown";
  const { value_m, bound } = visibility;
  if (bound === "below") return value_m <= needed_m ? "notMet" : "unknown";
  if (atLeast(value_m, needed_m)) return "met";
  return bound === "exact" ? "notMet" : "unknown";
}
