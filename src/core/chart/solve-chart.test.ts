import * as fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  chains,
  families,
  grids,
  guideLines,
  placesOn,
  plainCharts,
  singleCurves,
} from "./arbitrary-chart.ts";
import type { ChartBlock, GridBlock, PlainChartBlock } from "./chart-schema.ts";
import { chartOf, inputRange } from "./chart.ts";
import { compileChart } from "./compile-chart.ts";
import { type Asked, readChart } from "./read-chart.ts";
import { solveChart, whereOutputIs } from "./solve-chart.ts";

const solve = (block: ChartBlock, input: string, fixed: Asked, result: number) =>
  solveChart(compileChart(chartOf(block)), { input, with: fixed }, result);

const line = (
  points: readonly (readonly [number, number])[],
  between: "linear" | "pchip" = "linear",
): PlainChartBlock => ({
  kind: "curve",
  along: "x",
  between,
  output: "y",
  points: points.map(([x, y]): [number, number] => [x, y]),
});

const limited: PlainChartBlock = line([
  [0, 3310],
  [2000, 3310],
  [6000, 2800],
]);

describe("solving for one output", () => {
  test("one value, where the chart falls", () => {
    expect(solve(limited, "x", {}, 3055)).toEqual({ is: "solved", at: [[4000, 4000]] });
    expect(solve(limited, "x", {}, 2800)).toEqual({ is: "solved", at: [[6000, 6000]] });
  });

  test("an interval, where the chart is flat", () => {
    expect(solve(limited, "x", {}, 3310)).toEqual({ is: "solved", at: [[0, 2000]] });
    // Missed by the rounding of a conversion, it is still the flat part.
    expect(solve(limited, "x", {}, 3310 * (1 + 2e-16))).toEqual({ is: "solved", at: [[0, 2000]] });
  });

  test("several values, where it rises and falls", () => {
    const peak = line(
      [
        [0, 0],
        [1, 1],
        [2, 0],
      ],
      "pchip",
    );
    expect(solve(peak, "x", {}, 0.75)).toEqual({
      is: "solved",
      at: [
        [0.5, 0.5],
        [1.5, 1.5],
      ],
    });
    expect(solve(peak, "x", {}, 1)).toEqual({ is: "solved", at: [[1, 1]] });
  });

  test("the whole range, where every value gives it", () => {
    const flat = line([
      [0, 5],
      [3, 5],
      [4, 5],
    ]);
    expect(solve(flat, "x", {}, 5)).toEqual({ is: "wholeRange", at: [[0, 4]] });
  });

  test("no solution, with what can be reached", () => {
    expect(solve(limited, "x", {}, 3311)).toEqual({ is: "noSolution", reach: [[2800, 3310]] });
  });

  test("is not known where another input is missing or outside", () => {
    const grid: GridBlock = {
      kind: "grid",
      axes: [
        { input: "x", at: [0, 1] },
        { input: "z", at: [0, 1] },
      ],
      values: [
        [0, 1],
        [2, 3],
      ],
      output: "y",
    };
    expect(solve(grid, "x", {}, 1)).toMatchObject({
      is: "notKnown",
      lacks: [{ why: "missing", input: "z" }],
    });
    expect(solve(grid, "x", { z: 1.5 }, 1)).toMatchObject({
      is: "notKnown",
      lacks: [{ why: "outside", input: "z", asked: 1.5, range: [0, 1] }],
    });
  });

  test("across a family with a gap, only where its curves reach", () => {
    const family: PlainChartBlock = {
      kind: "curves",
      across: "p",
      along: "x",
      between: "linear",
      output: "y",
      curves: [
        {
          at: 0,
          points: [
            [0, 0],
            [10, 0],
          ],
        },
        {
          at: 1,
          points: [
            [0, 1],
            [5, 1],
          ],
        },
        {
          at: 2,
          points: [
            [0, 2],
            [10, 2],
          ],
        },
        {
          at: 3,
          points: [
            [0, 3],
            [10, 3],
          ],
        },
      ],
    };
    expect(solve(family, "p", { x: 8 }, 1)).toEqual({
      is: "noSolution",
      reach: [
        [0, 0],
        [2, 3],
      ],
    });
    expect(solve(family, "p", { x: 8 }, 2.5)).toEqual({ is: "solved", at: [[2.5, 2.5]] });
    expect(solve(family, "p", { x: 8 }, 0)).toEqual({ is: "solved", at: [[0, 0]] });
    expect(solve(family, "p", { x: 11 }, 0)).toMatchObject({ lacks: [{ input: "x", range: [0, 10] }] });
  });
});

