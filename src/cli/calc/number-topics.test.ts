// The topics air, wind, radius, geodesic, variation and regression as a caller meets them: keys, units, signs, errors.
// That the numbers themselves are right is shown in published/.

import { Ajv2020 } from "ajv/dist/2020.js";
import { beforeAll, describe, expect, test } from "vitest";
import { answer } from "./answer.ts";
import type { Topic } from "./topic.ts";
import { findTopic } from "./topics.ts";

type Result = { readonly [key: string]: unknown } & {
  readonly error?: { readonly path: string; readonly message: string };
};

const loaded = new Map<string, Topic>();
beforeAll(async () => {
  for (const name of ["air", "wind", "radius", "geodesic", "variation", "regression"]) {
    const entry = findTopic(name);
    if (entry === undefined) throw new Error(`no topic ${name}`);
    loaded.set(name, (await entry.load()).default);
  }
});

const ajv = new Ajv2020({ strict: false });

/** Asks a topic; what it answers keeps to its own schema, and the schema accepts what was answered. */
function ask(name: string, element: object): Result {
  const topic = loaded.get(name);
  if (topic === undefined) throw new Error(`no topic ${name}`);
  const { text, isComplete } = answer(topic, JSON.stringify(element));
  const result = JSON.parse(text) as Result;
  expect(isComplete).toBe(result.error === undefined);
  if (result.error === undefined) {
    expect(ajv.validate(topic.outputSchema, result), ajv.errorsText()).toBe(true);
    expect(ajv.validate(topic.inputSchema, element), ajv.errorsText()).toBe(true);
  }
  return result;
}

function pathOf(name: string, element: object): string | undefined {
  return ask(name, element).error?.path;
}

const airKeys = [
  "pressureAltitude_ft",
  "densityAltitude_ft",
  "pressure_hPa",
  "temperature_K",
  "density_kgm3",
  "sigma",
  "delta",
  "theta",
  "soundSpeed_ms",
  "isaDeviation_C",
];

describe("air", () => {
  test("answers in its ten keys, gives back the height as it was given, and is standard without a temperature", () => {
    const result = ask("air", { pressureAltitude_ft: 4321 });
    expect(Object.keys(result)).toEqual(airKeys);
    expect(result).toMatchObject({ pressureAltitude_ft: 4321, isaDeviation_C: 0 });
    expect(result["densityAltitude_ft"]).toBeCloseTo(4321, 6);
  });

  test("is the same in any unit", () => {
    const one = ask("air", { elevation_ft: 3000, qnh_hPa: 1016, oat_C: 25, dewpoint_C: 12 });
    const other = ask("air", {
      elevation_m: 914.4,
      qnh_inHg: 101_600 / 3386.389,
      oat_F: 77,
      dewpoint_K: 285.15,
    });
    for (const key of airKeys) expect(other[key]).toBeCloseTo(one[key] as number, 8);
  });

  test("takes both ends of its domain, and nothing beyond", () => {
    for (const height of [-5000, 36_089])
      expect(ask("air", { pressureAltitude_ft: height }).error).toBeUndefined();
    expect(ask("air", { pressureAltitude_m: 11_000 }).error).toBeUndefined();
    for (const height of [-5000.1, 36_089.3]) {
      expect(pathOf("air", { pressureAltitude_ft: height })).toBe("pressureAltitude_ft");
    }
    expect(pathOf("air", { pressureAltitude_m: 11_000.1 })).toBe("pressureAltitude_m");
    expect(ask("air", { elevation_ft: 36_089, qnh_hPa: 1013.25 }).error).toBeUndefined();
    expect(pathOf("air", { elevation_ft: 36_000, qnh_hPa: 980 })).toBe("elevation_ft");
    expect(pathOf("air", { elevation_m: -1520, qnh_hPa: 1050 })).toBe("elevation_m");
  });

  test("answers a density altitude below the domain of heights, and refuses one above the tropopause", () => {
    expect(ask("air", { pressureAltitude_ft: -4000, oat_C: -30 })["densityAltitude_ft"]).toBeLessThan(-5000);
    expect(pathOf("air", { pressureAltitude_ft: 36_000, oat_C: 0 })).toBe("oat_C");
  });

  test.each([
    [{}, "pressureAltitude_ft"],
    [{ oat_C: 15 }, "pressureAltitude_ft"],
    [{ elevation_ft: 0 }, "qnh_hPa"],
    [{ qnh_inHg: 29.92 }, "elevation_ft"],
    [{ pressureAltitude_ft: 0, elevation_ft: 0, qnh_hPa: 1013 }, "elevation_ft"],
    [{ pressureAltitude_ft: 0, qnh_hPa: 1013 }, "qnh_hPa"],
    [{ elevation_ft: 0, qnh_hPa: 29.92 }, "qnh_hPa"],
    [{ pressureAltitude_ft: 0, oat_C: 288.15 }, "oat_C"],
    [{ pressureAltitude_ft: 0, oat_C: 20, oat_F: 68 }, "oat_F"],
    [{ pressureAltitude_ft: 0, oat_C: 10, dewpoint_C: 11 }, "dewpoint_C"],
    [{ pressureAltitude_ft: 0, dewpoint_F: 80 }, "dewpoint_F"],
    [{ pressureAltitude_fl: 50 }, "pressureAltitude_fl"],
  ])("refuses %j at %s", (element, path) => {
    expect(pathOf("air", element)).toBe(path);
  });
});

