// Is a chart sound? All that is wrong with its points, each with its path, before anything is read from it.
//
// In: a block of the right shape. Out: issues with a path inside the chart, a code, what was found and wanted; empty when
// it can be read everywhere inside. Refused: a list that does not rise, two points in one place, a hole or a row of
// another length in a grid, curves or guide lines that cross, curves beside each other without a range in common, a
// declared monotony that the points (or the cubics between them) break, steps that do not fit together, a control point
// outside or further off than allowed. Curves may touch: charts end in a common limit.
// The sizes that rounding may have here are a relative 1e−9 of the largest value.

import { onLimit } from "../quantity/compare.ts";
import { chartOf, inputRange, linesOf, outputRange, plainChartOf } from "./chart.ts";
import {
  type ChainBlock,
  type ChartBlock,
  type Direction,
  type GridBlock,
  type Nested,
  nestedValues,
  type PlainChartBlock,
} from "./chart-schema.ts";
import { readChart } from "./read-chart.ts";
import { type Curve, curveThrough, valueOnCurve } from "./monotone-cubic.ts";
import { pathOfLine } from "./node-numbers.ts";
import { breakpoints, cubicAt, turningPoints } from "./section.ts";

type Json = null | boolean | number | string | readonly Json[] | { readonly [key: string]: Json };

export type ChartIssue = {
  /** Inside the chart: `curves[2].points[3][0]`; empty for the chart as a whole. */
  readonly path: string;
  readonly code: ChartIssueCode;
  readonly found: Json;
  readonly wanted: Json;
};

export type ChartIssueCode =
  | "notRising"
  | "gridShape"
  | "tooManyNodes"
  | "nameTwice"
  | "notAnInput"
  | "noCommonRange"
  | "curvesCross"
  | "notMonotone"
  | "referenceOutside"
  | "stepUnused"
  | "stepLate"
  | "stepsApart"
  | "controlOutside"
  | "controlMissed";

type Say = (path: string, code: ChartIssueCode, found: Json, wanted?: Json) => void;

/** Numbers closer than this, by their own size, are one place typed twice. */
const apart = 1e-8;
/** As many as a map can hold ready; a chart of a manual has some hundreds. */
const nodesMost = 50_000;

export function checkChart(block: ChartBlock): readonly ChartIssue[] {
  const issues: ChartIssue[] = [];
  const say: Say = (path, code, found, wanted = null) => issues.push({ path, code, found, wanted });
  if (block.kind === "chain") checkChain(block, say);
  else checkPlain(block, "", say);
  if (issues.length === 0) checkControls(block, say);
  return issues;
}

function checkPlain(block: PlainChartBlock, at: string, say: Say): void {
  const before = new Counted(say);
  checkNames(block, at, before.say);
  if (block.kind === "grid") checkGrid(block, at, before.say);
  else checkLines(block, at, before.say);
  if (before.count === 0 && block.kind !== "grid") checkFamily(block, at, say);
}

/** A say that counts. */
class Counted {
  count = 0;
  readonly say: Say;

  constructor(say: Say) {
    this.say = (...issue) => {
      this.count += 1;
      say(...issue);
    };
  }
}

/** Inputs of a block with the path at which each is named. */
function inputsOf(block: PlainChartBlock): readonly (readonly [path: string, input: string])[] {
  if (block.kind === "grid") return block.axes.map(({ input }, i) => [`axes[${i}].input`, input]);
  const along = ["along", block.along] as const;
  if (block.kind === "curve") return [along];
  return [block.kind === "curves" ? ["across", block.across] : ["enter", block.enter], along];
}

function checkNames(block: PlainChartBlock, at: string, say: Say): void {
  const seen = new Set<string>();
  for (const [path, name] of [...inputsOf(block), ["output", block.output] as const]) {
    if (seen.has(name)) say(at + path, "nameTwice", name);
    seen.add(name);
  }
  seen.delete(block.output);
  for (const input of Object.keys(block.monotone ?? {}))
    if (!seen.has(input)) say(`${at}monotone.${input}`, "notAnInput", input, [...seen]);
}

/** Each at least a little more than the one before. */
function checkRising(values: readonly number[], pathOf: (i: number) => string, say: Say): void {
  values.forEach((value, i) => {
    const before = values[i - 1];
    if (before === undefined) return;
    if (value - before <= apart * Math.max(Math.abs(value), Math.abs(before), 1e-3))
      say(pathOf(i), "notRising", value, before);
  });
}

