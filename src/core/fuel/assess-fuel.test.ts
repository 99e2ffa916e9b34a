import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  noTanks,
  type TankChecked,
  type TankDelivered,
  type TankDescribed,
  type TankFacts,
} from "../facts/base-tank.ts";
import type { FuelFilled } from "../facts/call.ts";
import { type CraftState, emptyCraft } from "../facts/craft.ts";
import { hour_ms } from "../facts/instant.ts";
import { quill } from "../reach/arbitrary-call.ts";
import { assessBaseTanks, assessFuel } from "./assess-fuel.ts";
import { tankAt } from "./tank-at.ts";
import { tankStock } from "./tank-stock.ts";

const filled = (more: Partial<FuelFilled>): FuelFilled => ({
  entry: "one",
  by: "someone",
  at_ms: 1_000,
  before_kg: 180,
  amount: 200,
  unit: "L",
  typed: "200",
  density_kgL: 0.8,
  fuel_C: null,
  after_kg: 340,
  grade: "Jet A-1",
  baseTank: null,
  sample: "clear",
  ...more,
});
const codesOf = (...all: readonly FuelFilled[]) =>
  assessFuel(quill, { ...emptyCraft, fuelFilled: all }, {}).map(({ code, effect }) => [code, effect]);

describe("fuel that was filled in", () => {
  test("says nothing when it was sampled clear and agrees, nor when nothing was filled", () => {
    expect(codesOf()).toEqual([]);
    expect(codesOf(filled({}))).toEqual([]);
  });

  test("is not known without a sample, and forbids with water or particles in it", () => {
    expect(codesOf(filled({ sample: null }))).toEqual([["fuel.notSampled", "unknown"]]);
    expect(codesOf(filled({ sample: "water" }))).toEqual([["fuel.notClean", "blocks"]]);
    expect(codesOf(filled({ sample: "particles" }))).toEqual([["fuel.notClean", "blocks"]]);
  });

  test("is asked about where before, amount and after disagree, with the unit in which they would agree", () => {
    const fuelFilled = [filled({ amount: 250, unit: "kg", after_kg: 380 })];
    const [asked] = assessFuel(quill, { ...emptyCraft, fuelFilled }, {});
    expect(asked).toMatchObject({ code: "fuel.disagrees", effect: "unknown", facts: { perhaps: "L" } });
    expect(codesOf(filled({ density_kgL: 0.8, fuel_C: 70 }))).toEqual([["fuel.disagrees", "unknown"]]);
  });

  test("counts by the last filling; of two at one instant each", () => {
    expect(codesOf(filled({ sample: "water" }), filled({ entry: "two", at_ms: 2_000 }))).toEqual([]);
    expect(codesOf(filled({}), filled({ entry: "two", sample: null }))).toEqual([
      ["fuel.notSampled", "unknown"],
    ]);
  });

  test("is not known where the sheet does not say how exact the gauges read, unless it agrees exactly", () => {
    const silent = { ...quill, gauges: quill.gauges.map(({ accuracy: _stated, ...gauge }) => gauge) };
    const codes = (after_kg: number) =>
      assessFuel(silent, { ...emptyCraft, fuelFilled: [filled({ after_kg })] }, {}).map(({ code }) => code);
    expect(codes(340)).toEqual([]);
    expect(codes(343)).toEqual(["fuel.toleranceMissing"]);
  });

  test("of a grade that the sheet does not list forbids", () => {
    expect(codesOf(filled({ grade: "Jet B" }))).toEqual([["fuel.wrongGrade", "blocks"]]);
  });

  test("a sample of the craft's own answers for a filling without one; the newest sample counts", () => {
    const after = (...samples: readonly ("clear" | "water")[]) =>
      assessFuel(
        quill,
        {
          ...emptyCraft,
          fuelFilled: [filled({ sample: null })],
          fuelSampled: samples.map((sample, index) => ({
            entry: `s${index}`,
            by: "someone",
            at_ms: 2_000 + index,
            sample,
            words: "",
          })),
        },
        {},
      ).map(({ code }) => code);
    expect(after("clear")).toEqual([]);
    expect(after("clear", "water")).toEqual(["fuel.notClean"]);
    expect(after("water", "clear")).toEqual([]);
  });
});