describe("wind", () => {
  test("answers in its five keys, with the signs of the trade", () => {
    const result = ask("wind", { track_deg: 90, tas_kt: 120, windFrom_deg: 45, wind_kt: 40 });
    expect(Object.keys(result)).toEqual([
      "heading_deg",
      "groundspeed_kt",
      "drift_deg",
      "headwind_kt",
      "crosswind_kt",
    ]);
    expect(result["drift_deg"]).toBeGreaterThan(0);
    expect(result["headwind_kt"]).toBeGreaterThan(0);
    expect(result["crosswind_kt"]).toBeLessThan(0);
    expect((result["heading_deg"] as number) + (result["drift_deg"] as number)).toBeCloseTo(90, 9);
  });

  test("is the same in any unit of speed, and takes north as 0 or 360", () => {
    const knots = ask("wind", { track_deg: 0, tas_kt: 100, windFrom_deg: 360, wind_kt: 36 });
    const others = ask("wind", { track_deg: 360, tas_kmh: 185.2, windFrom_deg: 0, wind_ms: 18.52 });
    expect(knots["heading_deg"]).toBe(0);
    expect(others["groundspeed_kt"]).toBeCloseTo(knots["groundspeed_kt"] as number, 9);
    expect(knots["groundspeed_kt"]).toBeCloseTo(64, 9);
  });

  test.each([
    [{ track_deg: 0, tas_kt: 30, windFrom_deg: 90, wind_kt: 31 }, "wind_kt"],
    [{ track_deg: 0, tas_kt: 30, windFrom_deg: 0, wind_ms: 20 }, "wind_ms"],
    [{ track_deg: 0, tas_kt: 0, windFrom_deg: 0, wind_kt: 5 }, "tas_kt"],
    [{ track_deg: 0, tas_kt: 60, windFrom_deg: 0, wind_kt: -5 }, "wind_kt"],
    [{ track_deg: 361, tas_kt: 60, windFrom_deg: 0, wind_kt: 5 }, "track_deg"],
    [{ track_deg: 0, tas_kt: 60, windFrom_deg: -1, wind_kt: 5 }, "windFrom_deg"],
    [{ track_deg: 0, tas_kt: 60, windFrom_deg: 0 }, "wind_kt"],
    [{ tas_kt: 60, windFrom_deg: 0, wind_kt: 5 }, "track_deg"],
  ])("refuses %j at %s", (element, path) => {
    expect(pathOf("wind", element)).toBe(path);
  });
});

describe("radius", () => {
  test("answers in its four keys, and the way back ends with the endurance", () => {
    const result = ask("radius", {
      endurance_min: 120,
      tas_kt: 130,
      track_deg: 30,
      windFrom_deg: 350,
      wind_kt: 25,
    });
    expect(Object.keys(result)).toEqual(["out_kt", "back_kt", "radius_nm", "turnAfter_h"]);
    const { out_kt, back_kt, radius_nm, turnAfter_h } = result as Record<string, number>;
    expect(turnAfter_h! + radius_nm! / back_kt!).toBeCloseTo(2, 9);
    expect(turnAfter_h! * out_kt!).toBeCloseTo(radius_nm!, 9);
  });

  test("says which way the wind stops, and refuses an endurance below none", () => {
    const stopped = ask("radius", {
      endurance_h: 2,
      tas_kt: 30,
      track_deg: 0,
      windFrom_deg: 180,
      wind_kt: 40,
    });
    expect(stopped.error?.path).toBe("wind_kt");
    expect(stopped.error?.message).toContain("on the way back");
    expect(pathOf("radius", { endurance_h: -1, tas_kt: 30, track_deg: 0, windFrom_deg: 0, wind_kt: 0 })).toBe(
      "endurance_h",
    );
  });
});

