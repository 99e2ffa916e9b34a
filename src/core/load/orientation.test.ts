import * as fc from "fast-check";
import { orient2d } from "robust-predicates";
import { describe, expect, test } from "vitest";
import { orientation, signOfProductSum } from "./orientation.ts";

// robust-predicates counts clockwise as positive.
const oracle = (...points: Parameters<typeof orientation>): number => -Math.sign(orient2d(...points));

const coarse = fc.integer({ min: -8, max: 8 }).map((n) => n / 4);
/** A value moved by a few units in the last place, often by none. */
const hair = fc
  .tuple(coarse, fc.constantFrom(0, 0, 0, -3, -1, 1, 2))
  .map(([value, ulps]) => value + ulps * Math.abs(value) * 2 ** -52);
/** Three points that are within rounding of one line, and often on it. */
const nearLine = fc
  .tuple(hair, hair, coarse, coarse, fc.integer({ min: -4, max: 4 }), fc.constantFrom(0, 0, 2 ** -52))
  .map(([ax, ay, dx, dy, n, off]): Parameters<typeof orientation> => [
    ax,
    ay,
    ax + dx,
    ay + dy,
    ax + n * dx + off,
    ay + n * dy,
  ]);

describe("orientation", () => {
  test("agrees with robust-predicates 3.0.3 on points within rounding of a line", () => {
    let onLine = 0;
    fc.assert(
      fc.property(nearLine, (points) => {
        const sign = orientation(...points);
        expect(sign).toBe(oracle(...points) + 0);
        if (sign === 0) onLine += 1;
      }),
      { numRuns: 5000 },
    );
    expect(onLine).toBeGreaterThan(500);
    expect(onLine).toBeLessThan(4900);
  });

  test("agrees with robust-predicates 3.0.3 on any points", () => {
    const coordinate = fc
      .double({ min: -1e9, max: 1e9, noNaN: true })
      .map((v) => (Math.abs(v) < 1e-100 ? 0 : v));
    fc.assert(
      fc.property(
        fc.tuple(coordinate, coordinate, coordinate, coordinate, coordinate, coordinate),
        (points) => {
          expect(orientation(...points)).toBe(oracle(...points) + 0);
        },
      ),
      { numRuns: 5000 },
    );
  });

  test("turns round when two points change places and stays when all move on by one", () => {
    fc.assert(
      fc.property(nearLine, ([ax, ay, bx, by, cx, cy]) => {
        const sign = orientation(ax, ay, bx, by, cx, cy);
        expect(orientation(bx, by, ax, ay, cx, cy) + sign).toBe(0);
        expect(orientation(bx, by, cx, cy, ax, ay)).toBe(sign);
      }),
    );
  });

  test("sums products whose difference plain arithmetic loses", () => {
    const a = 1 + 2 ** -30;
    // a·a − (1 + 2⁻²⁹) = 2⁻⁶⁰, which the rounded product does not have.
    expect(a * a - (1 + 2 ** -29)).toBe(0);
    expect(
      signOfProductSum([
        [a, a],
        [-1, 1 + 2 ** -29],
      ]),
    ).toBe(1);
    expect(
      signOfProductSum([
        [3, 5],
        [-15, 1],
      ]),
    ).toBe(0);
  });
});