const h = hour_ms;
const said = (entry: string, at_ms: number) => ({ entry, by: "someone", at_ms, tank: "north" });
const described: TankDescribed = {
  ...said("d", 0),
  name: "north tank",
  grade: "Jet A-1",
  capacity_L: 9_000,
  low_L: 2_000,
  dipWithin_L: 50,
  sampleEvery_h: 24,
  settle_h: 2,
  filterEvery_days: null,
  inUse: true,
  cite: "manual",
};
const checked = (entry: string, at_ms: number, more: Partial<TankChecked> = {}): TankChecked => ({
  ...said(entry, at_ms),
  sample: "clear",
  waterFound: false,
  stock_L: null,
  typed: "",
  ...more,
});
const delivery: TankDelivered = {
  ...said("del", 10 * h),
  amount: 4_000,
  unit: "L",
  typed: "4000",
  density_kgL: 0.8,
  fuel_C: null,
  docket: "17",
  batch: "b",
  grade: "Jet A-1",
};
const tanks = (more: Partial<TankFacts>): TankFacts => ({ ...noTanks, described: [described], ...more });
const barsAt = (facts: TankFacts, at_ms: number) =>
  tankAt(facts, "north", at_ms).bars.map(({ code, effect }) => `${code} ${effect}`);

describe("a tank of the base", () => {
  test("is not known without a sample, and again when that is out of date: on its end it is", () => {
    expect(barsAt(tanks({}), h)).toEqual(["neverSampled unknown"]);
    const sampled = tanks({ checked: [checked("c", h)] });
    expect(barsAt(sampled, 25 * h - 1)).toEqual([]);
    expect(barsAt(sampled, 25 * h)).toEqual(["sampleOld unknown"]);
    expect(barsAt(noTanks, h)).toEqual(["notDescribed unknown"]);
  });

  test("gives none with water in it or in its sample, also where two looked at one instant", () => {
    for (const bad of [{ sample: "particles" }, { waterFound: true }] as const)
      expect(barsAt(tanks({ checked: [checked("c", h), checked("e", h, bad)] }), 2 * h)).toEqual([
        "sampleFailed blocks",
      ]);
  });

  test("settles after a delivery and is sampled anew then; another grade bars it until somebody opens it", () => {
    const facts = tanks({ checked: [checked("c", 9 * h)], delivered: [delivery] });
    expect(barsAt(facts, 10 * h - 1)).toEqual([]);
    expect(barsAt(facts, 11 * h)).toEqual(["settling blocks", "notSampledSinceDelivery unknown"]);
    expect(barsAt(facts, 12 * h)).toEqual(["notSampledSinceDelivery unknown"]);
    const other = tanks({ delivered: [{ ...delivery, grade: "Jet B" }], checked: [checked("c", 13 * h)] });
    expect(barsAt(other, 14 * h)).toEqual(["otherGrade blocks"]);
    const opened = { ...said("o", 15 * h), words: "pumped out", ends: [] };
    expect(barsAt({ ...other, opened: [opened] }, 16 * h)).toEqual([]);
  });

  test("what is shut stays shut for what was taken then, also once it is open again", () => {
    const facts = tanks({
      checked: [checked("c", h)],
      shut: [{ ...said("s", 2 * h), words: "leak" }],
      opened: [{ ...said("o", 4 * h), words: "mended", ends: ["s"] }],
    });
    expect(barsAt(facts, 3 * h)).toEqual(["shut blocks"]);
    expect(barsAt(facts, 5 * h)).toEqual([]);
  });

  test("its filter has a time where the operator sets one", () => {
    const timed = { described: [{ ...described, filterEvery_days: 1 }], checked: [checked("c", 20 * h)] };
    expect(barsAt(tanks(timed), 21 * h)).toEqual(["filterNotKnown unknown"]);
    const changed = tanks({ ...timed, filters: [{ ...said("f", 0), words: "" }] });
    expect(barsAt(changed, 24 * h - 1)).toEqual([]);
    expect(barsAt(changed, 24 * h)).toEqual(["filterOver blocks"]);
  });

  test("described apart, the stricter of each figure counts", () => {
    const two = tanks({ described: [described, { ...described, entry: "e", sampleEvery_h: 12 }] });
    expect(barsAt({ ...two, checked: [checked("c", h)] }, 13 * h)).toEqual(["sampleOld unknown"]);
  });
});

