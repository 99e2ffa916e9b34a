// Assesses the last filling of fuel: its grade, whether it was sampled and clear, whether before + uplift = after, and the
// tank of the base that it came from; and tells of the tanks of the base where the craft stands.
//
// A grade that the sheet does not list forbids. Water or particles in the last sample forbid until somebody drained and
// sampled anew; no sample is not known. A balance that does not agree within the gauge's accuracy, or more than the tanks
// take, is not known: it is asked about, with the units under which it would agree, and never averaged; without an accuracy
// in the sheet only what agrees exactly agrees. Fuel from a tank that was barred when it was taken counts as that bar does,
// until a later sample of the craft's own was clear; a tank that failed its next look after the filling makes it not known.
// A tank of the base that gives none now, or little, is told and forbids nothing: there may be enough on board.
// Only the latest filling of what stands counts; recorded apart at one instant, each does.
// Source: AMC M.A.301(a) 1(c); common practice.
import type { SampleSeen, TankFacts } from "../facts/base-tank.ts";
import { noTanks } from "../facts/base-tank.ts";
import type { CraftState } from "../facts/craft.ts";
import type { Reason } from "../facts/reason.ts";
import type { Situation } from "../facts/situation.ts";
import { Refusal } from "../quantity/refusal.ts";
import { atMost } from "../quantity/compare.ts";
import type { Sheet } from "../sheet/schema.ts";
import { balanceFuel, type FuelTolerance } from "./fuel-balance.ts";
import { fuelDensity_kgL } from "./fuel-density.ts";
import { fuelToleranceOf, tanksAboard } from "./fuel-tolerance.ts";
import { tankAt } from "./tank-at.ts";
import { tankStock } from "./tank-stock.ts";

type Filled = CraftState["fuelFilled"][number];
type Draft = Pick<Reason, "code" | "effect" | "remedy" | "facts"> & Partial<Pick<Reason, "evidence">>;

export function assessFuel(sheet: Sheet, state: CraftState, situation: Pick<Situation, "tanks">): Reason[] {
  const { fuelFilled } = state;
  const newest_ms = Math.max(...fuelFilled.map(({ at_ms }) => at_ms));
  const tanks = tanksAboard(sheet, state);
  const capacity_kg = tanks.reduce((sum, { usable_kg, unusable_kg }) => sum + usable_kg + unusable_kg, 0);
  const tolerance = fuelToleranceOf(sheet, tanks);
  const fluids = new Set(tanks.map(({ fluid }) => fluid));
  const grades = sheet.fluids.filter(({ id }) => fluids.has(id)).flatMap((fluid) => fluid.grades);
  const newest = fuelFilled.filter(({ at_ms }) => at_ms === newest_ms);
  return [
    ...sampleReasons(state, newest),
    ...newest.flatMap((filled) => [
      ...gradeReasons(filled, grades),
      ...balanceReasons(filled, capacity_kg, tolerance),
      ...originReasons(filled, state, situation.tanks ?? noTanks),
    ]),
  ];
}

/** What is told of the tanks of the base at which a craft stands. */
export function assessBaseTanks(
  tanks: TankFacts,
  state: CraftState,
  { now_ms, others = [] }: Pick<Situation, "now_ms" | "others">,
): Reason[] {
  const taken = [...state.fuelFilled, ...others.flatMap(({ fuelFilled = [] }) => fuelFilled)];
  const named = [...new Set(tanks.described.map(({ tank }) => tank))];
  return named.flatMap((tank): Reason[] => {
    const { rules, bars } = tankAt(tanks, tank, now_ms);
    if (rules === null || !rules.inUse) return [];
    const [bar] = bars;
    if (bar !== undefined) {
      const remedy = { code: "fuel.seeToTank", clearance: "ten" } as const;
      const facts = { tank: rules.name, bar: bar.code };
      const draft = { code: "fuel.tankNotForUse", effect: "advises", remedy, facts } as const;
      return [{ ...reasonOf({ ...draft, evidence: bar.evidence }), until_ms: bar.until_ms }];
    }
    const stock = tankStock(tanks, tank, taken, now_ms);
    if (stock.is === "notKnown" || !atMost(stock.low_L, rules.low_L)) return [];
    const remedy = { code: "fuel.order", clearance: "someone" } as const;
    const facts = { tank: rules.name, left_L: stock.low_L };
    return [reasonOf({ code: "fuel.tankLow", effect: "advises", remedy, facts, evidence: [] })];
  });
}

function reasonOf({ evidence = [], ...draft }: Draft): Reason {
  const cite = "AMC M.A.301(a) 1(c)";
  return {
    operations: "all",
    from_ms: null,
    until_ms: null,
    source: { kind: "rule", rule: "M.A.301(a)", edition: "Reg. (EU) 1321/2014", cite },
    evidence,
    ...draft,
  };
}

type Sampled = { readonly entry: string; readonly at_ms: number; readonly sample: SampleSeen | null };

