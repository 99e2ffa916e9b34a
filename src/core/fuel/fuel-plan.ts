// The fuel that a flight needs at its start, by components: running on the ground, trip, contingency, alternate, final
// reserve, extra.
//
// Source: CAT.OP.MPA.191 and its AMC1 (which components, and that contingency is a share of the trip alone); the reserve's
// minutes by core/rules/fuel-reserve. The flow of the reserve is the caller's: it is a quantity at a stated speed, not the
// cruise flow. Discretionary fuel is what the commander adds on top and no demand.
// Units kg, kg/h, minutes. Refuses (Refusal with its path) what is negative or no number.
// Check values: published/fuel.test.ts.
import type { FuelReserve } from "../rules/fuel-reserve.ts";
import { atIndex, atKey } from "../quantity/refusal.ts";
import { requireAtLeast0 } from "./fuel-leg.ts";

/** Engines running on the ground. */
export type Running = { readonly time_min: number; readonly flow_kgh: number };

export type FuelPlanQuestion = {
  readonly trip_kg: number;
  readonly running: readonly Running[];
  readonly contingency_pct: number;
  readonly alternate_kg: number;
  readonly reserve: Pick<FuelReserve, "minutes">;
  readonly reserveFlow_kgh: number;
  readonly extra_kg: number;
};

export type FuelPlan = {
  readonly running_kg: number;
  readonly trip_kg: number;
  readonly contingency_kg: number;
  readonly alternate_kg: number;
  readonly finalReserve_kg: number;
  readonly extra_kg: number;
  readonly required_kg: number;
};

export function planFuel(question: FuelPlanQuestion): FuelPlan {
  const { trip_kg, running, contingency_pct, alternate_kg, reserve, reserveFlow_kgh, extra_kg } = question;
  requireAtLeast0(trip_kg, "trip_kg", "kg");
  requireAtLeast0(contingency_pct, "contingency_pct", "%");
  requireAtLeast0(alternate_kg, "alternate_kg", "kg");
  requireAtLeast0(reserveFlow_kgh, "reserveFlow_kgh", "kg/h");
  requireAtLeast0(extra_kg, "extra_kg", "kg");
  let running_kg = 0;
  for (const [index, { time_min, flow_kgh }] of running.entries()) {
    requireAtLeast0(time_min, atKey(atIndex("running", index), "time_min"), "min");
    requireAtLeast0(flow_kgh, atKey(atIndex("running", index), "flow_kgh"), "kg/h");
    running_kg += (flow_kgh * time_min) / 60;
  }
  const contingency_kg = (trip_kg * contingency_pct) / 100;
  const finalReserve_kg = (reserveFlow_kgh * reserve.minutes) / 60;
  return {
    running_kg,
    trip_kg,
    contingency_kg,
    alternate_kg,
    finalReserve_kg,
    extra_kg,
    required_kg: running_kg + trip_kg + contingency_kg + alternate_kg + finalReserve_kg + extra_kg,
  };
}
