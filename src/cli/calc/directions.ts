// Directions as the wind topics read them.

import type { Degrees } from "../../core/quantity/units.ts";
import { type Member, quantity } from "./fields.ts";

/** Where a wind comes from, as it is reported. */
export function windDirection(): Member<Degrees> {
  return quantity("angle", "deg", { min: 0, max: 360 }, "where the wind comes from");
}

/** A track or course; negative ones are taken too, since azimuths come so. */
export function trackDirection(): Member<Degrees> {
  return quantity("angle", "deg", { min: -180, max: 360 }, "true or magnetic, like the wind's");
}
