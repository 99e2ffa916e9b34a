import * as fc from "fast-check";
import { describe, expect, test } from "vitest";
import { issuesOf, tankPoints } from "./arbitrary-load.ts";
import { type FilledTank, fuelLineOfTank, fuelLineOfTanks, fuelRange, fuelTotals } from "./fuel-line.ts";

const tank = (change: Partial<FilledTank> = {}): FilledTank => ({
  points: [
    [0, 4, 0],
    [100, 4.2, 0.1],
    [300, 4.1, -0.1],
  ],
  filled_kg: 300,
  burnOrder: 1,
  path: "tanks[0]",
  ...change,
});

describe("the line of one tank", () => {
  test("has the arm of each of its points exactly, and the straight arm between them", () => {
    const line = fuelLineOfTank(tank().points);
    expect(fuelRange(line)).toEqual([0, 300]);
    for (const [fuel, x, y] of tank().points) {
      const totals = fuelTotals(line, fuel);
      expect(totals.x_kgm).toBeCloseTo(fuel * x, 10);
      expect(totals.y_kgm).toBeCloseTo(fuel * y, 10);
    }
    expect(fuelTotals(line, 50)).toEqual({
      mass_kg: 50,
      x_kgm: expect.closeTo(50 * 4.1, 10) as unknown,
      y_kgm: expect.closeTo(50 * 0.05, 10) as unknown,
    });
  });

  test("does not jump at its points", () => {
    fc.assert(
      fc.property(tankPoints, (points) => {
        const line = fuelLineOfTank(points);
        for (const [fuel] of points.slice(1, -1)) {
          const [below, above] = [fuelTotals(line, fuel - 1e-9), fuelTotals(line, fuel + 1e-9)];
          expect(Math.abs(above.x_kgm - below.x_kgm)).toBeLessThan(1e-6);
          expect(Math.abs(above.y_kgm - below.y_kgm)).toBeLessThan(1e-6);
        }
      }),
    );
  });

  test("of a single point covers that quantity alone", () => {
    const line = fuelLineOfTank([[120, 4.2, 0.1]]);
    expect(fuelTotals(line, 120)).toEqual({ mass_kg: 120, x_kgm: 504, y_kgm: 12 });
    expect(issuesOf(() => fuelTotals(line, 119))).toMatchObject([{ code: "outsideDomain" }]);
  });

  test.each([-1, 300.1, Number.NaN, Number.POSITIVE_INFINITY])("is not read at %d kg", (fuel) => {
    expect(issuesOf(() => fuelTotals(fuelLineOfTank(tank().points), fuel, "fuel"))).toMatchObject([
      { path: "fuel", code: "outsideDomain" },
    ]);
  });

  test("is refused with everything that is wrong with its points", () => {
    const points = [
      [0, 4, 0],
      [200, Number.NaN, 0],
      [100, 4, 0],
      [-5, 4, Number.NEGATIVE_INFINITY],
    ] as const;
    expect(issuesOf(() => fuelLineOfTank(points)).map(({ path, code }) => [path, code])).toEqual([
      ["tank[1][1]", "notFinite"],
      ["tank[2][0]", "contradiction"],
      ["tank[3][0]", "outsideDomain"],
      ["tank[3][2]", "notFinite"],
      ["tank[3][0]", "contradiction"],
    ]);
    expect(issuesOf(() => fuelLineOfTank([]))).toMatchObject([{ path: "tank", code: "missing" }]);
  });
});

describe("the line of several tanks", () => {
  test("of one tank is the tank's own", () => {
    fc.assert(
      fc.property(tankPoints, fc.double({ min: 0, max: 400, noNaN: true }), (points, fuel) => {
        const one = fuelLineOfTank(points);
        const joined = fuelLineOfTanks([tank({ points, filled_kg: 400 })]);
        expect(fuelTotals(joined, fuel).x_kgm).toBeCloseTo(fuelTotals(one, fuel).x_kgm, 8);
        expect(fuelTotals(joined, fuel).y_kgm).toBeCloseTo(fuelTotals(one, fuel).y_kgm, 8);
      }),
    );
  });

  test("is what the tanks hold one by one, for any filling and order", () => {
    const filling = fc.double({ min: 0, max: 400, noNaN: true });
    const order = fc.integer({ min: 1, max: 3 });
    const tanks = fc.array(fc.tuple(tankPoints, filling, order), { minLength: 1, maxLength: 4 });
    fc.assert(
      fc.property(tanks, fc.double({ min: 0, max: 1, noNaN: true }), (given, part) => {
        const filled = given.map(([points, filled_kg, burnOrder]) => tank({ points, filled_kg, burnOrder }));
        const line = fuelLineOfTanks(filled);
        const [, whole] = fuelRange(line);
        const fuel = whole * part;
        // By hand: fill from what burns last; in one order each tank in proportion.
        let rest = fuel;
        let x = 0;
        for (const burnOrder of [3, 2, 1]) {
          const group = filled.filter((one) => one.burnOrder === burnOrder && one.filled_kg > 0);
          const held = group.reduce((sum, one) => sum + one.filled_kg, 0);
          const here = Math.min(rest, held);
          rest -= here;
          for (const { points, filled_kg } of group) {
            const quantity = Math.min((here / held) * filled_kg, filled_kg);
            x += fuelTotals(fuelLineOfTank(points), quantity).x_kgm;
          }
        }
        expect(fuelTotals(line, fuel).x_kgm).toBeCloseTo(x, 7);
      }),
    );
  });

  test("of empty tanks is no fuel", () => {
    const line = fuelLineOfTanks([tank({ filled_kg: 0 })]);
    expect(fuelRange(line)).toEqual([0, 0]);
    expect(fuelTotals(line, 0)).toEqual({ mass_kg: 0, x_kgm: 0, y_kgm: 0 });
  });

  test("is refused for more than a tank reaches and for a tank that does not begin at nothing", () => {
    const short = tank({ path: "tanks[1]", filled_kg: 301 });
    const high = tank({
      path: "tanks[2]",
      points: [
        [10, 4, 0],
        [300, 4, 0],
      ],
      filled_kg: 20,
    });
    expect(issuesOf(() => fuelLineOfTanks([tank(), short, high])).map(({ path }) => path)).toEqual([
      "tanks[1].filled_kg",
      "tanks[2].points[0][0]",
    ]);
  });
});
