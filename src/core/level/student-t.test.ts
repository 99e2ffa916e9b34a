import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { studentCdf, studentInterval, studentQuantile } from "./student-t.ts";

const degrees = fc.oneof(fc.integer({ min: 1, max: 200 }), fc.double({ min: 1, max: 1e5, noNaN: true }));
const probabilities = fc.double({ min: 1e-9, max: 1 - 1e-9, noNaN: true });

describe("Student's t", () => {
  test("of one and two degrees of freedom has its closed forms, far out too", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 1 - 1e-12, noNaN: true }), (confidence) => {
        const one = Math.tan((Math.PI / 2) * confidence);
        // Near 1 the tangent itself loses digits; its tail is the cotangent of what is missing.
        const tail = 1 - confidence;
        const far = tail < 0.5 ? 1 / Math.tan((Math.PI / 2) * tail) : one;
        expect(studentInterval(confidence, 1) / far).toBeCloseTo(1, 12);
        // confidence / √(2 p (1 − p)) with p = (1 + confidence)/2.
        const two = (confidence * Math.SQRT2) / Math.sqrt(tail * (1 + confidence));
        expect(studentInterval(confidence, 2) / two).toBeCloseTo(1, 12);
      }),
      { numRuns: 500 },
    );
  });

  test("of many degrees of freedom is nearly the normal distribution", () => {
    // Normal quantiles: R 4.2.2 qnorm.
    expect(studentQuantile(0.975, 1e6)).toBeCloseTo(1.959963984540054, 5);
    expect(studentQuantile(0.8, 1e6)).toBeCloseTo(0.841621233572914, 5);
  });

  test("gives the probability back from its quantile", () => {
    fc.assert(
      fc.property(probabilities, degrees, (p, df) => {
        const back = studentCdf(studentQuantile(p, df), df);
        // The logarithms of the gamma functions cancel, and what they leave grows with the degrees of freedom.
        expect(Math.abs(back - p)).toBeLessThanOrEqual(1e-13 + df * 1e-17);
      }),
      { numRuns: 500 },
    );
  });

  test("is symmetric, and grows with the probability", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 0.98, noNaN: true }), degrees, (p, df) => {
        expect(studentQuantile(1 - p, df) + studentQuantile(p, df)).toBeCloseTo(0, 9);
        expect(studentQuantile(p + 0.01, df)).toBeGreaterThan(studentQuantile(p, df));
      }),
      { numRuns: 300 },
    );
    expect(studentQuantile(0.5, 7)).toBe(0);
    expect(studentCdf(0, 7)).toBe(0.5);
  });

  test("needs more room with fewer degrees of freedom", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.5, max: 0.999, noNaN: true }),
        fc.integer({ min: 1, max: 500 }),
        (confidence, df) => {
          expect(studentInterval(confidence, df)).toBeGreaterThan(studentInterval(confidence, df + 1));
        },
      ),
      { numRuns: 300 },
    );
  });

  test.each([
    ["a confidence of 1", () => studentInterval(1, 5), "confidence"],
    ["a confidence of 0", () => studentInterval(0, 5), "confidence"],
    ["a confidence in per cent", () => studentInterval(95, 5), "confidence"],
    ["a probability that is no number", () => studentQuantile(Number.NaN, 5), "p"],
    ["no degree of freedom", () => studentInterval(0.95, 0), "degreesOfFreedom"],
    ["a t without end", () => studentCdf(Number.POSITIVE_INFINITY, 5), "t"],
  ])("refuses %s", (_, compute, path) => {
    expect(compute).toThrow(path);
  });
});
