// Times of the sun, and its altitude, against tables, other programs and the library itself (sun.json).
import { AstroTime, Body, Equator, Horizon, Observer, SearchRiseSet } from "astronomy-engine";
import * as suncalc from "suncalc";
import { describe, expect, test } from "vitest";
import { randomFrom } from "../demo/random.ts";
import { moonAt, nextMoonChange } from "../src/core/sky/moon.ts";
import { type SolarDay, solarDayOn } from "../src/core/sky/solar-day.ts";
import { trackSun } from "../src/core/sky/sun.ts";
import { day_ms, sunAltitude } from "../src/core/sky/sun-altitude.ts";
import data from "./sun.json" with { type: "json" };
import { beyondTolerance, measureTable, type Pair, printTable, type Tolerance } from "./table.ts";

const sun = trackSun();
const events = ["dawn", "sunrise", "noon", "sunset", "dusk"] as const;
type Event = (typeof events)[number];

function timesOf(day: SolarDay): Record<Event, number | null> {
  const { dawn_ms, sunrise_ms, noon_ms, sunset_ms, dusk_ms } = day;
  return { dawn: dawn_ms, sunrise: sunrise_ms, noon: noon_ms, sunset: sunset_ms, dusk: dusk_ms };
}

/** The events that a row states, in seconds since 1970; an event on one side only is a fault. */
function pairs(day: SolarDay, stated: Partial<Record<Event, string | null>>): Record<string, Pair> {
  const ours = timesOf(day);
  const found: Record<string, Pair> = {};
  for (const event of events) {
    const theirs = stated[event];
    if (theirs === undefined) continue;
    const at_ms = ours[event];
    if ((at_ms === null) !== (theirs === null)) throw new Error(`${event}: ${at_ms} against ${theirs}`);
    if (at_ms !== null && theirs !== null) found[event] = [at_ms / 1000, Date.parse(theirs) / 1000];
  }
  return found;
}

function seconds(
  within: number,
  because: string,
  names: readonly Event[] = events,
): Record<string, Tolerance> {
  return Object.fromEntries(names.map((name) => [name, { within, unit: "s", because }]));
}

const place = (lat_deg: number, lon_deg: number) => ({ lat_deg, lon_deg });

