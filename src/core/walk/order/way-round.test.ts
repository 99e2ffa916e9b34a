// Ways round simple shapes whose shortest way is known in closed form, and what holds for any shape.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Point } from "../../sheet/obstacles.ts";
import { WayRound } from "./way-round.ts";

/** Round one circle: two tangents and the arc between them. */
function roundCircle(distance_m: number, radius_m: number): number {
  const tangent_m = Math.sqrt(distance_m ** 2 - radius_m ** 2);
  const arc = Math.PI - 2 * Math.acos(radius_m / distance_m);
  return 2 * tangent_m + arc * radius_m;
}

const plank: readonly Point[] = [
  [-3, 0],
  [3, 0],
];
const hut: readonly Point[] = [
  [-2, -1],
  [2, -1],
  [2, 1],
  [-2, 1],
  [-2, -1],
];

describe("the way round", () => {
  test("a post is two tangents and an arc, at most 2 % more and never less", () => {
    for (const [distance_m, clearance_m] of [
      [3, 1],
      [1.5, 0.75],
      [10, 0.4],
    ] as const) {
      const way = new WayRound([[[0, 0]]], clearance_m);
      const [walked] = way.distances([-distance_m, 0], [[distance_m, 0]]);
      const known = roundCircle(distance_m, clearance_m);
      expect(walked).toBeGreaterThanOrEqual(known - 1e-9);
      expect(walked).toBeLessThanOrEqual(known * 1.02);
    }
  });

  test("a wall goes round its nearer end", () => {
    const way = new WayRound([plank], 0.5);
    const [near, far] = way.distances(
      [2, -1],
      [
        [2, 1],
        [-2, 1],
      ],
    );
    // From beside the end over to the other side; the other place is symmetrical to it through the middle.
    expect(near).toBeGreaterThan(2);
    expect(near).toBeLessThan(4.5);
    expect(far).toBeGreaterThan(near!);
  });

  test("is straight where nothing stands in it", () => {
    const way = new WayRound([hut], 0.5);
    expect(way.distances([-4, -3], [[4, -3]])[0]).toBeCloseTo(8, 12);
  });

  test("from a place inside, on top or too near begins at the nearest free ground", () => {
    const way = new WayRound([hut], 0.5);
    const [x, y] = way.groundOf([1.9, 0.2]);
    expect(x).toBeCloseTo(2.5, 6);
    expect(y).toBeCloseTo(0.2, 6);
    expect(way.isFree([0, 0])).toBe(false);
    expect(way.isFree([x, y])).toBe(true);
    const free: Point = [5, 5];
    expect(way.groundOf(free)).toBe(free);
  });

  test("is the same both ways, never shorter than the straight, and no detour makes it shorter", () => {
    const way = new WayRound([hut, plank.map(([x, y]): Point => [x + 5, y])], 0.6);
    const place = fc.tuple(
      fc.double({ min: -6, max: 11, noNaN: true }),
      fc.double({ min: -4, max: 4, noNaN: true }),
    );
    fc.assert(
      fc.property(place, place, place, (a, b, c) => {
        const [ga, gb, gc] = [way.groundOf(a), way.groundOf(b), way.groundOf(c)];
        const [ab, ac] = way.distances(ga, [gb, gc]);
        const [ba, bc] = way.distances(gb, [ga, gc]);
        expect(ab).toBeCloseTo(ba!, 9);
        expect(ab).toBeGreaterThanOrEqual(Math.hypot(ga[0] - gb[0], ga[1] - gb[1]) - 1e-9);
        expect(ac).toBeLessThanOrEqual(ab! + bc! + 1e-9);
      }),
      { numRuns: 40 },
    );
  });

  test("an outline without points is refused", () => {
    expect(() => new WayRound([], 1)).toThrow(RangeError);
  });
});
