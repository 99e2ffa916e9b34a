import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { type CraftState, emptyCraft, type ReadingFact } from "../facts/craft.ts";
import type { Sheet } from "../sheet/schema.ts";
import { assessPowerCheck } from "./assess-power-check.ts";

const quill = JSON.parse(
  readFileSync(new URL("../../../demo/sheet/quill.json", import.meta.url), "utf8"),
) as Sheet;
const now_ms = 1_800_000_000_000;

function margin(gauge: string, value: number, at_ms: number, entry = `${gauge} ${value}`): ReadingFact {
  return {
    entry,
    by: "someone",
    at_ms,
    gauge,
    value,
    unit: "C",
    typed: String(value),
    walk: null,
    conditions: {},
    hours_h: 100,
  };
}

const stateOf = (...readings: readonly ReadingFact[]): CraftState => ({
  ...emptyCraft,
  readings: Object.fromEntries(Map.groupBy(readings, ({ gauge }) => gauge)),
});
const good = margin("powerMarginRight", 30, now_ms - 1000);
const codesOf = (state: CraftState, sheet = quill) =>
  assessPowerCheck(sheet, state, { now_ms }).map(({ code, effect, facts }) => [code, effect, facts["gauge"]]);

describe("the power checks of a craft", () => {
  test("never recorded are not known, one line for each engine", () => {
    expect(codesOf(emptyCraft)).toEqual([
      ["power.checkMissing", "unknown", "powerMarginLeft"],
      ["power.checkMissing", "unknown", "powerMarginRight"],
    ]);
  });

  test("at or above zero say nothing", () => {
    expect(codesOf(stateOf(margin("powerMarginLeft", 0, now_ms - 5000), good))).toEqual([]);
  });

  test("below zero block what needs full power, with the entry", () => {
    const low = margin("powerMarginLeft", -2, now_ms - 5000, "entry-1");
    const [reason] = assessPowerCheck(quill, stateOf(low, good), { now_ms });
    expect(reason).toMatchObject({
      code: "power.checkBelow",
      effect: "blocks",
      evidence: ["entry-1"],
      source: { kind: "sheet", path: "charts.powerCheck" },
    });
    expect(reason!.operations).toEqual(quill.operations.map(({ id }) => id));
  });

  test("do not touch an operation that only keeps to operating limits", () => {
    const operations = quill.operations.map((one, i) =>
      i === 0 ? { ...one, needs: { ...one.needs, power: ["operatingLimit" as const] } } : one,
    );
    const low = margin("powerMarginLeft", -2, now_ms - 5000);
    const [reason] = assessPowerCheck({ ...quill, operations }, stateOf(low, good), { now_ms });
    expect(reason!.operations).not.toContain(quill.operations[0]!.id);
    const none = operations.map((one) => ({ ...one, needs: { ...one.needs, power: [] } }));
    expect(codesOf(stateOf(low), { ...quill, operations: none })).toEqual([]);
  });

  test("the latest counts, and of two recorded apart the lower, whatever comes first", () => {
    const old = margin("powerMarginLeft", -9, now_ms - 9000);
    const one = margin("powerMarginLeft", 4, now_ms - 5000);
    const other = margin("powerMarginLeft", -1, now_ms - 5000);
    expect(codesOf(stateOf(old, one, good))).toEqual([]);
    for (const pair of [
      [one, other],
      [other, one],
    ])
      expect(codesOf(stateOf(...pair, good))).toEqual([["power.checkBelow", "blocks", "powerMarginLeft"]]);
  });

  test("a good margin claimed of tomorrow does not cure a bad one of today", () => {
    const low = margin("powerMarginLeft", -1, now_ms - 5000);
    const tomorrow = margin("powerMarginLeft", 40, now_ms + 86_400_000);
    expect(codesOf(stateOf(low, tomorrow, good))).toEqual([
      ["power.checkBelow", "blocks", "powerMarginLeft"],
    ]);
  });
});
