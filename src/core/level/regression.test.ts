import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { fitLine, predictAt, slopeInterval } from "./regression.ts";

const values = fc.double({ min: -1000, max: 1000, noNaN: true });
const points = fc
  .array(fc.tuple(values, values), { minLength: 4, maxLength: 30 })
  .filter((pairs) => Math.max(...pairs.map(([x]) => x)) - Math.min(...pairs.map(([x]) => x)) > 1);
const split = (pairs: readonly (readonly [number, number])[]): [number[], number[]] => [
  pairs.map(([x]) => x),
  pairs.map(([, y]) => y),
];

describe("a fitted line", () => {
  test("is the line that the points lie on, with nothing left over", () => {
    const fit = fitLine([1, 2, 5, 9], [5, 7, 13, 21], true);
    expect(fit).toMatchObject({ slope: 2, intercept: 3, slopeSd: 0, interceptSd: 0, residualSd: 0, r2: 1 });
    expect(predictAt(fit, 100, 0.99)).toEqual({ value: 203, low: 203, high: 203 });
  });

  test("leaves residuals that cancel, and that no other slope makes smaller", () => {
    fc.assert(
      fc.property(points, fc.double({ min: -0.1, max: 0.1, noNaN: true }), (pairs, other) => {
        const [x, y] = split(pairs);
        const { slope, intercept } = fitLine(x, y, true);
        const squares = (b: number): number => {
          const mean = (list: number[]): number => list.reduce((sum, v) => sum + v, 0) / list.length;
          const a = mean(y) - b * mean(x);
          return x.reduce((sum, xi, i) => sum + (y[i]! - a - b * xi) ** 2, 0);
        };
        const residuals = x.map((xi, i) => y[i]! - intercept - slope * xi);
        expect(Math.abs(residuals.reduce((sum, r) => sum + r, 0))).toBeLessThan(1e-7);
        expect(squares(slope)).toBeLessThanOrEqual(squares(slope + other) * (1 + 1e-9) + 1e-9);
      }),
      { numRuns: 300 },
    );
  });

  test("keeps its slope and its spread when all hours start somewhere else", () => {
    fc.assert(
      fc.property(points, fc.integer({ min: -20_000, max: 20_000 }), (pairs, from) => {
        const whole = pairs.map(([x, y]) => [Math.round(x * 8), y] as const);
        fc.pre(new Set(whole.map(([x]) => x)).size > 2);
        const [x, y] = split(whole);
        const here = fitLine(x, y, true);
        const there = fitLine(
          x.map((v) => v + from),
          y,
          true,
        );
        expect(there.slope).toBeCloseTo(here.slope, 10);
        expect(there.slopeSd).toBeCloseTo(here.slopeSd, 10);
        expect(there.residualSd).toBeCloseTo(here.residualSd, 10);
      }),
      { numRuns: 300 },
    );
  });

  test("stays exact where hours are many and close together", () => {
    // Straight-forward sums lose every digit here: x² is 1e20, its spread 1e-2.
    const x = [0, 0.0625, 0.125, 0.1875].map((step) => 1e10 + step);
    const fit = fitLine(x, [0, 1, 2, 3.5], true);
    expect(fit.slope).toBeCloseTo(18.4, 9);
    expect(fit.residualSd).toBeCloseTo(Math.sqrt(0.075 / 2), 9);
  });

  test("of readings that do not vary is level, and there is nothing to explain", () => {
    expect(fitLine([0.1, 0.2, 0.7], [0.3, 0.3, 0.3], true)).toMatchObject({
      slope: 0,
      intercept: 0.3,
      r2: null,
    });
  });

  test("through zero has no intercept to be unsure of", () => {
    const fit = fitLine([1, 2, 3], [2, 4.1, 5.9], false);
    expect(fit.intercept).toBe(0);
    expect(fit.interceptSd).toBeNull();
    expect(fit.slope).toBeCloseTo((2 + 8.2 + 17.7) / 14, 12);
  });

  test("keeps huge and tiny numbers finite", () => {
    for (const scale of [1e-300, 1e-150, 1e150, 1e300]) {
      const { slope, residualSd } = fitLine([1, 2, 3, 5], [scale, 2 * scale, 4 * scale, 5 * scale], true);
      expect(slope / scale).toBeCloseTo(fitLine([1, 2, 3, 5], [1, 2, 4, 5], true).slope, 12);
      expect(Number.isFinite(residualSd)).toBe(true);
    }
  });
});

describe("a prediction", () => {
  test("lies in its interval; more confidence or more distance never narrows it; the line is surer than a point", () => {
    fc.assert(
      fc.property(
        points,
        values,
        fc.double({ min: 0.5, max: 0.98, noNaN: true }),
        (pairs, at, confidence) => {
          const fit = fitLine(...split(pairs), true);
          const width = (x: number, c: number, of: "point" | "mean" = "point"): number => {
            const { value, low, high } = predictAt(fit, x, c, of);
            expect(low).toBeLessThanOrEqual(value);
            expect(high).toBeGreaterThanOrEqual(value);
            return high - low;
          };
          const mean = pairs.reduce((sum, [x]) => sum + x, 0) / pairs.length;
          const slack = 1e-6;
          expect(width(at, confidence + 0.01)).toBeGreaterThanOrEqual(width(at, confidence) - slack);
          expect(width(mean + 2 * (at - mean), confidence)).toBeGreaterThanOrEqual(
            width(at, confidence) - slack,
          );
          expect(width(at, confidence, "mean")).toBeLessThanOrEqual(width(at, confidence) + slack);
        },
      ),
      { numRuns: 300 },
    );
  });

  test("of the slope has the slope in its middle", () => {
    const fit = fitLine([1, 2, 3, 4], [1, 2.2, 2.9, 4.1], true);
    const { value, low, high } = slopeInterval(fit, 0.9);
    expect(value).toBe(fit.slope);
    expect((low + high) / 2).toBeCloseTo(value, 12);
    // t(0.95, 2) = 2.919986 (R 4.2.2 qt).
    expect((high - low) / 2 / fit.slopeSd).toBeCloseTo(2.91998558035372, 9);
  });
});

describe("a fit refuses, and names what", () => {
  test.each([
    ["lists of different length", () => fitLine([1, 2, 3], [1, 2], true), "y"],
    ["two points for two coefficients", () => fitLine([1, 2], [1, 2], true), "x"],
    ["one point for one", () => fitLine([1], [1], false), "x"],
    ["x that do not vary", () => fitLine([2, 2, 2], [1, 2, 3], true), "x"],
    [
      "x that do not vary by a hair",
      () => fitLine([0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1], [1, 2, 3, 4, 5, 6, 7], true),
      "x",
    ],
    ["nothing but zeros through zero", () => fitLine([0, 0], [1, 2], false), "x"],
    ["a reading that is no number", () => fitLine([1, 2, 3], [1, Number.NaN, 3], true), "y[1]"],
    ["hours without end", () => fitLine([1, 2, Number.POSITIVE_INFINITY], [1, 2, 3], true), "x[2]"],
    ["a prediction nowhere", () => predictAt(fitLine([1, 2, 3], [1, 2, 4], true), Number.NaN, 0.9), "x"],
    ["a confidence in per cent", () => predictAt(fitLine([1, 2, 3], [1, 2, 4], true), 1, 90), "confidence"],
  ])("%s", (_, compute, path) => {
    expect(compute).toThrow(path);
  });
});
