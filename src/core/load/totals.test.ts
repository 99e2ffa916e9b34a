import * as fc from "fast-check";
import { describe, expect, test } from "vitest";
import { convert } from "../quantity/units.ts";
import { issuesOf, loads } from "./arbitrary-load.ts";
import { massToMove, moveMass } from "./shift-mass.ts";
import { addTotals, centreOf, type Item, totalsAt, totalsOf } from "./totals.ts";

const arm = fc.double({ min: 1, max: 8, noNaN: true });
const side = fc.double({ min: -2, max: 2, noNaN: true });
const mass = fc.double({ min: 0.1, max: 1200, noNaN: true });

/** Equal up to a few roundings of sums of this size. */
function expectSame(one: ReturnType<typeof totalsOf>, other: ReturnType<typeof totalsOf>): void {
  expect(Math.abs(one.mass_kg - other.mass_kg)).toBeLessThan(1e-10);
  expect(Math.abs(one.x_kgm - other.x_kgm)).toBeLessThan(1e-9);
  expect(Math.abs(one.y_kgm - other.y_kgm)).toBeLessThan(1e-9);
}

describe("totals", () => {
  test("do not depend on the order of the items beyond rounding", () => {
    fc.assert(
      fc.property(
        loads.chain((items) =>
          fc.tuple(
            fc.constant(items),
            fc.shuffledSubarray([...items], { minLength: items.length, maxLength: items.length }),
          ),
        ),
        ([items, shuffled]) => {
          expectSame(totalsOf(items), totalsOf(shuffled));
        },
      ),
    );
  });

  test("are what they were after adding a mass and taking it away again", () => {
    fc.assert(
      fc.property(loads, mass, arm, side, (items, added, x_m, y_m) => {
        const before = totalsOf(items);
        const station = { x_m, y_m };
        expectSame(addTotals(addTotals(before, totalsAt(station, added)), totalsAt(station, -added)), before);
      }),
    );
  });

  test("are what they were after moving a mass to where it is", () => {
    fc.assert(
      fc.property(loads, mass, arm, side, (items, moved, x_m, y_m) => {
        const before = totalsOf(items);
        expectSame(moveMass(before, moved, { x_m, y_m }, { x_m, y_m }), before);
      }),
    );
  });

  test("of a mass added at the centre of gravity leave the centre where it is", () => {
    fc.assert(
      fc.property(loads, mass, (items, added) => {
        const before = totalsOf(items);
        const centre = centreOf(before);
        const after = centreOf(addTotals(before, totalsAt(centre, added)));
        expect(after.x_m).toBeCloseTo(centre.x_m, 12);
        expect(after.y_m).toBeCloseTo(centre.y_m, 12);
      }),
    );
  });

  test("say the same in pounds and inches", () => {
    fc.assert(
      fc.property(loads, (items) => {
        const imperial = items.map((item): Item => ({
          mass_kg: convert(item.mass_kg as never, "kg", "lb"),
          x_m: convert(item.x_m as never, "m", "in"),
          y_m: convert(item.y_m as never, "m", "in"),
        }));
        const centre = centreOf(totalsOf(items));
        const inInches = centreOf(totalsOf(imperial));
        expect(inInches.x_m * 0.0254).toBeCloseTo(centre.x_m, 12);
        expect(inInches.y_m * 0.0254).toBeCloseTo(centre.y_m, 12);
      }),
    );
  });

  test("of nothing are zero, and have no centre", () => {
    expect(totalsOf([])).toEqual({ mass_kg: 0, x_kgm: 0, y_kgm: 0 });
    expect(issuesOf(() => centreOf(totalsOf([]), "items"))).toMatchObject([
      { path: "items", code: "impossible" },
    ]);
  });

  test("are refused with every bad item named at once", () => {
    const items: Item[] = [
      { mass_kg: -1, x_m: 4, y_m: 0 },
      { mass_kg: 1, x_m: Number.NaN, y_m: Number.POSITIVE_INFINITY },
      { mass_kg: 1, x_m: 4, y_m: 0 },
      { mass_kg: 1e10, x_m: 4, y_m: "0" as never },
    ];
    expect(issuesOf(() => totalsOf(items)).map(({ path, code }) => [path, code])).toEqual([
      ["items[0].mass_kg", "outsideDomain"],
      ["items[1].x_m", "notFinite"],
      ["items[1].y_m", "notFinite"],
      ["items[3].mass_kg", "outsideDomain"],
      ["items[3].y_m", "notANumber"],
    ]);
  });
});

describe("moving a mass", () => {
  test("of the size solved for brings the centre where it was wanted", () => {
    fc.assert(
      fc.property(loads, fc.double({ min: 0.001, max: 0.1, noNaN: true }), (items, forward) => {
        const totals = totalsOf(items);
        const wanted = centreOf(totals).x_m - forward;
        const moved = massToMove(totals, 6, 2, wanted);
        const after = moveMass(totals, moved, { x_m: 6, y_m: 0 }, { x_m: 2, y_m: 0 });
        expect(centreOf(after).x_m).toBeCloseTo(wanted, 11);
      }),
    );
  });

  test("is refused for more than is on board, less than nothing, and no way at all", () => {
    const totals = totalsAt({ x_m: 4, y_m: 0 }, 100);
    const station = { x_m: 1, y_m: 0 };
    expect(issuesOf(() => moveMass(totals, 101, station, station))).toMatchObject([{ path: "mass_kg" }]);
    expect(issuesOf(() => moveMass(totals, -1, station, station))).toMatchObject([{ path: "mass_kg" }]);
    expect(issuesOf(() => moveMass(totals, Number.NaN, station, station))).toMatchObject([
      { path: "mass_kg" },
    ]);
    expect(issuesOf(() => massToMove(totals, 3, 3, 4))).toMatchObject([{ path: "to_m", code: "impossible" }]);
  });
});
