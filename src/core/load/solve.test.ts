import * as fc from "fast-check";
import { describe, expect, test } from "vitest";
import { Refusal } from "../quantity/refusal.ts";
import { anyLimits, box, fuelLines, loads, outlineOf, burnRanges } from "./arbitrary-load.ts";
import { followPath } from "./follow-path.ts";
import { fuelLineOfTank, fuelTotals } from "./fuel-line.ts";
import { type Interval, type IntervalSet } from "./interval-set.ts";
import { checkState, type Limits, noLimits, planesOf } from "./limits.ts";
import { fuelPath, stationPath } from "./path.ts";
import { largestFuel, type OpenLoad, safeForAll, safeFuels, safeMasses } from "./solve.ts";
import { addTotals, type Totals, totalsAt, totalsOf } from "./totals.ts";

const openLoads: fc.Arbitrary<OpenLoad> = fc
  .record({
    items: loads,
    x_m: fc.double({ min: 2, max: 6, noNaN: true }),
    y_m: fc.double({ min: -1.5, max: 1.5, noNaN: true }),
    most: fc.double({ min: 50, max: 400, noNaN: true }),
    line: fuelLines,
    range: burnRanges,
  })
  .map(({ items, x_m, y_m, most, line, range }) => ({
    base: totalsOf(items),
    station: { x_m, y_m },
    mass_kg: { low: 0, high: most },
    line,
    fuel_kg: { low: range.to_kg, high: range.from_kg },
  }));

const isIn = (set: IntervalSet, value: number): boolean =>
  set.some(({ low, high }) => value >= low && value <= high);
const isNearEnd = (set: IntervalSet, value: number, by: number): boolean =>
  set.some(({ low, high }) => Math.abs(value - low) < by || Math.abs(value - high) < by);
const partOf = ({ low, high }: Interval, part: number): number => low + (high - low) * part;
const parts = fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 12, maxLength: 12 });

const burnInside = (load: OpenLoad, limitsHere: Limits, mass_kg: number): boolean => {
  const base = addTotals(load.base, totalsAt(load.station, mass_kg));
  const path = fuelPath(base, load.line, load.fuel_kg.low, load.fuel_kg.high);
  return planesOf(limitsHere).every((plane) => followPath(path, plane).spans.every((span) => span.inside));
};
const massesInside = (load: OpenLoad, limitsHere: Limits, fuel_kg: number): boolean => {
  const base = addTotals(load.base, fuelTotals(load.line, fuel_kg));
  const path = stationPath(base, load.station, load.mass_kg.low, load.mass_kg.high);
  return planesOf(limitsHere).every((plane) => followPath(path, plane).spans.every((span) => span.inside));
};
const stateInside = (load: OpenLoad, limitsHere: Limits, mass_kg: number, fuel_kg: number): boolean => {
  const totals = addTotals(
    addTotals(load.base, totalsAt(load.station, mass_kg)),
    fuelTotals(load.line, fuel_kg),
  );
  return Object.values(checkState(limitsHere, totals).inside).every((inside) => inside !== false);
};