describe("the stock of a tank", () => {
  const dipped = tanks({ checked: [checked("c", h, { stock_L: 3_000 })], delivered: [delivery] });
  const taken = (amount: number, unit: "L" | "kg", at_ms: number, fuel_C: number | null = null) => ({
    amount,
    unit,
    typed: String(amount),
    density_kgL: 0.8,
    fuel_C,
    at_ms,
    baseTank: "north",
  });

  test("is the dip with its accuracy, more by what was delivered and less by what was taken since", () => {
    expect(tankStock(dipped, "north", [taken(250, "L", 2 * h)], 3 * h)).toMatchObject({
      low_L: 2_700,
      high_L: 2_800,
    });
    expect(tankStock(dipped, "north", [], 11 * h)).toMatchObject({ low_L: 6_950, high_L: 7_050 });
  });

  test("kilograms at a temperature that nobody measured make it wider; measured, they do not", () => {
    const warm = tankStock(dipped, "north", [taken(200, "kg", 2 * h, 15)], 3 * h);
    expect(warm).toMatchObject({ low_L: 2_700, high_L: 2_800 });
    const open = tankStock(dipped, "north", [taken(200, "kg", 2 * h)], 3 * h);
    if (open.is !== "known") throw new Error(open.why);
    expect(open.high_L - open.low_L).toBeGreaterThan(100);
    expect(open.low_L).toBeLessThan(2_700);
    expect(open.high_L).toBeGreaterThan(2_800);
  });

  test("what happened at the instant of the dip lies on both sides of it", () => {
    expect(tankStock(dipped, "north", [taken(250, "L", h)], 3 * h)).toMatchObject({
      low_L: 2_700,
      high_L: 3_050,
    });
  });

  test("an amount that looks written twice is neither doubled nor dropped", () => {
    const twice = [taken(250, "L", 2 * h), taken(250, "L", 2 * h + 600_000)];
    expect(tankStock(dipped, "north", twice, 3 * h)).toMatchObject({ low_L: 2_450, high_L: 2_800 });
    const apart = [taken(250, "L", 2 * h), taken(250, "L", 3 * h)];
    expect(tankStock(dipped, "north", apart, 4 * h)).toMatchObject({ low_L: 2_450, high_L: 2_550 });
  });

  test("is not known without a dip, nor where more was taken than there was", () => {
    expect(tankStock(tanks({}), "north", [], h)).toMatchObject({ why: "notDipped" });
    expect(tankStock(dipped, "north", [taken(3_200, "L", 2 * h)], 3 * h)).toMatchObject({
      why: "contradicts",
    });
    expect(tankStock(dipped, "elsewhere", [], 3 * h)).toMatchObject({ why: "notDescribed" });
  });
});

