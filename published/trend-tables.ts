// Robust lines, control charts, normal quantiles and gas pressures beside published values (trend.json has sources and
// status).

import type * as EwmaChart from "../src/core/level/ewma-chart.ts";
import type * as Normal from "../src/core/level/normal.ts";
import type * as OrderStatistics from "../src/core/level/order-statistics.ts";
import type * as TabularCusum from "../src/core/level/tabular-cusum.ts";
import type * as TheilSen from "../src/core/level/theil-sen.ts";
import type * as Trend from "../src/core/level/trend.ts";
import type * as GasPressure from "../src/core/power/gas-pressure.ts";
import { convert, inUnit } from "../src/core/quantity/units.ts";
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
      { average: printed },
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

export function trendTables({ trendOf }: typeof Trend): Table[] {
  const computed = relative(1e-12, "the reference sums in plain doubles and finds its root by steps");
  return [
    measureTable(
      "rates and forecasts",
      data.forecasts.rows,
      { perHour: computed, low: computed, high: computed, expected: computed, pessimistic: computed },
      ({ hours, level, min, confidence, ...want }) => {
        const readings = hours.map((hours_h, index) => ({ hours_h, level: level[index]! }));
        const { rate, forecast } = trendOf({ readings, added: [], mark: min, confidence });
        return {
          perHour: [rate.perHour / want.perHour - 1, 0],
          low: [rate.low / want.low - 1, 0],
          high: [rate.high / want.high - 1, 0],
          expected: [(forecast.expected_h ?? -1) / want.expected - 1, 0],
          pessimistic: [(forecast.pessimistic_h ?? -1) / want.pessimistic - 1, 0],
        };
      },
    ),
  ];
}

export function gasTables({ gasPressureAt }: typeof GasPressure): Table[] {
  return [
    measureTable(
      "gas at other temperatures",
      data.gas.rows as [number, "bar" | "psi", number, number, number][],
      {
        bar: { within: 0.05, unit: "bar", because: "given to a tenth" },
        psi: { within: 0.5, unit: "psi", because: "given to the whole" },
      },
      ([gauge, unit, from_C, to_C, reads]) => {
        const there = gasPressureAt(convert(inUnit(gauge, unit), unit, "bar"), from_C, to_C) ?? Number.NaN;
        return { [unit]: [convert(inUnit(there, "bar"), "bar", unit), reads] };
      },
    ),
  ];
}

export function medianTables({ median }: typeof OrderStatistics): Table[] {
  return [
    measureTable(
      "median and median distance",
      [data.modifiedZ],
      {
        median: exact,
        mad: { within: 1e-9, unit: "", because: "decimals as doubles" },
      },
      ({ values, median: middle, mad }) => ({
        median: [median(Float64Array.from(values)), middle],
        mad: [median(Float64Array.from(values, (value) => Math.abs(value - middle))), mad],
      }),
    ),
  ];
}
