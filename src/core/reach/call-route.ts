// The legs of a call over the ground: geodesics on WGS84, the wind triangle on each, and the times that follow.
//
// A leg's track is that in its middle: the mean of the azimuths at its two ends. Ground speed and with it the time of a leg
// do not depend on fuel or mass. A wind from anywhere blows against every leg; a wind that is not known, or that makes a
// track impossible, leaves its leg without a time, and everything after it without an instant.
import { geodesicBetween } from "../air/geodesic.ts";
import { windTriangle } from "../air/wind.ts";
import { minute_ms } from "../facts/instant.ts";
import { convert, inUnit } from "../quantity/units.ts";
import type { Call, CallPlace, CallStop } from "./call.ts";

export type RouteLeg = {
  readonly distance_nm: number;
  /** Null where both ends coincide. */
  readonly track_deg: number | null;
  /** NaN where there is none. */
  readonly groundspeed_kt: number;
  readonly hours: number;
};

export type RouteStop = { readonly arrive_ms: number; readonly leave_ms: number };

export type Route = {
  readonly legs: readonly RouteLeg[];
  /** NaN from the first leg on that has no time. */
  readonly stops: readonly RouteStop[];
  readonly flight_h: number;
  readonly ends_ms: number;
};

export function legBetween(from: CallPlace, to: CallPlace): Pick<RouteLeg, "distance_nm" | "track_deg"> {
  const { distance, azimuth1, azimuth2 } = geodesicBetween(from, to);
  const distance_nm = convert(distance, "m", "nm");
  if (azimuth1 === null || azimuth2 === null) return { distance_nm, track_deg: null };
  const turn = azimuth2 - azimuth1;
  return { distance_nm, track_deg: azimuth1 + (turn - 360 * Math.round(turn / 360)) / 2 };
}

/** NaN where the wind makes the track impossible. */
export function groundSpeed_kt(
  track_deg: number,
  tas_kt: number,
  wind: NonNullable<Call["air"]["wind"]>,
): number {
  const triangle = windTriangle(inUnit(track_deg, "deg"), convert(inUnit(tas_kt, "kt"), "kt", "ms"), {
    from: inUnit(wind.from_deg ?? track_deg, "deg"),
    speed: convert(inUnit(wind.speed_kt, "kt"), "kt", "ms"),
  });
  return triangle.kind === "solved" ? convert(triangle.groundSpeed, "ms", "kt") : Number.NaN;
}

export function routeOf(
  { depart_ms, from, stops, tas_kt, air }: Call,
  legOf: (from: CallPlace, to: CallPlace) => Pick<RouteLeg, "distance_nm" | "track_deg"> = legBetween,
): Route {
  const legs: RouteLeg[] = [];
  const times: RouteStop[] = [];
  let at_ms = depart_ms;
  let place = from;
  for (const stop of stops) {
    const leg = legOf(place, stop.place);
    const { distance_nm, track_deg } = leg;
    const isNowhere = track_deg === null || distance_nm === 0;
    const groundspeed_kt =
      air.wind === null ? Number.NaN : groundSpeed_kt(isNowhere ? 0 : track_deg, tas_kt, air.wind);
    const hours = isNowhere ? 0 : distance_nm / groundspeed_kt;
    legs.push({ ...leg, groundspeed_kt, hours });
    const arrive_ms = at_ms + hours * 60 * minute_ms;
    at_ms = arrive_ms + stop.stay_min * minute_ms;
    times.push({ arrive_ms, leave_ms: at_ms });
    place = stop.place;
  }
  const flight_h = legs.reduce((sum, { hours }) => sum + hours, 0) + hoverHours(stops);
  return { legs, stops: times, flight_h, ends_ms: times.at(-1)?.arrive_ms ?? depart_ms };
}

const hoverHours = (stops: readonly CallStop[]): number =>
  stops.reduce((sum, { engines, stay_min }) => (engines === "hover" ? sum + stay_min / 60 : sum), 0);
