// The topic fuel as a caller meets it: keys, units, errors. That the figures are right is shown in published/fuel.test.ts.
import { describe, expect, test } from "vitest";
import { answer } from "./answer.ts";
import fuel from "./fuel.ts";

const leg = { distance_nm: 84, track_deg: 0, windFrom_deg: 0, wind_kt: 0, tas_kt: 120, flow_kgh: 240 };
const flight = {
  ruleset: "eu",
  flightRules: "vfr",
  light: "day",
  landmarks: true,
  legs: [leg],
  running: [{ time_min: 5, flow_kgh: 120 }],
  contingency_pct: 5,
  reserveFlow_kgh: 220,
  extra_kg: 0,
};
type Result = Record<string, unknown> & { readonly error?: { readonly path: string } };
const ask = (more: object): Result =>
  JSON.parse(answer(fuel, JSON.stringify({ ...flight, ...more })).text) as Result;
const pathOf = (more: object): string | undefined => ask(more).error?.path;

describe("fuel", () => {
  test("answers by components, with each leg and the paragraph of the reserve", () => {
    const found = ask({});
    expect(found).toMatchObject({
      running_kg: 10,
      trip_kg: 168,
      contingency_kg: 8.4,
      alternate_kg: 0,
      extra_kg: 0,
      time_min: 42,
      legs: [{ heading_deg: 0, groundspeed_kt: 120, time_min: 42, fuel_kg: 168 }],
      cite: "CAT.OP.MPA.191(c)",
    });
    expect(found["finalReserve_kg"]).toBeCloseTo((220 * 20) / 60, 12);
    expect(found["required_kg"]).toBeCloseTo(10 + 168 + 8.4 + (220 * 20) / 60, 12);
  });

  test("takes the alternate as a leg, and every unit of a dimension", () => {
    const alternate = { ...leg, distance_nm: 30 };
    expect(ask({ alternate })).toMatchObject({ alternate_kg: 60, time_min: 42 });
    const { distance_nm: _miles, ...rest } = leg;
    const metric = ask({
      legs: [{ ...rest, distance_km: 84 * 1.852 }],
      running: [{ time_h: 5 / 60, flow_kgh: 120 }],
    });
    expect(metric["trip_kg"]).toBeCloseTo(168, 9);
    expect(metric["running_kg"]).toBeCloseTo(10, 9);
  });

  test("night, IFR and the US rules change the reserve alone", () => {
    expect(ask({ light: "night" })["finalReserve_kg"]).toBeCloseTo(110, 12);
    expect(ask({ landmarks: false })["finalReserve_kg"]).toBeCloseTo(110, 12);
    expect(ask({ ruleset: "us", flightRules: "ifr" })).toMatchObject({
      finalReserve_kg: 110,
      cite: "14 CFR 91.167(a)(3), 135.223(a)(3)",
    });
  });

  test.each<[object, string]>([
    [{ legs: [leg, { ...leg, distance_nm: -1 }] }, "legs[1].distance_nm"],
    [{ legs: [leg, { ...leg, wind_kt: 130 }] }, "legs[1].wind_kt"],
    [{ legs: [{ ...leg, windFrom_deg: 90, wind_kt: 121 }] }, "legs[0].wind_kt"],
    [{ legs: [{ ...leg, distance_km: 10 }] }, "legs[0].distance_nm"],
    [{ legs: [{ ...leg, extra: 1 }] }, "legs[0].extra"],
    [{ alternate: { ...leg, tas_kt: 0 } }, "alternate.tas_kt"],
    [{ running: [{ time_min: 5 }] }, "running[0].flow_kgh"],
    [{ contingency_pct: 101 }, "contingency_pct"],
    [{ ruleset: "uk" }, "ruleset"],
    [{ light: "dusk" }, "light"],
    [{ landmarks: "yes" }, "landmarks"],
    [{ extra_kg: -1 }, "extra_kg"],
    [{ reserve: 1 }, "reserve"],
    [{ legs: [] }, "legs"],
  ])("refuses by its path: %j", (more, path) => {
    expect(pathOf(more)).toBe(path);
  });

  test("says whether the US rules ask for an alternate, and that what is left out is not known", () => {
    const destination = {
      part: "91",
      ceiling_ft: 1_000,
      visibility_m: 5_000,
      lowest_ft: 300,
      lowestVisibility_m: 1_200,
    };
    expect(ask({ destination })).toMatchObject({
      alternateAsked: { needed: false, ceilingFrom_ft: 1_000, after_min: 60, cite: "14 CFR 91.169" },
    });
    const { ceiling_ft: _open, ...rest } = destination;
    expect(ask({ destination: rest })).toMatchObject({ alternateAsked: { needed: true } });
    expect(ask({})).not.toHaveProperty("alternateAsked");
    expect(pathOf({ destination: { ...destination, lowest_ft: -1 } })).toBe("destination.lowest_ft");
  });
});
