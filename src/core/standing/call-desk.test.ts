import { describe, expect, test } from "vitest";
import { emptyBase } from "../facts/sky.ts";
import type { BaseSky, BaseState, FuelScheme } from "../facts/sky.ts";
import { craftOf, now_ms, placeAt, quill, situation } from "../reach/arbitrary-call.ts";
import { assessCall } from "../reach/assess-call.ts";
import { trackSun } from "../sky/sun.ts";
import { callSky } from "./call-sky.ts";
import { callKnown, hospitalsFrom, reportedAir, usualCall } from "./call-desk.ts";
import type { CallDesk } from "./call-desk.ts";
import { fuelPolicyOf } from "./fuel-policy.ts";
import sitesFile from "../../../demo/sites.json" with { type: "json" };
import { readSites } from "../reach/sites-geojson.ts";

const said = { entry: "a".repeat(64), by: "p-one", at_ms: now_ms - 20 * 60_000 };
const cite = "Operations manual of a test";
const minima = { ceiling_ft: 500, visibility_m: 1_500 };
const station = {
  station: "ZZSK",
  name: "Skarvøy",
  lat_deg: 70.2,
  lon_deg: 12.5,
  elevation_ft: 36,
  gives: null,
};
const base = (more: Partial<BaseState> = {}): BaseSky => ({
  base: "base:skarvoy",
  name: "base",
  lat_deg: 70.2,
  lon_deg: 12.5,
  elevation_m: 11,
  state: {
    ...emptyBase,
    stations: [{ ...said, ...station }],
    reports: [
      { ...said, text: "METAR ZZSK 250840Z 23012G20KT 9999 FEW018 BKN032 02/M03 Q1005", source: "typed" },
    ],
    settings: [
      {
        ...said,
        ruleSet: "eu",
        reportAge_min: 75,
        stationDistance_km: 30,
        ground_ft: 330,
        needs: quill.operations.map(({ id }) => ({
          operation: id,
          light: "day",
          day: minima,
          night: null,
          cite,
        })),
        moisture: null,
        forbidden: { phenomena: [], cite },
        ncd: null,
        planning: null,
        pad: null,
        cooling: null,
      },
    ],
    sites: [
      { ...said, edition: "1", proposal: "p", proposedBy: "another", geojson: {}, ...readSites(sitesFile) },
    ],
    ...more,
  },
});
const sun = trackSun();
const desk = (there: BaseSky): CallDesk => ({
  sheet: quill,
  state: craftOf(),
  situation,
  reasons: [],
  base: there,
  sun,
});
const near = placeAt(70.25, 12.4, 200);
const dayCall = (there: BaseSky, scene = near) => {
  const known = callKnown(desk(there));
  const [first] = hospitalsFrom(known, scene);
  return {
    known,
    call: usualCall(desk(there), there, {
      operation: "dayVfr",
      scene,
      hospital: first!.place,
      depart_ms: now_ms,
    })!,
  };
};

describe("the usual call", () => {
  test("needs a place alone: all else comes from loading, reference call, sites and reports", () => {
    const { call } = dayCall(base());
    expect(call.stops.map(({ role }) => role)).toEqual(["scene", "hospital", "base"]);
    expect(call).toMatchObject({ fuel_kg: 420, tas_kt: quill.speeds.cruise_kt });
    expect(call.from.elevation_ft).toBeCloseTo(36.09, 2);
    expect(call.stops[0]!.boards).toMatchObject([{ at: "stretcherLeft", most_kg: 90 }]);
    expect(call.air).toEqual({
      wind: { from_deg: 230, speed_kt: 20 },
      qnh_hPa: 1005,
      temperature: { value_C: 2, elevation_ft: 36 },
    });
  });

  test("knows no air from an old report or without limits, and counts the strongest and lowest of several", () => {
    const old = {
      ...said,
      text: "METAR ZZSK 250620Z 23012KT 9999 FEW018 02/M03 Q1005",
      source: "typed" as const,
    };
    const unset = base({ settings: [] });
    expect(reportedAir(desk(unset), unset)).toEqual({ wind: null, qnh_hPa: null, temperature: null });
    expect(reportedAir(desk(base()), base({ reports: [old] }))).toEqual({
      wind: null,
      qnh_hPa: null,
      temperature: null,
    });
    const other = { ...station, station: "ZZGR", lat_deg: 70.3, elevation_ft: 52 };
    const two = base({
      stations: [station, other].map((one) => ({ ...said, ...one })),
      reports: [
        ...base().state.reports,
        { ...said, text: "METAR ZZGR 250850Z 27030KT 9999 FEW018 04/M03 Q1001", source: "typed" },
      ],
    });
    expect(reportedAir(desk(two), two)).toEqual({
      wind: { from_deg: 270, speed_kt: 30 },
      qnh_hPa: 1001,
      temperature: { value_C: 4, elevation_ft: 52 },
    });
  });

  test("ranks hospitals by distance", () => {
    const { known } = dayCall(base());
    const found = hospitalsFrom(known, near);
    expect(found).toHaveLength(4);
    expect(found.map(({ distance_nm }) => distance_nm)).toEqual(
      found.map(({ distance_nm }) => distance_nm).toSorted((a, b) => a - b),
    );
  });
});

