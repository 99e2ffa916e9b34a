// The wind triangle, components of a wind, and what follows from them: radius of action and equal-time point.
//
// Directions in degrees clockwise from the same north (all true or all magnetic; nothing here can tell). A wind is named
// by where it comes from. Speeds in m/s, distances in m, times in s. Right is positive; a headwind is positive; a
// crosswind from the right is positive; drift to the right is positive.
// Source: plane trigonometry as in FAA-H-8083-25 (navigation); wind correction sin c = (W/V) sin(d − t), ground speed
// V cos c − W cos(d − t); radius of action E·O·H/(O + H). Of two headings that make the same track good, the faster.
// A wind that makes the track impossible is an answer, not an error: it happens on every reach map.
// Check values: published/wind.test.ts.

import { describe, refuse } from "../quantity/refusal.ts";
import type { Degrees, Metres, MetresPerSecond, Seconds } from "../quantity/units.ts";
import { asinDeg, atan2Deg, compass, cosDeg, sinDeg } from "./degrees.ts";

export type Wind = { readonly from: Degrees; readonly speed: MetresPerSecond };

/** Along and across a direction: headwind positive, from the right positive. */
export type WindComponents = { readonly head: MetresPerSecond; readonly cross: MetresPerSecond };

export type Triangle = {
  readonly kind: "solved";
  readonly heading: Degrees;
  readonly groundSpeed: MetresPerSecond;
  /** Track less heading: positive when the wind drifts to the right. */
  readonly drift: Degrees;
  /** Along and across the track. */
  readonly components: WindComponents;
};

/** The wind across is stronger than the airspeed, or the wind ahead leaves no way over the ground. */
export type ImpossibleTrack = {
  readonly kind: "impossible";
  readonly why: "crosswindAboveAirspeed" | "noGroundSpeed";
  readonly components: WindComponents;
};

/** A value within this of a limit counts as on it, so that every engine agrees. */
const onLimit = 1e-9;

/** Wind along and across a direction (a track, a heading, a runway). */
export function windComponents(direction: Degrees, wind: Wind): WindComponents {
  requireDirection(direction, "direction");
  requireWind(wind);
  return components(direction, wind);
}

function components(direction: Degrees, wind: Wind): WindComponents {
  const angle = wind.from - direction;
  // `+ 0` turns −0, a calm from behind, into 0.
  return {
    head: (wind.speed * cosDeg(angle) + 0) as MetresPerSecond,
    cross: (wind.speed * sinDeg(angle) + 0) as MetresPerSecond,
  };
}

/** Heading and ground speed that make a track good. */
export function windTriangle(
  track: Degrees,
  airspeed: MetresPerSecond,
  wind: Wind,
): Triangle | ImpossibleTrack {
  requireDirection(track, "track");
  requireAirspeed(airspeed);
  requireWind(wind);
  const along = components(track, wind);
  const sine = along.cross / airspeed;
  if (Math.abs(sine) > 1 + onLimit)
    return { kind: "impossible", why: "crosswindAboveAirspeed", components: along };
  // Within the tolerance of the limit, on it: the nose square to the track.
  const correctionSine = Math.min(1, Math.max(-1, sine));
  const forward = airspeed * Math.sqrt((1 - correctionSine) * (1 + correctionSine));
  const groundSpeed = (forward - along.head) as MetresPerSecond;
  if (!(groundSpeed > airspeed * onLimit))
    return { kind: "impossible", why: "noGroundSpeed", components: along };
  const correction = asinDeg(correctionSine);
  return {
    kind: "solved",
    heading: compass(track + correction),
    groundSpeed,
    drift: (0 - correction) as Degrees,
    components: along,
  };
}

/** Track and ground speed that a heading gives; null when the wind holds the aircraft in place. */
export function trackMadeGood(
  heading: Degrees,
  airspeed: MetresPerSecond,
  wind: Wind,
): { readonly track: Degrees; readonly groundSpeed: MetresPerSecond } | null {
  requireDirection(heading, "heading");
  requireAirspeed(airspeed);
  requireWind(wind);
  const { head, cross } = components(heading, wind);
  const groundSpeed = Math.hypot(airspeed - head, cross) as MetresPerSecond;
  if (!(groundSpeed > airspeed * onLimit)) return null;
  return { track: compass(heading + atan2Deg(0 - cross, airspeed - head)), groundSpeed };
}

/** The wind that turns a heading and airspeed into a track and ground speed; from 0° when there is none. */
export function windFromTrack(
  heading: Degrees,
  airspeed: MetresPerSecond,
  track: Degrees,
  groundSpeed: MetresPerSecond,
): Wind {
  requireDirection(heading, "heading");
  requireAirspeed(airspeed);
  requireDirection(track, "track");
  if (!(groundSpeed >= 0) || !Number.isFinite(groundSpeed))
    refuse("groundSpeed", "outsideDomain", describe(groundSpeed), "at least 0");
  // Air vector less ground vector points to where the wind comes from; along and across the heading.
  const difference = track - heading;
  const ahead = airspeed - groundSpeed * cosDeg(difference);
  const right = groundSpeed * sinDeg(heading - track);
  const speed = Math.hypot(ahead, right) as MetresPerSecond;
  return { from: speed === 0 ? (0 as Degrees) : compass(heading + atan2Deg(right, ahead)), speed };
}

