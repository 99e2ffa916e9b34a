import { describe, expect, test } from "vitest";
import type { FuelFilled } from "../facts/call.ts";
import { emptyCraft } from "../facts/craft.ts";
import { quill } from "../reach/arbitrary-call.ts";
import { assessFuel } from "./assess-fuel.ts";

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
  assessFuel(quill, { ...emptyCraft, fuelFilled: all }).map(({ code, effect }) => [code, effect]);

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
    const [asked] = assessFuel(quill, {
      ...emptyCraft,
      fuelFilled: [filled({ amount: 250, unit: "kg", after_kg: 380 })],
    });
    expect(asked).toMatchObject({ code: "fuel.disagrees", effect: "unknown", facts: { perhaps: "L" } });
    expect(codesOf(filled({ density_kgL: 0.8, fuel_C: 70 }))).toEqual([["fuel.disagrees", "unknown"]]);
  });

  test("counts by the last filling; of two at one instant each", () => {
    expect(codesOf(filled({ sample: "water" }), filled({ entry: "two", at_ms: 2_000 }))).toEqual([]);
    expect(codesOf(filled({}), filled({ entry: "two", sample: null }))).toEqual([
      ["fuel.notSampled", "unknown"],
    ]);
  });
});
