// Shortest lines on the WGS84 ellipsoid: distance and azimuths between two places, and the place at the end of a line.
//
// Solved by geographiclib-geodesic (C. F. F. Karney, Algorithms for geodesics, J. Geodesy 87, 2013), which holds to
// nanometres everywhere, also near the antipode. Azimuths are clockwise from true north in −180 … 180, forward at both
// ends; `compass` of degrees.ts turns them into tracks. Of places that coincide there is no azimuth: null.
// Refuses places off the globe (the library itself would answer NaN).
// Check values: published/geodesic.test.ts.

import geodesic from "geographiclib-geodesic";
import { describe, refuse } from "../quantity/refusal.ts";
import type { Degrees, Metres } from "../quantity/units.ts";
import { type Position, requirePosition } from "./position.ts";

const earth = geodesic.Geodesic.WGS84;

export type GeodesicLine = {
  readonly distance: Metres;
  /** Null where the two places coincide. */
  readonly azimuth1: Degrees | null;
  readonly azimuth2: Degrees | null;
};

/** The shortest line from one place to another. */
export function geodesicBetween(
  from: Position,
  to: Position,
  paths = { from: "from", to: "to" },
): GeodesicLine {
  requirePosition(from, { lat: `${paths.from}.lat_deg`, lon: `${paths.from}.lon_deg` });
  requirePosition(to, { lat: `${paths.to}.lat_deg`, lon: `${paths.to}.lon_deg` });
  const line = earth.Inverse(from.lat_deg, from.lon_deg, to.lat_deg, to.lon_deg);
  const distance = finite(line.s12, "distance") as Metres;
  if (distance === 0) return { distance, azimuth1: null, azimuth2: null };
  return {
    distance,
    azimuth1: finite(line.azi1, "azimuth") as Degrees,
    azimuth2: finite(line.azi2, "azimuth") as Degrees,
  };
}

/** Where a line of a length ends that leaves a place at an azimuth, and its azimuth there. Longitude in −180 … 180. */
export function geodesicFrom(
  from: Position,
  azimuth: Degrees,
  distance: Metres,
): { readonly to: Position; readonly azimuth2: Degrees } {
  requirePosition(from);
  if (!Number.isFinite(azimuth)) refuse("azimuth", "notFinite", describe(azimuth), "an azimuth in degrees");
  if (!(distance >= 0) || !Number.isFinite(distance))
    refuse("distance", "outsideDomain", describe(distance), "at least 0 m");
  const end = earth.Direct(from.lat_deg, from.lon_deg, azimuth, distance);
  return {
    to: { lat_deg: finite(end.lat2, "latitude"), lon_deg: finite(end.lon2, "longitude") },
    azimuth2: finite(end.azi2, "azimuth") as Degrees,
  };
}

function finite(value: number | undefined, what: string): number {
  if (value === undefined || !Number.isFinite(value))
    throw new TypeError(`the ${what} of a geodesic came out as ${value}`);
  return value;
}
