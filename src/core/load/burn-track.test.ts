import * as fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  bothAxes,
  box,
  burnRanges,
  fuelLines,
  loads,
  longitudinalOutlines,
  outlineOf,
  tankPoints,
} from "./arbitrary-load.ts";
import { type Burn, trackBurn } from "./burn-track.ts";
import { fuelLineOfTank, fuelTotals } from "./fuel-line.ts";
import { checkState, type Limits, noLimits } from "./limits.ts";
import { addTotals, type Totals, totalsOf } from "./totals.ts";

/** The smallest arm margin at one state, from the margins of a single state; null where no arm is inside. */
function worstMarginAt(base: Totals, burn: Burn, limitsHere: Limits, fuel_kg: number): number | null {
  const { margins } = checkState(limitsHere, addTotals(base, fuelTotals(burn.line, fuel_kg)));
  const arms = [
    margins.longitudinal && [margins.longitudinal.forward_m, margins.longitudinal.aft_m],
    margins.lateral && [margins.lateral.left_m, margins.lateral.right_m],
    ...margins.coupled.map((m) => m && [m.forward_m, m.aft_m]),
    ...margins.coupled.map((m) => m && [m.left_m, m.right_m]),
  ].filter((sides) => sides !== null);
  return arms.some((sides) => sides.includes(null))
    ? null
    : Math.min(...arms.flat().map((side) => side ?? Number.NaN), Number.POSITIVE_INFINITY);
}

function samples(burn: Burn, count: number): number[] {
  return Array.from({ length: count + 1 }, (_, i) =>
    i === count ? burn.from_kg : burn.to_kg + ((burn.from_kg - burn.to_kg) * i) / count,
  );
}

describe("the burn track against dense sampling", () => {
  test("the worst point is never better than any sampled state", () => {
    fc.assert(
      fc.property(loads, fuelLines, burnRanges, bothAxes, (items, line, range, limitsHere) => {
        const base = totalsOf(items);
        const burn = { line, ...range };
        const { worst } = trackBurn(base, burn, limitsHere);
        for (const fuel of samples(burn, 100)) {
          const sampled = worstMarginAt(base, burn, limitsHere, fuel);
          if (worst!.margin_m === null) continue;
          expect(sampled).not.toBeNull();
          expect(worst!.margin_m).toBeLessThanOrEqual(sampled! + 1e-12);
        }
      }),
      { numRuns: 400 },
    );
  });

  test("the worst point is a state of the track, or the near side of a step of a limit", () => {
    fc.assert(
      fc.property(loads, fuelLines, burnRanges, bothAxes, (items, line, range, limitsHere) => {
        const base = totalsOf(items);
        const burn = { line, ...range };
        const { worst } = trackBurn(base, burn, limitsHere);
        expect(worst!.fuel_kg).toBeGreaterThanOrEqual(range.to_kg);
        expect(worst!.fuel_kg).toBeLessThanOrEqual(range.from_kg);
        if (worst!.margin_m === null) return;
        // At a step the margin is what it tends to on one side, so look a little to both sides as well: far enough that
        // the state is no longer within tolerance of the step, which can need a tenth of a kilogram where the track is
        // almost parallel to it. Margins change by far less than 10 mm in each kilogram.
        const isThere = [0, 1e-5, -1e-5, 1e-3, -1e-3, 0.1, -0.1].some((off) => {
          const fuel = worst!.fuel_kg + off;
          if (fuel < range.to_kg || fuel > range.from_kg) return false;
          const margin = worstMarginAt(base, burn, limitsHere, fuel) ?? Number.NEGATIVE_INFINITY;
          return margin <= worst!.margin_m! + 1e-9 + Math.abs(off) * 0.01;
        });
        expect(isThere).toBe(true);
      }),
      { numRuns: 400 },
    );
  });

  test("every sampled state agrees with the crossings about what is inside", () => {
    fc.assert(
      fc.property(loads, fuelLines, burnRanges, bothAxes, (items, line, range, limitsHere) => {
        const base = totalsOf(items);
        const burn = { line, ...range };
        const track = trackBurn(base, burn, limitsHere);
        for (const axis of ["longitudinal", "lateral"] as const) {
          const crossings = track.crossings
            .filter(({ limit }) => limit === axis)
            .map(({ fuel_kg }) => fuel_kg);
          let changes = 0;
          let before: boolean | null = null;
          for (const fuel of samples(burn, 100)) {
            const totals = addTotals(base, fuelTotals(line, fuel));
            const inside = checkState(limitsHere, totals).inside[axis];
            if (!inside) expect(track.inside[axis]).toBe(false);
            if (before !== null && before !== inside) changes += 1;
            before = inside;
          }
          expect(changes).toBeLessThanOrEqual(crossings.length);
          expect(track.inside[axis] === false || crossings.length === 0).toBe(true);
          for (const fuel of crossings) {
            const totals = addTotals(base, fuelTotals(line, fuel));
            expect(checkState(limitsHere, totals).inside[axis]).toBe(true);
          }
        }
      }),
      { numRuns: 400 },
    );
  });
});

