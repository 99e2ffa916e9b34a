import * as fc from "fast-check";
import { describe, expect, test } from "vitest";
import { box, burnRanges, fuelLines, lateralOutlines, loads } from "./arbitrary-load.ts";
import { fuelLineOfTank, fuelTotals } from "./fuel-line.ts";
import { checkHoistHover } from "./hoist.ts";
import { checkState, noLimits } from "./limits.ts";
import { addTotals, centreOf, type Totals, totalsAt, totalsOf } from "./totals.ts";

const boom = { x_m: 3.9, y_m: 1.42 };

describe("a hover with the hoist", () => {
  test("has no state further to a side than told, and safe loads are inside in every fuel state", () => {
    fc.assert(
      fc.property(loads, fuelLines, burnRanges, lateralOutlines, (items, line, range, lateral) => {
        const base = totalsOf(items);
        const limits = { ...noLimits, lateral };
        const check = checkHoistHover({
          base,
          line,
          fuel_kg: { low: range.to_kg, high: range.from_kg },
          boom,
          hook_kg: { low: 0, high: 270 },
          limits,
        });
        for (let f = 0; f <= 20; f += 1) {
          const fuel = Math.min(range.from_kg, range.to_kg + ((range.from_kg - range.to_kg) * f) / 20);
          for (let h = 0; h <= 10; h += 1) {
            const hook = 27 * h;
            const totals = addTotals(addTotals(base, totalsAt(boom, hook)), fuelTotals(line, fuel));
            const { y_m } = centreOf(totals);
            expect(y_m).toBeGreaterThanOrEqual(check.furthestLeft.y_m - 1e-12);
            expect(y_m).toBeLessThanOrEqual(check.furthestRight.y_m + 1e-12);
            const isSafe = check.loads.set.some(({ low, high }) => hook >= low && hook <= high);
            if (isSafe) expect(checkState(limits, totals).inside.lateral).toBe(true);
          }
        }
      }),
      { numRuns: 150 },
    );
  });

  test("is worst to the side of the boom with the full hook and the lightest craft", () => {
    const base: Totals = { mass_kg: 2200, x_kgm: 9460, y_kgm: 0 };
    const line = fuelLineOfTank([
      [0, 4.2, 0],
      [400, 4.2, 0],
    ]);
    const lateral = box(-0.1, 0.12, 1900, 3200);
    const check = checkHoistHover({
      base,
      line,
      fuel_kg: { low: 80, high: 300 },
      boom,
      hook_kg: { low: 6, high: 256 },
      limits: { ...noLimits, lateral },
    });
    expect(check.furthestRight).toEqual({
      y_m: expect.closeTo((256 * 1.42) / (2280 + 256), 12) as unknown,
      fuel_kg: 80,
      hook_kg: 256,
    });
    expect(check.furthestLeft.hook_kg).toBe(6);
    expect(check.safe).toBe(false);
    expect(check.empty.inside.lateral).toBe(true);
    expect(check.full.inside.lateral).toBe(false);
    // 1.42 p = 0.12 (2280 + p) with the least fuel; 1.42·256 = 0.12 (2456 + f) with the full hook.
    expect(check.loads.set).toEqual([{ low: 6, high: expect.closeTo((0.12 * 2280) / 1.3, 9) as unknown }]);
    expect(check.fuels.set).toEqual([]);
  });
});
