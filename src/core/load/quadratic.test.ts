import * as fc from "fast-check";
import { describe, expect, test } from "vitest";
import { quadraticRoots } from "./quadratic.ts";

describe("the roots of a quadratic", () => {
  test("are those that it was built from, however far apart", () => {
    const root = fc.integer({ min: -(2 ** 20), max: 2 ** 20 });
    fc.assert(
      fc.property(root, root, fc.integer({ min: 1, max: 64 }), (one, other, scale) => {
        // Whole numbers below 2⁵³, so the coefficients are exact.
        const roots = quadraticRoots(scale * one * other, -scale * (one + other), scale);
        expect(roots).toHaveLength(2);
        expect(roots[0]).toBeCloseTo(Math.min(one, other), 9);
        expect(roots[1]).toBeCloseTo(Math.max(one, other), 9);
      }),
    );
  });

  test("keep the small root where the plain formula loses it", () => {
    const [small, large] = quadraticRoots(1, -1e9, 1);
    expect(small).toBeCloseTo(1e-9, 24);
    expect(large).toBeCloseTo(1e9, 6);
    expect((1e9 - Math.sqrt(1e18 - 4)) / 2).not.toBeCloseTo(1e-9, 12);
  });

  test("are found where the discriminant vanishes in plain arithmetic", () => {
    // Kahan's example: the roots are 1 and 1.000000028975958, the plain discriminant is 0.
    const [k2, halfK1, k0] = [94_906_265.625, 94_906_267, 94_906_268.375];
    expect(halfK1 * halfK1 - k0 * k2).toBe(0);
    const roots = quadraticRoots(k0, -2 * halfK1, k2);
    expect(roots[0]).toBeCloseTo(1, 12);
    expect(roots[1]).toBeCloseTo(1.000_000_028_975_958, 12);
  });

  test("of a straight line are one, of a constant none", () => {
    expect(quadraticRoots(-6, 3, 0)).toEqual([2]);
    expect(quadraticRoots(5, 0, 0)).toEqual([]);
    expect(quadraticRoots(0, 0, 0)).toEqual([]);
    expect(quadraticRoots(1, 0, 1)).toEqual([]);
    expect(quadraticRoots(0, 0, 4)).toEqual([0]);
    expect(quadraticRoots(0, -8, 4)).toEqual([0, 2]);
  });
});