function checkGrid(block: GridBlock, at: string, say: Say): void {
  block.axes.forEach((axis, i) => checkRising(axis.at, (node) => `${at}axes[${i}].at[${node}]`, say));
  const counts = block.axes.map((axis) => axis.at.length);
  const nodes = counts.reduce((product, count) => product * count, 1);
  if (nodes > nodesMost) {
    say(`${at}values`, "tooManyNodes", nodes, nodesMost);
    return;
  }
  const shape = new Counted(say);
  checkShape(nestedValues(block), counts, `${at}values`, shape.say);
  if (shape.count === 0) checkGridMonotone(block, at, say);
}

function checkShape(values: Nested, counts: readonly number[], path: string, say: Say): void {
  const [count, ...rest] = counts;
  if (count === undefined) {
    if (typeof values !== "number") say(path, "gridShape", "a list", "a number");
  } else if (typeof values === "number") say(path, "gridShape", "a number", `a list of ${count}`);
  else if (values.length !== count)
    say(path, "gridShape", `a list of ${values.length}`, `a list of ${count}`);
  else values.forEach((part, i) => checkShape(part, rest, `${path}[${i}]`, say));
}

function checkGridMonotone(block: GridBlock, at: string, say: Say): void {
  const { axes, monotone } = block;
  const values = nestedValues(block);
  const walk = (part: Nested, depth: number, path: string, indices: readonly number[]): void => {
    if (typeof part !== "number") {
      part.forEach((inner, i) => walk(inner, depth + 1, `${path}[${i}]`, [...indices, i]));
      return;
    }
    for (const [axis, { input }] of axes.entries()) {
      const direction = monotone?.[input];
      const index = indices[axis]!;
      if (direction === undefined || index === 0) continue;
      const before = nodeAt(values, indices.with(axis, index - 1));
      if (breaks(direction, before, part))
        say(path, "notMonotone", part, wantedAfter(direction, before, input));
    }
  };
  walk(values, 0, `${at}values`, []);
}

function nodeAt(values: Nested, indices: readonly number[]): number {
  return indices.reduce<Nested>((part, index) => (part as readonly Nested[])[index]!, values) as number;
}

const breaks = (direction: Direction, before: number, after: number): boolean =>
  direction === "rising" ? after < before : after > before;

const wantedAfter = (direction: Direction, before: number, input: string): Json =>
  `${direction === "rising" ? "at least" : "at most"} ${before}, ${direction} with ${input}`;

function checkLines(block: Exclude<PlainChartBlock, GridBlock>, at: string, say: Say): void {
  const direction = block.monotone?.[block.along];
  linesOf(block).forEach((points, line) => {
    const path = at + pathOfLine(block.kind, line);
    checkRising(
      points.map(([x]) => x),
      (i) => `${path}[${i}][0]`,
      say,
    );
    if (direction === undefined) return;
    points.forEach(([, y], i) => {
      const before = points[i - 1]?.[1];
      if (before !== undefined && breaks(direction, before, y))
        say(`${path}[${i}][1]`, "notMonotone", y, wantedAfter(direction, before, block.along));
    });
  });
  if (block.kind === "curves")
    checkRising(
      block.curves.map((curve) => curve.at),
      (i) => `${at}curves[${i}].at`,
      say,
    );
  if (block.kind !== "guides") return;
  block.lines.forEach((points, line) => {
    const range = [points[0]![0], points.at(-1)![0]];
    if (block.from < range[0]! || block.from > range[1]!)
      say(`${at}lines[${line}]`, "referenceOutside", block.from, range);
  });
}

/** What neighbouring curves must be to each other. */
function checkFamily(block: Exclude<PlainChartBlock, GridBlock>, at: string, say: Say): void {
  const curves = linesOf(block).map((points) =>
    curveThrough(
      points.map(([x]) => x),
      points.map(([, y]) => y),
      block.between,
    ),
  );
  if (block.kind === "guides")
    checkRising(
      curves.map((curve) => valueOnCurve(curve, block.from)),
      (line) => at + pathOfLine(block.kind, line),
      say,
    );
  const direction = block.kind === "curves" ? block.monotone?.[block.across] : undefined;
  const largest = Math.max(...curves.flatMap(({ y }) => y.map((value) => Math.abs(value))));
  for (let i = 1; i < curves.length; i += 1) {
    const [before, here] = [curves[i - 1]!, curves[i]!];
    const low = Math.max(before.x[0]!, here.x[0]!);
    const high = Math.min(before.x.at(-1)!, here.x.at(-1)!);
    if (low > high) {
      say(
        at + pathOfLine(block.kind, i),
        "noCommonRange",
        [here.x[0]!, here.x.at(-1)!],
        [before.x[0]!, before.x.at(-1)!],
      );
      continue;
    }
    const { least, most } = differenceRange(before, here, low, high);
    const near = onLimit * largest;
    // Which way the difference to the curve before is wrong: where curves cross, the smaller side.
    const isCrossed = least.value < -near && most.value > near;
    const isTooLow = isCrossed ? -least.value < most.value : direction === "rising" && least.value < -near;
    const isTooHigh = isCrossed ? !isTooLow : direction === "falling" && most.value > near;
    if (!isTooLow && !isTooHigh) continue;
    const worst = isTooLow ? least : most;
    const own = worstPoint(before, here, [low, high], isTooLow ? -1 : 1, near);
    const line = `${at}${pathOfLine(block.kind, i)}`;
    const path = own === null ? line : `${line}[${own}][1]`;
    const place = { [block.along]: own === null ? worst.x : here.x[own]! };
    if (isCrossed) say(path, "curvesCross", place, "curves that keep their order");
    else say(path, "notMonotone", place, `no ${isTooLow ? "less" : "more"} than on the curve before`);
  }
}

