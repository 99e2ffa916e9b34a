// Angles in degrees: turns brought into one circle, and sine and cosine that are exact on the four main directions, so
// that a wind from straight ahead has no crosswind at all.

import type { Degrees } from "../quantity/units.ts";

const radiansPerDegree = Math.PI / 180;

/** The same direction in 0 ≤ d < 360. */
export function compass(deg: number): Degrees {
  const turned = deg % 360;
  const positive = turned < 0 ? turned + 360 : turned;
  // A tiny negative angle rounds up to 360 itself; and −0 must not leave.
  return (positive >= 360 ? 0 : positive + 0) as Degrees;
}

/** The same angle in −180 < d ≤ 180: how far to turn, right positive. */
export function turn(deg: number): Degrees {
  const around = compass(deg);
  return (around > 180 ? around - 360 : around) as Degrees;
}

export function sinDeg(deg: number): number {
  return sinCos(deg)[0];
}

export function cosDeg(deg: number): number {
  return sinCos(deg)[1];
}

/** Sine and cosine after taking whole quarter turns out, each remainder within ±45°. */
function sinCos(deg: number): readonly [number, number] {
  const quarters = Math.round((deg % 360) / 90);
  const rest = ((deg % 360) - 90 * quarters) * radiansPerDegree;
  const sin = Math.sin(rest);
  const cos = Math.cos(rest);
  // `+ 0` turns −0 into 0.
  switch (((quarters % 4) + 4) % 4) {
    case 0:
      return [sin, cos];
    case 1:
      return [cos, -sin + 0];
    case 2:
      return [-sin + 0, -cos];
    default:
      return [-cos, sin];
  }
}

/** Arc sine and two-argument arc tangent in degrees. */
export function asinDeg(sine: number): Degrees {
  return (Math.asin(sine) / radiansPerDegree) as Degrees;
}

export function atan2Deg(y: number, x: number): Degrees {
  return (Math.atan2(y, x) / radiansPerDegree) as Degrees;
}