/** The newest of what was seen in a sample; a filling without one leaves the fuel that came with it unseen. */
function sampleReasons({ fuelSampled }: CraftState, fillings: readonly Filled[]): Reason[] {
  const all: readonly Sampled[] = [...fillings, ...fuelSampled];
  const newest_ms = Math.max(...all.map(({ at_ms }) => at_ms));
  return all
    .filter(({ at_ms }) => at_ms === newest_ms)
    .flatMap(({ entry, sample, at_ms }): Reason[] => {
      if (sample === "clear") return [];
      const facts = { at_ms, sample };
      if (sample === null) {
        const remedy = { code: "fuel.sample", clearance: "minute" } as const;
        return [reasonOf({ code: "fuel.notSampled", effect: "unknown", remedy, facts, evidence: [entry] })];
      }
      const remedy = { code: "fuel.drain", clearance: "someone" } as const;
      return [reasonOf({ code: "fuel.notClean", effect: "blocks", remedy, facts, evidence: [entry] })];
    });
}

function gradeReasons({ entry, grade, at_ms }: Filled, grades: readonly string[]): Reason[] {
  if (grades.includes(grade)) return [];
  const remedy = { code: "fuel.drain", clearance: "someone" } as const;
  const facts = { at_ms, grade };
  return [reasonOf({ code: "fuel.wrongGrade", effect: "blocks", remedy, facts, evidence: [entry] })];
}

function balanceReasons(filled: Filled, capacity_kg: number, tolerance: FuelTolerance | null): Reason[] {
  const { entry, before_kg, amount, unit, after_kg, density_kgL, fuel_C, at_ms } = filled;
  const say = (facts: Reason["facts"]): Reason[] => {
    const remedy = { code: "fuel.readAgain", clearance: "minute" } as const;
    return [reasonOf({ code: "fuel.disagrees", effect: "unknown", remedy, facts, evidence: [entry] })];
  };
  try {
    const balance = balanceFuel({
      before_kg,
      uplift: { amount, unit },
      after_kg,
      density_kgL: fuel_C === null ? density_kgL : fuelDensity_kgL(density_kgL, fuel_C),
      tolerance,
      capacity_kg,
    });
    if (balance.agrees && balance.fits) return [];
    const { difference_kg, tolerance_kg } = balance;
    if (tolerance === null) {
      const remedy = { code: "fuel.setTolerance", clearance: "someone" } as const;
      const facts = { at_ms, difference_kg };
      return [
        reasonOf({ code: "fuel.toleranceMissing", effect: "unknown", remedy, facts, evidence: [entry] }),
      ];
    }
    return say({ at_ms, difference_kg, tolerance_kg, unit, perhaps: balance.perhaps.join(", ") });
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return say({ at_ms, difference_kg: null, tolerance_kg: null, unit, perhaps: "" });
  }
}

/** What the tank of the base says of the fuel that was taken from it. */
function originReasons(filled: Filled, { fuelSampled }: CraftState, tanks: TankFacts): Reason[] {
  const { entry, baseTank, at_ms } = filled;
  if (baseTank === null) return [];
  const isSeenClear = (after_ms: number): boolean => {
    const later = fuelSampled.filter((one) => one.at_ms > after_ms);
    const newest_ms = Math.max(...later.map((one) => one.at_ms));
    const newest = later.filter((one) => one.at_ms === newest_ms);
    return newest.length > 0 && newest.every(({ sample }) => sample === "clear");
  };
  const { rules, bars } = tankAt(tanks, baseTank, at_ms);
  const remedy = { code: "fuel.drain", clearance: "someone" } as const;
  const tank = rules?.name ?? baseTank;
  if (isSeenClear(at_ms)) return laterReasons(filled, tank, tanks, isSeenClear);
  const then = bars.map(({ code, effect, evidence }) =>
    reasonOf({
      code: "fuel.tankBarred",
      effect,
      remedy: effect === "blocks" ? remedy : { code: "fuel.sample", clearance: "minute" },
      facts: { at_ms, tank, bar: code },
      evidence: [...evidence, entry],
    }),
  );
  return [...then, ...laterReasons(filled, tank, tanks, isSeenClear)];
}

/**
 * The tank's looks after the filling that failed before one was clear: whether the fuel was good before, nobody knows. A
 * sample of the craft's own answers when it was drawn after the last of them, so that another failure never helps.
 */
function laterReasons(
  { entry, baseTank, at_ms }: Filled,
  tank: string,
  { checked }: TankFacts,
  isSeenClear: (after_ms: number) => boolean,
): Reason[] {
  const later = checked.filter((one) => one.tank === baseTank && one.at_ms > at_ms);
  const isFailed = ({ sample, waterFound }: (typeof later)[number]) => sample !== "clear" || waterFound;
  const failed = later.filter((one) => isFailed(one));
  const failedAt = new Set(failed.map((one) => one.at_ms));
  const clear_ms = Math.min(...later.filter((one) => !failedAt.has(one.at_ms)).map((one) => one.at_ms));
  const run = failed.filter((one) => one.at_ms < clear_ms);
  const last_ms = Math.max(...run.map((one) => one.at_ms));
  if (run.length === 0 || isSeenClear(last_ms)) return [];
  const remedy = { code: "fuel.sample", clearance: "minute" } as const;
  const evidence = [entry, ...run.map((one) => one.entry)];
  const facts = { at_ms: last_ms, tank };
  return [reasonOf({ code: "fuel.tankFailedSince", effect: "unknown", remedy, facts, evidence })];
}
