import { describe, expect, test } from "vitest";
import { answer } from "./answer.ts";
import topic from "./chart.ts";

type Result = {
  readonly value?: number | null;
  readonly used?: readonly { readonly at: object; readonly value: number; readonly step?: number }[];
  readonly answer?: string;
  readonly solutions?: readonly (readonly number[])[];
  readonly reach?: readonly (readonly number[])[];
  readonly error?: { readonly path: string; readonly message: string };
};
const ask = (element: unknown): Result => JSON.parse(answer(topic, JSON.stringify(element)).text) as Result;

const hover = {
  kind: "grid",
  axes: [
    { input: "pressureAltitude_ft", at: [0, 4000, 8000] },
    { input: "temperature_C", at: [0, 40] },
  ],
  values: [
    [3310, 3310],
    [3200, 2800],
    [2900, 2500],
  ],
  output: "mass_kg",
};
const at = { pressureAltitude_ft: 4000, temperature_C: 20 };

describe("preen calc chart", () => {
  test("reads, with the points used", () => {
    expect(ask({ chart: hover, at })).toEqual({
      value: 3000,
      used: [
        { at: { pressureAltitude_ft: 4000, temperature_C: 0 }, value: 3200 },
        { at: { pressureAltitude_ft: 4000, temperature_C: 40 }, value: 2800 },
      ],
    });
  });

  test("takes an input in another unit of its dimension, not in two", () => {
    expect(ask({ chart: hover, at: { pressureAltitude_m: 1219.2, temperature_F: 68 } }).value).toBeCloseTo(
      3000,
      9,
    );
    expect(ask({ chart: hover, at: { ...at, temperature_F: 68 } }).error).toMatchObject({
      path: "at.temperature_F",
    });
    // 104 °F is 40 °C, the end of the chart, although it does not come out so to the last bit.
    expect(ask({ chart: hover, at: { pressureAltitude_ft: 8000, temperature_F: 104 } }).value).toBe(2500);
  });

  test("outside the chart is an error with what was asked and the range, never a number", () => {
    expect(ask({ chart: hover, at: { ...at, temperature_C: 41 } }).error).toEqual({
      path: "at.temperature_C",
      message: "expected temperature_C in 0 … 40, the range of the chart, found 41",
    });
    expect(ask({ chart: hover, at: { pressureAltitude_ft: -1, temperature_C: 41 } }).error).toMatchObject({
      path: "at.pressureAltitude_ft",
      message: expect.stringContaining("(and 1 more: at.temperature_C)") as string,
    });
  });

  test("solves: one value, a flat part, the whole range, none, and outside", () => {
    const solve = (input: string, result: number, fixed: object) =>
      ask({ chart: hover, solve: { input, result, with: fixed } });
    expect(solve("temperature_C", 3000, { pressureAltitude_ft: 4000 })).toMatchObject({
      value: 20,
      answer: "one",
    });
    expect(solve("pressureAltitude_ft", 2650, { temperature_C: 40 })).toMatchObject({
      value: 6000,
      answer: "one",
      used: [{ value: 2800 }, { value: 2500 }],
    });
    expect(solve("temperature_C", 3310, { pressureAltitude_ft: 0 })).toMatchObject({
      value: null,
      answer: "wholeRange",
      solutions: [[0, 40]],
    });
    expect(solve("temperature_C", 3300, { pressureAltitude_ft: 4000 })).toEqual({
      value: null,
      used: [],
      answer: "noSolution",
      reach: [[2800, 3200]],
    });
    expect(solve("temperature_C", 3000, { pressureAltitude_ft: 8001 }).error?.path).toBe(
      "solve.with.pressureAltitude_ft",
    );
    const ridge = {
      kind: "curve",
      along: "x",
      between: "linear",
      output: "y",
      points: [
        [0, 0],
        [1, 1],
        [2, 0],
      ],
    };
    expect(ask({ chart: ridge, solve: { input: "x", result: 0.5 } })).toMatchObject({
      value: null,
      answer: "several",
      solutions: [
        [0.5, 0.5],
        [1.5, 1.5],
      ],
    });
  });

  test("reads a chain through its steps, and says at which one it ends", () => {
    const chain = {
      kind: "chain",
      steps: [
        hover,
        {
          kind: "curve",
          along: "mass_kg",
          between: "linear",
          output: "torque_pct",
          points: [
            [2600, 70],
            [3400, 102],
          ],
        },
      ],
    };
    expect(ask({ chart: chain, at }).value).toBe(86);
    expect(ask({ chart: chain, at }).used?.map(({ step }) => step)).toEqual([0, 0, 1, 1]);
    expect(ask({ chart: chain, at: { pressureAltitude_ft: 8000, temperature_C: 40 } }).error).toEqual({
      path: "chart.steps[1]",
      message: "expected mass_kg in 2600 … 3400, the range of the chart, found 2500",
    });
  });

  test.each([
    ["neither question", { chart: hover }, ""],
    ["both questions", { chart: hover, at, solve: { input: "temperature_C", result: 1 } }, ""],
    ["no chart", { at }, "chart"],
    ["a chart of no kind", { chart: { kind: "table" }, at }, "chart.kind"],
    [
      "a hole",
      {
        chart: {
          ...hover,
          values: [
            [1, 2],
            [3, null],
            [5, 6],
          ],
        },
        at,
      },
      "chart.values[1][1]",
    ],
    ["a row too short", { chart: { ...hover, values: [[1, 2], [3], [5, 6]] }, at }, "chart.values[1]"],
    [
      "an axis that falls",
      { chart: { ...hover, axes: [hover.axes[0], { input: "temperature_C", at: [40, 0] }] }, at },
      "chart.axes[1].at[1]",
    ],
    ["an unknown key", { chart: { ...hover, colour: 1 }, at }, "chart.colour"],
    ["an input missing", { chart: hover, at: { temperature_C: 1 } }, "at.pressureAltitude_ft"],
    ["an input too many", { chart: hover, at: { ...at, mass_kg: 1 } }, "at.mass_kg"],
    ["an input that is no number", { chart: hover, at: { ...at, temperature_C: "1" } }, "at.temperature_C"],
    ["inputs that are no object", { chart: hover, at: [1, 2] }, "at"],
    [
      "a solution for what is no input",
      { chart: hover, solve: { input: "mass_kg", result: 1, with: {} } },
      "solve.input",
    ],
    [
      "a result that is no number",
      { chart: hover, solve: { input: "temperature_C", result: null, with: {} } },
      "solve.result",
    ],
  ] as const)("%s is an error at its path", (_, element, path) => {
    expect(ask(element).error?.path).toBe(path);
  });
});
