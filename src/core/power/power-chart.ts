// The charts of a sheet that limit power, ready to be read, and which of them hold for a craft.

import { chartOf } from "../chart/chart.ts";
import { compileChart, type CompiledChart } from "../chart/compile-chart.ts";
import { evaluateApplicability, type CraftConfig } from "../sheet/applicability.ts";
import { type PowerUse, powerUses, type SheetChart } from "../sheet/chart-blocks.ts";
import type { Sheet } from "../sheet/schema.ts";

/** On which side of what the output must stay. */
export type Bound = { readonly atLeast: number } | { readonly atMost: number };

export type PowerChart = {
  readonly id: string;
  readonly use: PowerUse;
  readonly chart: CompiledChart;
  /** Null where the output is itself the most that mass, pressure altitude or temperature may be. */
  readonly limit: Bound | null;
  readonly windFactored: boolean;
};

/**
 * The charts of a sheet for power that apply to a craft. What is not known of the craft counts as applying, since every
 * chart is one more limit.
 */
export function powerChartsOf({ charts }: Pick<Sheet, "charts">, craft: CraftConfig): readonly PowerChart[] {
  return Object.entries(charts).flatMap(([id, block]) => {
    if (evaluateApplicability(block.applies, craft, {}).value === false) return [];
    const chart = powerChartOf(id, block);
    return chart === null ? [] : [chart];
  });
}

/** Null for a chart with another use. */
export function powerChartOf(id: string, block: SheetChart): PowerChart | null {
  const { use } = block;
  if (use === undefined || !isPower(use)) return null;
  return {
    id,
    use: use.for,
    chart: compileChart(chartOf(block)),
    limit: use.limit ?? null,
    windFactored: use.windFactored ?? false,
  };
}

type Use = NonNullable<SheetChart["use"]>;
const isPower = (use: Use): use is Extract<Use, { readonly for: PowerUse }> =>
  (powerUses as readonly string[]).includes(use.for);
