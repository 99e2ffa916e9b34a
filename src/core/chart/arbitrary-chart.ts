// Random charts and places on them for the property tests of charts; imported by tests only.
//
// Nodes are whole multiples of a coarse step as often as not, so that even axes, flat parts and equal values occur. Every
// chart is accepted by checkChart.

import * as fc from "fast-check";
import type { ChainBlock, ChartBlock, GridBlock, PlainChartBlock } from "./chart-schema.ts";
import { chartOf, inputRange } from "./chart.ts";
import { checkChart } from "./check-chart.ts";

/** Rising lists: evenly spaced, or not. */
const axes = (least: number, most: number, count: { min: number; max: number }): fc.Arbitrary<number[]> =>
  fc.oneof(
    fc
      .record({
        from: fc.integer({ min: least, max: most - 1 }),
        step: fc.constantFrom(1, 5, 0.1, 250),
        count: fc.integer(count),
      })
      .map(({ from, step, count: n }) => Array.from({ length: n }, (_, i) => from + i * step)),
    fc
      .array(
        fc.integer({ min: 50, max: 4e4 }).map((n) => n / 997),
        { minLength: count.min - 1, maxLength: count.max - 1 },
      )
      .chain((widths) =>
        fc.integer({ min: least, max: most }).map((from) => {
          const nodes = [from];
          for (const width of widths) nodes.push(nodes.at(-1)! + width);
          return nodes;
        }),
      ),
  );

const coarse = fc.integer({ min: -40, max: 40 }).map((n) => n * 25);
const values = fc.oneof(
  coarse,
  fc.integer({ min: -997_000, max: 997_000 }).map((n) => n / 997),
);

const names = ["pressureAltitude_ft", "temperature_C", "mass_kg", "headwind_kt", "bleed"] as const;

function nest(flat: readonly number[], counts: readonly number[]): unknown {
  if (counts.length === 0) return flat[0];
  const [count, ...rest] = counts;
  const size = flat.length / count!;
  return Array.from({ length: count! }, (_, i) => nest(flat.slice(i * size, (i + 1) * size), rest));
}

export function grids(dimensions: { min: number; max: number }): fc.Arbitrary<GridBlock> {
  return fc
    .tuple(fc.integer(dimensions), fc.shuffledSubarray([...names], { minLength: names.length }))
    .chain(([count, order]) =>
      fc
        .array(axes(-50, 50, { min: 2, max: count > 3 ? 3 : 6 }), { minLength: count, maxLength: count })
        .chain((lists) => {
          const counts = lists.map((list) => list.length);
          const nodes = counts.reduce((product, n) => product * n, 1);
          return fc.array(values, { minLength: nodes, maxLength: nodes }).map((flat): GridBlock => ({
            kind: "grid",
            axes: lists.map((at, i) => ({ input: order[i]!, at })),
            values: nest(flat, counts) as readonly unknown[],
            output: "result",
          }));
        }),
    );
}

const between = fc.constantFrom("linear", "pchip");
const pointsOn = (xs: readonly number[]): fc.Arbitrary<[number, number][]> =>
  fc.array(values, { minLength: xs.length, maxLength: xs.length }).map((ys) => xs.map((x, i) => [x, ys[i]!]));

export const singleCurves: fc.Arbitrary<PlainChartBlock> = fc
  .record({ between, points: axes(-50, 50, { min: 2, max: 9 }).chain((xs) => pointsOn(xs)) })
  .map((parts) => ({ kind: "curve", along: "temperature_C", output: "result", ...parts }));

/** Families whose curves keep their order, with ranges of their own: each curve is the one before plus a rise. */
export const families: fc.Arbitrary<PlainChartBlock> = fc
  .record({
    between,
    at: axes(-50, 50, { min: 2, max: 5 }),
    xs: axes(-50, 50, { min: 4, max: 8 }),
    ys: fc.array(values, { minLength: 8, maxLength: 8 }),
    rises: fc.array(
      fc.oneof(
        fc.constant(0),
        fc.integer({ min: 1, max: 3e5 }).map((n) => n / 997),
      ),
      {
        minLength: 5,
        maxLength: 5,
      },
    ),
    cuts: fc.array(fc.tuple(fc.integer({ min: 0, max: 1 }), fc.integer({ min: 0, max: 1 })), {
      minLength: 5,
      maxLength: 5,
    }),
  })
  .map(({ between: how, at, xs, ys, rises, cuts }): PlainChartBlock => {
    let height = 0;
    return {
      kind: "curves",
      across: "pressureAltitude_ft",
      along: "temperature_C",
      between: how,
      output: "result",
      curves: at.map((parameter, i) => {
        height += rises[i]!;
        const [first, last] = cuts[i]!;
        const points = xs.map((x, j): [number, number] => [x, ys[j]! + height]);
        return { at: parameter, points: points.slice(first, points.length - last) };
      }),
    };
  })
  .filter((block) => checkChart(block).length === 0);

