// Random outlines, tanks and loads for the property tests of this folder, and what they all need; imported by tests only.
//
// Outlines are star-shaped around a centre, so they are simple whatever the radii, and mostly not convex; their corners
// are put on a grid, so that vertical and horizontal edges, corners of equal height and collinear corners occur. A second
// kind is a staircase of right angles with steps, where sections jump.

import * as fc from "fast-check";
import { Refusal } from "../quantity/refusal.ts";
import type { FuelLine, TankPoint } from "./fuel-line.ts";
import { fuelLineOfTank } from "./fuel-line.ts";
import type { Limits } from "./limits.ts";
import { type Corner, type Outline, readOutline } from "./outline.ts";
import type { Item } from "./totals.ts";

const gridded = (min: number, max: number, step: number): fc.Arbitrary<number> =>
  fc
    .integer({ min: Math.ceil(min / step), max: Math.floor(max / step) })
    .map((n) => Number((n * step).toFixed(6)));

/** Outlines around (a, b) within the half extents; every one accepted by readOutline. */
export function outlines(a: number, halfA: number, b: number, halfB: number): fc.Arbitrary<Outline> {
  return fc.oneof(
    { weight: 3, arbitrary: starOutlines(a, halfA, b, halfB) },
    { weight: 1, arbitrary: stairOutlines(a, halfA, b, halfB) },
  );
}

function starOutlines(a: number, halfA: number, b: number, halfB: number): fc.Arbitrary<Outline> {
  return fc
    .array(fc.tuple(gridded(0.2, 1, 0.05), gridded(0.1, 0.9, 0.05)), { minLength: 5, maxLength: 9 })
    .map((spokes) =>
      spokes.map(([radius, jitter], index): Corner => {
        const angle = ((index + jitter) / spokes.length) * 2 * Math.PI;
        return [
          Number((a + halfA * snap(radius * Math.cos(angle))).toFixed(6)),
          Number((b + halfB * snap(radius * Math.sin(angle))).toFixed(6)),
        ];
      }),
    )
    .map(outlineOrNull)
    .filter((outline) => outline !== null);
}

const snap = (value: number): number => Math.round(value * 20) / 20;

function stairOutlines(a: number, halfA: number, b: number, halfB: number): fc.Arbitrary<Outline> {
  return fc
    .array(fc.tuple(gridded(-1, -0.1, 0.1), gridded(0.1, 1, 0.1)), { minLength: 2, maxLength: 4 })
    .map((steps) => {
      const height = (2 * halfB) / steps.length;
      const left: Corner[] = [];
      const right: Corner[] = [];
      for (const [index, [low, high]] of steps.entries()) {
        const [bottom, top] = [b - halfB + index * height, b - halfB + (index + 1) * height];
        left.push([a + halfA * low, bottom], [a + halfA * low, top]);
        right.push([a + halfA * high, bottom], [a + halfA * high, top]);
      }
      return [...right, ...left.toReversed()];
    })
    .map(outlineOrNull)
    .filter((outline) => outline !== null);
}

function outlineOrNull(corners: readonly Corner[]): Outline | null {
  return readOutline(corners, "outline", []);
}

/** The outline of corners that are known to be good. */
export function outlineOf(corners: readonly Corner[]): Outline {
  const outline = outlineOrNull(corners);
  if (outline === null) throw new Error("the outline was refused");
  return outline;
}

export const box = (low_m: number, high_m: number, least_kg: number, most_kg: number): Outline =>
  outlineOf([
    [low_m, least_kg],
    [high_m, least_kg],
    [high_m, most_kg],
    [low_m, most_kg],
  ]);

/** What a call refuses; throws when it refuses nothing. */
export function issuesOf(run: () => unknown): Refusal["issues"] {
  try {
    run();
  } catch (error) {
    if (error instanceof Refusal) return error.issues;
    throw error;
  }
  throw new Error("nothing was refused");
}

/** Tanks of 1 to 4 straight parts from 0 to 400 kg around x = 4.3, y = 0. */
export const tankPoints: fc.Arbitrary<readonly TankPoint[]> = fc
  .uniqueArray(gridded(20, 380, 5), { minLength: 0, maxLength: 3 })
  .chain((fuels) => {
    const all = [0, ...fuels.toSorted((x, y) => x - y), 400];
    const arms = fc.tuple(gridded(3.6, 5, 0.01), gridded(-0.3, 0.3, 0.01));
    return fc
      .array(arms, { minLength: all.length, maxLength: all.length })
      .map((points) => all.map((fuel, index): TankPoint => [fuel, points[index]![0], points[index]![1]]));
  });

export const fuelLines: fc.Arbitrary<FuelLine> = tankPoints.map((points) => fuelLineOfTank(points));

/** An empty craft and up to 11 further masses; together 1,500 to 3,500 kg, near x = 4.3 and y = 0. */
export const loads: fc.Arbitrary<readonly Item[]> = fc
  .tuple(
    fc.record({
      mass_kg: gridded(1500, 2200, 0.5),
      x_m: gridded(4.1, 4.5, 0.001),
      y_m: gridded(-0.03, 0.03, 0.001),
    }),
    fc.array(
      fc.record({
        mass_kg: gridded(0, 110, 0.1),
        x_m: gridded(2.5, 6, 0.01),
        y_m: gridded(-0.6, 0.6, 0.01),
      }),
      { maxLength: 11 },
    ),
  )
  .map(([empty, others]) => [empty, ...others]);

export const burnRanges: fc.Arbitrary<{ readonly from_kg: number; readonly to_kg: number }> = fc
  .tuple(fc.double({ min: 0, max: 400, noNaN: true }), fc.double({ min: 0, max: 400, noNaN: true }))
  .map(([one, other]) => ({ from_kg: Math.max(one, other), to_kg: Math.min(one, other) }));

/** Limits that the loads above are sometimes inside, sometimes outside and often across. */
export const longitudinalOutlines = outlines(4.25, 0.3, 2450, 900);
export const lateralOutlines = outlines(0, 0.12, 2450, 900);
const coupledOutlines = outlines(4.25, 0.3, 0, 0.12);

const coupledLimits = fc.array(
  fc.record({
    outline: coupledOutlines,
    above_kg: fc.constantFrom(0, 2300, 2450),
    upTo_kg: fc.constantFrom(2500, 5000),
  }),
  { maxLength: 1 },
);

/** Both axes, and now and then a coupled limit. */
export const bothAxes: fc.Arbitrary<Limits> = fc.record({
  longitudinal: longitudinalOutlines,
  lateral: lateralOutlines,
  coupled: coupledLimits,
  mass: fc.constant(null),
});

/** Any of the four kinds of limit, or none. */
export const anyLimits: fc.Arbitrary<Limits> = fc.record({
  longitudinal: fc.option(longitudinalOutlines),
  lateral: fc.option(lateralOutlines),
  coupled: coupledLimits,
  mass: fc.option(fc.constant({ least_kg: 1700, most_kg: 2900 }), { freq: 1 }),
});
