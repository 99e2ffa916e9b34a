// Mass and balance against the rows of load.json: published worked examples, an envelope's edge vectors, polygons, and
// the lattice on which plain orientation fails.
//
// Tolerances: sums are exact up to rounding; a printed centre or ballast is right to half its last digit, unless the
// row gives a longer figure. Rows marked "from memory" are arithmetic, no quotation.
import { describe, expect, test } from "vitest";
import { answer } from "../src/cli/calc/answer.ts";
import topic from "../src/cli/calc/load.ts";
import { checkState, noLimits } from "../src/core/load/limits.ts";
import { orientation } from "../src/core/load/orientation.ts";
import { type Corner, isWithin, type Outline, placeOf, readOutline } from "../src/core/load/outline.ts";
import { fuelLineOfTank } from "../src/core/load/fuel-line.ts";
import { massToMove, moveMass } from "../src/core/load/shift-mass.ts";
import { safeMasses } from "../src/core/load/solve.ts";
import { addTotals, centreOf, type Item, type Totals, totalsAt, totalsOf } from "../src/core/load/totals.ts";
import data from "./load.json" with { type: "json" };

// The examples are in pounds and inches throughout. The formulas are the same in any units, so the figures go in as they
// stand; preen calc converts, and that is checked with it.
const item = (mass: number, x: number, y = 0): Item => ({ mass_kg: mass, x_m: x, y_m: y });
const at = (arm: number) => ({ x_m: arm, y_m: 0 });
const x = (totals: Totals): number => centreOf(totals).x_m;

function outlineOf(corners: readonly (readonly number[])[]): Outline {
  const outline = readOutline(corners, "corners", []);
  if (outline === null) throw new Error("a polygon was refused");
  return outline;
}

const box = (low: number, high: number, least: number, most: number): Outline =>
  outlineOf([
    [low, least],
    [high, least],
    [high, most],
    [low, most],
  ]);