/** Guide lines that spread or draw together, never crossing. */
export const guideLines: fc.Arbitrary<PlainChartBlock> = fc
  .record({
    between,
    xs: axes(-20, 20, { min: 3, max: 6 }),
    base: fc.array(values, { minLength: 6, maxLength: 6 }),
    heights: fc.array(fc.double({ min: 1, max: 100, noNaN: true }), { minLength: 2, maxLength: 5 }),
    spread: fc.array(fc.double({ min: 0.2, max: 2, noNaN: true }), { minLength: 6, maxLength: 6 }),
    from: fc.integer({ min: 0, max: 2 }),
  })
  .map(({ between: how, xs, base, heights, spread, from }): PlainChartBlock => {
    let height = 0;
    return {
      kind: "guides",
      enter: "result",
      along: "headwind_kt",
      from: xs[from]!,
      between: how,
      output: "corrected",
      lines: heights.map((rise) => {
        height += rise;
        return xs.map((x, j): [number, number] => [x, base[j]! + height * spread[j]!]);
      }),
    };
  })
  .filter((block) => checkChart(block).length === 0);

/** Grid or family first, guide lines or a curve after it, whose axis spans most of what the first gives. */
export const chains: fc.Arbitrary<ChainBlock> = fc
  .record({
    first: fc.oneof(grids({ min: 2, max: 2 }), families),
    between,
    // Flat or of a slope that does not lose what comes before in rounding.
    ys: fc.array(coarse, { minLength: 6, maxLength: 6 }),
    last: fc.array(coarse, { minLength: 4, maxLength: 4 }),
  })
  .map(({ first, between: how, ys, last }): ChainBlock => {
    const xs = [-1200, -600, -50, 300, 900, 2500];
    return {
      kind: "chain",
      steps: [
        first,
        {
          kind: "curve",
          along: "result",
          between: how,
          output: "middle",
          points: xs.map((x, i) => [x, ys[i]!]),
        },
        {
          kind: "grid",
          axes: [
            { input: "middle", at: [-1000, 1000] },
            { input: "last", at: [0, 10] },
          ],
          values: [
            [last[0]!, last[1]!],
            [last[2]!, last[3]!],
          ],
          output: "end",
        },
      ],
    };
  });

export const plainCharts: fc.Arbitrary<PlainChartBlock> = fc.oneof(
  grids({ min: 1, max: 4 }),
  singleCurves,
  families,
  guideLines,
);

export const charts: fc.Arbitrary<ChartBlock> = fc.oneof(
  { weight: 4, arbitrary: plainCharts },
  { weight: 1, arbitrary: chains },
);

/** A chart with values for its inputs: mostly inside the ranges, often on a node, sometimes outside or beside an end. */
export function placesOn(block: ChartBlock): fc.Arbitrary<Record<string, number>> {
  const chart = chartOf(block);
  const plain = chart.kind === "chain" ? chart.steps : [chart];
  const inputs = chart.inputs.map((input) => {
    const owner = plain.find((step) => step.inputs.includes(input))!;
    const [low, high] = inputRange(owner, input);
    const nodes =
      owner.kind === "grid"
        ? owner.axes.find((axis) => axis.input === input)!.at
        : input === owner.along
          ? owner.curves.flatMap(({ x }) => x)
          : owner.across!.at;
    return fc.oneof(
      { weight: 6, arbitrary: fc.double({ min: 0, max: 1, noNaN: true }).map((t) => low + t * (high - low)) },
      { weight: 3, arbitrary: fc.constantFrom(...nodes) },
      { weight: 1, arbitrary: fc.constantFrom(low - 1, high + 1, low * (1 + 1e-12), high * (1 + 1e-12)) },
    );
  });
  return fc
    .tuple(...inputs)
    .map((given) => Object.fromEntries(chart.inputs.map((name, i) => [name, given[i]!])));
}

export const readings: fc.Arbitrary<{ readonly block: ChartBlock; readonly at: Record<string, number> }> =
  charts.chain((block) => placesOn(block).map((at) => ({ block, at })));
