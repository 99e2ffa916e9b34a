// The box of the map of reach.
import { cosDeg } from "../../core/air/degrees.ts";
import type { Position } from "../../core/air/position.ts";
import type { ReachDesk } from "./reach-worker.ts";

/** A box about a place, so many miles to every side: the same picture as present/plots/place-map. */
export function boxAbout({ lat_deg, lon_deg }: Position, half_nm: number): ReachDesk["box"] {
  const up = half_nm / 60;
  const aside = up / Math.max(0.01, cosDeg(lat_deg));
  return {
    south_deg: lat_deg - up,
    north_deg: lat_deg + up,
    west_deg: lon_deg - aside,
    east_deg: lon_deg + aside,
  };
}