describe("worked examples", () => {
  test("Rotorcraft Flying Handbook: every moment, the total, the centre and the verdict", () => {
    const { rows, total_lb, moment_lbin, cg_in, cgExact_in, limits, inside } = data.rotorcraftHandbook;
    expect(rows).toHaveLength(7);
    for (const [, mass, arm, moment] of rows) {
      expect(totalsOf([item(mass as number, arm as number)]).x_kgm).toBe(moment);
    }
    const totals = totalsOf(rows.map(([, mass, arm]) => item(mass as number, arm as number)));
    expect(totals.mass_kg).toBe(total_lb);
    expect(totals.x_kgm).toBe(moment_lbin);
    expect(x(totals)).toBeCloseTo(cgExact_in, 4);
    expect(Math.round(x(totals) * 10) / 10).toBe(cg_in);
    const longitudinal = box(limits.forward_in, limits.aft_in, 0, limits.most_lb);
    const state = checkState({ ...noLimits, longitudinal }, totals);
    expect(state.inside.longitudinal).toBe(inside);
    expect(state.margins.longitudinal!.heavier_kg).toBe(limits.most_lb - total_lb);
  });

  test("Rotorcraft Flying Handbook, as preen calc answers it in pounds and inches", () => {
    const { rows, units, total_lb, cgExact_in, limits, inside } = data.rotorcraftHandbook;
    const corners = [
      [limits.forward_in, 1000],
      [limits.forward_in, limits.most_lb],
      [limits.aft_in, limits.most_lb],
      [limits.aft_in, 1000],
    ];
    const items = rows.map(([name, mass, arm]) => ({ name, mass, x: arm }));
    const { text } = answer(topic, JSON.stringify({ units, items, longitudinal: corners }));
    const result = JSON.parse(text) as { mass_kg: number; x_m: number; inside: { longitudinal: boolean } };
    expect(result.mass_kg / 0.453_592_37).toBeCloseTo(total_lb, 9);
    expect(result.x_m / 0.0254).toBeCloseTo(cgExact_in, 4);
    expect(result.inside.longitudinal).toBe(inside);
  });

  test("Weight and Balance Handbook, helicopter: every moment on both axes, the total and the centre", () => {
    const { rows, total_lb, moment_lbin, cg_in } = data.handbookHelicopter;
    expect(rows).toHaveLength(4);
    let lateralRows = 0;
    for (const [, mass, arm, moment, lateralArm, lateralMoment] of rows) {
      const totals = totalsOf([item(mass as number, arm as number, (lateralArm ?? 0) as number)]);
      expect(totals.x_kgm).toBeCloseTo(moment as number, 9);
      if (lateralMoment === null) continue;
      lateralRows += 1;
      expect(totals.y_kgm).toBeCloseTo(lateralMoment as number, 9);
    }
    expect(lateralRows).toBe(2);
    const totals = totalsOf(rows.map(([, mass, arm]) => item(mass as number, arm as number)));
    expect(totals.mass_kg).toBe(total_lb);
    expect(totals.x_kgm).toBeCloseTo(moment_lbin, 9);
    expect(Math.round(x(totals) * 10) / 10).toBe(cg_in);
  });

  test("Pilot's Handbook: a mass shifted from station to station", () => {
    const { shiftToLimit, shifted } = data.shifts;
    const before = totalsAt(at(shiftToLimit.cg_in), shiftToLimit.total_lb);
    const { from_in, to_in, moved_lb, limit_in } = shiftToLimit;
    expect(massToMove(before, from_in, to_in, limit_in)).toBeCloseTo(moved_lb, 12);
    expect(x(moveMass(before, moved_lb, at(from_in), at(to_in)))).toBeCloseTo(limit_in, 12);

    const second: Totals = { mass_kg: shifted.total_lb, x_kgm: shifted.moment_lbin, y_kgm: 0 };
    expect(x(second)).toBe(shifted.cg_in);
    const after = moveMass(second, shifted.moved_lb, at(shifted.from_in), at(shifted.to_in));
    expect(after.x_kgm).toBe(shifted.newMoment_lbin);
    expect(x(after)).toBe(shifted.newCg_in);
  });

  test("Pilot's Handbook: a mass added, a mass removed", () => {
    const { added, removed } = data.shifts;
    const heavier = addTotals(
      totalsAt(at(added.cg_in), added.total_lb),
      totalsAt(at(added.at_in), added.mass_lb),
    );
    expect(x(heavier)).toBeCloseTo(added.newCg_in, 1);
    expect(x(heavier) - added.cg_in).toBeCloseTo(added.change_in, 1);
    const lighter = addTotals(
      totalsAt(at(removed.cg_in), removed.total_lb),
      totalsAt(at(removed.at_in), -removed.mass_lb),
    );
    expect(x(lighter)).toBeCloseTo(removed.newCg_in, 1);
    expect(x(lighter) - removed.cg_in).toBeCloseTo(removed.change_in, 1);
  });

  test("permanent ballast: the least mass at the station that brings the centre onto the forward limit", () => {
    const { total_lb, cg_in, forward_in, station_in, ballast_lb, ballastExact_lb } = data.ballast;
    const { set } = safeMasses(
      {
        base: totalsAt(at(cg_in), total_lb),
        station: { x_m: station_in, y_m: 0 },
        mass_kg: { low: 0, high: 100 },
        line: fuelLineOfTank([[0, 0, 0]]),
        fuel_kg: { low: 0, high: 0 },
      },
      { ...noLimits, longitudinal: box(forward_in, 1000, 0, 10_000) },
    );
    expect(set).toHaveLength(1);
    expect(set[0]!.low).toBeCloseTo(ballastExact_lb, 3);
    expect(Math.round(set[0]!.low * 10) / 10).toBe(ballast_lb);
    expect(set[0]!.high).toBe(100);
  });

  test("the invented twin: take-off, without fuel and without the patient, on both axes", () => {
    const { rows, fuelItem, patientItem, takeoff, zeroFuel, withoutPatient } = data.constructedTwin;
    expect(rows).toHaveLength(8);
    const without = (left: string | null): Totals =>
      totalsOf(
        rows
          .filter(([name]) => name !== left)
          .map(([, mass, xHere, yHere]) => item(mass as number, xHere as number, yHere as number)),
      );
    const all = without(null);
    expect(all.mass_kg).toBe(takeoff.mass_kg);
    expect(all.x_kgm).toBeCloseTo(takeoff.x_kgm, 9);
    expect(all.y_kgm).toBeCloseTo(takeoff.y_kgm, 9);
    for (const [left, wanted] of [
      [null, takeoff],
      [fuelItem, zeroFuel],
      [patientItem, withoutPatient],
    ] as const) {
      const totals = without(left);
      expect(totals.mass_kg).toBe(wanted.mass_kg);
      expect(centreOf(totals).x_m).toBeCloseTo(wanted.x_m, 5);
      expect(centreOf(totals).y_m).toBeCloseTo(wanted.y_m, 5);
    }
  });
});

