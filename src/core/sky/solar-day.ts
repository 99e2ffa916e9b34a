// One day of the sun at a place: dawn, sunrise, noon, sunset, dusk, and what the sun does instead where one is missing.
//
// A solar day runs from the sun's lowest altitude around one midnight to the lowest around the next; between, the sun
// rises to one highest altitude and falls, so that each height is passed once up and once down at most, and every
// passage is bracketed (crossing.ts). Lowest and highest are the true ones: at high latitudes they stand off the
// meridian passage by up to minutes, since the declination changes while the sun turns, and a passage on a grazing day
// lies in between. Where the sun has no daily low and high at all (within some 10 km of a pole) the meridian passages
// bound the day. Noon is the meridian passage.
//
// Sunrise and sunset: upper limb on a sea horizon, centre at −50′ (34′ refraction, 16′ semidiameter; USNO convention).
// Civil dawn and dusk: centre at −6° (Reg. (EU) 923/2012 art. 2(97); US Naval Observatory). Instants are whole
// milliseconds: the first one on the new side. No terrain, no elevation. Check values: published/sun.json.

import type { Position } from "../air/position.ts";
import { startOfDate, type ZoneId } from "../facts/calendar.ts";
import { refuse } from "../quantity/refusal.ts";
import { firstCrossing } from "./crossing.ts";
import { day_ms, requireSunInstant, type Sun, sunAltitude, turn } from "./sun-altitude.ts";

/** Altitude of the sun's centre at sunrise and sunset, in degrees. */
export const horizon_deg = -50 / 60;
/** Altitude of the sun's centre at the ends of civil twilight, in degrees. */
export const civilTwilight_deg = -6;

export type SunState = "normal" | "upAllDay" | "downAllDay";
export type TwilightState = "normal" | "neverDark" | "neverLight";

export type SolarDay = {
  readonly dawn_ms: number | null;
  readonly sunrise_ms: number | null;
  readonly noon_ms: number;
  readonly sunset_ms: number | null;
  readonly dusk_ms: number | null;
  readonly sunState: SunState;
  readonly twilightState: TwilightState;
};

/** The lowest point that begins a solar day, its highest point and the lowest that ends it. */
type Turns = { readonly low_ms: number; readonly high_ms: number; readonly nextLow_ms: number };

/** The meridian passage of solar day `number` (counted from 1 January 1970 at Greenwich); `half` 0 for noon, −½ for the midnight before. */
function passage(sun: Sun, lon_deg: number, number: number, half: 0 | -0.5): number {
  // GHA = 180° + slow + 360° × (part of the UTC day); solved for the hour angle 0 or −180°, the slow part by iteration.
  let at_ms = (number + 0.5 + half - lon_deg / 360) * day_ms;
  for (let round = 0; round < 4; round += 1) {
    const hourAngle_deg = sun.at(at_ms).greenwichHourAngle_deg + lon_deg - 360 * half;
    at_ms -= (turn(hourAngle_deg) / 360) * day_ms;
  }
  return Math.round(at_ms);
}

const quarter_ms = day_ms / 4;
const radians = Math.PI / 180;

/** Sign of how the altitude changes: the derivative of its sine, in degrees of angle per day. */
function climb(sun: Sun, { lat_deg, lon_deg }: Position, at_ms: number): number {
  const step_ms = 1_800_000;
  const here = sun.at(at_ms);
  const [before, after] = [sun.at(at_ms - step_ms), sun.at(at_ms + step_ms)];
  const perDay = day_ms / (2 * step_ms);
  const drift = (after.declination_deg - before.declination_deg) * perDay;
  const spin = turn(after.greenwichHourAngle_deg - before.greenwichHourAngle_deg) * perDay;
  const [latitude, declination] = [lat_deg * radians, here.declination_deg * radians];
  const hourAngle = (here.greenwichHourAngle_deg + lon_deg) * radians;
  return (
    (Math.sin(latitude) * Math.cos(declination) -
      Math.cos(latitude) * Math.sin(declination) * Math.cos(hourAngle)) *
      drift -
    Math.cos(latitude) * Math.cos(declination) * Math.sin(hourAngle) * spin
  );
}

/** The true turn of the altitude within a quarter day of a meridian passage; the passage itself where there is none. */
function turnNear(sun: Sun, place: Position, passage_ms: number): number {
  // To the whole second: the altitude is flat there, and differs by less than 0.000 001° within one.
  const [from_s, to_s] = [passage_ms - quarter_ms, passage_ms + quarter_ms].map((at_ms) =>
    Math.round(at_ms / 1000),
  ) as [number, number];
  const found_s = firstCrossing((at_s) => climb(sun, place, at_s * 1000), from_s, to_s);
  return found_s === null ? passage_ms : found_s * 1000;
}