/** Whatever the solution, evaluating it gives the result as nearly as neighbouring inputs can. */
function expectNearest(block: ChartBlock, input: string, fixed: Asked, result: number): void {
  const chart = chartOf(block);
  const solution = solve(block, input, fixed, result);
  if (solution.is !== "solved")
    throw new Error(`${solution.is} for ${JSON.stringify({ block, input, fixed, result })}`);
  const valueAt = (x: number): number => {
    const reading = readChart(chart, { ...fixed, [input]: x });
    if (reading.is !== "read") throw new Error(`outside at ${x}`);
    return reading.value;
  };
  const offs = solution.at.flatMap(([low, high]) =>
    [low, (low + high) / 2, high].map((x) => {
      // The rounding of the input, through the steepest part of the chart.
      const steep = 2e-16 * Math.max(Math.abs(x), 1) * 1e6;
      return Math.max(Math.abs(valueAt(x) - result) - steep, 0);
    }),
  );
  // A flat part, a peak or an end counts that is on the result (law 6); one solution is as near as the output's rounding.
  const size = Math.max(Math.abs(result), 100);
  expect(Math.max(...offs)).toBeLessThanOrEqual(1e-9 * size);
  expect(Math.min(...offs)).toBeLessThanOrEqual(1e-12 * size);
}

describe("whatever the chart", () => {
  const asked = (blocks: fc.Arbitrary<ChartBlock>) =>
    blocks.chain((block) =>
      placesOn(block).chain((at) =>
        fc.record({
          block: fc.constant(block),
          at: fc.constant(at),
          input: fc.constantFrom(...chartOf(block).inputs),
        }),
      ),
    );

  test("solving for what was read finds the input again, among others", () => {
    const seen = { found: 0, whole: 0 };
    fc.assert(
      fc.property(asked(plainCharts), ({ block, at, input }) => {
        const reading = readChart(chartOf(block), at);
        if (reading.is !== "read") return;
        const solution = solve(block, input, at, reading.value);
        if (solution.is === "wholeRange") {
          seen.whole += 1;
          return;
        }
        if (solution.is !== "solved")
          throw new Error(`${solution.is}: ${JSON.stringify({ block, at, input })}`);
        seen.found += 1;
        expectNearest(block, input, at, reading.value);
        const x = at[input]!;
        const slopeless = solution.at.map(([low, high]) => Math.max(low - x, x - high, 0));
        // Where the chart is nearly flat, the outputs of a stretch are one number, and any of it is right.
        const near = Math.min(...slopeless);
        const far = readChart(chartOf(block), { ...at, [input]: x + near }) as { value?: number };
        const other = readChart(chartOf(block), { ...at, [input]: x - near }) as { value?: number };
        const flatness = Math.min(
          Math.abs((far.value ?? Number.POSITIVE_INFINITY) - reading.value),
          Math.abs((other.value ?? Number.POSITIVE_INFINITY) - reading.value),
        );
        expect(Math.min(near, flatness)).toBeLessThanOrEqual(1e-9);
      }),
      { numRuns: 2500 },
    );
    expect(seen.found).toBeGreaterThan(1000);
    expect(seen.whole).toBeGreaterThan(5);
  });

  test("no solution means that no place on a fine comb gives it, and a band holds exactly the places that are in it", () => {
    fc.assert(
      fc.property(
        asked(fc.oneof(singleCurves, families, guideLines, grids({ min: 1, max: 3 }))),
        fc.double({ min: -1200, max: 1200, noNaN: true }),
        fc.double({ min: 0, max: 600, noNaN: true }),
        ({ block, at, input }, low, height) => {
          const compiled = compileChart(chartOf(block));
          const band = whereOutputIs(compiled, { input, with: at }, low, low + height);
          if (band.is === "notKnown") return;
          const [first, last] = inputRange(compiled.chart as never, input);
          for (let i = 0; i <= 60; i += 1) {
            const x = Math.min(first + ((last - first) * i) / 60, last);
            const reading = readChart(compiled.chart, { ...at, [input]: x });
            // A curve's parameter missed by a rounding is that curve's.
            const near = 1e-13 * Math.max(Math.abs(first), Math.abs(last));
            const known = band.domain.some(([from, to]) => x >= from - near && x <= to + near);
            expect(reading.is === "read").toBe(known);
            if (reading.is !== "read") continue;
            const off = Math.min(Math.abs(reading.value - low), Math.abs(reading.value - low - height));
            if (off < 1e-9) continue;
            const inBand = reading.value >= low && reading.value <= low + height;
            expect(band.within.some(([from, to]) => x >= from && x <= to)).toBe(inBand);
          }
        },
      ),
      { numRuns: 600 },
    );
  });

  test("a chain in which an input enters once is solved like the rest", () => {
    let solved = 0;
    fc.assert(
      fc.property(
        chains.chain((block) =>
          placesOn(block).chain((at) =>
            fc.record({
              block: fc.constant(block),
              at: fc.constant({ ...at, last: 4 }),
              input: fc.constantFrom(...chartOf(block).inputs),
            }),
          ),
        ),
        ({ block, at, input }) => {
          const chart = chartOf(block);
          const reading = readChart(chart, at);
          if (reading.is !== "read") return;
          const solution = solve(block, input, at, reading.value);
          if (solution.is === "wholeRange") return;
          if (solution.is !== "solved") throw new Error(solution.is);
          solved += 1;
          const nearest = Math.min(
            ...solution.at.flat().map((x) => {
              const again = readChart(chart, { ...at, [input]: x });
              return again.is === "read" ? Math.abs(again.value - reading.value) : Number.POSITIVE_INFINITY;
            }),
          );
          expect(nearest).toBeLessThanOrEqual(1e-8);
        },
      ),
      { numRuns: 1000 },
    );
    expect(solved).toBeGreaterThan(200);
  });
});

