import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { ewmaChart } from "./ewma-chart.ts";
import { normalQuantile, normalTail } from "./normal.ts";
import { meanRunToFalseSignal, riseBegan, tabularCusum } from "./tabular-cusum.ts";

const lists = fc.array(fc.double({ min: -9, max: 9, noNaN: true }), { minLength: 1, maxLength: 60 });
const plan = { target: 0, slack: 0.5, decision: 5 };

describe("the CUSUM", () => {
  test("never falls when its newest value is higher, capped or not", () => {
    fc.assert(
      fc.property(lists, fc.double({ min: 0, max: 5, noNaN: true }), fc.boolean(), (list, more, capped) => {
        const given = capped ? { ...plan, most: 10 } : plan;
        const higher = [...list.slice(0, -1), list.at(-1)! + more];
        expect(tabularCusum(higher, given).high.at(-1)!).toBeGreaterThanOrEqual(
          tabularCusum(list, given).high.at(-1)!,
        );
      }),
      { numRuns: 300 },
    );
  });

  test("is mirrored by values of the other sign", () => {
    fc.assert(
      fc.property(lists, (list) => {
        const turned = list.map((value) => -value);
        expect(tabularCusum(turned, plan).low).toEqual(tabularCusum(list, plan).high);
        expect(tabularCusum(turned, plan).signals).toEqual(tabularCusum(list, plan).signals);
      }),
      { numRuns: 200 },
    );
  });

  test("says since when it rises: after its last zero", () => {
    expect(riseBegan([0, 1, 0, 2, 3])).toBe(3);
    expect(riseBegan([1, 2])).toBe(0);
    expect(riseBegan([1, 0])).toBe(2);
    expect(riseBegan([])).toBe(0);
  });

  test("without an allowance a false signal takes about the square of the reach", () => {
    expect(meanRunToFalseSignal(0, 5)).toBeCloseTo(6.166 ** 2, 9);
    expect(meanRunToFalseSignal(1e-4, 5)).toBeCloseTo(6.166 ** 2, 1);
  });

  test.each([
    ["a negative allowance", () => tabularCusum([1], { ...plan, slack: -1 })],
    ["a decision that is no number", () => tabularCusum([1], { ...plan, decision: Number.NaN })],
    ["a value that is no number", () => tabularCusum([Number.NaN], plan)],
  ])("refuses %s", (_, compute) => {
    expect(compute).toThrow(RangeError);
  });
});

describe("the EWMA chart", () => {
  test("with all weight on the newest value is the values themselves", () => {
    fc.assert(
      fc.property(lists, (list) => {
        expect(ewmaChart(list, { target: 0, sd: 1, weight: 1, width: 3 }).average).toEqual(
          list.map((value) => value + 0),
        );
      }),
      { numRuns: 100 },
    );
  });

  test("stays between the least and the greatest of its target and values", () => {
    fc.assert(
      fc.property(lists, fc.double({ min: 0.05, max: 1, noNaN: true }), (list, weight) => {
        const { average } = ewmaChart(list, { target: 0, sd: 1, weight, width: 3 });
        const [least, most] = [Math.min(0, ...list), Math.max(0, ...list)];
        for (const value of average) {
          expect(value).toBeGreaterThanOrEqual(least - 1e-9);
          expect(value).toBeLessThanOrEqual(most + 1e-9);
        }
      }),
      { numRuns: 200 },
    );
  });

  test.each([
    ["no weight", () => ewmaChart([1], { target: 0, sd: 1, weight: 0, width: 3 })],
    ["a weight above 1", () => ewmaChart([1], { target: 0, sd: 1, weight: 1.2, width: 3 })],
    ["a negative sd", () => ewmaChart([1], { target: 0, sd: -1, weight: 0.2, width: 3 })],
    ["a value that is no number", () => ewmaChart([Number.NaN], { target: 0, sd: 1, weight: 0.2, width: 3 })],
  ])("refuses %s", (_, compute) => {
    expect(compute).toThrow(RangeError);
  });
});

describe("the normal distribution", () => {
  test("gives back the probability of each quantile, far out too", () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-300, max: 0.4999, noNaN: true }), (tail) => {
        expect(normalTail(-normalQuantile(tail)) / tail).toBeCloseTo(1, 11);
      }),
      { numRuns: 500 },
    );
    expect(normalQuantile(0.5)).toBe(0);
    expect(normalTail(0)).toBe(0.5);
    expect(normalTail(60)).toBe(0);
    expect(normalTail(-60)).toBe(1);
  });

  test("its tail falls without a step where one form hands over to the other", () => {
    expect(normalTail(2 - 1e-12) / normalTail(2)).toBeCloseTo(1, 10);
    expect(normalTail(2 - 1e-12)).toBeGreaterThan(normalTail(2 + 1e-12));
  });

  test.each([
    ["a probability of 0", () => normalQuantile(0)],
    ["a probability above 1", () => normalQuantile(1.5)],
    ["a z without end", () => normalTail(Number.POSITIVE_INFINITY)],
  ])("refuses %s", (_, compute) => {
    expect(compute).toThrow(RangeError);
  });
});
