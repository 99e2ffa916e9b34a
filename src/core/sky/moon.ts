// The moon for a night under goggles: its altitude and how much of it is lit.
//
// From astronomy-engine 2.1.19 (truncated ELP-MPP02 after its author): topocentric altitude of the centre above the true
// horizon at sea level without refraction, and the lit fraction of the disc. Valid for 1700 to 2199, refuses the rest.
// Rise and set: upper limb on a sea horizon, the centre at −50′ as for the sun; found by looking every twenty minutes and
// narrowing to the second, so that a moon that shows itself for less than that over the horizon may be passed over.
// What light reaches the ground depends on cloud and terrain, which are not in it. Second opinion: suncalc, in
// published/sun.test.ts.

import { AstroTime, Body, Equator, Horizon, Illumination, MoonPhase, Observer } from "astronomy-engine";
import type { Position } from "../air/position.ts";
import { minute_ms } from "../facts/instant.ts";
import { firstCrossing } from "./crossing.ts";
import { horizon_deg } from "./solar-day.ts";
import { requireSunInstant } from "./sun-altitude.ts";

export type Moon = {
  readonly altitude_deg: number;
  /** Part of the disc that is lit, 0 to 1. */
  readonly illumination: number;
  /** True from new to full moon. */
  readonly isWaxing: boolean;
};

export function moonAt({ lat_deg, lon_deg }: Position, at_ms: number): Moon {
  requireSunInstant(at_ms, "at");
  const time = new AstroTime(new Date(at_ms));
  const observer = new Observer(lat_deg, lon_deg, 0);
  const { ra, dec } = Equator(Body.Moon, time, observer, true, true);
  return {
    altitude_deg: Horizon(time, observer, ra, dec).altitude,
    illumination: Illumination(Body.Moon, time).phase_fraction,
    isWaxing: MoonPhase(time) < 180,
  };
}

export type MoonNext = { readonly at_ms: number; readonly rises: boolean };

/** The next rise or set after `at_ms`, within `within_ms`; null when there is none. */
export function nextMoonChange(position: Position, at_ms: number, within_ms: number): MoonNext | null {
  const height = (at_s: number): number => moonAt(position, at_s * 1000).altitude_deg - horizon_deg;
  const step_s = (20 * minute_ms) / 1000;
  const end_s = Math.floor((at_ms + within_ms) / 1000);
  for (let from_s = Math.floor(at_ms / 1000); from_s < end_s; from_s += step_s) {
    const found_s = firstCrossing(height, from_s, Math.min(from_s + step_s, end_s));
    if (found_s !== null) return { at_ms: found_s * 1000, rises: height(found_s) >= 0 };
  }
  return null;
}
