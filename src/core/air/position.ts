// A place on the WGS84 ellipsoid: latitude north positive, longitude east positive, in degrees.

import { describe, refuse } from "../quantity/refusal.ts";

export type Position = { readonly lat_deg: number; readonly lon_deg: number };

/** Refuses a latitude off the globe and a longitude beyond one turn either way. */
export function requirePosition(position: Position, paths = { lat: "lat_deg", lon: "lon_deg" }): void {
  if (!(Math.abs(position.lat_deg) <= 90)) {
    refuse(paths.lat, "outsideDomain", describe(position.lat_deg), "a latitude of −90 … 90 deg");
  }
  if (!(Math.abs(position.lon_deg) <= 360)) {
    refuse(paths.lon, "outsideDomain", describe(position.lon_deg), "a longitude of −360 … 360 deg");
  }
}
