import * as fc from "fast-check";
import { describe, expect, test } from "vitest";
import { box, loads, longitudinalOutlines, outlineOf } from "./arbitrary-load.ts";
import { checkState, noLimits } from "./limits.ts";
import { type Totals, totalsOf } from "./totals.ts";

const state = (mass_kg: number, x_m: number, y_m = 0): Totals => ({
  mass_kg,
  x_kgm: mass_kg * x_m,
  y_kgm: mass_kg * y_m,
});
const longitudinal = outlineOf([
  [4, 1500],
  [4.5, 1500],
  [4.5, 2500],
  [4.4, 3000],
  [4.1, 3000],
]);
const marginsAt = (mass_kg: number, x_m: number) =>
  checkState({ ...noLimits, longitudinal }, state(mass_kg, x_m)).margins.longitudinal!;

describe("margins at one state", () => {
  test("are the ways to the four sides, along the axes", () => {
    const margins = marginsAt(2250, 4.3);
    // The forward limit runs from 4 at 1,500 kg to 4.1 at 3,000 kg.
    expect(margins.forward_m).toBeCloseTo(4.3 - 4.05, 12);
    expect(margins.aft_m).toBeCloseTo(4.5 - 4.3, 12);
    expect(margins.heavier_kg).toBeCloseTo(750, 9);
    expect(margins.lighter_kg).toBeCloseTo(750, 9);
  });

  test("outside are negative on the one side that is exceeded", () => {
    const aft = marginsAt(2250, 4.6);
    expect(aft.aft_m).toBeCloseTo(-0.1, 12);
    expect(aft.forward_m).toBeCloseTo(0.55, 12);
    expect(aft.heavier_kg).toBeNull();
    const heavy = marginsAt(3100, 4.2);
    expect(heavy.heavier_kg).toBeCloseTo(-100, 9);
    expect(heavy.lighter_kg).toBeCloseTo(1600, 9);
    expect(heavy.forward_m).toBeNull();
    expect(heavy.aft_m).toBeNull();
  });

  test("of a mass above the slanting upper end say how much lighter it has to be", () => {
    // At 4.45 m the aft limit allows up to 2,750 kg.
    expect(marginsAt(2800, 4.45).heavier_kg).toBeCloseTo(-50, 9);
    expect(marginsAt(2800, 4.45).aft_m).toBeCloseTo(-0.01, 12);
  });

  test("between two parts of a limit are from the nearer one, the forward one of two as near", () => {
    const notched = outlineOf([
      [4, 1500],
      [4.1, 1500],
      [4.1, 2500],
      [4.3, 2500],
      [4.3, 1500],
      [4.5, 1500],
      [4.5, 3000],
      [4, 3000],
    ]);
    const at = (x_m: number) =>
      checkState({ ...noLimits, longitudinal: notched }, state(2000, x_m)).margins.longitudinal!;
    expect(at(4.15).aft_m).toBeCloseTo(-0.05, 12);
    expect(at(4.15).forward_m).toBeCloseTo(0.15, 12);
    expect(at(4.28).forward_m).toBeCloseTo(-0.02, 12);
    expect(at(4.28).aft_m).toBeCloseTo(0.22, 12);
    expect(at(4.15).heavier_kg).toBeCloseTo(1000, 9);
    expect(at(4.15).lighter_kg).toBeCloseTo(-500, 9);
  });

  test("on a limit are zero and inside", () => {
    const check = checkState({ ...noLimits, longitudinal }, state(3000, 4.1));
    expect(check.inside.longitudinal).toBe(true);
    expect(check.margins.longitudinal).toMatchObject({ heavier_kg: 0 });
    expect(check.margins.longitudinal!.forward_m).toBeCloseTo(0, 12);
  });

  test("a hair above the whole limit, within tolerance, are those on it", () => {
    const check = checkState({ ...noLimits, longitudinal }, state(3000 * (1 + 5e-10), 4.2));
    expect(check.inside.longitudinal).toBe(true);
    expect(check.margins.longitudinal!.forward_m).toBeCloseTo(0.1, 9);
    expect(check.margins.longitudinal!.heavier_kg).toBeLessThan(0);
  });

  test("bring a state that moves by one of them onto the limit", () => {
    fc.assert(
      fc.property(loads, longitudinalOutlines, (items, outline) => {
        const totals = totalsOf(items);
        const x = totals.x_kgm / totals.mass_kg;
        const check = (s: Totals) => checkState({ ...noLimits, longitudinal: outline }, s);
        const { forward_m, aft_m, heavier_kg, lighter_kg } = check(totals).margins.longitudinal!;
        for (const by of [forward_m === null ? null : -forward_m, aft_m]) {
          if (by !== null) expect(check(state(totals.mass_kg, x + by)).inside.longitudinal).toBe(true);
        }
        for (const by of [heavier_kg, lighter_kg === null ? null : -lighter_kg]) {
          if (by !== null) expect(check(state(totals.mass_kg + by, x)).inside.longitudinal).toBe(true);
        }
        const sides = [forward_m, aft_m].filter((side) => side !== null);
        if (check(totals).inside.longitudinal) expect(Math.min(...sides)).toBeGreaterThan(-1e-8);
        else expect(sides.length === 0 || Math.min(...sides) < 0).toBe(true);
      }),
      { numRuns: 1000 },
    );
  });
});

