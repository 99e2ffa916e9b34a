// The sky: reading weather reports beside another parser, a year of the sun at one place beside two other ways, the
// weather judged at a place. Results are checked before they are timed: agreement on facts, equal times.
import { AstroTime, Body, Observer, SearchAltitude, SearchRiseSet } from "astronomy-engine";
import { parseMetar, parseTAF } from "metar-taf-parser";
import * as suncalc from "suncalc";
import { peerDifferences, peerFacts } from "../published/weather-peer.ts";
import data from "../published/weather-reports.json" with { type: "json" };
import { assessWeather } from "../src/core/sky/assess-weather.ts";
import { euNight, lightSpans, usNight, usRecencyNight } from "../src/core/sky/night.ts";
import { everyGroupCounts } from "../src/core/sky/planning-rule.ts";
import { readReport } from "../src/core/sky/read-report.ts";
import { type SolarDay, solarDayOn } from "../src/core/sky/solar-day.ts";
import { trackSun } from "../src/core/sky/sun.ts";
import { day_ms } from "../src/core/sky/sun-altitude.ts";
import type { Bench, Row, Size } from "./rows.ts";

const bench: Bench = async (size) => [...reading(size), ...light(size), judging(size)];

export default bench;

/** Least of some passes, in ms; the sum of what they return is used, so that none can be left out. */
function least(passes: number, pass: () => number): number {
  let [best, sink] = [Infinity, 0];
  for (let count = 0; count < passes; count += 1) {
    const began = performance.now();
    sink += pass();
    best = Math.min(best, performance.now() - began);
  }
  if (!Number.isFinite(sink)) throw new Error("a pass came out as no number");
  return best;
}

// ---- reports ----------------------------------------------------------------------------------------------------------

function reading(size: Size): Row[] {
  // Both read the same texts: those that the peer reads at all.
  const rows = data.rows.filter(({ text }) => peerFacts(text)["thrown"] === undefined);
  const agreeing = data.rows.filter(({ text, near }) => peerDifferences(text, Date.parse(near)).length === 0);
  if (agreeing.length < 40) throw new Error(`only ${agreeing.length} texts are read alike`);
  const texts = rows.map(({ text, near }) => ({
    text,
    near_ms: Date.parse(near),
    isTaf: text.startsWith("TAF"),
  }));
  const times = size === "tiny" ? 1 : 40;
  const repeated = (read: (each: (typeof texts)[number]) => number) => () => {
    let sum = 0;
    for (let time = 0; time < times; time += 1) for (const each of texts) sum += read(each);
    return sum;
  };
  const ours = repeated(({ text, near_ms }) => readReport(text, near_ms).groups.length);
  const peers = repeated(({ text, isTaf }) => (isTaf ? parseTAF(text) : parseMetar(text)).clouds.length);
  const passes = size === "tiny" ? 2 : 7;
  const each_us = (pass: () => number): number => (least(passes, pass) * 1000) / (times * texts.length);
  const [value, peer] = [each_us(ours), each_us(peers)];
  const name = "metar-taf-parser 9.1.3";
  return [
    {
      name: `one report read, mean of ${texts.length}`,
      value,
      unit: "µs",
      better: "lower",
      peer: { name, value: peer },
    },
    { name: `reading, as fast as ${name}`, value: peer / value, unit: "times", budget: 2, better: "higher" },
    {
      name: `texts on which both agree in every fact, of ${data.rows.length}`,
      value: agreeing.length,
      unit: "texts",
      better: "higher",
    },
  ];
}

// ---- the sun ----------------------------------------------------------------------------------------------------------

const place = { lat_deg: 70.2, lon_deg: 12.5 };
const start_ms = Date.UTC(2026, 0, 1);

function dates(count: number): string[] {
  return Array.from({ length: count }, (_, index) =>
    new Date(start_ms + index * day_ms).toISOString().slice(0, 10),
  );
}

