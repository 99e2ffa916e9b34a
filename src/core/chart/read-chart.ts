// Reads a chart as a person does: finds the neighbours, goes between them, and says which points it used.
//
// In: a chart and a value for each of its inputs, in the chart's units. Out: the output with the surrounding points, or
// why it is not known: an input that is missing or no number, or one outside the chart, with what was asked and the range
// in which the chart has an answer for the other inputs. Never an extrapolation, never a clamp; a value that misses an end
// by a relative 1e−9 counts as on it (law 6), so that a conversion of units cannot push it out.
// Grid: linear in each axis in turn (n-linear). Family: along each of the two neighbouring curves at its own points, then
// straight between the two; both curves must reach there, unless the parameter is exactly that of one curve.
// Check values: published/chart.test.ts.

import {
  type Chain,
  type Chart,
  type Family,
  type Grid,
  inRange,
  type Place,
  placeOn,
  placeOnCurves,
  type PlainChart,
  valueInGrid,
} from "./chart.ts";
import { type Curve, pointBefore, valueOnCurve } from "./monotone-cubic.ts";

/** Values by input, in the chart's own units. */
export type Asked = Readonly<Record<string, number>>;

/** A given point of the chart: its inputs and its output. `step` only in a chain. */
export type UsedPoint = { readonly at: Asked; readonly value: number; readonly step?: number };

export type Lack = {
  readonly why: "missing" | "notANumber" | "outside";
  readonly input: string;
  readonly asked: number | null;
  /** Where the chart has an answer; null unless outside. */
  readonly range: readonly [low: number, high: number] | null;
  /** Of a chain: the step that could not be read; null when the chart has no steps. */
  readonly step: number | null;
};

export type Reading =
  | { readonly is: "read"; readonly value: number; readonly used: readonly UsedPoint[] }
  | { readonly is: "notKnown"; readonly lacks: readonly Lack[] };

export function readChart(chart: Chart, at: Asked): Reading {
  return chart.kind === "chain" ? readChain(chart, at) : readPlain(chart, at);
}

function readPlain(chart: PlainChart, at: Asked): Reading {
  const lacks = chart.inputs.flatMap((input) => notGiven(at, input));
  if (lacks.length > 0) return { is: "notKnown", lacks };
  return chart.kind === "grid" ? readGrid(chart, at) : readFamily(chart, at);
}

function notGiven(at: Asked, input: string): Lack[] {
  const value = Object.hasOwn(at, input) ? at[input] : undefined;
  if (value === undefined) return [{ why: "missing", input, asked: null, range: null, step: null }];
  if (!Number.isFinite(value)) return [{ why: "notANumber", input, asked: null, range: null, step: null }];
  return [];
}

const outside = (input: string, asked: number, low: number, high: number): Lack => ({
  why: "outside",
  input,
  asked,
  range: [low, high],
  step: null,
});

function readGrid(grid: Grid, at: Asked): Reading {
  const lacks: Lack[] = [];
  const places = grid.axes.map((axis): Place => {
    const asked = at[axis.input]!;
    const [low, high] = [axis.at[0]!, axis.at.at(-1)!];
    const value = inRange(asked, low, high);
    if (value === null) lacks.push(outside(axis.input, asked, low, high));
    return placeOn(axis, value ?? low);
  });
  if (lacks.length > 0) return { is: "notKnown", lacks };
  return { is: "read", value: valueInGrid(grid, places), used: cornersAt(grid, places) };
}

/** The corners of the cell that were used: on a node of an axis only that node. */
function cornersAt({ axes, strides, values }: Grid, places: readonly Place[]): readonly UsedPoint[] {
  let corners: { at: Record<string, number>; offset: number }[] = [{ at: {}, offset: 0 }];
  for (const [i, axis] of axes.entries()) {
    const { index, share } = places[i]!;
    const nodes = share === 0 ? [index] : [index, index + 1];
    corners = corners.flatMap(({ at, offset }) =>
      nodes.map((node) => ({
        at: { ...at, [axis.input]: axis.at[node]! },
        offset: offset + node * strides[i]!,
      })),
    );
  }
  return corners.map(({ at, offset }) => ({ at, value: values[offset]! }));
}

function readFamily(family: Family, at: Asked): Reading {
  const asked = at[family.along]!;
  const across = acrossPlace(family, at);
  if ("why" in across) return { is: "notKnown", lacks: [across] };
  const range = rangeAlong(family, across);
  const x = inRange(asked, range[0], range[1]);
  if (x === null) return { is: "notKnown", lacks: [outside(family.along, asked, range[0], range[1])] };
  return readBetween(family, across, x);
}

function readBetween(family: Family, { index, share }: Place, x: number): Reading {
  const here = family.curves[index]!;
  const low = valueOnCurve(here, x);
  const used = neighboursOn(family, index, x);
  if (share === 0) return { is: "read", value: low, used };
  const high = valueOnCurve(family.curves[index + 1]!, x);
  return {
    is: "read",
    value: low + share * (high - low),
    used: [...used, ...neighboursOn(family, index + 1, x)],
  };
}

/** Which curves to read between. */
export function acrossPlace({ across }: Family, at: Asked): Place | Lack {
  if (across === null) return { index: 0, share: 0 };
  const [low, high] = [across.at[0]!, across.at.at(-1)!];
  const asked = at[across.input]!;
  const value = inRange(asked, low, high);
  return value === null ? outside(across.input, asked, low, high) : placeOnCurves(across, value);
}

/** Where the curves used reach along: the intersection of two neighbours, or one curve's own range. */
export function rangeAlong({ curves }: Family, { index, share }: Place): readonly [number, number] {
  const reach = (curve: Curve): readonly [number, number] => [curve.x[0]!, curve.x.at(-1)!];
  const [low, high] = reach(curves[index]!);
  if (share === 0) return [low, high];
  const [otherLow, otherHigh] = reach(curves[index + 1]!);
  return [Math.max(low, otherLow), Math.min(high, otherHigh)];
}

function neighboursOn({ along, across, curves }: Family, index: number, x: number): readonly UsedPoint[] {
  const curve = curves[index]!;
  const before = pointBefore(curve.x, x);
  const points = curve.x[before] === x ? [before] : [before, before + 1];
  return points.map((i) => ({
    at: { ...(across === null ? {} : { [across.input]: across.at[index]! }), [along]: curve.x[i]! },
    value: curve.y[i]!,
  }));
}

function readChain({ inputs, steps }: Chain, at: Asked): Reading {
  const lacks = inputs.flatMap((input) => notGiven(at, input));
  if (lacks.length > 0) return { is: "notKnown", lacks };
  const known: Record<string, number> = Object.fromEntries(inputs.map((input) => [input, at[input]!]));
  const used: UsedPoint[] = [];
  for (const [step, chart] of steps.entries()) {
    const reading = readPlain(chart, known);
    if (reading.is === "notKnown") {
      return { is: "notKnown", lacks: reading.lacks.map((lack) => ({ ...lack, step })) };
    }
    known[chart.output] = reading.value;
    used.push(...reading.used.map((point) => ({ ...point, step })));
  }
  return { is: "read", value: known[steps.at(-1)!.output]!, used };
}
