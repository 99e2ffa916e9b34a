// Hover problems, gas pressures and the credit for wind against the rows of power.json.
//
// Tolerances: a computed pressure to half its last digit. The hover problems go through the core in kilograms; their masses
// are whole pounds, so half a pound.
import { describe, expect, test } from "vitest";
import { chartOf } from "../src/core/chart/chart.ts";
import { compileChart } from "../src/core/chart/compile-chart.ts";
import { chartWind } from "../src/core/power/chart-wind.ts";
import { gasPressureAt } from "../src/core/power/gas-pressure.ts";
import type { PowerChart } from "../src/core/power/power-chart.ts";
import { powerFor } from "../src/core/power/power-margin.ts";
import { convert, inUnit } from "../src/core/quantity/units.ts";
import { windCredits } from "../src/core/rules/wind-credit.ts";
import type { PowerUse } from "../src/core/sheet/chart-blocks.ts";
import data from "./power.json" with { type: "json" };

const kgOf = (lb: number): number => convert(inUnit(lb, "lb"), "lb", "kg");
const lbOf = (kg: number): number => convert(inUnit(kg, "kg"), "kg", "lb");

/** A chart through the one mass that the problem reads off, falling by height and temperature around it. */
function chartThrough(use: PowerUse, height: number, oat: number, mass_kg: number): PowerChart {
  return {
    id: use,
    use,
    limit: null,
    windFactored: false,
    chart: compileChart(
      chartOf({
        kind: "grid",
        axes: [
          { input: "pressureAltitude_ft", at: [height - 2000, height, height + 2000] },
          { input: "temperature_C", at: [oat - 20, oat, oat + 20] },
        ],
        values: [40, 0, -40].map((byHeight) => [20, 0, -20].map((byHeat) => mass_kg + byHeight + byHeat)),
        output: "mass_kg",
        monotone: { pressureAltitude_ft: "falling", temperature_C: "falling" },
      }),
    ),
  };
}

describe("the hover problems", () => {
  test.each(data.hoverProblems.problems)(
    "problem $n: can it hover, and how much must be taken off",
    ({ use, pressureAltitude_ft, oat_C, gross_lb, chart_lb, canHover, remove_lb }) => {
      const chart = chartThrough(use as PowerUse, pressureAltitude_ft, oat_C, kgOf(chart_lb));
      const state = { mass_kg: kgOf(gross_lb), pressureAltitude_ft, temperature_C: oat_C, wind: null };
      const answer = powerFor(use as PowerUse, [chart], state, windCredits.us);
      expect(answer.isMet).toBe(canHover);
      expect(lbOf(answer.margin_kg!)).toBeCloseTo(chart_lb - gross_lb, 9);
      if (remove_lb !== undefined) expect(-lbOf(answer.margin_kg!)).toBeCloseTo(remove_lb, 9);
    },
  );
});

describe("gas pressure against temperature", () => {
  const { psig, bar } = data.gas;

  test.each(bar.rows)("100 bar at 20 °C is at %d °C %d bar", (at_C, pressure) => {
    expect(Math.abs(gasPressureAt(bar.charge, bar.charge_C, at_C)! - pressure)).toBeLessThanOrEqual(0.05);
  });

  test.each(psig.rows)("1000 psi at 21 °C is at %d °C %d psi", (at_C, pressure) => {
    const charge_bar = convert(inUnit(psig.charge, "psi"), "psi", "bar");
    const found = gasPressureAt(charge_bar, psig.charge_C, at_C)!;
    expect(Math.abs(convert(inUnit(found, "bar"), "bar", "psi") - pressure)).toBeLessThanOrEqual(0.05);
  });
});

test.each(data.windCredit.rows)(
  "of $headwind_kt kt, measured $measured, factored in the chart $factored, counts $counted_kt kt",
  ({ headwind_kt, measured, factored, counted_kt }) => {
    const axis = { range: [-30, 30], isHelpful: true, factored } as const;
    expect(chartWind({ headwind_kt, measured }, axis, windCredits.eu)).toMatchObject({
      is: "counted",
      headwind_kt: counted_kt,
    });
  },
);
