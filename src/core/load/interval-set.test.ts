import * as fc from "fast-check";
import { describe, expect, test } from "vitest";
import { intersectIntervals, intervalsWhere, intervalWith, joinIntervals } from "./interval-set.ts";

const interval = fc
  .tuple(fc.integer({ min: 0, max: 20 }), fc.integer({ min: 0, max: 6 }))
  .map(([low, length]) => ({ low, high: low + length }));
const values = Array.from({ length: 53 }, (_, n) => n / 2);
const isIn = (set: readonly { low: number; high: number }[], value: number): boolean =>
  set.some(({ low, high }) => value >= low && value <= high);

describe("sets of intervals", () => {
  test("joined and in common hold what the intervals hold, in order and apart", () => {
    fc.assert(
      fc.property(fc.array(interval), fc.array(interval), (some, others) => {
        const [one, other] = [joinIntervals(some), joinIntervals(others)];
        const common = intersectIntervals(one, other);
        for (const value of values) {
          expect(isIn(one, value)).toBe(isIn(some, value));
          expect(isIn(common, value)).toBe(isIn(some, value) && isIn(others, value));
        }
        for (const set of [one, common]) {
          for (let i = 1; i < set.length; i += 1) expect(set[i]!.low).toBeGreaterThan(set[i - 1]!.high);
        }
      }),
    );
  });

  test("are found from a question that can change only at given values", () => {
    fc.assert(
      fc.property(fc.array(interval), (some) => {
        const set = joinIntervals(some);
        const changes = some.flatMap(({ low, high }) => [low, high]);
        const found = intervalsWhere(0, 26, changes, (value) => isIn(set, value));
        expect(found).toEqual(set);
      }),
    );
  });

  test("end just inside a value at which the question already fails", () => {
    const found = intervalsWhere(0, 10, [4], (value) => value < 4);
    expect(found).toHaveLength(1);
    expect(found[0]!.low).toBe(0);
    expect(found[0]!.high).toBeLessThan(4);
    expect(found[0]!.high).toBeGreaterThan(4 - 1e-9);
    expect(intervalsWhere(0, 10, [4], (value) => value !== 4)).toHaveLength(2);
    expect(intervalsWhere(3, 3, [], () => true)).toEqual([{ low: 3, high: 3 }]);
    expect(intervalsWhere(0, 10, [4], () => false)).toEqual([]);
  });

  test("tell which interval a value is in", () => {
    const set = [
      { low: 1, high: 2 },
      { low: 4, high: 4 },
    ];
    expect(intervalWith(set, 2)).toEqual(set[0]);
    expect(intervalWith(set, 4)).toEqual(set[1]);
    expect(intervalWith(set, 3)).toBeNull();
  });
});
