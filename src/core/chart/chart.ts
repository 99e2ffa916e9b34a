// A chart made ready to be read: axes with their strides, curves with their cubics, guide lines turned into a family.
//
// In: a block that check-chart.ts found sound. The axes of a grid stand in the order of their names, whatever order the
// operator chose, so that two ways of writing one grid give the same number to the last bit. Guide lines are a family of
// curves whose parameter is each line's value at the reference line. Refuses nothing.

import { onLimit } from "../quantity/compare.ts";
import {
  type ChartBlock,
  type Direction,
  type GridBlock,
  type Nested,
  nestedValues,
  type PlainChartBlock,
} from "./chart-schema.ts";
import { type Curve, curveThrough, mostShare, pointBefore, valueOnCurve } from "./monotone-cubic.ts";

export type Axis = {
  readonly input: string;
  readonly at: readonly number[];
  /** The step of an evenly spaced axis on which (at_i − at_0) / step is i exactly; null where places are searched for. */
  readonly step: number | null;
};

type Declared = {
  readonly inputs: readonly string[];
  readonly output: string;
  readonly monotone: Readonly<Record<string, Direction>>;
  /** The largest output among the points, without its sign. */
  readonly size: number;
};

export type Grid = Declared & {
  readonly kind: "grid";
  /** In the order of their names. */
  readonly axes: readonly Axis[];
  /** Of each axis in `values`. */
  readonly strides: readonly number[];
  readonly values: readonly number[];
};

export type Family = Declared & {
  readonly kind: "family";
  readonly along: string;
  /** Null for a single curve. */
  readonly across: Axis | null;
  readonly curves: readonly Curve[];
};

export type PlainChart = Grid | Family;

export type Chain = {
  readonly kind: "chain";
  readonly inputs: readonly string[];
  readonly output: string;
  readonly steps: readonly PlainChart[];
};

export type Chart = PlainChart | Chain;

export function chartOf(block: ChartBlock): Chart {
  if (block.kind !== "chain") return plainChartOf(block);
  const steps = block.steps.map((step) => plainChartOf(step));
  const made = new Set(steps.map(({ output }) => output));
  const inputs = [...new Set(steps.flatMap((step) => step.inputs))].filter((input) => !made.has(input));
  return { kind: "chain", inputs: inputs.sort(), output: steps.at(-1)!.output, steps };
}

export function plainChartOf(block: PlainChartBlock): PlainChart {
  if (block.kind === "grid") return gridOf(block);
  const { along, output, between } = block;
  const lines = linesOf(block);
  const curves = lines.map((points) => curveThrough(column(points, 0), column(points, 1), between));
  const across = acrossOf(block, curves);
  const inputs = across === null ? [along] : [along, across.input].sort();
  // Where the reference line is met is where the lines stand in order, so the output follows it.
  const inherent = block.kind === "guides" ? { [block.enter]: "rising" as const } : {};
  const monotone = { ...block.monotone, ...inherent };
  const size = sizeOf(curves.flatMap(({ y }) => y));
  return { kind: "family", along, across, curves, inputs, output, monotone, size };
}

type Points = readonly (readonly [number, number])[];

/** The point lists of a block that is made of curves. */
export function linesOf(block: Exclude<PlainChartBlock, GridBlock>): readonly Points[] {
  if (block.kind === "curve") return [block.points];
  return block.kind === "curves" ? block.curves.map(({ points }) => points) : block.lines;
}

// `+ 0` turns −0 into 0, so that both write the same value.
const column = (points: Points, part: 0 | 1): number[] => points.map((point) => point[part] + 0);

function acrossOf(block: Exclude<PlainChartBlock, GridBlock>, curves: readonly Curve[]): Axis | null {
  if (block.kind === "curve") return null;
  if (block.kind === "curves")
    return axisOf(
      block.across,
      block.curves.map(({ at }) => at + 0),
    );
  return axisOf(
    block.enter,
    curves.map((curve) => valueOnCurve(curve, block.from)),
  );
}

export function axisOf(input: string, at: readonly number[]): Axis {
  const first = at[0]!;
  const step = (at.at(-1)! - first) / (at.length - 1);
  const isEven = at.every((value, i) => (value - first) / step === i);
  return { input, at, step: isEven ? step : null };
}