function light(size: Size): Row[] {
  const days = dates(size === "tiny" ? 5 : 365);
  const passes = size === "tiny" ? 1 : 5;
  const ourDays = (): SolarDay[] => {
    const sun = trackSun();
    return days.map((date) => solarDayOn(sun, place, date, "Europe/Oslo"));
  };
  const sumOf = (times: readonly (number | null)[]): number =>
    times.reduce<number>((sum, at) => sum + (at ?? 0), 0);
  checkAgainstLibrary(ourDays());
  const ours = least(passes, () =>
    sumOf(
      ourDays().flatMap(({ dawn_ms, sunrise_ms, sunset_ms, dusk_ms }) => [
        dawn_ms,
        sunrise_ms,
        sunset_ms,
        dusk_ms,
      ]),
    ),
  );
  const library = least(1, () => sumOf(days.flatMap((date) => librarySearch(Date.parse(date)))));
  const other = least(passes, () =>
    sumOf(
      days.map((date) => {
        const { dawn, sunrise, sunset, dusk } = suncalc.getTimes(
          new Date(date),
          place.lat_deg,
          place.lon_deg,
        );
        return sumOf([dawn, sunrise, sunset, dusk].map((at) => at?.getTime() ?? null));
      }),
    ),
  );
  const spans = least(passes, () => {
    const sun = trackSun();
    return [euNight, usNight, usRecencyNight].reduce(
      (sum, rule) => sum + lightSpans(sun, place, rule, start_ms, start_ms + days.length * day_ms).length,
      0,
    );
  });
  const year = `${days.length} days at 70.2° N`;
  const shared = { unit: "ms", budget: 50, better: "lower" } as const;
  return [
    {
      ...shared,
      name: `dawn, sunrise, noon, sunset, dusk: ${year}`,
      value: ours,
      peer: { name: "astronomy-engine's own search, no noon", value: library },
    },
    {
      ...shared,
      name: `the same beside a smaller library: ${year}`,
      value: ours,
      peer: { name: "suncalc, minutes off on grazing days", value: other },
    },
    { ...shared, name: `day and night by three rules: ${year}`, value: spans },
  ];
}

/** Rise, set, civil dawn and dusk of a day from the library's own search. */
function librarySearch(from_ms: number): (number | null)[] {
  const observer = new Observer(place.lat_deg, place.lon_deg, 0);
  const time = new AstroTime(new Date(from_ms));
  return [1, -1].flatMap((direction) => [
    SearchRiseSet(Body.Sun, observer, direction, time, 1)?.date.getTime() ?? null,
    SearchAltitude(Body.Sun, observer, direction, time, 1, -6)?.date.getTime() ?? null,
  ]);
}

/** Civil dawns and dusks equal the library's search to two seconds, wherever both find one on the date. */
function checkAgainstLibrary(days: readonly SolarDay[]): void {
  let compared = 0;
  for (const { dawn_ms, dusk_ms, noon_ms } of days) {
    const [, dawn, , dusk] = librarySearch(noon_ms - day_ms / 2);
    for (const [ours, theirs] of [
      [dawn_ms, dawn],
      [dusk_ms, dusk],
    ]) {
      if (ours == null || theirs == null || Math.abs(ours - theirs) > day_ms / 8) continue;
      compared += 1;
      if (Math.abs(ours - theirs) > 2000)
        throw new Error(`a twilight of ${new Date(ours).toISOString()} is off`);
    }
  }
  if (compared < days.length) throw new Error(`only ${compared} twilights were compared`);
}

// ---- judging ----------------------------------------------------------------------------------------------------------

function judging(size: Size): Row {
  const now_ms = Date.UTC(2026, 1, 4, 12);
  const setting = { kind: "setting", name: "bench" } as const;
  const held = [
    "METAR ENXX 041150Z 24015G28KT 9999 -RA BKN012 05/03 Q0998 TEMPO 4000 RA BKN008",
    "TAF ENXX 041100Z 0412/0518 24015KT 9999 BKN020 BECMG 0414/0416 25025G40KT TEMPO 0416/0422 3000 SHRA BKN007 FM050200 28010KT CAVOK",
  ].map((text, index) => ({ entry: `e${index}`, report: readReport(text, now_ms) }));
  const question = {
    now_ms,
    horizon_ms: now_ms + 3 * day_ms,
    place: "skarvoy",
    ground_ft: 400,
    stations: [{ station: "ENXX", elevation_ft: 30, distance_km: 4 }],
    held,
    observations: [],
    lowest_C: 2,
    needs: ["dayVfr", "nightVfr", "hoist"].map((operation, index) => ({
      operation,
      ceiling_ft: 500 + 300 * index,
      visibility_m: 3000 + 1000 * index,
      from_ms: null,
      until_ms: null,
      source: setting,
    })),
    limits: {
      reportAge_min: 60,
      stationDistance_km: 30,
      planning: everyGroupCounts,
      wind: [
        {
          id: "start",
          from_deg: 0,
          to_deg: 360,
          wind_kt: 40,
          gust_kt: 50,
          operations: "all",
          source: setting,
        } as const,
      ],
      heading_deg: null,
      tailwind: null,
      icing: { isProtected: false, moistureBelow_C: 4, source: setting },
      forbidden: { phenomena: ["TS"], source: setting },
    },
  };
  const reasons = assessWeather(question);
  if (!reasons.some(({ code }) => code === "weather.ceilingBelow"))
    throw new Error("the low ceiling was not seen");
  const count = size === "tiny" ? 10 : 2000;
  const took_ms = least(size === "tiny" ? 1 : 5, () => {
    let sum = 0;
    for (let index = 0; index < count; index += 1) sum += assessWeather(question).length;
    return sum;
  });
  return {
    name: "the weather at one place judged over 72 h",
    value: took_ms / count,
    unit: "ms",
    budget: 1,
    better: "lower",
  };
}
