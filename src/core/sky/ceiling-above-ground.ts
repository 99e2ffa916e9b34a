// The ceiling of a report over other ground than the aerodrome's: a layer lies level, the ground does not.
//
// above ground = ceiling above the aerodrome + elevation of the aerodrome − elevation of the ground. Heights in feet.
// `ground` is the highest ground that the flight has to clear there, terrain of the route or the site. Not positive: the
// ground stands in the cloud. An elevation that is not known makes the height not known. Nothing is taken from a report
// that it does not say: "at least" stays "at least", and a sky without a ceiling over the aerodrome has none here.

import { atLeast } from "../quantity/compare.ts";
import type { Ceiling } from "./ceiling.ts";

/** The same ceiling as seen from the ground; `station_ft` null where the aerodrome's elevation is not known. */
export function ceilingAboveGround(ceiling: Ceiling, station_ft: number | null, ground_ft: number): Ceiling {
  if (ceiling.bound === "none") return ceiling;
  if (station_ft === null) return { bound: "unknown", ceiling_ft: null, atMost_ft: null };
  const raise = (height_ft: number | null): number | null =>
    height_ft === null ? null : height_ft + station_ft - ground_ft;
  return { ...ceiling, ceiling_ft: raise(ceiling.ceiling_ft), atMost_ft: raise(ceiling.atMost_ft) };
}

export type Measured = "met" | "notMet" | "unknown";

/** Whether a ceiling above ground is at least `needed_ft`. */
export function meetsCeiling(ceiling: Ceiling, needed_ft: number): Measured {
  const { bound, ceiling_ft, atMost_ft } = ceiling;
  if (bound === "none") return "met";
  if (bound === "unknown" || ceiling_ft === null) {
    return atMost_ft !== null && !atLeast(atMost_ft, needed_ft) ? "notMet" : "unknown";
  }
  if (atLeast(ceiling_ft, needed_ft)) return "met";
  return bound === "exact" ? "notMet" : "unknown";
}