function gridOf(block: GridBlock): Grid {
  const strides: number[] = block.axes.map(() => 1);
  for (let i = strides.length - 2; i >= 0; i -= 1)
    strides[i] = strides[i + 1]! * block.axes[i + 1]!.at.length;
  const order = block.axes
    .map(({ input }, i) => ({ input, i }))
    .sort((a, b) => (a.input < b.input ? -1 : 1))
    .map(({ i }) => i);
  const each = order.map((i) => {
    const { input, at } = block.axes[i]!;
    return axisOf(
      input,
      at.map((value) => value + 0),
    );
  });
  // Places are found by steps on all axes or on none, so that a look-up goes one way.
  const isEven = each.every(({ step }) => step !== null);
  const axes = isEven ? each : each.map((axis) => ({ ...axis, step: null }));
  const values = nodeValues(nestedValues(block)).map((value) => value + 0);
  return {
    kind: "grid",
    axes,
    strides: order.map((i) => strides[i]!),
    values,
    size: sizeOf(values),
    inputs: axes.map(({ input }) => input),
    output: block.output,
    monotone: block.monotone ?? {},
  };
}

const sizeOf = (values: readonly number[]): number =>
  values.reduce((size, value) => Math.max(size, Math.abs(value)), 0);

/** All values of a grid in one list, the last axis fastest. */
const nodeValues = (values: Nested): readonly number[] =>
  typeof values === "number" ? [values] : values.flatMap((part) => nodeValues(part));

/** Where a value stands on an axis: the node at or before it, and the share of the way to the next, 0 on the node. */
export type Place = { readonly index: number; readonly share: number };

/** The place of a value that is on the axis. */
export function placeOn({ at, step }: Axis, value: number): Place {
  if (step !== null) {
    const steps = (value - at[0]!) / step;
    const index = Math.floor(steps);
    return { index, share: Math.min(steps - index, mostShare) };
  }
  const index = pointBefore(at, value);
  if (value === at[index]) return { index, share: 0 };
  const share = (value - at[index]!) / (at[index + 1]! - at[index]!);
  return { index, share: Math.min(share, mostShare) };
}

/** The share of the way between two curves that counts as none, or as all: more than a conversion of units leaves. */
export const nearCurve = 1e-13;

/**
 * The place of a parameter among curves. Within the rounding of a conversion of units a curve's parameter is that curve,
 * since only there its own range counts and not the part that it has in common with a neighbour.
 */
export function placeOnCurves(axis: Axis, value: number): Place {
  const { index, share } = placeOn(axis, value);
  if (share <= nearCurve) return { index, share: 0 };
  return share >= 1 - nearCurve ? { index: index + 1, share: 0 } : { index, share };
}

/** How far outside its ends a value still counts as on the end (law 6): a relative 1e−9 of the larger end. */
const slackOf = (low: number, high: number): number => onLimit * Math.max(Math.abs(low), Math.abs(high));

/** The value, moved onto an end that it misses by no more than the slack; null when it is outside. */
export function inRange(value: number, low: number, high: number): number | null {
  if (value >= low && value <= high) return value;
  const slack = slackOf(low, high);
  if (value < low && value >= low - slack) return low;
  return value > high && value <= high + slack ? high : null;
}

/** The value of a grid at a place on each axis: linear along the last axis first. */
export function valueInGrid(grid: Grid, places: readonly Place[], axis = 0, offset = 0): number {
  const place = places[axis];
  if (place === undefined) return grid.values[offset]!;
  const stride = grid.strides[axis]!;
  const here = offset + place.index * stride;
  const low = valueInGrid(grid, places, axis + 1, here);
  if (place.share === 0) return low;
  const high = valueInGrid(grid, places, axis + 1, here + stride);
  return low + place.share * (high - low);
}

const ends = (values: readonly number[]): readonly [number, number] => [
  values.reduce((a, b) => Math.min(a, b)),
  values.reduce((a, b) => Math.max(a, b)),
];

/** The least and greatest value among a chart's points. */
export function outputRange(chart: PlainChart): readonly [number, number] {
  return ends(chart.kind === "grid" ? chart.values : chart.curves.flatMap(({ y }) => y));
}

/** From where to where a chart has any answer for an input. */
export function inputRange(chart: PlainChart, input: string): readonly [number, number] {
  if (chart.kind === "grid") return ends(chart.axes.find((axis) => axis.input === input)!.at);
  return ends(input === chart.along ? alongPoints(chart) : chart.across!.at);
}

const alongPoints = ({ curves }: Family): readonly number[] => curves.flatMap(({ x }) => x);
