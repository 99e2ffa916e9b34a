// Robust lines, control charts, normal quantiles and gas pressures beside published values (trend.json has sources and
// status).

import type * as EwmaChart from "../src/core/level/ewma-chart.ts";
import type * as Normal from "../src/core/level/normal.ts";
import type * as TabularCusum from "../src/core/level/tabular-cusum.ts";
import type * as TheilSen from "../src/core/level/theil-sen.ts";
import data from "./trend.json" with { type: "json" };
import { measureTable, type Table, type Tolerance } from "./table.ts";

const exact: Tolerance = { within: 1e-12, unit: "", because: "whole numbers and fractions" };
const relative = (within: number, because: string): Tolerance => ({ within, unit: "of the value", because });
const printed: Tolerance = {
  within: 0.0051,
  unit: "",
  because: "two decimals printed, halves rounded either way",
};

export function senTables({ senLine, senInterval }: typeof TheilSen): Table[] {
  return [
    measureTable(
      "Theil–Sen lines",
      [data.sen, data.senDegenerate],
      { slope: exact, intercept: exact, interceptOfMedians: exact },
      ({ x, y, slope, intercept, interceptOfMedians }) => {
        const line = senLine(x, y);
        return {
          slope: [line.slope, slope],
          intercept: [line.intercept, intercept],
          interceptOfMedians: [line.interceptOfMedians, interceptOfMedians],
        };
      },
    ),
    measureTable(
      "Sen's limits",
      [data.sen],
      { low: exact, high: exact },
      ({ x, y, confidence, low, high }) => {
        const interval = senInterval(x, y, confidence);
        return { low: [interval.low, low], high: [interval.high, high] };
      },
    ),
  ];
}

export function cusumTables({ tabularCusum, meanRunToFalseSignal }: typeof TabularCusum): Table[] {
  const { values, target, slack, decision } = data.cusum;
  const sums = tabularCusum(values, { target, slack, decision });
  return [
    measureTable(
      "CUSUM sums",
      (data.cusum.printed as [number, number][]).map((pair, index) => ({ pair, index })),
      { high: printed, low: printed },
      ({ pair: [high, low], index }) => ({
        high: [sums.high[index] ?? Number.NaN, high],
        low: [sums.low[index] ?? Number.NaN, low],
      }),
    ),
    measureTable(
      "CUSUM signals",
      data.cusum.signals.map((signal, index) => [signal, index] as const),
      { position: exact, count: exact },
      ([signal, index]) => ({
        // A signal that did not come is at no position.
        position: [sums.signals[index] ?? -1, signal],
        count: [sums.signals.length, data.cusum.signals.length],
      }),
    ),
    measureTable(
      "runs to a false signal",
      data.runLengths.rows as [number, number, number][],
      { values: relative(0.01, "an approximation; its author gives a few per cent, here it is better") },
      ([k, h, run]) => ({ values: [meanRunToFalseSignal(k, h) / run - 1, 0] }),
    ),
  ];
}

export function ewmaTables({ ewmaChart }: typeof EwmaChart): Table[] {
  const { values, target, sd, weight, width } = data.ewma;
  const chart = ewmaChart(values, { target, sd, weight, width });
  return [
    measureTable(
      "EWMA averages",
      data.ewma.printed.map((average, index) => ({ average, index })),
      { average: { ...printed, within: 0.0061, because: "two decimals printed, some cut and some rounded" } },
      ({ average, index }) => ({ average: [chart.average[index] ?? Number.NaN, average] }),
    ),
    measureTable(
      "EWMA limits",
      [data.ewma],
      {
        high: { within: 1e-4, unit: "", because: "the page's factor 0.4201" },
        low: { within: 1e-4, unit: "", because: "the same" },
        exactHigh: { within: 5e-7, unit: "", because: "six decimals" },
        exactLow: { within: 5e-7, unit: "", because: "six decimals" },
        signals: exact,
      },
      ({ high, low, exactHigh, exactLow }) => ({
        high: [chart.high, high],
        low: [chart.low, low],
        exactHigh: [chart.high, exactHigh],
        exactLow: [chart.low, exactLow],
        signals: [chart.signals.length, 0],
      }),
    ),
  ];
}

export function normalTables({ normalQuantile, normalTail }: typeof Normal): Table[] {
  return [
    measureTable(
      "normal quantiles",
      data.normalQuantiles.rows as [number, number][],
      { z: relative(2e-15, "given to 15 or 16 digits") },
      ([p, z]) => ({ z: [normalQuantile(p) / z - 1, 0] }),
    ),
    measureTable(
      "normal tails",
      data.normalTails.rows as [number, number][],
      { tail: relative(2e-14, "given to 16 digits, of which the source's far tail keeps 14") },
      ([z, tail]) => ({ tail: [normalTail(z) / tail - 1, 0] }),
    ),
  ];
}
