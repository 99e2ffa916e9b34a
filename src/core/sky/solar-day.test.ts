import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { startOfDate } from "../facts/calendar.ts";
import { Refusal } from "../quantity/refusal.ts";
import { firstCrossing } from "./crossing.ts";
import { civilTwilight_deg, horizon_deg, passagesBetween, type SolarDay, solarDayOn } from "./solar-day.ts";
import { trackSun } from "./sun.ts";
import { day_ms, sunAltitude } from "./sun-altitude.ts";

const sun = trackSun();
const skarvoy = { lat_deg: 70.2, lon_deg: 12.5 };

function dateOf(at_ms: number): string {
  return new Date(at_ms).toISOString().slice(0, 10);
}

function daysOf(place: { lat_deg: number; lon_deg: number }, year: number, count = 365): SolarDay[] {
  return Array.from({ length: count }, (_, index) =>
    solarDayOn(sun, place, dateOf(Date.UTC(year, 0, 1) + index * day_ms), "UTC"),
  );
}

describe("a passage", () => {
  test("is the first whole millisecond on the other side, for any steep or flat curve", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 86_399_999 }),
        fc.constantFrom(1, 3, 9),
        fc.boolean(),
        (root, power, up) => {
          const value = (at_ms: number): number =>
            (up ? 1 : -1) * Math.sign(at_ms - root) * Math.abs((at_ms - root) / 1e6) ** power +
            (at_ms === root && !up ? 0 : 0);
          const found = firstCrossing(value, 0, 86_400_000);
          // A zero counts as above: a rising curve is above at the root itself, a falling one only until just behind it.
          expect(found).toBe(up ? root : root + 1);
        },
      ),
      { numRuns: 400, seed: 1 },
    );
  });

  test("a zero at the beginning counts as above", () => {
    expect(firstCrossing((at_ms) => -at_ms, 0, 10)).toBe(1);
    expect(firstCrossing((at_ms) => at_ms, 0, 10)).toBeNull();
  });

  test("needs different sides at its ends", () => {
    expect(firstCrossing((at) => at + 1, 0, 10)).toBeNull();
    expect(firstCrossing((at) => -at - 1, 0, 10)).toBeNull();
  });
});