/** The curve's own point that lies furthest on the wrong side of the curve before; null where only the cubics do. */
function worstPoint(
  before: Curve,
  here: Curve,
  [low, high]: readonly [number, number],
  side: 1 | -1,
  near: number,
): number | null {
  let worst: number | null = null;
  let furthest = near;
  here.x.forEach((x, i) => {
    if (x < low || x > high) return;
    const off = side * (here.y[i]! - valueOnCurve(before, x));
    if (off > furthest) [worst, furthest] = [i, off];
  });
  return worst;
}

type Extreme = { readonly x: number; readonly value: number };

/** The smallest and the largest of `here` − `before` from low to high, exactly: at breakpoints and where its slope is 0. */
function differenceRange(
  before: Curve,
  here: Curve,
  low: number,
  high: number,
): { readonly least: Extreme; readonly most: Extreme } {
  const xs = breakpoints(before.x, here.x, low, high);
  const places = xs.flatMap((x, i) => {
    const next = xs[i + 1];
    if (next === undefined) return [x];
    const [a, b] = [cubicAt(before, x), cubicAt(here, x)];
    const difference = { c1: b[1] - a[1], c2: b[2] - a[2], c3: b[3] - a[3] };
    return [x, ...turningPoints(difference, next - x).map((h) => x + h)];
  });
  const extremes = places.map((x) => ({ x, value: valueOnCurve(here, x) - valueOnCurve(before, x) }));
  return {
    least: extremes.reduce((a, b) => (b.value < a.value ? b : a)),
    most: extremes.reduce((a, b) => (b.value > a.value ? b : a)),
  };
}

function checkChain({ steps }: ChainBlock, say: Say): void {
  const made = new Map<string, number>();
  const before = new Counted(say);
  for (const [i, step] of steps.entries()) {
    checkPlain(step, `steps[${i}].`, before.say);
    const earlier = made.get(step.output);
    if (earlier !== undefined)
      before.say(`steps[${i}].output`, "nameTwice", step.output, `steps[${earlier}]`);
    else made.set(step.output, i);
  }
  for (const [i, step] of steps.entries()) {
    for (const [path, input] of inputsOf(step)) {
      const from = made.get(input);
      if (from !== undefined && from >= i)
        before.say(`steps[${i}].${path}`, "stepLate", input, `steps[${from}]`);
    }
    const isUsed = steps
      .slice(i + 1)
      .some((later) => inputsOf(later).some(([, input]) => input === step.output));
    if (!isUsed && i + 1 < steps.length) before.say(`steps[${i}].output`, "stepUnused", step.output);
  }
  if (before.count === 0) checkMeeting(steps, say);
}

/** Each output must come to lie, for some inputs, where the next step can take it. */
function checkMeeting(steps: readonly PlainChartBlock[], say: Say): void {
  const charts = steps.map((step) => plainChartOf(step));
  for (const [i, chart] of charts.entries()) {
    for (const [path, input] of inputsOf(steps[i]!)) {
      const from = charts.slice(0, i).find((step) => step.output === input);
      if (from === undefined) continue;
      const given = outputRange(from);
      const taken = inputRange(chart, input);
      if (given[0] > taken[1] || given[1] < taken[0]) say(`steps[${i}].${path}`, "stepsApart", taken, given);
    }
  }
}

function checkControls(block: ChartBlock, say: Say): void {
  if (block.controls === undefined) return;
  const chart = chartOf(block);
  block.controls.forEach(({ at, value, within }, i) => {
    for (const name of Object.keys(at))
      if (!chart.inputs.includes(name)) say(`controls[${i}].at.${name}`, "notAnInput", name, chart.inputs);
    const reading = readChart(chart, at);
    if (reading.is === "notKnown") {
      for (const { input, asked, range } of reading.lacks)
        say(`controls[${i}].at.${input}`, "controlOutside", asked, range);
    } else if (Math.abs(reading.value - value) > within) {
      say(`controls[${i}].value`, "controlMissed", value, { read: reading.value, within });
    }
  });
}
