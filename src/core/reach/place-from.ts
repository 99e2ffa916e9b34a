// The place on a true bearing and distance from a known point, on WGS84 (core/air/geodesic, whose refusals hold).
import { geodesicFrom } from "../air/geodesic.ts";
import type { Position } from "../air/position.ts";
import { convert, inUnit } from "../quantity/units.ts";

export function placeFrom(from: Position, bearing_deg: number, distance_nm: number): Position {
  return geodesicFrom(from, inUnit(bearing_deg, "deg"), convert(inUnit(distance_nm, "nm"), "nm", "m")).to;
}