/** The strongest that a wind can be in each way, for limits: over its sector, and at its gusts. */
export type WorstWind = {
  readonly head: MetresPerSecond;
  readonly tail: MetresPerSecond;
  readonly fromLeft: MetresPerSecond;
  readonly fromRight: MetresPerSecond;
};

/**
 * The largest component of a wind from each side of a direction. `between` is the sector that a report gives, clockwise
 * from the first to the second; `from` null is a variable wind, which may blow from anywhere. The gust, where there is
 * one, counts in full. A side from which the wind cannot come is 0.
 */
export function worstWind(
  direction: Degrees,
  wind: {
    readonly from: Degrees | null;
    readonly between: readonly [Degrees, Degrees] | null;
    readonly speed: MetresPerSecond;
    readonly gust: MetresPerSecond | null;
  },
): WorstWind {
  requireDirection(direction, "direction");
  const speed = Math.max(wind.speed, wind.gust ?? 0) as MetresPerSecond;
  requireSpeed(wind.speed, "wind.speed");
  if (wind.gust !== null) requireSpeed(wind.gust, "wind.gust");
  if (wind.from !== null) requireDirection(wind.from, "wind.from");
  if (wind.between !== null) {
    requireDirection(wind.between[0], "wind.between[0]");
    requireDirection(wind.between[1], "wind.between[1]");
  }
  const strongestFrom = (side: number): MetresPerSecond => {
    const best =
      wind.from === null && wind.between === null
        ? 1
        : bestCosine(compass(direction + side), wind.from, wind.between);
    return (speed * Math.max(0, best)) as MetresPerSecond;
  };
  return {
    head: strongestFrom(0),
    tail: strongestFrom(180),
    fromLeft: strongestFrom(270),
    fromRight: strongestFrom(90),
  };
}

/** The largest cosine between a direction and any direction of a sector and its mean. */
function bestCosine(to: Degrees, from: Degrees | null, between: readonly [Degrees, Degrees] | null): number {
  const single = from === null ? -1 : cosDeg(from - to);
  if (between === null) return single;
  const [start, end] = between;
  if (compass(to - start) <= compass(end - start)) return 1;
  return Math.max(single, cosDeg(start - to), cosDeg(end - to));
}

export type RadiusOfAction = {
  readonly kind: "solved";
  readonly outSpeed: MetresPerSecond;
  readonly backSpeed: MetresPerSecond;
  readonly radius: Metres;
  readonly turnAfter: Seconds;
};

/** How far out along a track one can go and still be back after the endurance, in one wind and at one airspeed. */
export function radiusOfAction(
  endurance: Seconds,
  airspeed: MetresPerSecond,
  track: Degrees,
  wind: Wind,
): RadiusOfAction | (ImpossibleTrack & { readonly leg: "out" | "back" }) {
  const out = windTriangle(track, airspeed, wind);
  if (out.kind === "impossible") return { ...out, leg: "out" };
  const back = windTriangle(compass(track + 180), airspeed, wind);
  if (back.kind === "impossible") return { ...back, leg: "back" };
  const { radius, turnAfter } = turningPoint(endurance, out.groundSpeed, back.groundSpeed);
  return { kind: "solved", outSpeed: out.groundSpeed, backSpeed: back.groundSpeed, radius, turnAfter };
}

/** Radius and time of turning for known ground speeds out and back. */
export function turningPoint(
  endurance: Seconds,
  outSpeed: MetresPerSecond,
  backSpeed: MetresPerSecond,
): { readonly radius: Metres; readonly turnAfter: Seconds } {
  if (!(endurance >= 0) || !Number.isFinite(endurance))
    refuse("endurance", "outsideDomain", describe(endurance), "at least 0");
  requireMoving(outSpeed, "outSpeed");
  requireMoving(backSpeed, "backSpeed");
  const turnAfter = ((endurance * backSpeed) / (outSpeed + backSpeed)) as Seconds;
  return { radius: (turnAfter * outSpeed) as Metres, turnAfter };
}

/** From where on a leg going on and going back take the same time, as a distance from its start. */
export function equalTimePoint(
  distance: Metres,
  onSpeed: MetresPerSecond,
  backSpeed: MetresPerSecond,
): Metres {
  if (!(distance >= 0) || !Number.isFinite(distance))
    refuse("distance", "outsideDomain", describe(distance), "at least 0");
  requireMoving(onSpeed, "onSpeed");
  requireMoving(backSpeed, "backSpeed");
  return ((distance * backSpeed) / (onSpeed + backSpeed)) as Metres;
}

function requireDirection(deg: number, path: string): void {
  if (!Number.isFinite(deg)) refuse(path, "notFinite", describe(deg), "a direction in degrees");
}

function requireSpeed(speed: number, path: string): void {
  if (!(speed >= 0) || !Number.isFinite(speed))
    refuse(path, "outsideDomain", describe(speed), "a speed of at least 0");
}

function requireMoving(speed: number, path: string): void {
  if (!(speed > 0) || !Number.isFinite(speed))
    refuse(path, "outsideDomain", describe(speed), "a speed above 0");
}

function requireAirspeed(airspeed: number): void {
  requireMoving(airspeed, "airspeed");
}

function requireWind(wind: Wind): void {
  requireDirection(wind.from, "wind.from");
  requireSpeed(wind.speed, "wind.speed");
}
