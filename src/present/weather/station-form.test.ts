import { expect, test } from "vitest";
import type { StationFact } from "../../core/facts/sky.ts";
import { readStation, stationAsTyped } from "./station-form.ts";

const stands: StationFact = {
  entry: "a",
  by: "p",
  at_ms: 0,
  station: "ZZGR",
  name: "Gråmåsvær",
  lat_deg: 70.33,
  lon_deg: -12.9,
  elevation_ft: 52,
  gives: ["wind", "sky"],
};

test("a station that is not changed comes back as it stands, in both languages", () => {
  for (const facts of [stands, { ...stands, gives: null, elevation_ft: null }])
    for (const language of ["en", "de"] as const) {
      const { entry: _entry, by: _by, at_ms: _at, ...station } = facts;
      expect(readStation(stationAsTyped(facts, language), language)).toEqual({ station, wrong: new Set() });
    }
});

test.each([
  ["station", "ENX"],
  ["name", ""],
  ["lat", "90.5"],
  ["lat", ""],
  ["lon", "12° 30'"],
  ["elevation", "high"],
  ["gives", ""],
  ["sky", ""],
])("%s as %j is refused there", (field, text) => {
  const { station, wrong } = readStation({ ...stationAsTyped(stands, "en"), [field]: text }, "en");
  expect(station).toBeNull();
  expect([...wrong]).toEqual([field]);
});

test("one that measures some but none of it is refused, and letters may be small", () => {
  const typed = { ...stationAsTyped(stands, "en"), wind: "no", sky: "no" };
  expect([...readStation(typed, "en").wrong]).toEqual(["gives"]);
  expect(readStation({ ...stationAsTyped(stands, "en"), station: " zzgr" }, "en").station?.station).toBe(
    "ZZGR",
  );
});
