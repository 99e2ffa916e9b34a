import { describe, expect, test } from "vitest";
import { chartOf, type PlainChart } from "../../core/chart/chart.ts";
import { firstView, plotChart } from "./chart-plot.ts";

const grid = chartOf({
  kind: "grid",
  axes: [
    { input: "mass_kg", at: [2000, 3000] },
    { input: "pressureAltitude_ft", at: [0, 4000, 8000] },
    { input: "temperature_C", at: [0, 40] },
  ],
  values: [
    [
      [900, 800],
      [700, 600],
      [500, 400],
    ],
    [
      [600, 500],
      [400, 300],
      [200, 100],
    ],
  ],
  output: "climb_ftmin",
}) as PlainChart;

const curves = chartOf({
  kind: "curves",
  across: "p",
  along: "x",
  between: "pchip",
  output: "y",
  curves: [
    {
      at: 0,
      points: [
        [0, 0],
        [1, 1],
        [2, 0],
      ],
    },
    {
      at: 1,
      points: [
        [0, 2],
        [2, 2],
      ],
    },
  ],
}) as PlainChart;

const numbersIn = (path: string): number[] => path.match(/-?\d+(?:\.\d+)?/gu)!.map(Number);

describe("the picture of a chart", () => {
  test("of a grid has a line for each value of the second input, through its points", () => {
    const view = firstView(grid);
    expect(view).toEqual({ along: "temperature_C", across: "pressureAltitude_ft", fixed: { mass_kg: 3000 } });
    const plot = plotChart(grid, view, 400, 300);
    expect(plot.lines.map(({ value }) => value)).toEqual([0, 4000, 8000]);
    expect(numbersIn(plot.lines[1]!.path)).toEqual([...plot.at(0, 400), ...plot.at(40, 300)]);
    expect(plot.at(0, 400)[0]).toBe(plot.left);
    expect(plot.at(40, 300)[0]).toBe(plot.right);
  });

  test("of a family draws every curve through its points, bent where it is a cubic", () => {
    const plot = plotChart(curves, firstView(curves), 400, 300);
    expect(plot.lines).toHaveLength(2);
    expect(numbersIn(plot.lines[0]!.path).length).toBeGreaterThan(40);
    const [first] = plot.lines;
    for (const [x, y] of [
      [0, 0],
      [1, 1],
      [2, 0],
    ] as const)
      expect(first!.points).toContain(`M${plot.at(x, y).join(" ")}h0`);
  });

  test("keeps everything inside, ticks too, and labels apart", () => {
    for (const chart of [grid, curves]) {
      const plot = plotChart(chart, firstView(chart), 360, 240);
      for (const { path } of plot.lines) {
        const numbers = numbersIn(path);
        for (let i = 0; i < numbers.length; i += 2) {
          expect(numbers[i]!).toBeGreaterThanOrEqual(plot.left);
          expect(numbers[i]!).toBeLessThanOrEqual(plot.right);
          expect(numbers[i + 1]!).toBeGreaterThanOrEqual(plot.top);
          expect(numbers[i + 1]!).toBeLessThanOrEqual(plot.bottom);
        }
      }
      const heights = plot.lines.map(({ label }) => label[1]).sort((a, b) => a - b);
      heights.slice(1).forEach((y, i) => expect(y - heights[i]!).toBeGreaterThanOrEqual(14.9));
      for (const { at } of plot.outputTicks) expect(at).toBeLessThanOrEqual(plot.bottom);
    }
  });

  test("a chart that is flat has a height all the same", () => {
    const flat = chartOf({
      kind: "curve",
      along: "x",
      between: "linear",
      output: "y",
      points: [
        [0, 5],
        [1, 5],
      ],
    }) as PlainChart;
    const plot = plotChart(flat, firstView(flat), 300, 200);
    expect(numbersIn(plot.lines[0]!.path).every((value) => Number.isFinite(value))).toBe(true);
  });
});
