import * as fc from "fast-check";
import { describe, expect, test } from "vitest";
import { charts } from "./arbitrary-chart.ts";
import type { ChartBlock, PlainChartBlock } from "./chart-schema.ts";
import { checkChart } from "./check-chart.ts";

const grid = {
  kind: "grid",
  axes: [
    { input: "pressureAltitude_ft", at: [0, 4000, 8000] },
    { input: "temperature_C", at: [-20, 40] },
  ],
  values: [
    [3300, 3100],
    [3250, 2850],
    [2950, 2550],
  ],
  output: "mass_kg",
} as const satisfies PlainChartBlock;

const curves = {
  kind: "curves",
  across: "pressureAltitude_ft",
  along: "temperature_C",
  between: "pchip",
  output: "mass_kg",
  curves: [
    {
      at: 0,
      points: [
        [-20, 3300],
        [0, 3250],
        [40, 3000],
      ],
    },
    {
      at: 4000,
      points: [
        [-20, 3100],
        [10, 3000],
        [30, 2800],
      ],
    },
    {
      at: 8000,
      points: [
        [-20, 2800],
        [30, 2500],
      ],
    },
  ],
} as const satisfies PlainChartBlock;

const guides = {
  kind: "guides",
  enter: "calm_kg",
  along: "headwind_kt",
  from: 0,
  between: "linear",
  output: "mass_kg",
  lines: [
    [
      [0, 2500],
      [20, 2700],
    ],
    [
      [0, 3000],
      [20, 3300],
    ],
  ],
} as const satisfies PlainChartBlock;

type Case = readonly [what: string, block: ChartBlock, path: string, code: string];

const cases: readonly Case[] = [
  [
    "an axis that falls",
    { ...grid, axes: [{ input: "pressureAltitude_ft", at: [0, 4000, 3999] }, grid.axes[1]] },
    "axes[0].at[2]",
    "notRising",
  ],
  [
    "a node typed twice",
    { ...grid, axes: [{ input: "pressureAltitude_ft", at: [0, 4000, 4000] }, grid.axes[1]] },
    "axes[0].at[2]",
    "notRising",
  ],
  [
    "a row that is too short",
    { ...grid, values: [[3300, 3100], [3250], [2950, 2550]] },
    "values[1]",
    "gridShape",
  ],
  [
    "a row too few",
    {
      ...grid,
      values: [
        [3300, 3100],
        [3250, 2850],
      ],
    },
    "values",
    "gridShape",
  ],
  [
    "a list where a number stands",
    {
      ...grid,
      values: [
        [3300, [3100]],
        [3250, 2850],
        [2950, 2550],
      ],
    },
    "values[0][1]",
    "gridShape",
  ],
  [
    "a number where a list stands",
    { ...grid, values: [[3300, 3100], 3250, [2950, 2550]] },
    "values[1]",
    "gridShape",
  ],
  ["an output named like an input", { ...grid, output: "temperature_C" }, "output", "nameTwice"],
  [
    "two axes of one name",
    { ...grid, axes: [grid.axes[0], { input: "pressureAltitude_ft", at: [-20, 40] }] },
    "axes[1].input",
    "nameTwice",
  ],
  [
    "a direction of what is no input",
    { ...grid, monotone: { headwind_kt: "rising" } },
    "monotone.headwind_kt",
    "notAnInput",
  ],
  [
    "a grid that breaks its direction",
    {
      ...grid,
      monotone: { pressureAltitude_ft: "falling" },
      values: [
        [3300, 3100],
        [3250, 2850],
        [2950, 2851],
      ],
    },
    "values[2][1]",
    "notMonotone",
  ],
  [
    "a grid that breaks a rising direction",
    { ...grid, monotone: { temperature_C: "rising" } },
    "values[0][1]",
    "notMonotone",
  ],
  [
    "points that do not rise along",
    {
      ...curves,
      curves: [
        curves.curves[0],
        {
          at: 4000,
          points: [
            [-20, 3100],
            [10, 3000],
            [9, 2800],
          ],
        },
      ],
    },
    "curves[1].points[2][0]",
    "notRising",
  ],
  [
    "a point typed twice",
    {
      ...curves,
      curves: [
        curves.curves[0],
        {
          at: 4000,
          points: [
            [-20, 3100],
            [-20, 3000],
            [9, 2800],
          ],
        },
      ],
    },
    "curves[1].points[1][0]",
    "notRising",
  ],
  [
    "parameters that do not rise",
    { ...curves, curves: [curves.curves[1], { ...curves.curves[0] }] },
    "curves[1].at",
    "notRising",
  ],
  [
    "a point that makes a curve cross its neighbour",
    {
      ...curves,
      curves: [
        curves.curves[0],
        {
          at: 4000,
          points: [
            [-20, 3100],
            [10, 3400],
            [30, 2800],
          ],
        },
      ],
    },
    "curves[1].points[1][1]",
    "curvesCross",
  ],
  [
    "curves without a range in common",
    {
      ...curves,
      curves: [
        curves.curves[0],
        {
          at: 4000,
          points: [
            [41, 2900],
            [50, 2800],
          ],
        },
      ],
    },
    "curves[1].points",
    "noCommonRange",
  ],
  [
    "a curve that breaks its direction",
    {
      ...curves,
      monotone: { temperature_C: "falling" },
      curves: [
        curves.curves[0],
        {
          at: 4000,
          points: [
            [-20, 3100],
            [10, 2900],
            [30, 2901],
          ],
        },
      ],
    },
    "curves[1].points[2][1]",
    "notMonotone",
  ],
  [
    "a family that breaks its direction",
    { ...curves, monotone: { pressureAltitude_ft: "rising" } },
    "curves[1].points[2][1]",
    "notMonotone",
  ],
  ["a guide line that misses the reference line", { ...guides, from: -5 }, "lines[0]", "referenceOutside"],
  [
    "guide lines in the wrong order",
    { ...guides, lines: [guides.lines[1], guides.lines[0]] },
    "lines[1]",
    "notRising",
  ],
  [
    "guide lines that cross",
    {
      ...guides,
      lines: [
        guides.lines[0],
        [
          [0, 3000],
          [20, 2600],
        ],
      ],
    },
    "lines[1][1][1]",
    "curvesCross",
  ],
  [
    "an output that no later step reads",
    { kind: "chain", steps: [grid, { ...guides, enter: "other_kg", output: "end_kg" }] },
    "steps[0].output",
    "stepUnused",
  ],
  [
    "an input that is only made later",
    {
      kind: "chain",
      steps: [
        { ...guides, output: "start_kg" },
        { ...grid, axes: [{ input: "start_kg", at: [2500, 3000, 3500] }, grid.axes[1]], output: "calm_kg" },
      ],
    },
    "steps[0].enter",
    "stepLate",
  ],
  [
    "steps that never meet",
    {
      kind: "chain",
      steps: [
        { ...grid, output: "calm_kg" },
        {
          ...guides,
          lines: [
            [
              [0, 25],
              [20, 27],
            ],
            [
              [0, 30],
              [20, 33],
            ],
          ],
        },
      ],
    },
    "steps[1].enter",
    "stepsApart",
  ],
  [
    "one output made twice",
    { kind: "chain", steps: [{ ...grid, output: "calm_kg" }, { ...grid, output: "calm_kg" }, guides] },
    "steps[1].output",
    "nameTwice",
  ],
  [
    "a fault inside a step",
    {
      kind: "chain",
      steps: [
        { ...grid, output: "calm_kg" },
        { ...guides, from: 99 },
      ],
    },
    "steps[1].lines[0]",
    "referenceOutside",
  ],
  [
    "a control point off by more than allowed",
    { ...grid, controls: [{ at: { pressureAltitude_ft: 0, temperature_C: 10 }, value: 3205, within: 4 }] },
    "controls[0].value",
    "controlMissed",
  ],
  [
    "a control point outside",
    { ...grid, controls: [{ at: { pressureAltitude_ft: 9000, temperature_C: 10 }, value: 3200, within: 4 }] },
    "controls[0].at.pressureAltitude_ft",
    "controlOutside",
  ],
  [
    "a control point of another input",
    {
      ...grid,
      controls: [{ at: { pressureAltitude_ft: 0, temperature_C: 10, mass_kg: 1 }, value: 3200, within: 4 }],
    },
    "controls[0].at.mass_kg",
    "notAnInput",
  ],
];

