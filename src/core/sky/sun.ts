// Where the sun stands: declination, hour angle and altitude for a place and an instant.
//
// The apparent place of the sun comes from astronomy-engine 2.1.19 (VSOP87, truncated; aberration, nutation, sidereal
// time), once per UTC midnight; between midnights, declination and the slow part of the Greenwich hour angle are
// interpolated through four of them. The fourth differences of both stay under 0.002″ (annual and semi-annual terms, the
// moon's pull, short nutation), so that the interpolation costs less than 0.001 s of any event. What follows
// for an altitude is in sun-altitude.ts. Held to the library and to USNO tables in published/sun.test.ts.
//
// Valid for the years 1700 to 2200, for which the library's author compared it with NOVAS; refuses instants outside.

import {
  AstroTime,
  Body,
  EquatorFromVector,
  GeoVector,
  RotateVector,
  Rotation_EQJ_EQD,
  SiderealTime,
} from "astronomy-engine";
import { day_ms, type Sun, turn } from "./sun-altitude.ts";

/** The sun at one UTC midnight. */
type Node = {
  readonly declination_deg: number;
  /** Greenwich hour angle less the even turn of the day: the equation of time, ±4.2°. */
  readonly slow_deg: number;
  readonly distance_au: number;
};

/** A track of the sun. It only remembers what it has computed, so that a year costs a year of midnights. */
export function trackSun(): Sun {
  const nodes = new Map<number, Node>();
  const node = (day: number): Node => {
    let found = nodes.get(day);
    if (found === undefined) {
      found = nodeAt(day);
      nodes.set(day, found);
    }
    return found;
  };
  return {
    at(at_ms) {
      const day = Math.floor(at_ms / day_ms);
      const share = at_ms / day_ms - day;
      const around = [node(day - 1), node(day), node(day + 1), node(day + 2)] as const;
      const through = (pick: (each: Node) => number): number =>
        cubic(pick(around[0]), pick(around[1]), pick(around[2]), pick(around[3]), share);
      return {
        declination_deg: through((each) => each.declination_deg),
        greenwichHourAngle_deg: 180 + through((each) => each.slow_deg) + 360 * share,
        distance_au: through((each) => each.distance_au),
      };
    },
  };
}

/** Through values at −1, 0, 1 and 2 by Gauss's forward formula; `share` from 0 to 1. */
function cubic(before: number, start: number, end: number, after: number, share: number): number {
  const first = end - start;
  const second = end - 2 * start + before;
  const third = after - 3 * end + 3 * start - before;
  return start + share * (first + ((share - 1) / 2) * (second + ((share + 1) / 3) * third));
}

function nodeAt(day: number): Node {
  const time = new AstroTime(new Date(day * day_ms));
  const vector = RotateVector(Rotation_EQJ_EQD(time), GeoVector(Body.Sun, time, true));
  const { ra, dec, dist } = EquatorFromVector(vector);
  const hourAngle_deg = 15 * (SiderealTime(time) - ra);
  return {
    declination_deg: dec,
    slow_deg: turn(hourAngle_deg - 180),
    distance_au: dist,
  };
}