describe("the sky of a call", () => {
  const weatherOf = (there: BaseSky, scene = near) => {
    const { known, call } = dayCall(there, scene);
    return assessCall(known, call);
  };

  test("is judged at each place: beyond every station nothing speaks", () => {
    const far = weatherOf(base(), placeAt(70.63, 13.4, 200));
    expect(far.verdict).toBe("notKnown");
    expect(far.margins.some(({ kind, stop, met }) => kind === "weather" && stop === 0 && met === null)).toBe(
      true,
    );
    expect(far.margins.some(({ kind, stop, met }) => kind === "weather" && stop === -1 && met !== true)).toBe(
      false,
    );
  });

  test("a ceiling that clears the base does not clear a high scene", () => {
    const high = placeAt(70.25, 12.4, 2_900);
    const atScene = ({ margins }: ReturnType<typeof weatherOf>) =>
      margins
        .filter(({ kind, stop, met }) => kind === "weather" && stop === 0 && met === false)
        .map(({ what }) => what);
    expect(atScene(weatherOf(base()))).toEqual([]);
    expect(atScene(weatherOf(base(), high))).toEqual(["weather.ceilingBelow"]);
  });

  test("dusk before the last landing is not met by its minutes, and a nearer dusk in time is a margin", () => {
    const { known, call } = dayCall(base());
    const day = assessCall(known, call);
    expect(day.stops.map(({ light }) => light)).toEqual(["day", "day", "day", "day"]);
    const [light] = day.margins.filter(({ kind }) => kind === "light");
    expect(light).toMatchObject({ met: true, unit: "min" });
    const late = { ...call, depart_ms: call.depart_ms + (light!.room! + 1) * 60_000 };
    const dark = assessCall(known, late).margins.filter(({ kind, met }) => kind === "light" && met === false);
    expect(dark).toHaveLength(1);
    expect(dark[0]!.room).toBeCloseTo(-1, 1);
  });

  test("without the sky's judge nothing of it is known", () => {
    const known = callKnown({ ...desk(base()), sun: null });
    expect(assessCall(known, dayCall(base()).call)).toMatchObject({ verdict: "notKnown" });
  });
});

test("fuel schemes that were set apart count at the stricter of each", () => {
  const scheme = (more: Partial<FuelScheme>): FuelScheme => ({
    ...said,
    contingency_pct: 5,
    extra_kg: 0,
    landmarks: true,
    hems: "local",
    cite,
    ...more,
  });
  expect(fuelPolicyOf([])).toEqual({
    contingency_pct: 10,
    extra_kg: 0,
    landmarks: false,
    hems: null,
    refuelRunning: false,
  });
  expect(fuelPolicyOf([scheme({}), scheme({ extra_kg: 20, landmarks: false, hems: null })])).toEqual({
    contingency_pct: 5,
    extra_kg: 20,
    landmarks: false,
    hems: null,
    refuelRunning: false,
  });
  const running = (...each: (boolean | null)[]) =>
    fuelPolicyOf(each.map((one) => scheme(one === null ? {} : { refuelRunning: one }))).refuelRunning;
  expect([running(true), running(true, false), running(true, null), running(null)]).toEqual([
    true,
    false,
    false,
    false,
  ]);
});

describe("the sky of a call as it is told", () => {
  const told = (there: BaseSky, depart_ms: number) => {
    const { known, call } = dayCall(there);
    return callSky(desk(there), assessCall(known, { ...call, depart_ms }))!;
  };
  const at = (hour: number, minute = 0) => Date.UTC(2026, 10, 25, hour, minute);

  test("tells civil twilight from day and night, at each landing and take-off for itself", () => {
    // 70.2° N in late November: the sun stays down, and only the hours round noon are brighter than night.
    const [start, scene] = told(base(), at(11));
    expect([start!.landing, start!.takeoff!.light, scene!.landing!.light]).toEqual([
      null,
      "twilight",
      "twilight",
    ]);
    const dusk = Array.from({ length: 24 * 12 }, (_, step) => told(base(), at(11, step * 5))).find(
      ([, stop]) => stop!.landing!.light !== stop!.takeoff!.light,
    )!;
    expect([dusk[1]!.landing!.light, dusk[1]!.takeoff!.light]).toEqual(["twilight", "night"]);
  });

  test("names the report that counts there then, and none once it no longer stands", () => {
    const [start, scene] = told(base(), at(9));
    expect(start!.takeoff!.speaks).toMatchObject([{ kind: "report", station: "ZZSK", issued_ms: at(8, 40) }]);
    expect(scene!.landing!.speaks[0]).toMatchObject({ station: "ZZSK" });
    expect(told(base(), at(10))[1]!.landing!.speaks).toEqual([]);
  });

  test("puts what the commander saw at that very place first, while it stands", () => {
    const seen = {
      ...said,
      entry: "b".repeat(64),
      at_ms: at(8, 55),
      place: near.name,
      expires_ms: at(9, 25),
      ceiling_ft: 900,
      visibility_m: 6_000,
      weather: [],
      temperature_C: null,
      wind: null,
    };
    const there = base({ observations: [seen] });
    const [start, scene] = told(there, at(9));
    expect(scene!.landing!.speaks[0]).toMatchObject({ kind: "seen", at_ms: seen.at_ms });
    expect(start!.takeoff!.speaks[0]).toMatchObject({ kind: "report" });
    expect(told(there, at(9, 30))[1]!.landing!.speaks[0]).toMatchObject({ kind: "report" });
  });
});
