// A chart as a picture: the copied points and the lines that the program draws through them. Pure geometry: a chart's
// numbers in, pixels out.
//
// One input runs across the picture, the output up it, and each line belongs to a value of a second input; of a grid of
// more than two axes the others stand at chosen nodes. Cubics are drawn by many short chords, for the eye only: what is
// read off a chart is never read off its picture.
import { type Grid, type PlainChart, placeOn, valueInGrid } from "../../core/chart/chart.ts";
import { type Curve, valueOnCurve } from "../../core/chart/monotone-cubic.ts";
import { pathOf, tenth } from "../drawing/path.ts";
import type { Point } from "../drawing/ring.ts";
import type { Tick } from "./envelope-plot.ts";

export type ChartView = {
  /** The input that runs across the picture. */
  readonly along: string;
  /** The input whose values make the lines; null for a single line. */
  readonly across: string | null;
  /** The nodes at which the other inputs of a grid stand. */
  readonly fixed: Readonly<Record<string, number>>;
};

export type ChartLine = {
  readonly path: string;
  /** Dots: strokes of no length with round ends. */
  readonly points: string;
  /** Of `across`; null for a single line. */
  readonly value: number | null;
  /** Where its value can be written. */
  readonly label: Point;
};

export type ChartPlot = {
  readonly lines: readonly ChartLine[];
  readonly alongTicks: readonly Tick[];
  readonly outputTicks: readonly Tick[];
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  at(x: number, y: number): Point;
};

/** A first view: the last axis of a grid, in the order of the names, along the picture and the one before as lines. */
export function firstView(chart: PlainChart): ChartView {
  if (chart.kind === "family") return { along: chart.along, across: chart.across?.input ?? null, fixed: {} };
  const [along, across, ...others] = chart.axes.toReversed();
  return {
    along: along!.input,
    across: across?.input ?? null,
    fixed: Object.fromEntries(others.map(({ input, at }) => [input, at[at.length >> 1]!])),
  };
}

type Line = {
  readonly value: number | null;
  readonly given: readonly Point[];
  readonly drawn: readonly Point[];
};

/** Chords to one part of a cubic. */
const chords = 12;
const pads = { left: 58, right: 62, top: 18, bottom: 30 };

export function plotChart(chart: PlainChart, view: ChartView, width: number, height: number): ChartPlot {
  const lines =
    chart.kind === "grid"
      ? gridLines(chart, view)
      : chart.curves.map((curve, i) => curveLine(curve, chart.across?.at[i] ?? null));
  const all = lines.flatMap(({ drawn }) => drawn);
  const [x0, x1] = rangeOf(
    all.map(([x]) => x),
    0,
  );
  const [y0, y1] = rangeOf(
    all.map(([, y]) => y),
    0.04,
  );
  const [left, right] = [pads.left, width - pads.right];
  const [top, bottom] = [pads.top, height - pads.bottom];
  const at = (x: number, y: number): Point => [
    tenth(left + ((x - x0) / (x1 - x0)) * (right - left)),
    tenth(bottom - ((y - y0) / (y1 - y0)) * (bottom - top)),
  ];
  return {
    lines: apart(
      lines.map(({ value, given, drawn }) => ({
        value,
        path: pathOf(drawn.map(([x, y]) => at(x, y))),
        points: given.map(([x, y]) => `M${at(x, y).join(" ")}h0`).join(""),
        label: at(...(drawn.at(-1) as readonly [number, number])),
      })),
    ),
    alongTicks: ticks(x0, x1, (right - left) / leastApart.along).map((value) => ({
      at: at(value, y0)[0],
      value,
    })),
    outputTicks: ticks(y0, y1, (bottom - top) / leastApart.output).map((value) => ({
      at: at(x0, value)[1],
      value,
    })),
    left,
    right,
    top,
    bottom,
    at,
  };
}

/** How far ticks stand apart at the least, so that their numbers do. */
const leastApart = { along: 46, output: 34 };

/** Round steps within a range, at most so many. */
function ticks(low: number, high: number, most: number): number[] {
  const rough = (high - low) / Math.max(1, Math.floor(most));
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((factor) => factor * power).find((candidate) => candidate >= rough)!;
  const first = Math.ceil(low / step - 1e-9);
  const last = Math.floor(high / step + 1e-9);
  return Array.from({ length: last - first + 1 }, (_, i) => Number(((first + i) * step).toPrecision(12)) + 0);
}

function rangeOf(values: readonly number[], room: number): readonly [number, number] {
  const low = values.reduce((a, b) => Math.min(a, b));
  const high = values.reduce((a, b) => Math.max(a, b));
  const more = Math.max((high - low) * room, high === low ? Math.max(Math.abs(high) * 0.05, 1) : 0);
  return [low - more, high + more];
}

function curveLine(curve: Curve, value: number | null): Line {
  const { x: xs, y: ys, c2, c3 } = curve;
  const given = xs.map((x, i): Point => [x, ys[i]!]);
  const drawn = given.flatMap(([x, y], i): Point[] => {
    const next = xs[i + 1];
    if (next === undefined || (c2[i] === 0 && c3[i] === 0)) return [[x, y]];
    return Array.from({ length: chords }, (_, chord): Point => {
      const at = x + ((next - x) * chord) / chords;
      return [at, valueOnCurve(curve, at)];
    });
  });
  return { value, given, drawn };
}

function gridLines(grid: Grid, { along, across, fixed }: ChartView): readonly Line[] {
  const axisOf = (input: string) => grid.axes.find((axis) => axis.input === input)!;
  const values = across === null ? [null] : axisOf(across).at;
  return values.map((value): Line => {
    const given = axisOf(along).at.map((x): Point => {
      const places = grid.axes.map((axis) => {
        if (axis.input === along) return placeOn(axis, x);
        return placeOn(axis, axis.input === across ? value! : fixed[axis.input]!);
      });
      return [x, valueInGrid(grid, places)];
    });
    return { value, given, drawn: given };
  });
}

/** Labels at the ends of lines that run together are moved apart, the lowest kept where it is. */
function apart(lines: readonly ChartLine[]): readonly ChartLine[] {
  const room = 15;
  const order = lines.map((line, i) => ({ line, i })).sort((a, b) => b.line.label[1] - a.line.label[1]);
  const out = [...lines];
  let free = Number.POSITIVE_INFINITY;
  for (const { line, i } of order) {
    const [x, y] = line.label;
    free = Math.min(y, free - room);
    out[i] = { ...line, label: [x, tenth(free)] };
  }
  return out;
}
