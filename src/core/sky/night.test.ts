import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { hour_ms } from "../facts/instant.ts";
import { Refusal } from "../quantity/refusal.ts";
import {
  euNight,
  lightAt,
  lightSpans,
  nextLightChange,
  type NightRule,
  usNight,
  usRecencyNight,
} from "./night.ts";
import { solarDayOn } from "./solar-day.ts";
import { trackSun } from "./sun.ts";
import { day_ms } from "./sun-altitude.ts";

const sun = trackSun();
const rules: readonly NightRule[] = [
  euNight,
  usNight,
  usRecencyNight,
  { kind: "betweenSunsetAndSunrise", afterSunset_min: 30, beforeSunrise_min: 30, cite: "an authority's own" },
];
const aPlace = fc.record({
  lat_deg: fc.double({ min: -90, max: 90, noNaN: true }),
  lon_deg: fc.double({ min: -180, max: 180, noNaN: true }),
});
const anInstant = fc.integer({ min: Date.UTC(2020, 0, 1), max: Date.UTC(2030, 0, 1) });

describe("day and night", () => {
  test("of the EU and the US turn at civil dawn and dusk, and the recency night an hour inside sunset and sunrise", () => {
    const oslo = { lat_deg: 59.911, lon_deg: 10.757 };
    const day = solarDayOn(sun, oslo, "2026-02-04", "Europe/Oslo");
    const after = (at_ms: number): (number | null)[] =>
      [euNight, usNight, usRecencyNight].map((rule) => nextLightChange(sun, oslo, rule, at_ms, day_ms));
    const { dusk_ms, sunset_ms } = day;
    expect(after(day.noon_ms)).toEqual([dusk_ms, dusk_ms, (sunset_ms as number) + hour_ms]);
    const next = solarDayOn(sun, oslo, "2026-02-05", "Europe/Oslo");
    const { dawn_ms, sunrise_ms } = next;
    expect(after(next.noon_ms - 11 * hour_ms)).toEqual([dawn_ms, dawn_ms, (sunrise_ms as number) - hour_ms]);
  });

  test("are three different nights: an hour and a half before sunrise in spring it may be day for one of them", () => {
    const place = { lat_deg: 66, lon_deg: 0 };
    const day = solarDayOn(sun, place, "2026-04-20", "UTC");
    const at_ms = (day.sunrise_ms as number) - 61 * 60_000;
    expect(lightAt(sun, place, euNight, at_ms)).toBe("day");
    expect(lightAt(sun, place, usRecencyNight, at_ms)).toBe("night");
  });

  test("spans touch, take turns, begin and end where asked, and say what holds at each instant", () => {
    fc.assert(
      fc.property(aPlace, anInstant, fc.constantFrom(...rules), (place, from_ms, rule) => {
        const until_ms = from_ms + 3 * day_ms;
        const spans = lightSpans(sun, place, rule, from_ms, until_ms);
        expect(spans[0]?.from_ms).toBe(from_ms);
        expect(spans.at(-1)?.until_ms).toBe(until_ms);
        spans.forEach((span, index) => {
          const { light } = span;
          expect(span.from_ms).toBeLessThan(span.until_ms);
          for (const at_ms of [
            span.from_ms,
            Math.floor((span.from_ms + span.until_ms) / 2),
            span.until_ms - 1,
          ]) {
            expect(lightAt(sun, place, rule, at_ms)).toBe(light);
          }
          const next = spans[index + 1];
          if (next !== undefined) {
            expect(next.from_ms).toBe(span.until_ms);
            expect(next.light).not.toBe(light);
          }
        });
      }),
      { numRuns: 400, seed: 2 },
    );
  });

  test("change at the millisecond that is named, and not before", () => {
    let changed = 0;
    fc.assert(
      fc.property(aPlace, anInstant, fc.constantFrom(...rules), (place, at_ms, rule) => {
        const change_ms = nextLightChange(sun, place, rule, at_ms, 72 * hour_ms);
        const now = lightAt(sun, place, rule, at_ms);
        if (change_ms === null) {
          expect(lightAt(sun, place, rule, at_ms + 72 * hour_ms)).toBe(now);
          return;
        }
        changed += 1;
        expect(change_ms).toBeGreaterThan(at_ms);
        expect(change_ms - at_ms).toBeLessThanOrEqual(72 * hour_ms);
        expect(lightAt(sun, place, rule, change_ms)).not.toBe(now);
        expect(lightAt(sun, place, rule, change_ms - 1)).toBe(now);
      }),
      { numRuns: 600, seed: 3 },
    );
    expect(changed).toBeGreaterThan(300);
  });

  test("a night shorter than both its margins does not begin", () => {
    // 63° N at midsummer: the sun is down for less than four hours, and for less than two a little further north.
    const recencyNights = (lat_deg: number): number =>
      lightSpans(
        sun,
        { lat_deg, lon_deg: 0 },
        usRecencyNight,
        Date.UTC(2026, 5, 20, 12),
        Date.UTC(2026, 5, 23, 12),
      ).filter(({ light }) => light === "night").length;
    expect(recencyNights(63)).toBe(3);
    expect(recencyNights(65.4)).toBe(0);
  });

  test("polar night is one recency night, midnight sun none", () => {
    const place = { lat_deg: 78.2, lon_deg: 15.6 };
    const kinds = (month: number): string[] =>
      lightSpans(sun, place, usRecencyNight, Date.UTC(2026, month, 10), Date.UTC(2026, month, 20)).map(
        ({ light }) => light,
      );
    expect(kinds(11)).toEqual(["night"]);
    expect(kinds(5)).toEqual(["day"]);
  });

  test("refuse an instant outside the years that the sun is known for", () => {
    expect(() => lightSpans(sun, { lat_deg: 0, lon_deg: 0 }, euNight, Date.UTC(1600, 0, 1), 0)).toThrow(
      Refusal,
    );
  });
});
