import { describe, expect, test } from "vitest";
import { chartOf } from "../chart/chart.ts";
import { placeInTrend, powerCheck } from "./power-check.ts";

const chart = chartOf({
  kind: "curve",
  along: "torque_pct",
  between: "linear",
  output: "gasTemperature_C",
  points: [
    [40, 500],
    [100, 740],
  ],
});

describe("a power check", () => {
  test("has its margin on the side on which the measured value is better", () => {
    expect(powerCheck({ chart, worse: "higher" }, { torque_pct: 70 }, 600)).toMatchObject({
      expected: 620,
      margin: 20,
      givesFullPower: true,
    });
    expect(powerCheck({ chart, worse: "lower" }, { torque_pct: 70 }, 600)).toMatchObject({
      margin: -20,
      givesFullPower: false,
    });
  });

  test("on the chart still gives full power, below it does not", () => {
    expect(powerCheck({ chart, worse: "higher" }, { torque_pct: 70 }, 620)).toMatchObject({
      margin: 0,
      givesFullPower: true,
    });
    expect(powerCheck({ chart, worse: "higher" }, { torque_pct: 70 }, 620.1)).toMatchObject({
      givesFullPower: false,
    });
  });

  test("outside the chart, or of no number, is not known", () => {
    expect(powerCheck({ chart, worse: "higher" }, { torque_pct: 30 }, 500)).toMatchObject({
      is: "notKnown",
      lacks: [{ input: "torque_pct", asked: 30, range: [40, 100] }],
    });
    expect(powerCheck({ chart, worse: "higher" }, { torque_pct: 70 }, Number.NaN)).toMatchObject({
      is: "notKnown",
      lacks: [{ input: "gasTemperature_C" }],
    });
  });
});

test("a margin has its place among those before it", () => {
  expect(placeInTrend([], 12)).toEqual({
    sinceLast: null,
    lowestBefore: null,
    isLowest: true,
    lowerBefore: 0,
  });
  expect(placeInTrend([30, 24, 27], 25)).toEqual({
    sinceLast: -2,
    lowestBefore: 24,
    isLowest: false,
    lowerBefore: 1,
  });
  expect(placeInTrend([30, 24, 27], 21)).toEqual({
    sinceLast: -6,
    lowestBefore: 24,
    isLowest: true,
    lowerBefore: 0,
  });
});