describe("a chart is refused for", () => {
  test.each(cases)("%s", (_, block, path, code) => {
    expect(checkChart(block)).toContainEqual(expect.objectContaining({ path, code }));
  });

  test("a direction broken only by the cubics between the points", () => {
    // At their points the second curve is never above the first; between 1 and 2 it is.
    const block: PlainChartBlock = {
      kind: "curves",
      across: "p",
      along: "x",
      between: "pchip",
      output: "y",
      monotone: { p: "falling" },
      curves: [
        {
          at: 0,
          points: [
            [0, 0],
            [1, 0],
            [2, 10],
            [3, 10],
          ],
        },
        {
          at: 1,
          points: [
            [0, -2],
            [1, 0],
            [2, 10],
            [3, 9],
          ],
        },
      ],
    };
    const found = checkChart(block);
    expect(found.map(({ code }) => code)).toEqual([expect.stringMatching(/curvesCross|notMonotone/)]);
    const linear = checkChart({ ...block, between: "linear" });
    expect(linear).toEqual([]);
  });

  test("everything that is wrong with it at once", () => {
    const broken: PlainChartBlock = {
      ...grid,
      axes: [
        { input: "pressureAltitude_ft", at: [0, 0, 8000] },
        { input: "temperature_C", at: [40, -20] },
      ],
      values: [[3300], [3250, 2850], [2950, 2550, 1]],
    };
    expect(checkChart(broken).map(({ path }) => path)).toEqual([
      "axes[0].at[1]",
      "axes[1].at[1]",
      "values[0]",
      "values[2]",
    ]);
  });
});

describe("a chart is accepted", () => {
  test.each([
    ["grid", { ...grid, monotone: { pressureAltitude_ft: "falling", temperature_C: "falling" } }],
    ["family", { ...curves, monotone: { pressureAltitude_ft: "falling", temperature_C: "falling" } }],
    ["guide lines", guides],
    ["chain", { kind: "chain", steps: [{ ...grid, output: "calm_kg" }, guides] }],
    [
      "curves that end in a common limit",
      {
        ...curves,
        curves: [
          {
            at: 0,
            points: [
              [-20, 3300],
              [0, 3300],
              [40, 3000],
            ],
          },
          {
            at: 4000,
            points: [
              [-20, 3300],
              [-10, 3300],
              [40, 2700],
            ],
          },
        ],
      },
    ],
    [
      "control points within their error",
      { ...grid, controls: [{ at: { pressureAltitude_ft: 0, temperature_C: 10 }, value: 3203, within: 4 }] },
    ],
  ] as const satisfies readonly (readonly [string, ChartBlock])[])("as %s", (_, block) => {
    expect(checkChart(block)).toEqual([]);
  });

  test("whenever its points are in order", () => {
    fc.assert(
      fc.property(charts, (block) => {
        expect(checkChart(block)).toEqual([]);
      }),
      { numRuns: 300 },
    );
  });
});