describe("the burn track in other units", () => {
  test("says the same when every mass is in pounds and every arm in inches", () => {
    const [lb, inch] = [1 / 0.453_592_37, 1 / 0.0254];
    fc.assert(
      fc.property(
        loads,
        tankPoints,
        burnRanges,
        longitudinalOutlines,
        (items, points, { from_kg, to_kg }, longitudinal) => {
          const limitsHere = { ...noLimits, longitudinal };
          const line = fuelLineOfTank(points);
          const metric = trackBurn(totalsOf(items), { line, from_kg, to_kg }, limitsHere);
          const scaled = trackBurn(
            totalsOf(
              items.map((item) => ({
                mass_kg: item.mass_kg * lb,
                x_m: item.x_m * inch,
                y_m: item.y_m * inch,
              })),
            ),
            {
              line: fuelLineOfTank(points.map(([fuel, x, y]) => [fuel * lb, x * inch, y * inch])),
              from_kg: from_kg * lb,
              to_kg: to_kg * lb,
            },
            {
              ...noLimits,
              longitudinal: outlineOf(longitudinal.corners.map(([x, m]) => [x * inch, m * lb])),
            },
          );
          expect(scaled.inside).toEqual(metric.inside);
          expect(scaled.crossings).toHaveLength(metric.crossings.length);
          for (const [index, { fuel_kg }] of metric.crossings.entries()) {
            expect(scaled.crossings[index]!.fuel_kg / lb).toBeCloseTo(fuel_kg, 6);
          }
          const [here, there] = [metric.worst!.margin_m, scaled.worst!.margin_m];
          expect(there === null ? null : there / inch).toEqual(
            here === null ? null : expect.closeTo(here, 9),
          );
        },
      ),
      { numRuns: 200 },
    );
  });
});

