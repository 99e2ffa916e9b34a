// The moon for a night under goggles: its altitude and how much of it is lit.
//
// From astronomy-engine 2.1.19 (truncated ELP-MPP02 after its author): topocentric altitude of the centre above the true
// horizon at sea level without refraction, and the lit fraction of the disc. Valid for 1700 to 2199, refuses the rest.
// What light reaches the ground depends on cloud and terrain, which are not in it. Second opinion: suncalc, in
// published/sun.test.ts.

import { AstroTime, Body, Equator, Horizon, Illumination, MoonPhase, Observer } from "astronomy-engine";
import type { Position } from "../air/position.ts";
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
