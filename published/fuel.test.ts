// Final reserves, contingency and worked totals of fuel against the rows of fuel.json, and the wind triangles and radii of
// wind.json again through the leg of a fuel plan.
//
// Tolerances: printed kilograms to half their last digit (0.05); ground speeds to what each source prints, as in
// wind.test.ts.
import { describe, expect, test } from "vitest";
import { fuelDensity_kgL } from "../src/core/fuel/fuel-density.ts";
import { flyLeg } from "../src/core/fuel/fuel-leg.ts";
import { planFuel } from "../src/core/fuel/fuel-plan.ts";
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
});