function turnsOf(sun: Sun, place: Position, number: number): Turns {
  const { lon_deg } = place;
  return {
    low_ms: turnNear(sun, place, passage(sun, lon_deg, number, -0.5)),
    high_ms: turnNear(sun, place, passage(sun, lon_deg, number, 0)),
    nextLow_ms: turnNear(sun, place, passage(sun, lon_deg, number + 1, -0.5)),
  };
}

type Passages = { readonly up_ms: number | null; readonly down_ms: number | null; readonly isHigh: boolean };

function passagesOf(sun: Sun, place: Position, turns: Turns, altitude_deg: number): Passages {
  const above = (at_ms: number): number => sunAltitude(sun, place, at_ms) - altitude_deg;
  return {
    up_ms: firstCrossing(above, turns.low_ms, turns.high_ms),
    down_ms: firstCrossing(above, turns.high_ms, turns.nextLow_ms),
    isHigh: above(turns.high_ms) >= 0,
  };
}

function solarDay(sun: Sun, place: Position, number: number): SolarDay {
  const turns = turnsOf(sun, place, number);
  const limb = passagesOf(sun, place, turns, horizon_deg);
  const civil = passagesOf(sun, place, turns, civilTwilight_deg);
  const isCrossed = ({ up_ms, down_ms }: Passages): boolean => up_ms !== null || down_ms !== null;
  return {
    dawn_ms: civil.up_ms,
    sunrise_ms: limb.up_ms,
    noon_ms: passage(sun, place.lon_deg, number, 0),
    sunset_ms: limb.down_ms,
    dusk_ms: civil.down_ms,
    sunState: isCrossed(limb) ? "normal" : limb.isHigh ? "upAllDay" : "downAllDay",
    twilightState: isCrossed(civil) ? "normal" : civil.isHigh ? "neverDark" : "neverLight",
  };
}

/** A place with its longitude in −180 … 180. */
export function inOneTurn({ lat_deg, lon_deg }: Position): Position {
  return { lat_deg, lon_deg: turn(lon_deg) };
}

/**
 * The solar day whose noon falls on the calendar date in the zone. Where two noons fall on one date (a place far from
 * its zone, or a date of 25 h), the first. Refuses a date without a noon (one that a zone left out), and years outside
 * 1700 … 2199.
 */
export function solarDayOn(sun: Sun, place: Position, date: string, zone: ZoneId): SolarDay {
  const start_ms = startOfDate(date, zone);
  const end_ms = startOfDate(nextDate(date), zone);
  requireSunInstant(start_ms, "date");
  requireSunInstant(end_ms, "date");
  const at = inOneTurn(place);
  const first = Math.floor(start_ms / day_ms) - 1;
  for (let number = first; number <= first + 3; number += 1) {
    const noon_ms = passage(sun, at.lon_deg, number, 0);
    if (noon_ms >= start_ms && noon_ms < end_ms) return solarDay(sun, at, number);
  }
  return refuse(
    "date",
    "impossible",
    `no solar noon on ${date} in ${zone}`,
    "a date on which the sun passes the meridian",
  );
}

function nextDate(date: string): string {
  return new Date(Date.parse(`${date}T00:00:00Z`) + day_ms).toISOString().slice(0, 10);
}

/** An instant at which the sun's centre passes an altitude, and whether it is above from then on. */
export type Passage = { readonly at_ms: number; readonly isAbove: boolean };

/** Every passage of an altitude in (from, to], in order. */
export function passagesBetween(
  sun: Sun,
  place: Position,
  altitude_deg: number,
  from_ms: number,
  to_ms: number,
): readonly Passage[] {
  const at = inOneTurn(place);
  const above = (at_ms: number): number => sunAltitude(sun, at, at_ms) - altitude_deg;
  const first = Math.floor(from_ms / day_ms) - 2;
  const last = Math.floor(to_ms / day_ms) + 2;
  const turns = [from_ms, to_ms];
  for (let number = first; number <= last; number += 1) {
    for (const half of [-0.5, 0] as const) {
      turns.push(turnNear(sun, at, passage(sun, at.lon_deg, number, half)));
    }
  }
  const inside = turns.filter((at_ms) => at_ms >= from_ms && at_ms <= to_ms).toSorted((a, b) => a - b);
  const found: Passage[] = [];
  for (let index = 1; index < inside.length; index += 1) {
    const at_ms = firstCrossing(above, inside[index - 1] as number, inside[index] as number);
    if (at_ms !== null) found.push({ at_ms, isAbove: above(at_ms) >= 0 });
  }
  return found;
}