describe("the solar day", () => {
  test("has each event on the right side, to the millisecond, on every day of a year at the demo base", () => {
    const above = (at_ms: number, altitude_deg: number): boolean =>
      sunAltitude(sun, skarvoy, at_ms) >= altitude_deg;
    let seen = 0;
    for (const day of daysOf(skarvoy, 2026)) {
      for (const [at_ms, altitude_deg, isRising] of [
        [day.dawn_ms, civilTwilight_deg, true],
        [day.sunrise_ms, horizon_deg, true],
        [day.sunset_ms, horizon_deg, false],
        [day.dusk_ms, civilTwilight_deg, false],
      ] as const) {
        if (at_ms === null) continue;
        seen += 1;
        expect(above(at_ms, altitude_deg)).toBe(isRising);
        expect(above(at_ms - 1, altitude_deg)).toBe(!isRising);
        expect(isRising ? at_ms < day.noon_ms : at_ms > day.noon_ms).toBe(true);
      }
    }
    expect(seen).toBeGreaterThan(900);
  });

  test("misses and invents no passage: the same as a search minute by minute, also on the grazing days", () => {
    for (const lat_deg of [65.9, 67.4, 70.2, 78.2, 84, -66.6, -71]) {
      const place = { lat_deg, lon_deg: 12.5 };
      const from_ms = Date.UTC(2026, 0, 1);
      for (const altitude_deg of [horizon_deg, civilTwilight_deg]) {
        const listed = passagesBetween(sun, place, altitude_deg, from_ms, from_ms + 365 * day_ms);
        const sampled: number[] = [];
        let isAbove = sunAltitude(sun, place, from_ms) >= altitude_deg;
        for (let at_ms = from_ms; at_ms <= from_ms + 365 * day_ms; at_ms += 60_000) {
          const now = sunAltitude(sun, place, at_ms) >= altitude_deg;
          if (now !== isAbove) sampled.push(at_ms);
          isAbove = now;
        }
        // Two passages inside one minute are beyond the sampling; the list may have them.
        const shorter = listed.filter(
          ({ at_ms }, index) =>
            (listed[index + 1]?.at_ms ?? Infinity) - at_ms > 120_000 &&
            at_ms - (listed[index - 1]?.at_ms ?? -Infinity) > 120_000,
        );
        expect(sampled.length).toBeGreaterThan(100);
        expect(listed.length - sampled.length).toBeLessThanOrEqual(2);
        for (const { at_ms } of shorter) {
          expect(sampled.some((minute_ms) => minute_ms >= at_ms && minute_ms - at_ms < 60_000)).toBe(true);
        }
        expect(
          sampled.every((minute_ms) => listed.some(({ at_ms }) => Math.abs(at_ms - minute_ms) <= 60_000)),
        ).toBe(true);
        // Up and down take turns.
        listed.forEach((passage, index) => {
          if (index > 0) expect(passage.isAbove).toBe(!(listed[index - 1]?.isAbove as boolean));
        });
      }
    }
  });

  test("finds both passages of a dip that lies wholly beside the meridian passage", () => {
    // In May the declination grows while the sun turns, so that it is lowest some 40 s before it is due north. A latitude
    // is looked for at which it dips below the horizon by 0.00002° there, for less than a minute.
    const from_ms = Date.UTC(2026, 4, 15, 12);
    const lowest = (lat_deg: number): number => {
      let least = Infinity;
      for (let at_ms = from_ms; at_ms < from_ms + day_ms; at_ms += 1000) {
        const isNorth = at_ms > from_ms + 0.4 * day_ms && at_ms < from_ms + 0.6 * day_ms;
        if (isNorth) least = Math.min(least, sunAltitude(sun, { lat_deg, lon_deg: 0 }, at_ms));
      }
      return least - horizon_deg;
    };
    let [low_deg, high_deg] = [69, 72];
    while (high_deg - low_deg > 1e-6) {
      const middle_deg = (low_deg + high_deg) / 2;
      if (lowest(middle_deg) < -0.000_02) low_deg = middle_deg;
      else high_deg = middle_deg;
    }
    const passages = passagesBetween(
      sun,
      { lat_deg: low_deg, lon_deg: 0 },
      horizon_deg,
      from_ms,
      from_ms + day_ms,
    );
    expect(passages.map(({ isAbove }) => isAbove)).toEqual([false, true]);
    const [down, up] = passages.map(({ at_ms }) => at_ms) as [number, number];
    expect(up - down).toBeLessThan(60_000);
    const midnight_ms =
      solarDayOn(sun, { lat_deg: low_deg, lon_deg: 0 }, "2026-05-16", "UTC").noon_ms - day_ms / 2;
    expect(up).toBeLessThan(midnight_ms);
    // The sunset belongs to the day that ends there, the sunrise to the one that begins.
    const [before, after] = ["2026-05-15", "2026-05-16"].map((date) =>
      solarDayOn(sun, { lat_deg: low_deg, lon_deg: 0 }, date, "UTC"),
    );
    expect([before?.sunset_ms, after?.sunrise_ms]).toEqual([down, up]);
  });

  test("joins its neighbours: the events of a year's days are the year's passages, none twice, none left out", () => {
    for (const lat_deg of [0, 47, 67.4, 70.2, 78.2, 89.5, 89.99, 90, -66.6, -90]) {
      const place = { lat_deg, lon_deg: 12.5 };
      const days = daysOf(place, 2026, 364);
      const [first, last] = [days[0]?.noon_ms as number, days.at(-1)?.noon_ms as number];
      const inside = (at_ms: number | null): at_ms is number =>
        at_ms !== null && at_ms > first && at_ms <= last;
      const events = days.flatMap(({ sunrise_ms, sunset_ms }) => [sunrise_ms, sunset_ms].filter(inside));
      const passages = passagesBetween(sun, place, horizon_deg, first, last).map(({ at_ms }) => at_ms);
      expect(events.toSorted((a, b) => a - b)).toEqual(passages);
    }
  });

  test("tells which of the two it is where the sun does not pass, and both states really occur", () => {
    const days = daysOf(skarvoy, 2026);
    const count = (state: string): number => days.filter(({ sunState }) => sunState === state).length;
    expect(count("upAllDay")).toBeGreaterThan(60);
    expect(count("downAllDay")).toBeGreaterThan(50);
    expect(days.filter(({ twilightState }) => twilightState === "neverDark").length).toBeGreaterThan(100);
    const svalbard = daysOf({ lat_deg: 78.2, lon_deg: 15.6 }, 2026);
    expect(svalbard.filter(({ twilightState }) => twilightState === "neverLight").length).toBeGreaterThan(60);
    for (const day of [...days, ...svalbard]) {
      const none = day.sunrise_ms === null && day.sunset_ms === null;
      expect(day.sunState !== "normal").toBe(none);
      expect(day.twilightState !== "normal").toBe(day.dawn_ms === null && day.dusk_ms === null);
    }
  });

  test("may have a dawn without a dusk and a sunset without a sunrise", () => {
    const days = daysOf(skarvoy, 2026);
    expect(days.some(({ dawn_ms, dusk_ms }) => dawn_ms !== null && dusk_ms === null)).toBe(true);
    expect(days.some(({ dawn_ms, dusk_ms }) => dawn_ms === null && dusk_ms !== null)).toBe(true);
    expect(days.some(({ sunrise_ms, sunset_ms }) => sunrise_ms !== null && sunset_ms === null)).toBe(true);
    expect(days.some(({ sunrise_ms, sunset_ms }) => sunrise_ms === null && sunset_ms !== null)).toBe(true);
  });

  test("keeps a dusk after local midnight with the day whose noon it follows", () => {
    const zone = "Europe/Oslo";
    const late = Array.from({ length: 365 }, (_, index) =>
      dateOf(Date.UTC(2026, 0, 1) + index * day_ms),
    ).filter((date) => {
      const { dusk_ms } = solarDayOn(sun, { lat_deg: 60.5, lon_deg: 10 }, date, zone);
      return dusk_ms !== null && dusk_ms >= startOfDate(date, zone) + day_ms;
    });
    expect(late.length).toBeGreaterThan(20);
    expect(
      late.every(
        (date) => date.startsWith("2026-06") || date.startsWith("2026-05") || date.startsWith("2026-07"),
      ),
    ).toBe(true);
  });

  test("is the one whose noon falls on the date, in any zone", () => {
    for (const [zone, lat_deg, lon_deg] of [
      ["Europe/Oslo", 59.9, 10.8],
      ["America/Denver", 40, -105],
      ["Pacific/Kiritimati", 1.9, -157.4],
      ["Pacific/Auckland", -36.8, 174.8],
      ["Australia/Lord_Howe", -31.5, 159.1],
    ] as const) {
      for (let index = 0; index < 365; index += 7) {
        const date = dateOf(Date.UTC(2026, 0, 1) + index * day_ms);
        const { noon_ms, sunrise_ms, sunset_ms } = solarDayOn(sun, { lat_deg, lon_deg }, date, zone);
        const start_ms = startOfDate(date, zone);
        expect(noon_ms).toBeGreaterThanOrEqual(start_ms);
        expect(noon_ms - start_ms).toBeLessThan(25 * 3_600_000);
        expect(sunrise_ms as number).toBeGreaterThan(noon_ms - day_ms / 2);
        expect(sunset_ms as number).toBeLessThan(noon_ms + day_ms / 2);
      }
    }
  });

  test("is the same a turn of the globe further", () => {
    const here = solarDayOn(sun, skarvoy, "2026-02-04", "Europe/Oslo");
    expect(solarDayOn(sun, { lat_deg: 70.2, lon_deg: 12.5 - 360 }, "2026-02-04", "Europe/Oslo")).toEqual(
      here,
    );
  });

  test("refuses a date that a zone left out, and years that the library was not compared for", () => {
    const samoa = { lat_deg: -13.8, lon_deg: -171.8 };
    expect(() => solarDayOn(sun, samoa, "2011-12-30", "Pacific/Apia")).toThrow(Refusal);
    expect(solarDayOn(sun, samoa, "2011-12-29", "Pacific/Apia").sunState).toBe("normal");
    expect(() => solarDayOn(sun, samoa, "1699-12-31", "UTC")).toThrow(/1700/u);
    expect(() => solarDayOn(sun, samoa, "2200-01-01", "UTC")).toThrow(/2199/u);
  });
});