describe("the edges of an envelope", () => {
  const { polygon, points } = data.envelopeEdges;

  test("every vector is inside or outside as told", () => {
    expect(points).toHaveLength(5);
    const longitudinal = outlineOf(polygon);
    for (const [arm, mass, inside] of points as [number, number, boolean][]) {
      const totals = { mass_kg: mass, x_kgm: mass * arm, y_kgm: 0 };
      expect(checkState({ ...noLimits, longitudinal }, totals).inside.longitudinal).toBe(inside);
    }
  });
});

describe("polygons", () => {
  const { shapes, notchLattice } = data.polygons;

  test("every point lies inside, on the edge or outside as told, whichever way the polygon turns", () => {
    let points = 0;
    for (const shape of Object.values(shapes)) {
      for (const corners of [shape.corners, shape.corners.toReversed()]) {
        const outline = outlineOf(corners);
        for (const place of ["inside", "edge", "outside"] as const) {
          for (const [a, b] of shape[place] as unknown as Corner[]) {
            points += 1;
            expect(placeOf(outline, a, b)).toBe(place);
            expect(isWithin(outline, a, b)).toBe(place !== "outside");
          }
        }
      }
    }
    expect(points).toBe(2 * (11 + 7 + 11 + 6 + 10));
  });

  test("the lattice around the notch has the told numbers of each", () => {
    const outline = outlineOf(shapes.notch.corners);
    const counts = { inside: 0, edge: 0, outside: 0 };
    for (let a = notchLattice.low; a <= notchLattice.high; a += 1) {
      for (let b = notchLattice.low; b <= notchLattice.high; b += 1) counts[placeOf(outline, a, b)] += 1;
    }
    const { inside, edge, outside } = notchLattice;
    expect(counts).toEqual({ inside, edge, outside });
  });
});

describe("orientation on the lattice", () => {
  test("is exact everywhere, where the plain expression is wrong in the told number of points", () => {
    const { count, start, stepExponent, line, naiveWrong } = data.orientation;
    const [[qx, qy], [rx, ry]] = line as [[number, number], [number, number]];
    const above = orientation(1, 0, qx, qy, rx, ry);
    let wrong = 0;
    for (let i = 0; i < count; i += 1) {
      for (let j = 0; j < count; j += 1) {
        const px = start + i * 2 ** stepExponent;
        const py = start + j * 2 ** stepExponent;
        // Both other points are on the line y = x.
        const truth = Math.sign(i - j) * above + 0;
        expect(orientation(px, py, qx, qy, rx, ry)).toBe(truth);
        const plain = (px - rx) * (qy - ry) - (py - ry) * (qx - rx);
        if (Math.sign(plain) !== truth) wrong += 1;
      }
    }
    expect(wrong).toBe(naiveWrong);
  });
});
