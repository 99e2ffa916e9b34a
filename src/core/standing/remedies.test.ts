import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { smallSheet } from "../../../demo/sheet/small-sheet.ts";
import { clearances } from "../facts/reason.ts";
import type { Reason } from "../facts/reason.ts";
import type { Sheet } from "../sheet/schema.ts";
import { compareVerdicts, isActive, standingAt, touches } from "./combine.ts";
import { keptUp } from "./keep-up.ts";
import { whatHelps } from "./remedies.ts";

const horizon = 100;
const gauges = ["oil", "fuel", "bottle"];
const sheet: Sheet = {
  ...smallSheet,
  items: [
    ...smallSheet.items.map(({ reads: _reads, ...item }) => item),
    ...gauges.slice(0, 2).map((gauge) => {
      const { applies: _applies, ...item } = smallSheet.items[0]!;
      return { ...item, id: `read-${gauge}`, reads: gauge, walks: ["full" as const] };
    }),
  ],
};

type Part = Pick<Reason, "code" | "remedy" | "facts">;

const parts: readonly Part[] = [
  ...["cowl", "cap"].map((closure): Part => ({
    code: "closure.open",
    remedy: { code: "closure.close", clearance: "minute" },
    facts: { closure },
  })),
  ...gauges.map((gauge): Part => ({
    code: "level.missing",
    remedy: { code: "level.read", clearance: "minute" },
    facts: { gauge },
  })),
  ...gauges.map((gauge): Part => ({
    code: "level.notKnown",
    remedy: { code: "level.readAgain", clearance: "minute" },
    facts: { gauge },
  })),
  { code: "level.stale", remedy: { code: "level.read", clearance: "minute" }, facts: { gauges: "oil fuel" } },
  { code: "walk.due", remedy: { code: "walk.doFull", clearance: "ten" }, facts: {} },
  { code: "load.notSaid", remedy: { code: "load.say", clearance: "ten" }, facts: {} },
  { code: "load.massOutside", remedy: { code: "load.change", clearance: "ten" }, facts: {} },
  { code: "weather.notObserved", remedy: { code: "weather.fetch", clearance: "minute" }, facts: {} },
  { code: "weather.notKnown", remedy: { code: "weather.fetch", clearance: "minute" }, facts: {} },
  { code: "weather.windNotKnown", remedy: { code: "weather.observe", clearance: "minute" }, facts: {} },
  { code: "light.night", remedy: { code: "light.wait", clearance: "time" }, facts: {} },
  {
    code: "finding.grounds",
    remedy: { code: "finding.toEngineer", clearance: "someone" },
    facts: { finding: "f1" },
  },
];

const reason: fc.Arbitrary<Reason> = fc
  .record({
    part: fc.constantFrom(...parts),
    effect: fc.constantFrom("blocks", "unknown", "blocks", "advises" as const),
    operations: fc.constantFrom<Reason["operations"]>("all", ["day"], ["night"]),
    from: fc.option(fc.integer({ min: -10, max: horizon }), { freq: 1 }),
    length: fc.option(fc.integer({ min: 1, max: 60 })),
  })
  .map(({ part, effect, operations, from, length }): Reason => ({
    ...part,
    effect,
    operations,
    from_ms: from,
    until_ms: length === null ? null : (from ?? 0) + length,
    source: { kind: "law", law: "test" },
    evidence: [],
  }));

/** What one thing to do clears, told again from the words of the remedies, one by one. */
function clears(key: string, { code, remedy, facts }: Reason): boolean {
  const [doing, target] = key.split(" ");
  const own = remedy.code === doing && (target === undefined || Object.values(facts).includes(target));
  if (own) return true;
  if (doing === "walk.doFull") {
    const read = String(facts["gauges"] ?? facts["gauge"] ?? "none").split(" ");
    return (
      remedy.code === "closure.close" ||
      (remedy.code === "level.read" && read.every((gauge) => gauge === "oil" || gauge === "fuel"))
    );
  }
  if (doing === "level.readAgain") return remedy.code === "level.read" && facts["gauge"] === target;
  if (doing === "load.change") return remedy.code === "load.say";
  return doing === "weather.observe" && code === "weather.notObserved";
}

const everything = [
  "closure.close cowl",
  "closure.close cap",
  ...gauges.flatMap((gauge) => [`level.read ${gauge}`, `level.readAgain ${gauge}`]),
  "level.read oil fuel",
  "walk.doFull",
  "load.say",
  "load.change",
  "weather.fetch",
  "weather.observe",
  "finding.toEngineer f1",
];

/** The size of the smallest set of things to do, by trying every set of each size. */
function smallestSize(open: readonly Reason[]): number | null {
  // A stale reading of two gauges is its own thing to read.
  const covers = (key: string, one: Reason): boolean =>
    key === "level.read oil fuel" ? one.code === "level.stale" : clears(key, one);
  const masks = open.map((one) =>
    everything.reduce((mask, key, index) => (covers(key, one) ? mask | (1 << index) : mask), 0),
  );
  let best: number | null = null;
  for (let set = 0; set < 1 << everything.length; set += 1) {
    if (masks.some((mask) => (mask & set) === 0)) continue;
    const size = set.toString(2).replaceAll("0", "").length;
    if (best === null || size < best) best = size;
  }
  return best;
}

