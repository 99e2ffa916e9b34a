// The light at each point of a flight: day or night by a rule, the sun, and the moon for goggles.
//
// In: the sun's track, the rule of the night that is asked, points with their place and time in any order. Out: for each
// point, in the same order, its light, the sun's altitude, the moon, and when the light next changes there (null: not
// within 72 h). A point without a place or a time has no light: the caller says *not known*. Day and night: night.ts; the
// sun: sun-altitude.ts; the moon: moon.ts. Terrain is in none of it.
import type { Position } from "../air/position.ts";
import { hour_ms } from "../facts/instant.ts";
import { type Moon, moonAt } from "./moon.ts";
import { type Light, lightAt, nextLightChange, type NightRule } from "./night.ts";
import { inOneTurn } from "./solar-day.ts";
import { type Sun, sunAltitude } from "./sun-altitude.ts";

export type LightPoint = { readonly position: Position; readonly at_ms: number };

export type LightThere = {
  readonly at_ms: number;
  readonly light: Light;
  readonly sunAltitude_deg: number;
  readonly moon: Moon;
  readonly changes_ms: number | null;
};

const ahead_ms = 72 * hour_ms;

export function lightAlong(sun: Sun, rule: NightRule, points: readonly LightPoint[]): readonly LightThere[] {
  return points.map(({ position, at_ms }) => ({
    at_ms,
    light: lightAt(sun, position, rule, at_ms),
    sunAltitude_deg: sunAltitude(sun, inOneTurn(position), at_ms),
    moon: moonAt(position, at_ms),
    changes_ms: nextLightChange(sun, position, rule, at_ms, ahead_ms),
  }));
}
