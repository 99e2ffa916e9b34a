import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { median } from "./order-statistics.ts";
import { robustScatter, senInterval, senLine } from "./theil-sen.ts";

const values = fc.double({ min: -1000, max: 1000, noNaN: true });
const points = fc
  .array(fc.tuple(fc.integer({ min: 0, max: 400 }), values), { minLength: 3, maxLength: 40 })
  .filter((pairs) => new Set(pairs.map(([x]) => x)).size > 1);
const split = (pairs: readonly (readonly [number, number])[]): [number[], number[]] => [
  pairs.map(([x]) => x),
  pairs.map(([, y]) => y),
];

describe("the median", () => {
  test("is what sorting gives", () => {
    fc.assert(
      fc.property(fc.array(values, { minLength: 1, maxLength: 60 }), (list) => {
        const sorted = list.toSorted((a, b) => a - b);
        const low = sorted[(list.length - 1) >> 1]!;
        const high = sorted[list.length >> 1]!;
        expect(median(Float64Array.from(list))).toBe((low + high) / 2);
      }),
      { numRuns: 500 },
    );
  });
});

describe("the robust line", () => {
  test("goes through points on a line, whatever becomes of a fifth of them", () => {
    fc.assert(
      fc.property(fc.array(values, { minLength: 4, maxLength: 4 }), (wild) => {
        const x = Array.from({ length: 20 }, (_, index) => index);
        const y = x.map((at) => (at % 5 === 3 ? wild[(at - 3) / 5]! : 7 - at / 4));
        expect(senLine(x, y).slope).toBeCloseTo(-0.25, 12);
        expect(senLine(x, y).intercept).toBeCloseTo(7, 12);
        expect(robustScatter(x, y, senLine(x, y))).toBeCloseTo(0, 12);
      }),
      { numRuns: 200 },
    );
  });

  test("is the same for the points in any order, and turns with them", () => {
    fc.assert(
      fc.property(points, fc.nat(), (pairs, seed) => {
        const line = senLine(...split(pairs));
        const turned = pairs.map((_, index) => pairs[(index * 7 + seed) % pairs.length]!);
        fc.pre(pairs.length % 7 !== 0);
        expect(senLine(...split(turned))).toEqual(line);
        const [x, y] = split(pairs);
        const steeper = senLine(
          x,
          y.map((value, index) => value + 3 * x[index]!),
        );
        expect(steeper.slope).toBeCloseTo(line.slope + 3, 9);
      }),
      { numRuns: 200 },
    );
  });

  test("lies inside its interval, which widens with the confidence", () => {
    fc.assert(
      fc.property(points, (pairs) => {
        const [x, y] = split(pairs);
        const narrow = senInterval(x, y, 0.8);
        const wide = senInterval(x, y, 0.99);
        expect(narrow.low).toBeLessThanOrEqual(narrow.value);
        expect(narrow.high).toBeGreaterThanOrEqual(narrow.value);
        expect(wide.low).toBeLessThanOrEqual(narrow.low);
        expect(wide.high).toBeGreaterThanOrEqual(narrow.high);
        expect(narrow.value).toBe(senLine(x, y).slope);
      }),
      { numRuns: 200 },
    );
  });

  test.each([
    ["lists of different length", () => senLine([1, 2], [1])],
    ["one point", () => senLine([1], [1])],
    ["equal x", () => senLine([1, 1, 1], [1, 2, 3])],
    ["a y that is no number", () => senLine([1, 2], [1, Number.NaN])],
    ["a confidence in per cent", () => senInterval([1, 2, 3], [1, 2, 3], 95)],
    ["more points than it can hold the pairs of", () => senLine(Array(3001).fill(0), Array(3001).fill(0))],
  ])("refuses %s", (_, compute) => {
    expect(compute).toThrow(RangeError);
  });
});
