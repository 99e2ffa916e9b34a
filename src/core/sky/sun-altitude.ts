// The altitude of the sun's centre for a place, from where the sun stands; how its track is computed is in sun.ts, which
// alone needs the astronomy library: an app that has to open quickly loads that part beside the rest.
//
// In: the sun's declination, hour angle and distance. Out: degrees above the true horizon at sea level, without
// refraction, with parallax (8.8″). Checked in published/sun.test.ts.

import type { Position } from "../air/position.ts";
import { refuse } from "../quantity/refusal.ts";

export const day_ms = 86_400_000;
const radians = Math.PI / 180;
/** Equatorial horizontal parallax of the sun at one astronomical unit (IAU 1976), in degrees. */
const parallax_deg = 8.794_148 / 3600;

const firstYear_ms = Date.UTC(1700, 0, 1);
const endOfYears_ms = Date.UTC(2200, 0, 1);

/** Refuses an instant for which the sun's place is not known well enough. */
export function requireSunInstant(at_ms: number, path: string): void {
  if (at_ms >= firstYear_ms && at_ms < endOfYears_ms) return;
  refuse(path, "outsideDomain", describeInstant(at_ms), "an instant in the years 1700 … 2199");
}

function describeInstant(at_ms: number): string {
  return Number.isFinite(at_ms) && Math.abs(at_ms) < 8.64e15 ? new Date(at_ms).toISOString() : String(at_ms);
}

/** The sun's track, with the midnights that were asked for so far. Same instants, same answers, in any order. */
export type Sun = { readonly at: (at_ms: number) => SunPlace };

export type SunPlace = {
  readonly declination_deg: number;
  /** West of the Greenwich meridian, in degrees; not reduced to one turn. */
  readonly greenwichHourAngle_deg: number;
  readonly distance_au: number;
};

/** An angle in −180 … 180. */
export function turn(angle_deg: number): number {
  return angle_deg - 360 * Math.round(angle_deg / 360);
}

/** Altitude of the sun's centre, in degrees. */
export function sunAltitude(sun: Sun, { lat_deg, lon_deg }: Position, at_ms: number): number {
  const { declination_deg, greenwichHourAngle_deg, distance_au } = sun.at(at_ms);
  const latitude = lat_deg * radians;
  const declination = declination_deg * radians;
  const hourAngle = (greenwichHourAngle_deg + lon_deg) * radians;
  const sine =
    Math.sin(latitude) * Math.sin(declination) +
    Math.cos(latitude) * Math.cos(declination) * Math.cos(hourAngle);
  const altitude = Math.asin(Math.min(1, Math.max(-1, sine)));
  return altitude / radians - (parallax_deg / distance_au) * Math.cos(altitude);
}
