import fc from "fast-check";
import { expect, test } from "vitest";
import { bothAxes, burnRanges, fuelLines, loads } from "./arbitrary-load.ts";
import { burnMargins } from "./burn-margins.ts";
import { trackBurn } from "./burn-track.ts";
import { fuelRange, fuelTotals } from "./fuel-line.ts";
import { checkState } from "./limits.ts";
import { addTotals, totalsOf } from "./totals.ts";

test("no sampled state has less room on any side than the margins say, and each margin is met by the worst one or more", () => {
  let compared = 0;
  fc.assert(
    fc.property(loads, fuelLines, burnRanges, bothAxes, (items, line, range, limits) => {
      const [low, high] = fuelRange(line);
      const burn = {
        line,
        to_kg: Math.max(low, Math.min(range.to_kg, high)),
        from_kg: Math.min(range.from_kg, high),
      };
      fc.pre(burn.to_kg <= burn.from_kg);
      const base = totalsOf(items);
      const margins = burnMargins(base, burn, limits);
      for (let step = 0; step <= 60; step += 1) {
        const fuel_kg = burn.to_kg + ((burn.from_kg - burn.to_kg) * step) / 60;
        const { margins: at } = checkState(limits, addTotals(base, fuelTotals(line, fuel_kg)));
        const sides = [
          [margins.forward_m, at.longitudinal?.forward_m],
          [margins.aft_m, at.longitudinal?.aft_m],
          [margins.left_m, at.lateral?.left_m],
          [margins.right_m, at.lateral?.right_m],
        ] as const;
        for (const [least, sampled] of sides) {
          if (least === null || sampled === null || sampled === undefined) continue;
          compared += 1;
          expect(least).toBeLessThanOrEqual(sampled + 1e-9);
        }
      }
      const { worst } = trackBurn(base, burn, limits);
      if (worst === null || worst.margin_m === null) return;
      const all = [margins.forward_m, margins.aft_m, margins.left_m, margins.right_m];
      const known = all.filter((margin) => margin !== null);
      if (known.length === 4) expect(Math.min(...known)).toBeCloseTo(worst.margin_m, 9);
    }),
    { numRuns: 150 },
  );
  expect(compared).toBeGreaterThan(3_000);
});