describe("what would help", () => {
  test("is as few things as any set that clears all, at the first instant that needs no waiting", () => {
    let several = 0;
    fc.assert(
      fc.property(fc.array(reason, { minLength: 2, maxLength: 9 }), (reasons) => {
        const forbidding = reasons.filter(
          (one) => touches(one, "day") && (one.effect === "blocks" || one.effect === "unknown"),
        );
        const help = whatHelps(reasons, "day", sheet, 0, horizon);
        const waited = (at: number) =>
          forbidding.some((one) => isActive(one, at) && one.remedy.code === "light.wait");
        const earliest = Array.from({ length: horizon }, (_, at) => at).find((at) => !waited(at));
        expect(help?.at_ms ?? null).toBe(earliest ?? null);
        if (help === null) return;
        const open = forbidding.filter((one) => isActive(one, help.at_ms));
        expect(help.remedies.length).toBe(smallestSize(open));
        const cleared = new Set(help.clears.flat());
        expect(open.every((one) => cleared.has(one))).toBe(true);
        const left = reasons.filter((one) => !cleared.has(one));
        expect(
          compareVerdicts(standingAt(left, "day", help.at_ms).verdict, "withinLimits"),
        ).toBeLessThanOrEqual(0);
        if (help.remedies.length > 1) several += 1;
      }),
      { numRuns: 120 },
    );
    expect(several).toBeGreaterThan(20);
  });

  test("does not depend on the order of the reasons", () => {
    fc.assert(
      fc.property(fc.array(reason, { maxLength: 14 }), (reasons) => {
        const keys = (list: readonly Reason[]) => {
          const help = whatHelps(list, "day", sheet, 0, horizon);
          return help?.remedies.map(({ code, target }) => `${code} ${target?.id ?? ""}`);
        };
        expect(keys(reasons.toReversed())).toEqual(keys(reasons));
      }),
      { numRuns: 100 },
    );
  });

  const standing = (part: Part, more: Partial<Reason> = {}): Reason => ({
    ...part,
    effect: "blocks",
    operations: "all",
    from_ms: null,
    until_ms: null,
    source: { kind: "law", law: "test" },
    evidence: [],
    ...more,
  });
  const named = (code: string, facts: Reason["facts"] = {}): Part =>
    parts.find(
      (one) => one.code === code && Object.entries(facts).every(([key, value]) => one.facts[key] === value),
    )!;

  test("names one walk instead of two caps and a reading, and one cap where that is all", () => {
    const cowl = standing(named("closure.open", { closure: "cowl" }));
    const cap = standing(named("closure.open", { closure: "cap" }));
    const oil = standing(named("level.missing", { gauge: "oil" }));
    const all = whatHelps([cowl, cap, oil], "day", sheet, 0, horizon)!;
    expect(all.remedies.map(({ code }) => code)).toEqual(["walk.doFull"]);
    expect(all.clears[0]).toHaveLength(3);
    expect(whatHelps([cowl], "day", sheet, 0, horizon)!.remedies).toEqual([
      { code: "closure.close", clearance: "minute", target: { fact: "closure", id: "cowl" } },
    ]);
  });

  test("waits for day with what else is to be done by then, and is nothing where night has no end in sight", () => {
    const night = standing(named("light.night"), { until_ms: 60 });
    const due = standing(named("walk.due"), { from_ms: 30 });
    const help = whatHelps([night, due], "day", sheet, 0, horizon)!;
    expect(help.at_ms).toBe(60);
    expect(help.remedies.map(({ code }) => code)).toEqual(["walk.doFull"]);
    expect(whatHelps([standing(named("light.night"))], "day", sheet, 0, horizon)).toBeNull();
    expect(whatHelps([], "day", sheet, 0, horizon)).toEqual({ at_ms: 0, remedies: [], clears: [] });
  });

  test("stays quick with many matters at once", () => {
    const many = Array.from({ length: 24 }, (_, index) =>
      standing({
        ...named("level.missing", { gauge: "oil" }),
        facts: { gauge: index % 2 === 0 ? "oil" : `g${index}` },
      }),
    );
    const begun = performance.now();
    expect(
      whatHelps([...many, ...parts.slice(0, 8).map((part) => standing(part))], "day", sheet, 0, horizon),
    ).not.toBeNull();
    expect(performance.now() - begun).toBeLessThan(2_000);
  });
});

describe("a standing that is kept up", () => {
  test("leaves out only what is not known yet, later, and quickly renewed", () => {
    const list = clearances.flatMap((clearance) =>
      (["unknown", "blocks"] as const).flatMap((effect) =>
        [null, 0, 5].map((from_ms): Reason => ({
          ...parts[0]!,
          effect,
          operations: "all",
          from_ms,
          until_ms: null,
          source: { kind: "law", law: "test" },
          evidence: [],
          remedy: { code: "closure.close", clearance },
        })),
      ),
    );
    const left = new Set(list).difference(new Set(keptUp(list, 0)));
    expect([...left].map(({ effect, from_ms, remedy }) => [effect, from_ms, remedy.clearance])).toEqual([
      ["unknown", 5, "minute"],
      ["unknown", 5, "ten"],
    ]);
  });
});