describe("the sun's times", () => {
  test("are within a rounded minute of every row of the USNO year tables", () => {
    const { rows, within_s, because } = data.usnoYear;
    const names = { r: "sunrise", s: "sunset" } as const;
    const table = measureTable(
      "USNO 2019",
      rows,
      seconds(within_s, because, ["sunrise", "sunset"]),
      (row) => {
        const [lat, lon, kind, minute] = row as [number, number, "r" | "s", string];
        // The event belongs to the solar day of its own local mean date.
        const date = new Date(Date.parse(minute) + (lon / 360) * day_ms).toISOString().slice(0, 10);
        const day = solarDayAtMean(place(lat, lon), date);
        return pairs(day, { [names[kind]]: minute });
      },
    );
    expect(table.rows).toBe(152);
    printTable(table);
    expect(beyondTolerance(table)).toEqual([]);
  });

  test("are within a minute of the USNO one-day tables", () => {
    const { rows, within_s, because } = data.usnoDays;
    const table = measureTable("USNO days", rows, seconds(within_s, because), (row) => {
      const stated = row as Partial<Record<Event, string>>;
      const date = (stated.dawn ?? stated.sunrise ?? "").slice(0, 10);
      return pairs(solarDayAtMean(place(row.lat_deg, row.lon_deg), date), stated);
    });
    expect(table.rows).toBe(3);
    printTable(table);
    expect(beyondTolerance(table)).toEqual([]);
  });

  test("of civil twilight are within a minute of a public list", () => {
    const { rows, within_s, because } = data.twilight;
    const table = measureTable("twilight", rows, seconds(within_s, because, ["dawn", "dusk"]), (row) => {
      const [lat, lon, dawn, dusk] = row as [number, number, string, string];
      return pairs(solarDayOn(sun, place(lat, lon), dawn.slice(0, 10), "America/New_York"), { dawn, dusk });
    });
    expect(table.rows).toBe(6);
    printTable(table);
    expect(beyondTolerance(table)).toEqual([]);
  });

  const states = { normal: "normal", up: "upAllDay", down: "downAllDay" } as const;

  test("equal the library's own altitude searched another way, in every state, to its rounding", () => {
    const { within_s, because } = data.grid;
    const rows = [...data.grid.rows.map((row) => ["grid", row[0], 0, ...row.slice(1)]), ...data.sites.rows];
    const table = measureTable("library", rows, seconds(within_s, because), (row) => {
      const [, lat, lon, date, dawn, sunrise, , noon, sunset, , dusk, noonAltitude, nadirAltitude, state] =
        row;
      const at = place(Number(lat), Number(lon));
      const day = solarDayOn(sun, at, String(date), "UTC");
      expect(day.sunState).toBe(states[String(state) as keyof typeof states]);
      // Four printed decimals.
      expect(sunAltitude(sun, at, day.noon_ms)).toBeCloseTo(Number(noonAltitude), 3);
      expect(sunAltitude(sun, at, day.noon_ms + day_ms / 2)).toBeCloseTo(Number(nadirAltitude), 2);
      const time = (value: string | number | null | undefined): string | null =>
        value === null ? null : String(value);
      return pairs(day, {
        dawn: time(dawn),
        sunrise: time(sunrise),
        noon: time(noon),
        sunset: time(sunset),
        dusk: time(dusk),
      });
    });
    expect(table.rows).toBe(68 + 27);
    expect(new Set(rows.map((row) => row.at(-1)))).toEqual(new Set(["normal", "up", "down"]));
    printTable(table);
    expect(beyondTolerance(table)).toEqual([]);
  });

  test("agree with two other computations, each to its own tolerance", () => {
    for (const { name, lat_deg, lon_deg, date, within_s, ...stated } of data.twoWays.rows) {
      const day = solarDayAtMean(place(lat_deg, lon_deg), date);
      for (const [event, [ours, theirs]] of Object.entries(pairs(day, stated))) {
        expect(Math.abs(ours - theirs), `${name}, ${event}`).toBeLessThanOrEqual(within_s);
      }
    }
    expect(data.twoWays.rows.length).toBe(11);
  });

  test("agree with two remembered worked examples", () => {
    const { almanac1990, spaReport } = data;
    for (const example of [almanac1990, spaReport]) {
      const { lat_deg, lon_deg, date, zone, within_s } = example;
      const day = solarDayOn(sun, place(lat_deg, lon_deg), date, zone);
      const [ours = 0, theirs = 0] = pairs(day, { sunrise: example.sunrise })["sunrise"] ?? [];
      expect(ours).toBeGreaterThan(0);
      expect(Math.abs(ours - theirs)).toBeLessThanOrEqual(within_s);
    }
    const altitude_deg = sunAltitude(
      sun,
      place(spaReport.lat_deg, spaReport.lon_deg),
      Date.parse(spaReport.at),
    );
    expect(Math.abs(90 - altitude_deg - spaReport.zenith_deg)).toBeLessThan(spaReport.within_deg);
  });
});

/** The solar day of a local mean date: the zone is the whole hour nearest to the longitude. */
function solarDayAtMean(at: { lat_deg: number; lon_deg: number }, date: string): SolarDay {
  const hours = Math.round(at.lon_deg / 15);
  // The signs of these zones are turned round: Etc/GMT+5 lies five hours behind Greenwich.
  const zone = hours === 0 ? "UTC" : `Etc/GMT${hours > 0 ? "-" : "+"}${Math.abs(hours)}`;
  return solarDayOn(sun, at, date, zone);
}