describe("tracks that sampling gets wrong", () => {
  const mid = fuelLineOfTank([
    [0, 4, 0],
    [200, 4.2, 0],
    [400, 4, 0],
  ]);
  const base: Totals = { mass_kg: 2000, x_kgm: 8000, y_kgm: 0 };

  test("both ends are inside and the middle is not", () => {
    const limit = box(3.9, 4.015, 1500, 3000);
    const track = trackBurn(
      base,
      { line: mid, from_kg: 400, to_kg: 0 },
      { ...noLimits, longitudinal: limit },
    );
    expect(track.inside).toEqual({ longitudinal: false, lateral: null, coupled: null, mass: null });
    expect(track.crossings.map(({ limit: name }) => name)).toEqual(["longitudinal", "longitudinal"]);
    // From 200 kg down the moment is 8000 + 4f + 0.001f², so x − 4 = 0.001f²/(2000 + f); it meets 4.015 where
    // f² = 15(2000 + f). Above 200 kg the arm is 4.4 − 0.001f: f(0.4 − 0.001f) = 0.015(2000 + f).
    expect(track.crossings[1]!.fuel_kg).toBeCloseTo((15 + Math.sqrt(225 + 120_000)) / 2, 9);
    expect(track.crossings[0]!.fuel_kg).toBeCloseTo((385 + Math.sqrt(385 ** 2 - 120_000)) / 2, 9);
    // Worst at the kink, where the arm is furthest aft.
    expect(track.worst).toEqual({
      fuel_kg: 200,
      limit: "longitudinal",
      axis: "longitudinal",
      margin_m: expect.closeTo(4.015 - 8840 / 2200, 12) as unknown,
    });
  });

  test("a track that touches a limit and turns back stays inside and crosses nothing", () => {
    const limit = box(3.9, 8840 / 2200, 1500, 3000);
    const track = trackBurn(
      base,
      { line: mid, from_kg: 400, to_kg: 0 },
      { ...noLimits, longitudinal: limit },
    );
    expect(track.inside.longitudinal).toBe(true);
    expect(track.crossings).toEqual([]);
    expect(track.worst!.margin_m).toBeCloseTo(0, 12);
    expect(track.worst!.fuel_kg).toBe(200);
  });

  test("a track along a vertical edge is inside all the way", () => {
    const straight = fuelLineOfTank([
      [0, 4, 0],
      [400, 4, 0],
    ]);
    const limit = box(4, 4.5, 1500, 3000);
    const track = trackBurn(
      base,
      { line: straight, from_kg: 400, to_kg: 0 },
      { ...noLimits, longitudinal: limit },
    );
    expect(track.inside.longitudinal).toBe(true);
    expect(track.crossings).toEqual([]);
    expect(track.worst).toEqual({ fuel_kg: 400, limit: "longitudinal", axis: "longitudinal", margin_m: 0 });
  });

  test("a track along the centre line of a coupled limit with a corner on it is judged by both halves", () => {
    const straight = fuelLineOfTank([
      [0, 4, 0],
      [400, 5, 0],
    ]);
    const diamond = outlineOf([
      [3.9, 0],
      [4.1, -0.1],
      [4.3, 0],
      [4.1, 0.1],
    ]);
    const coupled = [{ outline: diamond, above_kg: 0, upTo_kg: 5000 }];
    const track = trackBurn(base, { line: straight, from_kg: 400, to_kg: 0 }, { ...noLimits, coupled });
    expect(track.inside.coupled).toBe(true);
    expect(track.worst!.margin_m).toBeCloseTo(0.05, 12);
    expect(track.worst!.axis).toBe("lateral");
  });

  test("a coupled limit says nothing outside its band of mass and everything on its end", () => {
    const never = outlineOf([
      [5, 0.3],
      [6, 0.3],
      [6, 0.4],
    ]);
    const line = fuelLineOfTank([
      [0, 4, 0],
      [400, 4, 0],
    ]);
    const inBand = (above_kg: number, upTo_kg: number) =>
      trackBurn(
        base,
        { line, from_kg: 400, to_kg: 0 },
        { ...noLimits, coupled: [{ outline: never, above_kg, upTo_kg }] },
      );
    expect(inBand(2500, 3000).inside.coupled).toBe(true);
    expect(inBand(2500, 3000).worst).toBeNull();
    expect(inBand(2400, 3000).inside.coupled).toBe(false);
    expect(inBand(0, 2000).inside.coupled).toBe(false);
    expect(inBand(2100, 2200).crossings.map(({ fuel_kg }) => fuel_kg)).toEqual([
      expect.closeTo(200, 5),
      expect.closeTo(100, 5),
    ]);
  });

  test("a mass beyond the limit has no arm margin, and the state furthest beyond is the worst", () => {
    const limit = box(3.9, 4.5, 1500, 2100);
    const track = trackBurn(
      base,
      { line: mid, from_kg: 300, to_kg: 0 },
      { ...noLimits, longitudinal: limit },
    );
    expect(track.inside.longitudinal).toBe(false);
    expect(track.crossings).toEqual([{ fuel_kg: 100, limit: "longitudinal", index: 0 }]);
    expect(track.worst).toEqual({
      fuel_kg: 300,
      limit: "longitudinal",
      axis: "longitudinal",
      margin_m: null,
    });
  });

  test("a track that begins on a limit and leaves at once crosses at its start", () => {
    const limit = box(3.9, 4.5, 2400, 3000);
    const track = trackBurn(
      base,
      { line: mid, from_kg: 400, to_kg: 300 },
      { ...noLimits, longitudinal: limit },
    );
    expect(track.inside.longitudinal).toBe(false);
    expect(track.crossings).toEqual([{ fuel_kg: 400, limit: "longitudinal", index: 0 }]);
  });

  test("below the mouth of a notch the worst is as near to the notch as the track comes", () => {
    // The notch opens downwards and ends in a corner at (4.1, 2300); above it the limit is wide open.
    const notched = outlineOf([
      [3.5, 1800],
      [4.05, 1800],
      [4.1, 2300],
      [4.2, 1800],
      [4.8, 1800],
      [4.8, 3000],
      [3.5, 3000],
    ]);
    const straight = fuelLineOfTank([
      [0, 4, 0],
      [400, 4, 0],
    ]);
    const track = trackBurn(
      base,
      { line: straight, from_kg: 400, to_kg: 250 },
      { ...noLimits, longitudinal: notched },
    );
    const further = trackBurn(
      base,
      { line: straight, from_kg: 400, to_kg: 0 },
      { ...noLimits, longitudinal: notched },
    );
    expect(track.worst!.margin_m).toBeCloseTo(4.095 - 4, 9);
    expect(track.worst!.fuel_kg).toBe(250);
    expect(further.worst!.margin_m).toBeCloseTo(4.07 - 4, 9);
  });

  test("at the very corner of a notch the margin is what it tends to from the narrow side", () => {
    const notched = outlineOf([
      [3.5, 1800],
      [4.1, 1800],
      [4.05, 2300],
      [4.2, 1800],
      [4.8, 1800],
      [4.8, 3000],
      [3.5, 3000],
    ]);
    const straight = fuelLineOfTank([
      [0, 4, 0],
      [400, 4, 0],
    ]);
    const track = trackBurn(
      base,
      { line: straight, from_kg: 400, to_kg: 200 },
      { ...noLimits, longitudinal: notched },
    );
    expect(track.worst).toMatchObject({ fuel_kg: 300, margin_m: expect.closeTo(0.05, 12) as unknown });
  });

  test("a burn of nothing is one state", () => {
    const limit = box(3.9, 4.5, 1500, 2400);
    const track = trackBurn(
      base,
      { line: mid, from_kg: 400, to_kg: 400 },
      { ...noLimits, longitudinal: limit },
    );
    expect(track.start).toEqual(track.end);
    expect(track.inside.longitudinal).toBe(true);
    expect(track.crossings).toEqual([]);
    expect(track.worst!.fuel_kg).toBe(400);
  });
});
