import { describe, expect, test } from "vitest";
import { hour_ms, minute_ms } from "../facts/instant.ts";
import { weatherSources } from "./assess-weather.ts";
import { everyGroupCounts } from "./planning-rule.ts";
import { readReport } from "./read-report.ts";
import { skyBands } from "./sky-bands.ts";

const now_ms = Date.UTC(2026, 10, 25, 11);
const ground_ft = 330;

function bands(texts: readonly string[]) {
  const { sources } = weatherSources({
    now_ms,
    place: "Here",
    ground_ft,
    stations: [{ station: "ZZSK", elevation_ft: 36, distance_km: 0 }],
    held: texts.map((text, index) => ({ entry: String(index), report: readReport(text, now_ms) })),
    observations: [],
    lowest_C: null,
    limits: { reportAge_min: 75, stationDistance_km: 30, planning: everyGroupCounts },
  });
  return skyBands(sources, ground_ft, now_ms, now_ms + 24 * hour_ms);
}

const metar = "METAR ZZSK 251050Z 23012G24KT 6000 FEW018 BKN032 02/M03 Q1005";
const taf = "TAF ZZSK 250500Z 2506/2606 23014KT 9999 SKC TEMPO 2518/2521 1200 SHSN BKN004";

describe("bands of weather", () => {
  test("the worst of report and forecast while both speak, with the ceiling above the ground to be cleared", () => {
    const [first] = bands([metar, taf]);
    expect(first).toMatchObject({
      until_ms: now_ms + 65 * minute_ms,
      ceiling: { value: 3_200 + 36 - 330, isSure: true },
      visibility: { value: 6_000, isSure: true },
      wind: { value: 14, isSure: true },
      gust: { value: 24, isSure: true },
      isForecast: false,
    });
  });

  test("a passing shower counts in its hours, and a sky without a ceiling is no number", () => {
    const all = bands([metar, taf]);
    const at = (hours: number) =>
      all.find(
        (band) => band.from_ms <= now_ms + hours * hour_ms && now_ms + hours * hour_ms < band.until_ms,
      );
    expect(at(8)).toMatchObject({ ceiling: { value: 106 }, visibility: { value: 1_200 }, weather: ["SHSN"] });
    expect(at(5)).toMatchObject({ ceiling: { value: Infinity, isSure: true }, isForecast: true });
    expect(at(23)).toMatchObject({ ceiling: { value: null, isSure: false } });
  });

  test("what nothing speaks of is not known, and a group that was not read leaves nothing sure", () => {
    expect(bands([])).toMatchObject([{ ceiling: { value: null, isSure: false } }]);
    const [first] = bands([metar.replace("BKN032", "BKNO32")]);
    expect(first?.ceiling.isSure).toBe(false);
  });

  test("spans touch and cover the whole time", () => {
    const all = bands([metar, taf]);
    expect(all[0]?.from_ms).toBe(now_ms);
    expect(all.at(-1)?.until_ms).toBe(now_ms + 24 * hour_ms);
    for (const [index, band] of all.entries()) {
      const next = all[index + 1];
      if (next !== undefined) expect(next.from_ms).toBe(band.until_ms);
    }
  });
});
