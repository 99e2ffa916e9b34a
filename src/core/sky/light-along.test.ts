import { expect, test } from "vitest";
import { minute_ms } from "../facts/instant.ts";
import { lightAlong } from "./light-along.ts";
import { moonAt, nextMoonChange } from "./moon.ts";
import { euNight, usRecencyNight } from "./night.ts";
import { solarDayOn } from "./solar-day.ts";
import { trackSun } from "./sun.ts";

const sun = trackSun();
const base = { lat_deg: 70.2, lon_deg: 12.5 };
/** Farther east: dusk comes earlier. */
const scene = { lat_deg: 70.2, lon_deg: 14.5 };

test("the light at each point is that of its own place and time, in the order asked", () => {
  const dusk_ms = solarDayOn(sun, base, "2026-11-10", "UTC").dusk_ms as number;
  const points = [
    { position: base, at_ms: dusk_ms },
    { position: base, at_ms: dusk_ms - minute_ms },
    { position: scene, at_ms: dusk_ms - minute_ms },
  ];
  const found = lightAlong(sun, euNight, points);
  expect(found.map(({ light }) => light)).toEqual(["night", "day", "night"]);
  expect(found[1]?.changes_ms).toBe(dusk_ms);
  expect(found[0]?.sunAltitude_deg).toBeCloseTo(-6, 3);
  // By another night it is night already, an hour after sunset so far north: the three are never one.
  expect(lightAlong(sun, usRecencyNight, points)[1]?.light).toBe("night");
  expect(lightAlong(sun, euNight, [])).toEqual([]);
});

test("the moon changes at the second at which its limb passes the horizon, and not while it stays up", () => {
  const from_ms = Date.UTC(2026, 10, 10, 12);
  const place = { lat_deg: 47, lon_deg: 12.5 };
  const next = nextMoonChange(place, from_ms, 25 * 60 * minute_ms);
  expect(next).not.toBeNull();
  const at_ms = next?.at_ms ?? 0;
  const above = (ms: number): boolean => moonAt(place, ms).altitude_deg >= -50 / 60;
  expect(above(at_ms)).toBe(next?.rises);
  expect(above(at_ms - 1000)).toBe(!next?.rises);
  expect(nextMoonChange(place, from_ms, minute_ms)).toBeNull();
});
