// Assesses the last filling of fuel: whether it was sampled and clear, and whether before + uplift = after.
//
// Water or particles in the sample forbid until somebody filled or drained and sampled anew; no sample is not known. A
// balance that does not agree within the gauge's tolerance, or more than the tanks take, is not known: it is asked about,
// with the units under which it would agree, and never averaged. Only the latest of what stands counts; recorded apart at
// one instant, each does. Source: AMC M.A.301(a) 1(c); common practice.
import type { CraftState } from "../facts/craft.ts";
import type { Reason } from "../facts/reason.ts";
import { Refusal } from "../quantity/refusal.ts";
import type { Sheet } from "../sheet/schema.ts";
import { balanceFuel } from "./fuel-balance.ts";
import { fuelDensity_kgL } from "./fuel-density.ts";

export function assessFuel(sheet: Sheet, { fuelFilled }: CraftState): Reason[] {
  const newest_ms = Math.max(...fuelFilled.map(({ at_ms }) => at_ms));
  const capacity_kg = sheet.tanks.reduce(
    (sum, { usable_kg, unusable_kg }) => sum + usable_kg + unusable_kg,
    0,
  );
  return fuelFilled
    .filter(({ at_ms }) => at_ms === newest_ms)
    .flatMap((filled) => [...sampleReasons(filled), ...balanceReasons(filled, capacity_kg)]);
}

type Filled = CraftState["fuelFilled"][number];

function reasonOf(filled: Filled, draft: Pick<Reason, "code" | "effect" | "remedy" | "facts">): Reason {
  const cite = "AMC M.A.301(a) 1(c)";
  return {
    operations: "all",
    from_ms: null,
    until_ms: null,
    source: { kind: "rule", rule: "M.A.301(a)", edition: "Reg. (EU) 1321/2014", cite },
    evidence: [filled.entry],
    ...draft,
  };
}

function sampleReasons(filled: Filled): Reason[] {
  const { sample, at_ms } = filled;
  if (sample === "clear") return [];
  const facts = { at_ms, sample };
  if (sample === null) {
    const remedy = { code: "fuel.sample", clearance: "minute" } as const;
    return [reasonOf(filled, { code: "fuel.notSampled", effect: "unknown", remedy, facts })];
  }
  const remedy = { code: "fuel.drain", clearance: "someone" } as const;
  return [reasonOf(filled, { code: "fuel.notClean", effect: "blocks", remedy, facts })];
}

function balanceReasons(filled: Filled, capacity_kg: number): Reason[] {
  const { before_kg, amount, unit, after_kg, density_kgL, fuel_C, at_ms } = filled;
  const remedy = { code: "fuel.readAgain", clearance: "minute" } as const;
  try {
    const balance = balanceFuel({
      before_kg,
      uplift: { amount, unit },
      after_kg,
      density_kgL: fuel_C === null ? density_kgL : fuelDensity_kgL(density_kgL, fuel_C),
      tolerance_kg: null,
      capacity_kg,
    });
    if (balance.agrees && balance.fits) return [];
    const facts = {
      at_ms,
      difference_kg: balance.difference_kg,
      tolerance_kg: balance.tolerance_kg,
      unit,
      perhaps: balance.perhaps.join(", "),
    };
    return [reasonOf(filled, { code: "fuel.disagrees", effect: "unknown", remedy, facts })];
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    const facts = { at_ms, difference_kg: null, tolerance_kg: null, unit, perhaps: "" };
    return [reasonOf(filled, { code: "fuel.disagrees", effect: "unknown", remedy, facts })];
  }
}