describe("the solved sets against checks that know nothing of them", () => {
  test("a mass is in the set exactly when its whole burn is inside", () => {
    let mixed = 0;
    fc.assert(
      fc.property(openLoads, anyLimits, parts, (load, limitsHere, wheres) => {
        const { set } = safeMasses(load, limitsHere);
        for (const part of wheres) {
          const mass = partOf(load.mass_kg, part);
          if (isNearEnd(set, mass, 1e-6)) continue;
          expect(isIn(set, mass)).toBe(burnInside(load, limitsHere, mass));
        }
        if (set.length > 0 && (set[0]!.low > 0 || set[0]!.high < load.mass_kg.high)) mixed += 1;
      }),
      { numRuns: 300 },
    );
    expect(mixed).toBeGreaterThan(20);
  });

  test("a fuel state is in the set exactly when it is inside for every mass", () => {
    fc.assert(
      fc.property(openLoads, anyLimits, parts, (load, limitsHere, wheres) => {
        const { set } = safeFuels(load, limitsHere);
        for (const part of wheres) {
          const fuel = partOf(load.fuel_kg, part);
          if (isNearEnd(set, fuel, 1e-6)) continue;
          expect(isIn(set, fuel)).toBe(massesInside(load, limitsHere, fuel));
        }
      }),
      { numRuns: 300 },
    );
  });

  test("what is safe for all is inside in every sampled pair, and both ways of asking agree", () => {
    let safeOnes = 0;
    fc.assert(
      fc.property(openLoads, anyLimits, parts, parts, (load, limitsHere, masses, fuels) => {
        const { safe, masses: byMass, fuels: byFuel } = safeForAll(load, limitsHere);
        const wholeFuel = byFuel.set.some(
          ({ low, high }) => low === load.fuel_kg.low && high === load.fuel_kg.high,
        );
        expect(wholeFuel).toBe(safe);
        if (safe) safeOnes += 1;
        for (const massPart of [0, 1, ...masses]) {
          for (const fuelPart of [0, 1, ...fuels]) {
            const mass = partOf(load.mass_kg, massPart);
            const fuel = partOf(load.fuel_kg, fuelPart);
            const inside = stateInside(load, limitsHere, mass, fuel);
            if (isIn(byMass.set, mass) || isIn(byFuel.set, fuel)) expect(inside).toBe(true);
          }
        }
      }),
      { numRuns: 200 },
    );
    expect(safeOnes).toBeGreaterThan(5);
  });

  test("a set ends on a limit: inside there, outside a hair beyond", () => {
    let ends = 0;
    fc.assert(
      fc.property(openLoads, anyLimits, (load, limitsHere) => {
        const { set } = safeMasses(load, limitsHere);
        for (const [index, { low, high }] of set.entries()) {
          expect(burnInside(load, limitsHere, low)).toBe(true);
          expect(burnInside(load, limitsHere, high)).toBe(true);
          const beyond = [
            ...(low > load.mass_kg.low ? [[low, low - 1e-3]] : []),
            ...(high < load.mass_kg.high ? [[high, high + 1e-3]] : []),
          ];
          for (const [, value] of beyond) {
            if (isIn(set, value!)) continue;
            ends += 1;
            expect(burnInside(load, limitsHere, value!)).toBe(false);
          }
          expect(index === 0 || low > set[index - 1]!.high).toBe(true);
        }
      }),
      { numRuns: 300 },
    );
    expect(ends).toBeGreaterThan(50);
  });

  test("the set is what all limits taken alone have in common", () => {
    fc.assert(
      fc.property(openLoads, anyLimits, parts, (load, limitsHere, wheres) => {
        const { set, byLimit } = safeMasses(load, limitsHere);
        for (const part of wheres) {
          const mass = partOf(load.mass_kg, part);
          expect(isIn(set, mass)).toBe(byLimit.every((one) => isIn(one.set, mass)));
        }
      }),
      { numRuns: 100 },
    );
  });
});

