// Charts against the rows of chart.json: monotone cubics as printed and as another library computes them, bilinear,
// trilinear and carpet readings; through the core and as preen calc answers them.
//
// Tolerances: a printed figure to half its last digit; figures of a library to the digits that are kept here.
import { describe, expect, test } from "vitest";
import { answer } from "../src/cli/calc/answer.ts";
import topic from "../src/cli/calc/chart.ts";
import type { PlainChartBlock } from "../src/core/chart/chart-schema.ts";
import { pchipSlopes } from "../src/core/chart/monotone-cubic.ts";
import data from "./chart.json" with { type: "json" };

type Answer = {
  readonly value: number;
  readonly error?: { readonly path: string; readonly message: string };
};

/** As preen calc answers, so that the command is held to the figures too. */
function read(chart: PlainChartBlock, at: Readonly<Record<string, number>>): Answer {
  return JSON.parse(answer(topic, JSON.stringify({ chart, at })).text) as Answer;
}

const lineOf = (
  x: readonly number[],
  y: readonly number[],
  between: "linear" | "pchip",
): PlainChartBlock => ({
  kind: "curve",
  along: "x",
  between,
  output: "y",
  points: x.map((value, i): [number, number] => [value, y[i]!]),
});

describe("the monotone cubic", () => {
  test("no case is left out", () => {
    expect(data.monotoneCubic.map(({ at }) => at.length)).toEqual([11, 9, 3, 2, 2, 4, 3]);
  });

  test.each(data.monotoneCubic)("of $title has its slopes and values", ({ x, y, at, values, ...more }) => {
    if ("slopes" in more && more.slopes !== undefined)
      pchipSlopes(x, y).forEach((slope, i) => expect(slope).toBeCloseTo(more.slopes[i]!, 14));
    const chart = lineOf(x, y, "pchip");
    at.forEach((asked, i) => expect(read(chart, { x: asked }).value).toBeCloseTo(values[i]!, 10));
  });

  test("of the radiochemical data is what the routine's manual prints, within the data and never falling", () => {
    const { x, y, at, printed } = data.monotoneCubic[0]!;
    const values = at.map((asked) => read(lineOf(x, y, "pchip"), { x: asked }).value);
    values.forEach((value, i) => {
      expect(Math.abs(value - printed![i]!)).toBeLessThanOrEqual(0.5e-4 + 1e-9);
      expect(value).toBeGreaterThanOrEqual(i === 0 ? 0 : values[i - 1]!);
      expect(value).toBeLessThanOrEqual(0.999994);
    });
  });
});

describe("grids", () => {
  test("bilinear", () => {
    const { x, y, values, at, value } = data.bilinear;
    const chart: PlainChartBlock = {
      kind: "grid",
      axes: [
        { input: "x", at: x },
        { input: "y", at: y },
      ],
      values,
      output: "grey",
    };
    expect(read(chart, { x: at[0]!, y: at[1]! }).value).toBeCloseTo(value, 12);
  });

  test("trilinear", () => {
    const nodes = ({ from, to, count }: { from: number; to: number; count: number }): number[] =>
      Array.from({ length: count }, (_, i) => from + ((to - from) * i) / (count - 1));
    const [xs, ys, zs] = [nodes(data.trilinear.x), nodes(data.trilinear.y), nodes(data.trilinear.z)];
    const chart: PlainChartBlock = {
      kind: "grid",
      axes: [
        { input: "x", at: xs },
        { input: "y", at: ys },
        { input: "z", at: zs },
      ],
      values: xs.map((x) => ys.map((y) => zs.map((z) => 2 * x ** 3 + 3 * y ** 2 - z))),
      output: "f",
    };
    expect(data.trilinear.cases).toHaveLength(2);
    for (const [x, y, z, value] of data.trilinear.cases)
      expect(read(chart, { x: x!, y: y!, z: z! }).value).toBeCloseTo(value!, 8);
  });
});

describe("the carpet of three curves", () => {
  const { curves, rows, outside, chord } = data.carpet;
  const carpet = (between: "linear" | "pchip"): PlainChartBlock => ({
    kind: "curves",
    across: "parameter",
    along: "x",
    between,
    output: "y",
    curves: curves.map(({ at, points }) => ({ at, points: points as [number, number][] })),
  });

  test.each(rows)("at $x on every curve and between them", ({ x, on, between }) => {
    on.forEach((value, i) =>
      expect(read(carpet("pchip"), { x, parameter: curves[i]!.at }).value).toBeCloseTo(value, 6),
    );
    for (const [parameter, value] of between)
      expect(read(carpet("pchip"), { x, parameter: parameter! }).value).toBeCloseTo(value!, 6);
  });

  test.each(outside)("at $x, which a neighbour does not reach, is refused with the range in common", (at) => {
    const { error } = read(carpet("pchip"), at);
    expect(error).toEqual({
      path: "at.x",
      message: `expected x in 0 … 7, the range of the chart, found ${at.x}`,
    });
  });

  test("a chord lies below a concave curve", () => {
    expect(read(carpet("linear"), { x: chord.x, parameter: chord.curve }).value).toBe(chord.linear);
  });
});
