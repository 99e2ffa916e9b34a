// The second opinion on the sun's times: suncalc 2.0.2, every day of 2025 to 2027. Where the sun grazes the height it is
// minutes off, or finds or misses a passage; there a third look decides: the altitude of astronomy-engine itself, sampled.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { AstroTime, Body, Equator, Horizon, Observer } from "astronomy-engine";
import * as suncalc from "suncalc";
import { describe, expect, test } from "vitest";
import { civilTwilight_deg, horizon_deg, type SolarDay, solarDayOn } from "../src/core/sky/solar-day.ts";
import { trackSun } from "../src/core/sky/sun.ts";
import { day_ms } from "../src/core/sky/sun-altitude.ts";
import peer from "./sun-peer.json" with { type: "json" };

const sun = trackSun();
const events = ["dawn", "sunrise", "noon", "sunset", "dusk"] as const;
type Event = (typeof events)[number];

type Comparison = {
  readonly worst_s: Readonly<Record<Event, number>>;
  /** Events that only one of the two finds. */
  readonly single: readonly { readonly date: string; readonly event: Event; readonly day: SolarDay }[];
};

function compare(lat_deg: number): Comparison {
  const worst_s: Record<Event, number> = { dawn: 0, sunrise: 0, noon: 0, sunset: 0, dusk: 0 };
  const single: { date: string; event: Event; day: SolarDay }[] = [];
  for (let at_ms = Date.UTC(2025, 0, 1); at_ms < Date.UTC(2028, 0, 1); at_ms += day_ms) {
    const date = new Date(at_ms).toISOString().slice(0, 10);
    const day = solarDayOn(sun, { lat_deg, lon_deg: 0 }, date, "UTC");
    const theirs = suncalc.getTimes(new Date(at_ms + day_ms / 2), lat_deg, 0);
    for (const event of events) {
      const ours_ms = day[`${event}_ms`];
      const their = theirs[event === "noon" ? "solarNoon" : event];
      if ((ours_ms === null) !== (their === null)) single.push({ date, event, day });
      else if (ours_ms !== null && their !== null)
        worst_s[event] = Math.max(worst_s[event], Math.abs(ours_ms - their.getTime()) / 1000);
    }
  }
  return { worst_s, single };
}

function libraryAltitude(lat_deg: number, at_ms: number): number {
  const time = new AstroTime(new Date(at_ms));
  const observer = new Observer(lat_deg, 0, 0);
  const { ra, dec } = Equator(Body.Sun, time, observer, true, true);
  return Horizon(time, observer, ra, dec).altitude;
}

/** Whether the library's altitude, sampled every 10 s on one side of the noon, is ever above and ever below the height. */
function isPassed(lat_deg: number, noon_ms: number, event: Event): boolean {
  const altitude_deg = event === "dawn" || event === "dusk" ? civilTwilight_deg : horizon_deg;
  const side = event === "dawn" || event === "sunrise" ? -1 : 1;
  let [above, below] = [false, false];
  // Three minutes past the midnight, since the lowest altitude stands off the meridian at these latitudes.
  for (let off_ms = 0; off_ms <= day_ms / 2 + 180_000; off_ms += 10_000) {
    if (libraryAltitude(lat_deg, noon_ms + side * off_ms) >= altitude_deg) above = true;
    else below = true;
  }
  return above && below;
}

describe("the sun's times and the second opinion", () => {
  test.each(peer.rows.map((row) => [row.lat_deg, row] as const))(
    "differ at latitude %d by no more than listed, in the seconds and in the events found by one only",
    (lat_deg, row) => {
      const { worst_s, single } = compare(lat_deg);
      for (const event of events) {
        expect(worst_s[event]).toBeLessThanOrEqual(row.worst_s[event] + 0.05);
        expect(worst_s[event]).toBeGreaterThanOrEqual(row.worst_s[event] - 0.05);
      }
      expect(single.map(({ date, event }) => `${date} ${event}`)).toEqual(row.single.map(({ at }) => at));
    },
  );

  test("a third look sides with ours on every event that only one of the two finds", () => {
    let looked = 0;
    for (const { lat_deg, single } of peer.rows) {
      for (const { at, right } of single) {
        const [date = "", event = ""] = at.split(" ");
        const day = solarDayOn(sun, { lat_deg, lon_deg: 0 }, date, "UTC");
        const name = event as Event;
        expect(right).toBe("ours");
        expect(isPassed(lat_deg, day.noon_ms, name), `${lat_deg}, ${at}`).toBe(day[`${name}_ms`] !== null);
        looked += 1;
      }
    }
    expect(looked).toBeGreaterThan(30);
  });

  test("the page beside shows every figure", () => {
    const page = readFileSync(join(import.meta.dirname, "sun-peer.md"), "utf8");
    for (const { lat_deg, worst_s, single } of peer.rows) {
      const cells = events.map((event) => String(worst_s[event]));
      expect(page).toContain(`| ${[lat_deg, ...cells, single.length].join(" | ")} |`);
    }
  });
});
