import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { fuelReadings, massReadings, unitQuestion } from "./unit-question.ts";

const patient = { min: 2, max: 250, usual: 80 };

describe("a number that may be in another unit", () => {
  test("is questioned when it cannot be in its own and can be in the other", () => {
    const { kg, lb } = massReadings(320);
    expect(unitQuestion(kg, [lb], patient)).toEqual({ kind: "question", written: kg, instead: lb });
  });

  test("is questioned when it fits better in the other, and left alone when it does not", () => {
    const typed = (value: number): string => {
      const { kg, lb } = massReadings(value);
      return unitQuestion(kg, [lb], patient).kind;
    };
    expect(typed(176)).toBe("question");
    expect(typed(95)).toBe("fits");
    expect(typed(60)).toBe("fits");
    const { kg, lb } = massReadings(80);
    expect(unitQuestion(lb, [kg], patient)).toEqual({ kind: "question", written: lb, instead: kg });
  });

  test("is implausible when no reading can be", () => {
    const { kg, lb } = massReadings(9000);
    expect(unitQuestion(kg, [lb], patient)).toEqual({ kind: "implausible" });
  });

  test("without a usual value is left alone when it can be", () => {
    const { kg, lb } = massReadings(176);
    expect(unitQuestion(kg, [lb], { min: 2, max: 250 })).toEqual({ kind: "fits" });
  });

  test("tells litres from kilograms by what the tanks hold and what was expected", () => {
    const { kg, L, lb, usgal } = fuelReadings(700, 0.8);
    expect(L.value).toBeCloseTo(560, 9);
    expect(usgal.value).toBeCloseTo(2119.83, 2);
    expect(unitQuestion(kg, [L, lb, usgal], { min: 0, max: 570, usual: 550 })).toEqual({
      kind: "question",
      written: kg,
      instead: L,
    });
  });

  test("never answers with another number: it fits, or it is a question that names both", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 1e5, noNaN: true }),
        fc.double({ min: 1, max: 1e4, noNaN: true }),
        (value, usual) => {
          const { kg, lb } = massReadings(value);
          const answer = unitQuestion(kg, [lb], { min: usual / 3, max: usual * 3, usual });
          const isPossible = value >= usual / 3 && value <= usual * 3;
          if (answer.kind === "fits") expect(isPossible).toBe(true);
          if (answer.kind === "implausible") expect(isPossible).toBe(false);
          if (answer.kind === "question") expect([answer.written, answer.instead]).toEqual([kg, lb]);
        },
      ),
      { numRuns: 500 },
    );
  });

  test("refuses numbers that are none and a density that is no fuel's", () => {
    const { kg, lb } = massReadings(Number.NaN);
    expect(() => unitQuestion(kg, [lb], patient)).toThrow("kg");
    expect(() => fuelReadings(100, 800)).toThrow("density");
  });
});
