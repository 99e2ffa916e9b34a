// Final reserves, contingency and worked totals of fuel against the rows of fuel.json, and the wind triangles and radii of
// wind.json again through the leg of a fuel plan.
//
// Tolerances: printed kilograms to half their last digit (0.05); ground speeds to what each source prints, as in
// wind.test.ts.
import { describe, expect, test } from "vitest";
import { fuelDensity_kgL } from "../src/core/fuel/fuel-density.ts";
import { massOf } from "../src/core/fuel/fuel-balance.ts";
import { flyLeg } from "../src/core/fuel/fuel-leg.ts";
import { planFuel } from "../src/core/fuel/fuel-plan.ts";
import type { CallAnswer } from "../src/core/reach/call.ts";
import { checkFuel } from "../src/core/reach/in-flight.ts";
import { alternateNeeded } from "../src/core/rules/alternate-needed.ts";
import { statuteMile_m } from "../src/core/rules/us-minima.ts";
import { fuelReserve, leastContingency_pct } from "../src/core/rules/fuel-reserve.ts";
import type { FuelReserveQuestion } from "../src/core/rules/fuel-reserve.ts";
import data from "./fuel.json" with { type: "json" };
import wind from "./wind.json" with { type: "json" };

type Rules = Pick<FuelReserveQuestion, "ruleSet" | "flightRules" | "light" | "landmarks" | "hems">;

const rulesOf = (cells: readonly unknown[]): Rules => {
  const [ruleSet, flightRules, light, landmarks, hems] = cells;
  return { ruleSet, flightRules, light, landmarks, hems } as Rules;
};

