// Least squares and Student's t beside NIST's certified values and R (regression.json has sources and status).

import type * as Regression from "../src/core/level/regression.ts";
import type * as StudentT from "../src/core/level/student-t.ts";
import data from "./regression.json" with { type: "json" };
import { measureTable, type Pair, type Table, type Tolerance } from "./table.ts";

/** Relative errors: computed over published, less one, so that the table compares with zero. */
const share = (computed: number, published: number): Pair => [computed / published - 1, 0];

const relative = (within: number, because: string): Tolerance => ({ within, unit: "of the value", because });

const decimals =
  "the data are decimals: as doubles they differ by 1e-16 of 1,000, which their residuals magnify";

export function regressionTables({ fitLine, predictAt }: typeof Regression): Table[] {
  const fits = new Map(data.certified.map((set) => [set.name, fitLine(set.x, set.y, set.intercept)]));
  const fitOf = (name: string): Regression.LineFit => {
    const fit = fits.get(name);
    if (fit === undefined) throw new Error(`no data ${name}`);
    return fit;
  };
  return [
    measureTable(
      "certified fits",
      data.certified,
      {
        slope: relative(1e-14, "certified to 15 digits"),
        intercept: relative(5e-14, decimals),
        slopeSd: relative(5e-14, decimals),
        interceptSd: relative(5e-14, decimals),
        residualSd: relative(5e-14, decimals),
        r2: relative(1e-14, "certified to 15 digits"),
      },
      ({ name, want }) => {
        const fit = fitOf(name);
        const pairs: Record<string, Pair> = {};
        for (const [key, published] of Object.entries(want)) {
          pairs[key] = share(fit[key as "slope"], published);
        }
        return pairs;
      },
    ),
    ...data.predictions.map((set) =>
      measureTable(
        `predictions for ${set.data}`,
        set.rows as [number, number, number, number, number, number][],
        {
          fit: relative(1e-12, "given to 12 decimals"),
          pointLow: relative(1e-12, "given to 15 digits, and a difference of two numbers"),
          pointHigh: relative(1e-12, "same"),
          meanLow: relative(1e-12, "same"),
          meanHigh: relative(1e-12, "same"),
        },
        ([x, fit, pointLow, pointHigh, meanLow, meanHigh]) => {
          const point = predictAt(fitOf(set.data), x, 0.95);
          const mean = predictAt(fitOf(set.data), x, 0.95, "mean");
          return {
            fit: share(point.value, fit),
            pointLow: share(point.low, pointLow),
            pointHigh: share(point.high, pointHigh),
            meanLow: share(mean.low, meanLow),
            meanHigh: share(mean.high, meanHigh),
          };
        },
      ),
    ),
  ];
}

export function studentTables({ studentQuantile, studentCdf }: typeof StudentT): Table[] {
  return [
    measureTable(
      "Student's t quantiles",
      data.studentT.rows as [number, number, number][],
      { p975: relative(2e-14, "given to 15 digits"), p95: relative(2e-14, "given to 15 digits") },
      ([df, p975, p95]) => ({
        p975: share(studentQuantile(0.975, df), p975),
        p95: share(studentQuantile(0.95, df), p95),
      }),
    ),
    measureTable(
      "Student's t distribution",
      data.studentCdf.rows as [number, number, number][],
      { p: relative(2e-14, "given to 15 digits") },
      ([t, df, p]) => ({ p: share(studentCdf(t, df), p) }),
    ),
  ];
}
