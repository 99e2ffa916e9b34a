import * as fc from "fast-check";
import { describe, expect, test } from "vitest";
import { Refusal } from "../quantity/refusal.ts";
import { anyLimits, box, burnRanges, fuelLines, loads, longitudinalOutlines } from "./arbitrary-load.ts";
import { compileLoad, planeSlots, slots } from "./compile-load.ts";
import { followPath } from "./follow-path.ts";
import { fuelLineOfTank, fuelTotals } from "./fuel-line.ts";
import { checkState, noLimits, planesOf } from "./limits.ts";
import { fuelPath } from "./path.ts";
import { addTotals, centreOf, totalsOf } from "./totals.ts";

describe("the compiled load", () => {
  test("gives what following each plane gives", () => {
    const seen = { inside: 0, outside: 0, beyond: 0 };
    fc.assert(
      fc.property(loads, fuelLines, burnRanges, anyLimits, (items, line, { from_kg, to_kg }, limitsHere) => {
        const compiled = compileLoad(items, line, limitsHere);
        const output = new Float64Array(compiled.outputLength);
        const masses = Float64Array.from(items, (item) => item.mass_kg);
        const inside = compiled.evaluate(masses, from_kg, to_kg, output);

        const path = fuelPath(totalsOf(items), line, to_kg, from_kg);
        const tracks = planesOf(limitsHere).map((plane) => followPath(path, plane));
        expect(compiled.planes).toEqual(tracks.map(({ plane: { limit, axis } }) => ({ limit, axis })));
        expect(inside).toBe(tracks.every(({ spans }) => spans.every((span) => span.inside)));
        for (const [index, { spans, worst }] of tracks.entries()) {
          const at = slots.planes + 3 * index;
          expect(output[at + planeSlots.inside]).toBe(spans.every((span) => span.inside) ? 1 : 0);
          const margin = output[at + planeSlots.margin]!;
          if (worst === null) expect(margin).toBe(Number.POSITIVE_INFINITY);
          else if (worst.margin_m === null) {
            seen.beyond += 1;
            expect(margin).toBe(Number.NEGATIVE_INFINITY);
            expect(output[at + planeSlots.fuel]).toBeCloseTo(worst.at_kg, 9);
          } else {
            seen[worst.margin_m >= 0 ? "inside" : "outside"] += 1;
            // The mass limit's arms are so wide that a rounding there is larger than any arm.
            expect(Math.abs(margin - worst.margin_m)).toBeLessThan(margin > 1e6 ? 1e-6 : 1e-11);
          }
        }
        const totals = path.totalsAt(from_kg);
        expect(output[slots.startMass]).toBeCloseTo(totals.mass_kg, 9);
        expect(output[slots.startX]).toBeCloseTo(centreOf(totals).x_m, 12);
        expect(output[slots.startY]).toBeCloseTo(centreOf(totals).y_m, 12);
        expect(output[slots.endX]).toBeCloseTo(centreOf(path.totalsAt(to_kg)).x_m, 12);
      }),
      { numRuns: 2000 },
    );
    for (const count of Object.values(seen)) expect(count).toBeGreaterThan(200);
  });

  test("finds the fuel at which the margin is what it says", () => {
    fc.assert(
      fc.property(
        loads,
        fuelLines,
        burnRanges,
        longitudinalOutlines,
        (items, line, { from_kg, to_kg }, outline) => {
          const limitsHere = { ...noLimits, longitudinal: outline };
          const compiled = compileLoad(items, line, limitsHere);
          const output = new Float64Array(compiled.outputLength);
          compiled.evaluate(
            Float64Array.from(items, (item) => item.mass_kg),
            from_kg,
            to_kg,
            output,
          );
          const fuel = output[slots.planes + planeSlots.fuel]!;
          expect(fuel).toBeGreaterThanOrEqual(to_kg);
          expect(fuel).toBeLessThanOrEqual(from_kg);
          const margin = output[slots.planes + planeSlots.margin]!;
          if (margin === Number.NEGATIVE_INFINITY) return;
          // At a step of the limit the margin is what it tends to on one side; see the same test of the burn track.
          const isThere = [0, 1e-5, -1e-5, 1e-3, -1e-3, 0.1, -0.1].some((off) => {
            if (fuel + off < to_kg || fuel + off > from_kg) return false;
            const state = addTotals(totalsOf(items), fuelTotals(line, fuel + off));
            const { forward_m, aft_m } = checkState(limitsHere, state).margins.longitudinal!;
            const smaller = Math.min(forward_m ?? -Infinity, aft_m ?? -Infinity);
            return smaller <= margin + 1e-9 + Math.abs(off) * 0.01;
          });
          expect(isThere).toBe(true);
        },
      ),
    );
  });

  const line = fuelLineOfTank([
    [0, 4.2, 0],
    [400, 4.2, 0],
  ]);
  const one = compileLoad([{ x_m: 4.2, y_m: 0 }], line, {
    ...noLimits,
    longitudinal: box(4, 4.5, 1500, 3000),
  });
  const output = new Float64Array(one.outputLength);

  test.each([
    ["on the upper mass limit within tolerance", 2600 * (1 + 1e-10), true],
    ["above it by more", 2600.1, false],
    ["on the lower mass limit within tolerance", 1500 * (1 - 1e-10), true],
    ["below it by more", 1499.9, false],
  ])("a burn %s", (_, mass, inside) => {
    expect(one.evaluate(Float64Array.of(mass), 400, 0, output)).toBe(inside);
  });

  test.each([
    ["on a limit of constant arm", 4 * (1 - 0.5e-9), true],
    ["outside it by more than the tolerance", 4 * (1 - 2e-9), false],
  ])("a burn %s all the way", (_, x_m, inside) => {
    const along = compileLoad(
      [{ x_m, y_m: 0 }],
      fuelLineOfTank([
        [0, x_m, 0],
        [400, x_m, 0],
      ]),
      { ...noLimits, longitudinal: box(4, 4.5, 1500, 3000) },
    );
    expect(along.evaluate(Float64Array.of(2000), 400, 0, output)).toBe(inside);
    expect(output[slots.planes + planeSlots.margin]).toBeCloseTo(x_m - 4, 12);
  });

  test("a burn of less than a rounding of the mass is one state", () => {
    expect(one.evaluate(Float64Array.of(2000), 1e-14, 0, output)).toBe(true);
    expect(output[slots.planes + planeSlots.margin]).toBeCloseTo(0.2, 12);
  });

  test("is refused for a mass that is none and a burn that the tank does not cover", () => {
    const masses = Float64Array.of(2000);
    expect(() => one.evaluate(Float64Array.of(-1), 400, 0, output)).toThrow(Refusal);
    expect(() => one.evaluate(Float64Array.of(Number.NaN), 400, 0, output)).toThrow(Refusal);
    expect(() => one.evaluate(masses, 401, 0, output)).toThrow(Refusal);
    expect(() => one.evaluate(masses, 100, 200, output)).toThrow(Refusal);
    expect(() => one.evaluate(masses, Number.NaN, 0, output)).toThrow(Refusal);
    expect(() => one.evaluate(Float64Array.of(0), 100, 0, output)).toThrow(Refusal);
  });
});