describe("fuel that came from a tank of the base", () => {
  const from = (facts: TankFacts, at_ms: number, fuelSampled: CraftState["fuelSampled"] = []) =>
    assessFuel(
      quill,
      { ...emptyCraft, fuelFilled: [filled({ baseTank: "north", at_ms })], fuelSampled },
      { tanks: facts },
    ).map(({ code, effect, facts: { bar } }) => [code, effect, bar ?? null]);
  const own = (at_ms: number) => [
    { entry: "own", by: "someone", at_ms, sample: "clear", words: "" } as const,
  ];

  test("counts as the tank stood when it was taken, until the craft's own sample was clear", () => {
    const failed = tanks({ checked: [checked("c", h, { sample: "water" }), checked("e", 5 * h)] });
    expect(from(failed, 2 * h)).toEqual([["fuel.tankBarred", "blocks", "sampleFailed"]]);
    expect(from(failed, 6 * h)).toEqual([]);
    expect(from(failed, 2 * h, own(3 * h))).toEqual([]);
    expect(from(tanks({ checked: [checked("c", h)] }), 30 * h)).toEqual([
      ["fuel.tankBarred", "unknown", "sampleOld"],
    ]);
    expect(from(noTanks, h)).toEqual([["fuel.tankBarred", "unknown", "notDescribed"]]);
  });

  test("is not known where the tank's next look failed, unless it was sampled after that", () => {
    const since = tanks({ checked: [checked("c", h), checked("e", 5 * h, { waterFound: true })] });
    expect(from(since, 2 * h)).toEqual([["fuel.tankFailedSince", "unknown", null]]);
    expect(from(since, 2 * h, own(3 * h))).toEqual([["fuel.tankFailedSince", "unknown", null]]);
    expect(from(since, 2 * h, own(6 * h))).toEqual([]);
  });

  test("bad news never helps: a sample that failed, a tank shut, a delivery, whenever they were", () => {
    const hour = fc.integer({ min: 0, max: 60 }).map((at) => at * h);
    const clear = fc.record({ at: hour, isClear: fc.boolean() });
    const worst = (facts: TankFacts, at_ms: number, sampled: readonly number[]): number =>
      Math.max(
        0,
        ...from(
          facts,
          at_ms,
          sampled.map((own_ms, index) => ({ ...own(own_ms)[0]!, entry: `own${index}` })),
        ).map(([, effect]) => ["advises", "limits", "unknown", "blocks"].indexOf(String(effect)) + 1),
      );
    fc.assert(
      fc.property(
        fc.array(clear, { maxLength: 6 }),
        fc.array(hour, { maxLength: 2 }),
        hour,
        hour,
        fc.constantFrom("failed", "shut", "delivered"),
        (checks, sampled, at_ms, news_ms, news) => {
          const checks_ = checks.map(({ at, isClear }, index) =>
            checked(`c${index}`, at, isClear ? {} : { sample: "water" }),
          );
          const before = tanks({ checked: checks_ });
          const after = {
            failed: { ...before, checked: [...checks_, checked("bad", news_ms, { sample: "water" })] },
            shut: { ...before, shut: [{ ...said("bad", news_ms), words: "leak" }] },
            delivered: { ...before, delivered: [{ ...delivery, at_ms: news_ms }] },
          }[news];
          return worst(after, at_ms, sampled) >= worst(before, at_ms, sampled);
        },
      ),
      { numRuns: 400 },
    );
  });

  test("is told to whoever stands at the base: what is barred, and what is low; neither forbids", () => {
    const told = (facts: TankFacts, now_ms: number) =>
      assessBaseTanks(facts, emptyCraft, { now_ms }).map(({ code, effect }) => `${code} ${effect}`);
    expect(told(tanks({}), h)).toEqual(["fuel.tankNotForUse advises"]);
    const low = tanks({ checked: [checked("c", h, { stock_L: 2_050 })] });
    expect(told(low, 2 * h)).toEqual(["fuel.tankLow advises"]);
    expect(told(tanks({ checked: [checked("c", h, { stock_L: 2_060 })] }), 2 * h)).toEqual([]);
    expect(told(tanks({ described: [{ ...described, inUse: false }] }), h)).toEqual([]);
  });
});