describe("geodesic", () => {
  test("answers in its three keys, azimuths between −180 and 180", () => {
    const result = ask("geodesic", { from: [60, 10], to: [60, 5] });
    expect(Object.keys(result)).toEqual(["distance_m", "azimuth1_deg", "azimuth2_deg"]);
    expect(result["azimuth1_deg"]).toBeLessThan(0);
    expect(ask("geodesic", { from: [60, 10], to: [60, 10] })).toEqual({
      distance_m: 0,
      azimuth1_deg: null,
      azimuth2_deg: null,
    });
  });

  test.each([
    [{ from: [91, 0], to: [0, 0] }, "from[0]"],
    [{ from: [0, 0], to: [0, 361] }, "to[1]"],
    [{ from: [0, 0] }, "to"],
    [{ from: [0], to: [0, 0] }, "from"],
    [{ from: [0, 0, 0], to: [0, 0] }, "from"],
    [{ from: ["0", 0], to: [0, 0] }, "from[0]"],
    [{ from: { lat: 0, lon: 0 }, to: [0, 0] }, "from"],
  ])("refuses %j at %s", (element, path) => {
    expect(pathOf("geodesic", element)).toBe(path);
  });
});

describe("variation", () => {
  const place = { lat_deg: 70.2, lon_deg: 12.5, height_km: 0, year: 2026.5 };

  test("answers in its keys, names the model, and says how far a compass can be trusted", () => {
    const result = ask("variation", place);
    expect(Object.keys(result)).toEqual([
      "declination_deg",
      "inclination_deg",
      "north_nT",
      "east_nT",
      "down_nT",
      "total_nT",
      "model",
      "zone",
    ]);
    expect(result).toMatchObject({ model: "WMM2025", zone: "normal" });
    expect(ask("variation", { ...place, lat_deg: 86, lon_deg: 150 })).toMatchObject({ zone: "blackout" });
  });

  test.each([
    [{ year: 2024.99 }, "year"],
    [{ year: 2030 }, "year"],
    [{ year: "2026" }, "year"],
    [{ lat_deg: -90.1 }, "lat_deg"],
    [{ lon_deg: 400 }, "lon_deg"],
    [{ height_km: 851 }, "height_km"],
    [{ height_km: undefined, height_ft: -4000 }, "height_ft"],
  ])("refuses %j at %s", (change, path) => {
    expect(pathOf("variation", { ...place, ...change })).toBe(path);
  });
});

describe("regression", () => {
  const points = { x: [1, 2, 3, 4], y: [1, 2.1, 2.9, 4], intercept: true };

  test("answers in its keys, with a prediction only when one is asked for", () => {
    const line = ask("regression", points);
    expect(Object.keys(line)).toEqual(["slope", "intercept", "slopeSd", "interceptSd", "residualSd", "r2"]);
    const { prediction, ...same } = ask("regression", { ...points, predictAt: 5, confidence: 0.95 });
    expect(same).toEqual(line);
    expect(Object.keys(prediction as object)).toEqual(["value", "low", "high"]);
    expect(ask("regression", { ...points, predictAt: 5 })["prediction"]).toEqual(prediction);
    const wider = ask("regression", { ...points, predictAt: 5, confidence: 0.99 })["prediction"] as {
      low: number;
    };
    expect(wider.low).toBeLessThan((prediction as { low: number }).low);
  });

  test("through zero has intercept 0 and nothing to be unsure of", () => {
    expect(ask("regression", { ...points, intercept: false })).toMatchObject({
      intercept: 0,
      interceptSd: null,
    });
  });

  test.each([
    [{ y: [1, 2, 3] }, "y"],
    [{ x: [1, 2], y: [1, 2] }, "x"],
    [{ x: [2, 2, 2, 2] }, "x"],
    [{ y: [1, null, 3, 4] }, "y[1]"],
    [{ intercept: undefined }, "intercept"],
    [{ intercept: 1 }, "intercept"],
    [{ confidence: 1 }, "confidence"],
    [{ confidence: 95, predictAt: 5 }, "confidence"],
    [{ predictAt: "5" }, "predictAt"],
  ])("refuses %j at %s", (change, path) => {
    expect(pathOf("regression", { ...points, ...change })).toBe(path);
  });
});