describe("a chain in which an input enters at two steps", () => {
  const step = (
    input: string,
    extra: string,
    output: string,
    monotone?: "rising" | "falling",
  ): PlainChartBlock => ({
    kind: "grid",
    axes: [
      { input, at: [0, 50, 100] },
      { input: extra, at: [0, 20, 40] },
    ],
    values: [
      [100, 90, 70],
      [80, 60, 50],
      [40, 30, 10],
    ],
    output,
    ...(monotone === undefined ? {} : { monotone: { [input]: monotone, [extra]: monotone } }),
  });
  const base = step("pressureAltitude_ft", "temperature_C", "base", "falling");
  const declared: ChartBlock = {
    kind: "chain",
    steps: [
      base,
      {
        kind: "grid",
        axes: [
          { input: "base", at: [20, 100] },
          { input: "temperature_C", at: [-10, 35] },
        ],
        values: [
          [20, 15],
          [100, 80],
        ],
        output: "limit",
        monotone: { base: "rising", temperature_C: "falling" },
      },
    ],
  };

  test("is solved where its declared directions agree, within what every step can take", () => {
    const fixed = { pressureAltitude_ft: 20 };
    const compiled = compileChart(chartOf(declared));
    const where = whereOutputIs(compiled, { input: "temperature_C", with: fixed }, 0, 1000);
    expect(where).toMatchObject({ is: "known", domain: [[0, 35]] });
    for (const temperature_C of [0, 1, 17.3, 20, 34.9]) {
      const reading = readChart(compiled.chart, { ...fixed, temperature_C });
      if (reading.is !== "read") throw new Error("not read");
      const solution = solveChart(compiled, { input: "temperature_C", with: fixed }, reading.value);
      expect(solution.is === "solved" && solution.at.length).toBe(1);
      if (solution.is === "solved") expect(solution.at[0]![0]).toBeCloseTo(temperature_C, 11);
    }
    expect(solveChart(compiled, { input: "temperature_C", with: fixed }, 200)).toMatchObject({
      is: "noSolution",
    });
  });

  test("stops where an earlier step gives less than a later one takes", () => {
    const compiled = compileChart(chartOf(declared));
    const where = whereOutputIs(
      compiled,
      { input: "temperature_C", with: { pressureAltitude_ft: 100 } },
      -1000,
      1000,
    );
    // 40 at 0 °C, 30 at 20 °C, then falling to 10 at 40 °C: 20 is met at 30 °C.
    expect(
      where.is === "known" && where.domain.map(([low, high]) => [low, Math.round(high * 1e9) / 1e9]),
    ).toEqual([[0, 30]]);
  });

  test("is not solved where nothing is declared, and says at which step", () => {
    const [first, second] = declared.steps as readonly [GridBlock, GridBlock];
    const { monotone: _, ...silent } = second;
    const block: ChartBlock = { kind: "chain", steps: [first, silent] };
    expect(solve(block, "temperature_C", { pressureAltitude_ft: 20 }, 50)).toEqual({
      is: "notKnown",
      lacks: [{ why: "severalWays", input: "temperature_C", step: 1 }],
    });
  });

  test("nor where its directions contradict each other", () => {
    const [first, second] = declared.steps as readonly [GridBlock, GridBlock];
    const block: ChartBlock = {
      kind: "chain",
      steps: [
        first,
        {
          ...second,
          values: [
            [15, 20],
            [80, 100],
          ],
          monotone: { base: "rising", temperature_C: "rising" },
        },
      ],
    };
    expect(solve(block, "temperature_C", { pressureAltitude_ft: 20 }, 50)).toMatchObject({
      is: "notKnown",
      lacks: [{ why: "severalWays" }],
    });
  });

  test("nor where it moves both inputs of curves that end in different places", () => {
    const [first] = declared.steps as readonly [GridBlock, GridBlock];
    const curves = (ends: readonly number[]): PlainChartBlock => ({
      kind: "curves",
      across: "temperature_C",
      along: "base",
      between: "linear",
      output: "limit",
      monotone: { base: "rising", temperature_C: "falling" },
      curves: ends.map((end, i) => ({
        at: 40 * i,
        points: [
          [0, 10 - 10 * i],
          [end, (100 * end) / 120 - 10 * i],
        ],
      })),
    });
    const chainOf = (ends: readonly number[]): ChartBlock => ({
      kind: "chain",
      steps: [first, curves(ends)],
    });
    expect(solve(chainOf([120, 120]), "temperature_C", { pressureAltitude_ft: 20 }, 60).is).toBe("solved");
    expect(solve(chainOf([120, 90]), "temperature_C", { pressureAltitude_ft: 20 }, 60)).toMatchObject({
      lacks: [{ why: "severalWays", step: 1 }],
    });
  });
});