describe("altitudes", () => {
  const random = randomFrom(11);
  const samples = Array.from({ length: 3000 }, () => ({
    at: place(random.unit() * 180 - 90, random.unit() * 360 - 180),
    at_ms: Date.UTC(1995, 0, 1) + random.whole(0, 1_600_000_000) * 1000,
  }));

  test("of the sun equal the library's topocentric ones to a twentieth of a second of arc", () => {
    let worst_deg = 0;
    for (const { at, at_ms } of samples) {
      const time = new AstroTime(new Date(at_ms));
      const observer = new Observer(at.lat_deg, at.lon_deg, 0);
      const { ra, dec } = Equator(Body.Sun, time, observer, true, true);
      const theirs = Horizon(time, observer, ra, dec).altitude;
      worst_deg = Math.max(worst_deg, Math.abs(theirs - sunAltitude(sun, at, at_ms)));
    }
    // The parallax of a sphere instead of an ellipsoid: 8.8″ × 1/300 = 0.03″.
    expect(worst_deg).toBeLessThan(0.05 / 3600);
  });

  test("of the sun and the moon, and the moon's light, agree with a second library", () => {
    const worst = { sun_deg: 0, moon_deg: 0, illumination: 0 };
    const note = (name: keyof typeof worst, error: number): void => {
      worst[name] = Math.max(worst[name], Math.abs(error));
    };
    let compared = 0;
    for (const { at, at_ms } of samples) {
      const date = new Date(at_ms);
      const moon = moonAt(at, at_ms);
      note("illumination", suncalc.getMoonIllumination(date).fraction - moon.illumination);
      // The second library refracts its altitudes; low ones are compared through the times of rising and setting.
      const sun_deg = sunAltitude(sun, at, at_ms);
      if (sun_deg < 10 || moon.altitude_deg < 10) continue;
      compared += 1;
      note("sun_deg", suncalc.getPosition(date, at.lat_deg, at.lon_deg).altitude - refracted(sun_deg));
      note(
        "moon_deg",
        suncalc.getMoonPosition(date, at.lat_deg, at.lon_deg).altitude - refracted(moon.altitude_deg),
      );
    }
    expect(compared).toBeGreaterThan(300);
    // Its author gives 0.01° for the sun and 0.1° for the moon.
    expect(worst.sun_deg).toBeLessThan(0.01);
    expect(worst.moon_deg).toBeLessThan(0.1);
    expect(worst.illumination).toBeLessThan(0.002);
  });
});

describe("the moon", () => {
  test("rises and sets when two libraries say so, to what each of them takes for the horizon", () => {
    const worst_s = { engine: 0, second: 0 };
    let compared = 0;
    for (const lat_deg of [0, 35, 47, 60]) {
      for (let day = 0; day < 60; day += 1) {
        const from_ms = Date.UTC(2026, 0, 1) + day * 6 * day_ms;
        const observer = new Observer(lat_deg, 12.5, 0);
        const next = nextMoonChange(place(lat_deg, 12.5), from_ms, 2 * day_ms);
        const engine = [1, -1].map(
          (direction) =>
            SearchRiseSet(Body.Moon, observer, direction, new AstroTime(new Date(from_ms)), 2)?.date,
        );
        const [rise, set] = engine.map((date) => date?.getTime() ?? Infinity) as [number, number];
        expect(next?.rises).toBe(rise < set);
        worst_s.engine = Math.max(worst_s.engine, Math.abs((next?.at_ms ?? 0) - Math.min(rise, set)) / 1000);
        const second = suncalc.getMoonTimes(new Date(from_ms), lat_deg, 12.5);
        const theirs = (next?.rises === true ? second.rise : second.set)?.getTime();
        if (theirs === undefined || theirs < from_ms || (next?.at_ms ?? 0) >= from_ms + day_ms) continue;
        compared += 1;
        worst_s.second = Math.max(worst_s.second, Math.abs((next?.at_ms ?? 0) - theirs) / 1000);
      }
    }
    // The engine takes the moon's true radius (14.7′ to 16.8′ against our 16′), which is some 30 s where it climbs slowest.
    expect(worst_s.engine).toBeLessThan(60);
    expect(compared).toBeGreaterThan(100);
    // Its author gives 0.1° of altitude, which is up to two minutes.
    expect(worst_s.second).toBeLessThan(120);
  });
});

/** Sæmundsson's refraction for 1010 hPa and 10 °C (Meeus, Astronomical Algorithms, 16.4). */
function refracted(altitude_deg: number): number {
  const argument_deg = altitude_deg + 10.3 / (altitude_deg + 5.11);
  return altitude_deg + 1.02 / Math.tan((argument_deg * Math.PI) / 180) / 60;
}
