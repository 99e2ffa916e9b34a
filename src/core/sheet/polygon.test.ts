// Simple figures by hand; against a slow rule of another kind (a polygon of random corners is simple exactly when no two
// of its edges share a point that they should not, found by solving for the point).

import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { holds, openEnd, selfCrossing } from "./polygon.ts";
import type { Corner } from "./polygon.ts";

const closed = (corners: readonly Corner[]): readonly Corner[] => [...corners, corners[0] as Corner];
const square = closed([
  [0, 0],
  [4, 0],
  [4, 3],
  [0, 3],
]);

describe("a polygon", () => {
  test("is closed when its last corner repeats its first", () => {
    expect(openEnd(square)).toBe(null);
    expect(openEnd(square.slice(0, -1))).toBe(3);
    expect(openEnd([])).toBe(null);
  });

  test("is simple when its edges meet only at their ends", () => {
    expect(selfCrossing(square)).toBe(null);
    expect(
      selfCrossing(
        closed([
          [0, 0],
          [4, 0],
          [1, 1],
          [0, 4],
        ]),
      ),
    ).toBe(null);
    // A corner on a straight edge is no fault.
    expect(
      selfCrossing(
        closed([
          [0, 0],
          [2, 0],
          [4, 0],
          [4, 3],
          [0, 3],
        ]),
      ),
    ).toBe(null);
  });

  test("is not simple when it crosses, touches, doubles back or stands still", () => {
    expect(
      selfCrossing(
        closed([
          [0, 0],
          [4, 3],
          [4, 0],
          [0, 3],
        ]),
      ),
    ).toBe(2);
    expect(
      selfCrossing(
        closed([
          [0, 0],
          [4, 0],
          [4, 3],
          [2, 0],
          [0, 3],
        ]),
      ),
    ).toBe(2);
    expect(
      selfCrossing(
        closed([
          [0, 0],
          [4, 0],
          [2, 0],
          [2, 3],
        ]),
      ),
    ).toBe(1);
    expect(
      selfCrossing(
        closed([
          [0, 0],
          [4, 0],
          [4, 0],
          [0, 3],
        ]),
      ),
    ).toBe(1);
    expect(
      selfCrossing(
        closed([
          [2, 0],
          [3, 0],
          [3, 3],
          [4, 0],
        ]),
      ),
    ).toBe(3);
  });

  test("is judged as by solving for the common points of each two edges", () => {
    const corner = fc.tuple(fc.integer({ min: 0, max: 6 }), fc.integer({ min: 0, max: 6 }));
    let simple = 0;
    fc.assert(
      fc.property(fc.uniqueArray(corner, { minLength: 3, maxLength: 7, selector: String }), (corners) => {
        const polygon = closed(corners);
        const fine = selfCrossing(polygon) === null;
        simple += fine ? 1 : 0;
        expect(fine).toBe(simpleBySolving(polygon));
      }),
      { numRuns: 2000 },
    );
    expect(simple).toBeGreaterThan(100);
  });

  test("holds what is inside it or on its edge", () => {
    expect([holds(square, [1, 1]), holds(square, [0, 1.5]), holds(square, [4, 3])]).toEqual([
      true,
      true,
      true,
    ]);
    expect([holds(square, [5, 1]), holds(square, [-1, 3]), holds(square, [1, -0.001])]).toEqual([
      false,
      false,
      false,
    ]);
    const dart = closed([
      [0, 0],
      [4, 0],
      [1, 1],
      [0, 4],
    ]);
    expect([holds(dart, [0.5, 0.5]), holds(dart, [2, 2])]).toEqual([true, false]);
  });
});

/** Do two edges share a point, apart from a shared end of neighbours? In whole numbers, by Cramer's rule. */
function simpleBySolving(polygon: readonly Corner[]): boolean {
  const edges = polygon.slice(1).map((to, at) => [polygon[at] as Corner, to] as const);
  return edges.every(([a, b], i) =>
    edges.every(([c, d], j) => {
      if (j <= i) return true;
      const neighbours = j === i + 1 || (i === 0 && j === edges.length - 1);
      const shared = j === i + 1 ? b : a;
      const [ux, uy, vx, vy] = [b[0] - a[0], b[1] - a[1], d[0] - c[0], d[1] - c[1]];
      const [wx, wy] = [c[0] - a[0], c[1] - a[1]];
      const det = ux * vy - uy * vx;
      if (det !== 0) {
        const [s, r] = [(wx * vy - wy * vx) / det, (wx * uy - wy * ux) / det];
        const meet = s >= 0 && s <= 1 && r >= 0 && r <= 1;
        return !meet || neighbours;
      }
      if (wx * uy - wy * ux !== 0) return true;
      // On one line: compare the stretches they cover along it.
      const along = (p: Corner) => (Math.abs(ux) > Math.abs(uy) ? p[0] : p[1]);
      const from = Math.max(Math.min(along(a), along(b)), Math.min(along(c), along(d)));
      const to = Math.min(Math.max(along(a), along(b)), Math.max(along(c), along(d)));
      if (from > to) return true;
      return neighbours && from === to && from === along(shared);
    }),
  );
}
