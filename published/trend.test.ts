// Robust lines, control charts and normal quantiles against their sources: trend-tables.ts.

import * as ewmaChart from "../src/core/level/ewma-chart.ts";
import * as normal from "../src/core/level/normal.ts";
import * as orderStatistics from "../src/core/level/order-statistics.ts";
import * as tabularCusum from "../src/core/level/tabular-cusum.ts";
import * as theilSen from "../src/core/level/theil-sen.ts";
import * as trend from "../src/core/level/trend.ts";
import * as gasPressure from "../src/core/power/gas-pressure.ts";
import { holdTables, noticeChanges } from "./hold.ts";
import {
  cusumTables,
  ewmaTables,
  gasTables,
  medianTables,
  normalTables,
  senTables,
  trendTables,
} from "./trend-tables.ts";

holdTables("the robust line", senTables(theilSen), { "Theil–Sen lines": 2, "Sen's limits": 1 });
holdTables("the CUSUM", cusumTables(tabularCusum), {
  "CUSUM sums": 20,
  "CUSUM signals": 7,
  "runs to a false signal": 4,
});
holdTables("the EWMA chart", ewmaTables(ewmaChart), { "EWMA averages": 20, "EWMA limits": 1 });
holdTables("the normal distribution", normalTables(normal), { "normal quantiles": 6, "normal tails": 12 });
holdTables("the median", medianTables(orderStatistics), { "median and median distance": 1 });
holdTables("gas pressure", gasTables(gasPressure), { "gas at other temperatures": 3 });
holdTables("the trend", trendTables(trend), { "rates and forecasts": 3 });

const folders = ["level", "power", "quantity"];

const sen = "level/theil-sen.ts";
noticeChanges(
  [
    { file: sen, from: "(slopes.length - reach) / 2", to: "(slopes.length - 2 * reach) / 2" },
    { file: sen, from: "y[index]! - slope * at);", to: "y[index]! - slope * at + 1e-9);" },
    { file: "level/order-statistics.ts", from: "length % 2 === 1", to: "length % 2 === 0" },
  ],
  { file: sen, from: "Math.ceil(" },
  { folders, entry: sen, tables: (module) => senTables(module as typeof theilSen) },
);

const cusum = "level/tabular-cusum.ts";
noticeChanges(
  [
    { file: cusum, from: "down + target - value - slack", to: "down + target - value" },
    { file: cusum, from: "decision_sd + 1.166", to: "decision_sd + 1.1" },
    { file: cusum, from: "up > decision ||", to: "up > decision * 2 ||" },
  ],
  { file: cusum, from: "Math.max(0, up + value" },
  { folders, entry: cusum, tables: (module) => cusumTables(module as typeof tabularCusum) },
);

const ewma = "level/ewma-chart.ts";
noticeChanges(
  [
    { file: ewma, from: "(weight / (2 - weight))", to: "(weight / (2 + weight))" },
    { file: ewma, from: "(1 - weight) * now", to: "(0.99 - weight) * now" },
  ],
  { file: ewma, from: "weight * value" },
  { folders, entry: ewma, tables: (module) => ewmaTables(module as typeof ewmaChart) },
);

const forecast = "level/forecast.ts";
noticeChanges(
  [
    { file: forecast, from: "const least = 1 + 1 / count;", to: "const least = 1 + 1 / (count + 1);" },
    {
      file: forecast,
      from: "const reach = studentInterval(confidence",
      to: "const reach = 0.99 * studentInterval(confidence",
    },
    { file: "level/rate.ts", from: "Math.sqrt(xSpread) * xScale", to: "Math.sqrt(xSpread)" },
  ],
  { file: forecast, from: "slope < 0 ?" },
  { folders, entry: "level/trend.ts", tables: (module) => trendTables(module as typeof trend) },
);

const temperature = "power/gas-pressure.ts";
noticeChanges(
  [
    { file: temperature, from: "standardPressure_bar = 1.01325", to: "standardPressure_bar = 0.5" },
    { file: temperature, from: "zeroCelsius_K = 273.15", to: "zeroCelsius_K = 270" },
  ],
  { file: temperature, from: "at_K <= 0" },
  { folders, entry: temperature, tables: (module) => gasTables(module as typeof gasPressure) },
);