describe("fuel against what is published", () => {
  test.each(data.reserves.rows)("%s %s %s, landmarks %s, %s: %s min at the %s flow", (...row) => {
    expect(fuelReserve(rulesOf(row))).toMatchObject({ minutes: row[5], at: row[6] });
  });

  test("every reserve says by which paragraph, and what is from memory says so", () => {
    for (const row of data.reserves.rows) {
      const { citation } = fuelReserve(rulesOf(row));
      expect(String(row[7])).toContain(citation.cite.split(",")[0]);
      expect(citation.status).toBe(row[8]);
    }
  });

  test.each(data.contingency.rows)("%s, hostile %s: %s %% of the trip", (flightRules, hostile, pct) => {
    const question = { ruleSet: "eu", hems: null, hostile: hostile as boolean } as const;
    expect(leastContingency_pct({ ...question, flightRules: flightRules as "vfr" | "ifr" })).toBe(pct);
  });

  test.each(data.worked.rows)("%s", (...row) => {
    const [, , , , , , pct, alternate_kg, flow_kgh, taxi, trip, contingency, alternate, reserve, total] =
      row as [...unknown[]] as number[];
    const { trip_min, cruise_kgh, taxi_kg } = data.worked.inputs;
    const leg = flyLeg(
      {
        distance_nm: (132 * trip_min) / 60,
        track_deg: 10,
        windFrom_deg: 0,
        wind_kt: 0,
        tas_kt: 132,
        flow_kgh: cruise_kgh,
      },
      "leg",
    );
    if (leg.is !== "flown") throw new Error(leg.is);
    const plan = planFuel({
      trip_kg: leg.fuel_kg,
      running: [{ time_min: 5, flow_kgh: taxi_kg * 12 }],
      contingency_pct: pct!,
      alternate_kg: alternate_kg!,
      reserve: fuelReserve(rulesOf(row.slice(1, 6))),
      reserveFlow_kgh: flow_kgh!,
      extra_kg: 0,
    });
    const found = [
      plan.running_kg,
      plan.trip_kg,
      plan.contingency_kg,
      plan.alternate_kg,
      plan.finalReserve_kg,
    ];
    const wanted = [taxi, trip, contingency, alternate, reserve];
    for (const [index, value] of found.entries()) expect(Math.abs(value - wanted[index]!)).toBeLessThan(0.05);
    expect(Math.abs(plan.required_kg - total!)).toBeLessThan(0.05);
  });

  test("the minutes until a reserve is reached are the fuel above it over the flow", () => {
    const { usable_kg, reserve_kg, flow_kgh, minutes } = data.worked.endurance;
    const leg = (distance_nm: number) =>
      flyLeg({ distance_nm, track_deg: 0, windFrom_deg: 0, wind_kt: 0, tas_kt: 60, flow_kgh }, "leg");
    const flown = leg(minutes);
    expect(flown.is === "flown" && Math.abs(usable_kg - flown.fuel_kg - reserve_kg)).toBeLessThan(
      (0.05 * flow_kgh) / 60 + 0.05,
    );
  });

  test.each(wind.triangle.rows)("the leg's ground speed by $source", (row) => {
    const { track_deg, tas_kt, windFrom_deg, wind_kt } = row;
    const leg = flyLeg({ distance_nm: 100, track_deg, windFrom_deg, wind_kt, tas_kt, flow_kgh: 200 }, "leg");
    if (leg.is !== "flown") throw new Error(leg.is);
    expect(Math.abs(leg.groundspeed_kt - row.exact.groundspeed_kt)).toBeLessThan(0.01);
    expect(Math.abs(leg.heading_deg - row.exact.heading_deg)).toBeLessThan(0.01);
    expect(leg.time_min).toBeCloseTo(6000 / leg.groundspeed_kt, 9);
    expect(leg.fuel_kg).toBeCloseTo((200 * 100) / leg.groundspeed_kt, 9);
  });

  test("radii of action out and back through two legs take the whole endurance", () => {
    for (const [endurance_h, out_kt, back_kt, radius_nm, turn_min] of wind.radius.rows) {
      // The wind along the track that makes these two ground speeds.
      const tas_kt = (out_kt! + back_kt!) / 2;
      const head_kt = (back_kt! - out_kt!) / 2;
      const at = { windFrom_deg: head_kt >= 0 ? 90 : 270, wind_kt: Math.abs(head_kt), tas_kt, flow_kgh: 1 };
      const out = flyLeg({ ...at, distance_nm: radius_nm!, track_deg: 90 }, "out");
      const back = flyLeg({ ...at, distance_nm: radius_nm!, track_deg: 270 }, "back");
      if (out.is !== "flown" || back.is !== "flown") throw new Error("impossible");
      expect(out.groundspeed_kt).toBeCloseTo(out_kt!, 9);
      // Radii are printed to whole miles.
      expect(Math.abs(out.time_min - turn_min!)).toBeLessThan((0.5 * 60) / out_kt! + 0.06);
      expect(Math.abs(out.time_min + back.time_min - endurance_h! * 60)).toBeLessThan(
        30 / out_kt! + 30 / back_kt!,
      );
    }
  });

  test("the density band of the specification is taken to its ends and not beyond", () => {
    const { low, high } = data.density.rows[0]!;
    expect(fuelDensity_kgL(low, 15)).toBe(low);
    expect(fuelDensity_kgL(high, 15)).toBe(high);
    expect(() => fuelDensity_kgL(low - 0.001, 15)).toThrow("kg/L");
    expect(() => fuelDensity_kgL(high + 0.001, 15)).toThrow("kg/L");
    expect(fuelDensity_kgL(0.8, -10)).toBeGreaterThan(0.8);
  });

  test("what an aircraft's fuel is made of is the components that the rule names, and their sum", () => {
    const plan = planFuel({
      trip_kg: 168,
      running: [{ time_min: 5, flow_kgh: 120 }],
      contingency_pct: 5,
      alternate_kg: 60,
      reserve: { minutes: 30 },
      reserveFlow_kgh: 200,
      extra_kg: 7,
    });
    const { required_kg, ...components } = plan;
    expect(Object.keys(components)).toEqual(data.components.value.map((name) => `${name}_kg`));
    expect(required_kg).toBeCloseTo(
      Object.values(components).reduce((sum, kg) => sum + kg, 0),
      12,
    );
  });

  test("in flight to act is due below alternate and final reserve at the last landing, and not on it", () => {
    const fuel = { alternate_kg: 60, finalReserve_kg: 100, atLastLanding_kg: 190 };
    const stop = { arrive_ms: 0, leave_ms: 0 };
    const leg = { fuelAtStart_kg: 400, fuelAtEnd_kg: 190 };
    const plan = {
      call: { fuel_kg: 400 },
      legs: [leg],
      stops: [stop, { arrive_ms: 3_600_000, leave_ms: 3_600_000 }],
      fuel,
    } as unknown as CallAnswer;
    expect(checkFuel(plan, 0, 400 - 30)).toMatchObject({ least_kg: 160, actIsDue: false });
    expect(checkFuel(plan, 0, 400 - 30.01)).toMatchObject({ actIsDue: true });
  });

  test.each(data.noAlternate.rows)(
    "14 CFR part %s, lowest %s ft and %s SM, circling %s: from %s ft and %s SM",
    (...row) => {
      const [part, lowest_ft, lowest_SM, circling_ft, ceiling_ft, visibility_SM, before, after] = row as [
        "91" | "135",
        number,
        number,
        number | null,
        number,
        number,
        number,
        number,
      ];
      const ask = (above_ft: number | null, above_SM: number | null) =>
        alternateNeeded({
          part,
          ceiling_ft: above_ft,
          visibility_m: above_SM === null ? null : above_SM * statuteMile_m,
          lowest_ft,
          lowest_m: lowest_SM * statuteMile_m,
          circling_ft,
        });
      expect(ask(ceiling_ft, visibility_SM)).toMatchObject({ needed: false, window_min: { before, after } });
      expect(ask(ceiling_ft - 1, visibility_SM).needed).toBe(true);
      expect(ask(ceiling_ft, visibility_SM - 0.01).needed).toBe(true);
      expect(ask(null, visibility_SM).needed).toBe(true);
      expect(ask(ceiling_ft, null).needed).toBe(true);
    },
  );

  test("a national rule of so many minutes and a share of the time is planned as both", () => {
    const { reserve_min, contingency_pct } = data.national;
    const { trip_min, cruise_kgh, bestRange_kgh } = data.worked.inputs;
    const plan = planFuel({
      trip_kg: (cruise_kgh * trip_min) / 60,
      running: [],
      contingency_pct,
      alternate_kg: 0,
      reserve: { minutes: reserve_min },
      reserveFlow_kgh: bestRange_kgh,
      extra_kg: 0,
    });
    expect(plan.contingency_kg).toBeCloseTo((cruise_kgh * trip_min * 0.1) / 60, 12);
    expect(plan.finalReserve_kg).toBeCloseTo((bestRange_kgh * 20) / 60, 12);
  });

  test.each(data.density.convention.rows)("%s: %s lb a US gallon is %s kg a litre", (_what, lb, kg_L) => {
    expect(Math.abs(massOf(1, "usgal", kg_L as number) - massOf(lb as number, "lb", 1))).toBeLessThan(
      0.0005 * 3.785411784 + 1e-9,
    );
  });
});
