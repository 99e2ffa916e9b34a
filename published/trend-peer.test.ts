// The line through points and the robust line beside independent packages, on readings as people write them:
// simple-statistics 7.12.1 (least squares, quantiles) and ml-regression-theil-sen 3.0.0 (its intercept is the median of
// y − slope x; of an even number of values it takes the lower middle as median, so that it is asked for odd ones, which are
// 3, 7, 11, … points at different hours). Student's t is held to R (regression.test.ts); a package for it would bring two hundred others.
import fc from "fast-check";
import { TheilSenRegression } from "ml-regression-theil-sen";
import { linearRegression, median as peerMedian } from "simple-statistics";
import { describe, expect, test } from "vitest";
import { median } from "../src/core/level/order-statistics.ts";
import { fitLine } from "../src/core/level/regression.ts";
import { senLine } from "../src/core/level/theil-sen.ts";

const points = fc
  .array(fc.tuple(fc.integer({ min: 0, max: 5000 }), fc.integer({ min: 0, max: 700 })), {
    minLength: 3,
    maxLength: 60,
  })
  .map((pairs) => pairs.map(([tenths, level]) => [1000 + tenths / 10, level / 100] as const))
  .filter((pairs) => new Set(pairs.map(([x]) => x)).size > 1);

const split = (pairs: readonly (readonly [number, number])[]): [number[], number[]] => [
  pairs.map(([x]) => x),
  pairs.map(([, y]) => y),
];

describe("beside independent packages", () => {
  test("least squares give the same line", () => {
    fc.assert(
      fc.property(points, (pairs) => {
        const { m, b } = linearRegression(pairs.map((pair) => [...pair]));
        const { slope, intercept } = fitLine(...split(pairs), true);
        // The package sums squares as they are, which far from zero costs it digits.
        expect(Math.abs(m - slope)).toBeLessThan(1e-6 * Math.max(1, Math.abs(slope)));
        expect(Math.abs(b - intercept)).toBeLessThan(1e-3 * Math.max(1, Math.abs(intercept)));
      }),
      { numRuns: 300 },
    );
  });

  test("the robust line is the same", () => {
    fc.assert(
      fc.property(points, (pairs) => {
        const apart = [...new Map(pairs).entries()];
        const [x, y] = split(apart.slice(0, apart.length - ((apart.length + 1) % 4)));
        fc.pre(x.length >= 3);
        const peer = new TheilSenRegression(x, y);
        const ours = senLine(x, y);
        expect(ours.slope).toBeCloseTo(peer.slope, 10);
        expect(ours.intercept).toBeCloseTo(peer.intercept, 7);
      }),
      { numRuns: 300 },
    );
  });

  test("the median is the same", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -1e6, max: 1e6 }), { minLength: 1 }), (list) => {
        expect(median(Float64Array.from(list))).toBe(peerMedian(list));
      }),
      { numRuns: 300 },
    );
  });
});