describe("every kind of limit", () => {
  const limits = {
    longitudinal,
    lateral: box(-0.1, 0.12, 1500, 3000),
    coupled: [{ outline: box(4.1, 4.4, -0.05, 0.05), above_kg: 2000, upTo_kg: 2400 }],
    mass: { least_kg: 1600, most_kg: 2900 },
  };

  test("is judged by its own sign: right and aft positive", () => {
    const { inside, margins } = checkState(limits, state(2250, 4.3, 0.04));
    expect(inside).toEqual({ longitudinal: true, lateral: true, coupled: true, mass: true });
    expect(margins.lateral!.left_m).toBeCloseTo(0.14, 12);
    expect(margins.lateral!.right_m).toBeCloseTo(0.08, 12);
    expect(margins.coupled[0]!.forward_m).toBeCloseTo(0.2, 12);
    expect(margins.coupled[0]!.aft_m).toBeCloseTo(0.1, 12);
    expect(margins.coupled[0]!.left_m).toBeCloseTo(0.09, 12);
    expect(margins.coupled[0]!.right_m).toBeCloseTo(0.01, 12);
    expect(margins.mass).toEqual({ heavier_kg: 650, lighter_kg: 650 });
  });

  test("is told apart from the others", () => {
    expect(checkState(limits, state(2250, 4.3, 0.08)).inside).toEqual({
      longitudinal: true,
      lateral: true,
      coupled: false,
      mass: true,
    });
    expect(checkState(limits, state(2950, 4.3, 0.08)).inside).toEqual({
      longitudinal: true,
      lateral: true,
      coupled: true,
      mass: false,
    });
    expect(checkState(limits, state(2950, 4.3)).margins.coupled).toEqual([null]);
  });

  test("holds at both ends of its band of mass", () => {
    for (const mass of [2000, 2400, 2400 * (1 + 5e-10)]) {
      expect(checkState(limits, state(mass, 4.3, 0.08)).inside.coupled).toBe(false);
    }
    expect(checkState(limits, state(2400.1, 4.3, 0.08)).inside.coupled).toBe(true);
  });

  test("is null where it is not given", () => {
    const { inside, margins } = checkState(noLimits, state(2000, 4));
    expect(inside).toEqual({ longitudinal: null, lateral: null, coupled: null, mass: null });
    expect(margins).toEqual({ longitudinal: null, lateral: null, coupled: [], mass: null });
  });
});