describe("answers worked out by hand", () => {
  const base: Totals = { mass_kg: 2000, x_kgm: 8400, y_kgm: 0 };
  const line = fuelLineOfTank([
    [0, 4.2, 0],
    [400, 4.2, 0],
  ]);
  const load: OpenLoad = {
    base,
    station: { x_m: 3.2, y_m: -0.4 },
    mass_kg: { low: 0, high: 200 },
    line,
    fuel_kg: { low: 100, high: 400 },
  };

  test("the heaviest patient in front is where the forward limit is met with the least fuel", () => {
    // 4.2 − p/(2100 + p) = 4.15 at the end of the burn, where the rest is lightest.
    const { set } = safeMasses(load, { ...noLimits, longitudinal: box(4.15, 4.4, 1500, 3000) });
    expect(set).toEqual([{ low: 0, high: expect.closeTo((0.05 * 2100) / 0.95, 9) as unknown }]);
  });

  test("the mass limit takes over where it is the stricter, and is named", () => {
    const both: Limits = {
      ...noLimits,
      longitudinal: box(4.15, 4.4, 1500, 3000),
      mass: { least_kg: 0, most_kg: 2450 },
    };
    const { set, byLimit } = safeMasses(load, both);
    expect(set).toEqual([{ low: 0, high: 50 }]);
    expect(byLimit.map(({ limit, set: alone }) => [limit, alone[0]!.high])).toEqual([
      ["longitudinal", expect.closeTo(110.526_315_8, 6)],
      ["mass", 50],
    ]);
  });

  test("a patient can be needed: too light is outside as well as too heavy", () => {
    const aft: OpenLoad = {
      ...load,
      base: { mass_kg: 2000, x_kgm: 8500, y_kgm: 0 },
      mass_kg: { low: 0, high: 300 },
    };
    const { set } = safeMasses(aft, { ...noLimits, longitudinal: box(4.15, 4.22, 1500, 3000) });
    // Aft limit binds with least fuel: (8500 + 420 + 3.2p) = 4.22 (2100 + p); forward limit with least fuel too.
    expect(set).toEqual([
      {
        low: expect.closeTo((8920 - 4.22 * 2100) / (4.22 - 3.2), 9) as unknown,
        high: expect.closeTo((8920 - 4.15 * 2100) / (4.15 - 3.2), 9) as unknown,
      },
    ]);
  });

  test("the heaviest patient is where the burn only touches the limit on its way", () => {
    // 8400 + 3.1p + 4f + 0.001f² = 4.1 (2000 + p + f) has a double root in f, 50 kg, at p = 197.5 kg.
    const open: OpenLoad = {
      ...load,
      station: { x_m: 3.1, y_m: 0 },
      mass_kg: { low: 0, high: 300 },
      line: fuelLineOfTank([
        [0, 4, 0],
        [400, 4.4, 0],
      ]),
      fuel_kg: { low: 0, high: 400 },
    };
    const { set } = safeMasses(open, { ...noLimits, longitudinal: box(4.1, 4.5, 1500, 3000) });
    expect(set).toEqual([{ low: 0, high: expect.closeTo(197.5, 9) as unknown }]);
  });

  test("where a coupled limit begins at a mass, that mass decides", () => {
    // From 2,450 kg up 4.2 − p/m must be at least 4.15; lighter states, though further forward, are not asked.
    const open: OpenLoad = {
      ...load,
      station: { x_m: 3.2, y_m: 0 },
      line: fuelLineOfTank([
        [0, 4.2, 0],
        [600, 4.2, 0],
      ]),
      fuel_kg: { low: 0, high: 600 },
    };
    const coupled = [{ outline: box(4.15, 4.5, -0.1, 0.1), above_kg: 2450, upTo_kg: 5000 }];
    const { set } = safeMasses(open, { ...noLimits, coupled });
    expect(set).toEqual([{ low: 0, high: expect.closeTo(0.05 * 2450, 6) as unknown }]);
  });

  test("none and the whole range are answers", () => {
    expect(safeMasses(load, { ...noLimits, longitudinal: box(5, 6, 1500, 3000) }).set).toEqual([]);
    expect(safeMasses(load, { ...noLimits, longitudinal: box(3, 6, 1500, 3000) }).set).toEqual([
      { low: 0, high: 200 },
    ]);
    expect(safeMasses(load, noLimits).set).toEqual([{ low: 0, high: 200 }]);
  });

  test("one single mass is an answer", () => {
    // Without fuel and with the station on the limit's only reachable corner: 4.2 − p/(2000 + p) = 4.15 at 2000 + p.
    const p = (0.05 * 2000) / 0.95;
    const tip = outlineOf([
      [4.0, 2000 + p],
      [4.15, 2000 + p],
      [4.0, 1900],
    ]);
    const still = { ...load, fuel_kg: { low: 0, high: 0 } };
    const { set } = safeMasses(still, { ...noLimits, longitudinal: tip });
    expect(set).toHaveLength(1);
    expect(set[0]!.low).toBeCloseTo(p, 4);
    expect(set[0]!.high).toBeCloseTo(p, 4);
  });

  test("the largest fuel stops where the first limit is met, even if more would be inside again", () => {
    const kinked = fuelLineOfTank([
      [0, 4.2, 0],
      [200, 4.6, 0],
      [400, 4.2, 0],
    ]);
    const open: OpenLoad = {
      ...load,
      line: kinked,
      mass_kg: { low: 0, high: 0 },
      fuel_kg: { low: 0, high: 400 },
    };
    const { fuel_kg, limitedBy, states } = largestFuel(open, {
      ...noLimits,
      longitudinal: box(4.1, 4.21, 1500, 3000),
    });
    // 8400 + 4.2f + 0.002f² = 4.21 (2000 + f)
    expect(fuel_kg).toBeCloseTo((0.01 + Math.sqrt(0.0001 + 4 * 0.002 * 20)) / 0.004, 9);
    expect(limitedBy).toEqual(["longitudinal"]);
    expect(states.set).toHaveLength(2);
    expect(states.set[1]!.high).toBe(400);
  });

  test("the largest fuel is none when the end of the burn is outside, and the whole tank when nothing limits", () => {
    const open: OpenLoad = { ...load, mass_kg: { low: 0, high: 0 } };
    expect(largestFuel(open, { ...noLimits, longitudinal: box(4.3, 4.4, 1500, 3000) })).toMatchObject({
      fuel_kg: null,
      limitedBy: ["longitudinal"],
    });
    expect(largestFuel(open, { ...noLimits, longitudinal: box(4, 4.4, 1500, 3000) })).toMatchObject({
      fuel_kg: 400,
      limitedBy: [],
    });
  });

  test("a range that cannot be computed is refused, not answered in part", () => {
    expect(() => safeMasses({ ...load, fuel_kg: { low: 100, high: 500 } }, noLimits)).toThrow(Refusal);
    expect(() => safeMasses({ ...load, mass_kg: { low: 10, high: 5 } }, noLimits)).toThrow(Refusal);
  });
});
