// A chart as numbers only, for maps and solvers that read it a million times a second.
//
// The same arithmetic as read-chart.ts in the same order, so the same value to the last bit (compile-chart.test.ts), but
// without names, points or reasons: inputs come in one typed array in the order of `inputs`, and what lies outside answers
// false. Built once per chart; a look-up allocates nothing. Not for two threads at once: each owns its scratch arrays.

import {
  type Axis,
  type Chain,
  type Chart,
  type Family,
  type Grid,
  inRange,
  nearCurve,
  type PlainChart,
} from "./chart.ts";
import { type Curve, mostShare, pointBefore } from "./monotone-cubic.ts";
import { breakpoints } from "./section.ts";

/** Reads the inputs that stand in `from` from `at` on, writes the output to `to[slot]`; false, and nothing written, outside. */
export type Lookup = (from: Float64Array, at: number, to: Float64Array, slot: number) => boolean;

export type CompiledChart = {
  readonly chart: Chart;
  /** The order of the inputs of `lookup`. */
  readonly inputs: readonly string[];
  readonly lookup: Lookup;
};

export function compileChart(chart: Chart): CompiledChart {
  return { chart, inputs: chart.inputs, lookup: lookupOf(chart) };
}

function lookupOf(chart: Chart): Lookup {
  if (chart.kind === "chain") return chainLookup(chart);
  if (chart.kind === "family") return familyLookup(chart);
  if (chart.axes.length !== 3) return gridLookup(chart);
  return chart.axes[0]!.step === null ? threeAxisLookup(chart) : evenGridLookup(chart);
}

/** Values with the last node of every axis repeated after it, so that a share of 0 on it has a neighbour to ignore. */
function padded({ axes, strides, values }: Grid): {
  readonly values: Float64Array;
  readonly strides: readonly number[];
} {
  const counts = axes.map(({ at }) => at.length + 1);
  const own: number[] = counts.map(() => 1);
  for (let i = own.length - 2; i >= 0; i -= 1) own[i] = own[i + 1]! * counts[i + 1]!;
  const all = new Float64Array(counts.reduce((product, count) => product * count, 1));
  for (let to = 0; to < all.length; to += 1) {
    let from = 0;
    for (let i = 0; i < axes.length; i += 1) {
      const node = Math.floor(to / own[i]!) % counts[i]!;
      from += Math.min(node, axes[i]!.at.length - 1) * strides[i]!;
    }
    all[to] = values[from]!;
  }
  return { values: all, strides: own };
}

/** Looks once more with each input that misses an end by no more than the slack moved onto it. */
function movedOntoEnds(
  axes: readonly { readonly low: number; readonly high: number }[],
  inside: () => Lookup,
): Lookup {
  const moved = new Float64Array(axes.length);
  return (from, at, to, slot) => {
    for (let i = 0; i < axes.length; i += 1) {
      const { low, high } = axes[i]!;
      const value = inRange(from[at + i]!, low, high);
      if (value === null) return false;
      moved[i] = value;
    }
    return inside()(moved, 0, to, slot);
  };
}

const endsOf = (axes: readonly Axis[]) => axes.map(({ at }) => ({ low: at[0]!, high: at.at(-1)! }));

function evenGridLookup(grid: Grid): Lookup {
  const [a, b, c] = grid.axes as readonly [Axis, Axis, Axis];
  const { values, strides } = padded(grid);
  const [strideA, strideB] = strides as readonly [number, number, number];
  const [lowA, lowB, lowC] = [a.at[0]!, b.at[0]!, c.at[0]!];
  const [stepA, stepB, stepC] = [a.step!, b.step!, c.step!];
  const [mostA, mostB, mostC] = [a.at.length - 1, b.at.length - 1, c.at.length - 1];
  const nearEnds = movedOntoEnds(endsOf(grid.axes), () => lookup);
  const lookup: Lookup = (from, at, to, slot) => {
    const stepsA = (from[at]! - lowA) / stepA;
    const stepsB = (from[at + 1]! - lowB) / stepB;
    const stepsC = (from[at + 2]! - lowC) / stepC;
    const isInside =
      stepsA >= 0 && stepsB >= 0 && stepsC >= 0 && stepsA <= mostA && stepsB <= mostB && stepsC <= mostC;
    if (!isInside) return nearEnds(from, at, to, slot);
    const i = stepsA | 0;
    const j = stepsB | 0;
    const k = stepsC | 0;
    const shareA = Math.min(stepsA - i, mostShare);
    const shareB = Math.min(stepsB - j, mostShare);
    const shareC = Math.min(stepsC - k, mostShare);
    const p = i * strideA + j * strideB + k;
    to[slot] = drawnTogether(values, p, strideA, strideB, shareA, shareB, shareC);
    return true;
  };
  return lookup;
}

/** The value inside a cell of three axes, whose first corner stands at `p`: along the last axis first. */
function drawnTogether(
  values: Float64Array,
  p: number,
  strideA: number,
  strideB: number,
  shareA: number,
  shareB: number,
  shareC: number,
): number {
  const q = p + strideA;
  const p0 = values[p]!;
  const p1 = values[p + strideB]!;
  const q0 = values[q]!;
  const q1 = values[q + strideB]!;
  const low0 = p0 + shareC * (values[p + 1]! - p0);
  const low1 = p1 + shareC * (values[p + strideB + 1]! - p1);
  const high0 = q0 + shareC * (values[q + 1]! - q0);
  const high1 = q1 + shareC * (values[q + strideB + 1]! - q1);
  const low = low0 + shareB * (low1 - low0);
  const high = high0 + shareB * (high1 - high0);
  return low + shareA * (high - low);
}

/**
 * Nodes of an axis with a table that leads from equal buckets of it to the node at or before each bucket's start. Buckets
 * are at most as wide as the narrowest cell, where that takes no more than `bucketsMost` of them, so that the search
 * that follows takes one step at most.
 */
type Search = {
  readonly low: number;
  readonly high: number;
  readonly perUnit: number;
  readonly first: Uint16Array;
  /** One more than there are nodes: infinity after the last. */
  readonly nodes: Float64Array;
  readonly step: number | null;
};

const bucketsMost = 1024;

function searchOn(at: readonly number[], step: number | null): Search {
  const [low, high] = [at[0]!, at.at(-1)!];
  const narrowest = Math.min(...at.slice(1).map((value, i) => value - at[i]!));
  const buckets = Math.max(1, Math.min(bucketsMost, Math.ceil((high - low) / narrowest)));
  // Where two curves have one point in common, it is all in one bucket.
  const perUnit = high > low ? buckets / (high - low) : 0;
  const first = new Uint16Array(buckets + 1);
  for (let bucket = 0, node = 0; bucket < first.length; bucket += 1) {
    // The node whose own bucket, by the arithmetic of the look-up, is before this one: never beyond the value sought.
    while (node + 1 < at.length && Math.trunc((at[node + 1]! - low) * perUnit) < bucket) node += 1;
    first[bucket] = node;
  }
  return { low, high, perUnit, first, nodes: Float64Array.from([...at, Number.POSITIVE_INFINITY]), step };
}

/** The node at or before a value that is on the axis. */
function nodeBefore({ low, perUnit, first, nodes }: Search, value: number): number {
  let node = first[((value - low) * perUnit) | 0]!;
  while (value >= nodes[node + 1]!) node += 1;
  return node;
}

const searchesOf = (axes: readonly Axis[]): readonly Search[] =>
  axes.map(({ at, step }) => searchOn(at, step));

/** Place on an axis as index + share would lose digits, so the two are found apart: first the node … */
function nodeOn(search: Search, value: number): number {
  return search.step === null ? nodeBefore(search, value) : Math.floor((value - search.low) / search.step);
}

/** … then the share of the way to the next. */
function shareOn(search: Search, node: number, value: number): number {
  const { step, low } = search;
  return step === null ? shareBetween(search, node, value) : Math.min((value - low) / step - node, mostShare);
}

/** On the last node the width is infinite and the share 0. */
function shareBetween({ nodes }: Search, node: number, value: number): number {
  const here = nodes[node]!;
  return Math.min((value - here) / (nodes[node + 1]! - here), mostShare);
}

function threeAxisLookup(grid: Grid): Lookup {
  const [a, b, c] = searchesOf(grid.axes) as readonly [Search, Search, Search];
  const { values, strides } = padded(grid);
  const [strideA, strideB] = strides as readonly [number, number, number];
  const nearEnds = movedOntoEnds(endsOf(grid.axes), () => lookup);
  const lookup: Lookup = (from, at, to, slot) => {
    const x = from[at]!;
    const y = from[at + 1]!;
    const z = from[at + 2]!;
    const isInside = x >= a.low && x <= a.high && y >= b.low && y <= b.high && z >= c.low && z <= c.high;
    if (!isInside) return nearEnds(from, at, to, slot);
    const i = nodeBefore(a, x);
    const j = nodeBefore(b, y);
    const k = nodeBefore(c, z);
    const shareA = shareBetween(a, i, x);
    const shareB = shareBetween(b, j, y);
    const shareC = shareBetween(c, k, z);
    const p = i * strideA + j * strideB + k;
    to[slot] = drawnTogether(values, p, strideA, strideB, shareA, shareB, shareC);
    return true;
  };
  return lookup;
}

/** A grid of any number of axes: the corners of the cell, drawn together along one axis after the other, the last first. */
function gridLookup(grid: Grid): Lookup {
  const searches = searchesOf(grid.axes);
  const count = searches.length;
  const { values, strides } = padded(grid);
  const shares = new Float64Array(count);
  const corners = new Float64Array(2 ** count);
  // The corner of the cell at each place of `corners`: its bits, the last axis lowest.
  const offsets = Int32Array.from(corners, (_, corner) =>
    strides.reduce((sum, stride, i) => sum + ((corner >> (count - 1 - i)) & 1) * stride, 0),
  );
  const nearEnds = movedOntoEnds(endsOf(grid.axes), () => lookup);
  const lookup: Lookup = (from, at, to, slot) => {
    let cell = 0;
    for (let i = 0; i < count; i += 1) {
      const search = searches[i]!;
      const value = from[at + i]!;
      if (!(value >= search.low && value <= search.high)) return nearEnds(from, at, to, slot);
      const node = nodeOn(search, value);
      cell += node * strides[i]!;
      shares[i] = shareOn(search, node, value);
    }
    for (let corner = 0; corner < corners.length; corner += 1)
      corners[corner] = values[cell + offsets[corner]!]!;
    for (let i = count - 1, left = corners.length / 2; i >= 0; i -= 1, left /= 2) {
      const share = shares[i]!;
      for (let pair = 0; pair < left; pair += 1) {
        const low = corners[2 * pair]!;
        corners[pair] = low + share * (corners[2 * pair + 1]! - low);
      }
    }
    to[slot] = corners[0]!;
    return true;
  };
  return lookup;
}

/**
 * Curves beside each other, joined: between two breakpoints of either, both are one cubic each, so one search serves two.
 * A record is one such part: where it begins, then for each of the two curves its own x, y, c1, c2, c3 and between which
 * values it stays. After the last comes an end at infinity.
 */
type Pair = { readonly search: Search; readonly records: Float64Array };
const recordWidth = 15;
const curveWidth = 7;

function familyLookup(family: Family): Lookup {
  if (family.across === null) return curveLookup(pairOf(family.curves[0]!, family.curves[0]!));
  const singles = family.curves.map((curve) => pairOf(curve, curve));
  const pairs = family.curves.slice(1).map((next, i) => pairOf(family.curves[i]!, next));
  const acrossAt = family.inputs.indexOf(family.across.input);
  const across = searchOn(family.across.at, family.across.step);
  const isStraight = family.curves.every(({ c2, c3 }) => [...c2, ...c3].every((value) => value === 0));
  const { low, high, step } = across;
  const most = family.curves.length - 1;
  const alongAt = 1 - acrossAt;
  const slowly: Lookup = (from, at, to, slot) => {
    const parameter = inRange(from[at + acrossAt]!, low, high);
    if (parameter === null) return false;
    const index = nodeOn(across, parameter);
    const share = shareOn(across, index, parameter);
    const x = from[at + alongAt]!;
    if (share <= nearCurve) return onOneCurve(singles[index]!, x, to, slot);
    if (share >= 1 - nearCurve) return onOneCurve(singles[index + 1]!, x, to, slot);
    const { search, records } = pairs[index]!;
    const moved = inRange(x, search.low, search.high);
    if (moved === null) return false;
    const p = nodeBefore(search, moved) * recordWidth;
    const one = cubicIn(records, p + 1, moved);
    to[slot] = one + share * (cubicIn(records, p + 1 + curveWidth, moved) - one);
    return true;
  };
  if (step === null) return slowly;
  const even = { low, step, most, acrossAt, alongAt, pairs, slowly };
  return isStraight ? straightLookup(even) : cubicLookup(even);
}

/** Curves at even distances, the usual case of a map: no search across, and all pairs in a few arrays. */
type EvenFamily = {
  readonly low: number;
  readonly step: number;
  readonly most: number;
  readonly acrossAt: number;
  readonly alongAt: number;
  readonly pairs: readonly Pair[];
  /** For a parameter on a curve, and for what is outside or nearly so. */
  readonly slowly: Lookup;
};

function straightLookup({ low, step, most, acrossAt, alongAt, pairs, slowly }: EvenFamily): Lookup {
  // Of each record: where it begins; x, y, c1 of one curve and of the other.
  const width = 7;
  const one = [1, 2, 3];
  const kept = [0, ...one, ...one.map((part) => part + curveWidth)];
  const { least, perUnit, buckets, ends, first, records } = joinPairs(pairs, kept);
  return (from, at, to, slot) => {
    const steps = (from[at + acrossAt]! - low) / step;
    const x = from[at + alongAt]!;
    if (!(steps >= 0 && steps < most)) return slowly(from, at, to, slot);
    const index = steps | 0;
    // Never more than `mostShare` where it is used, which is on neither curve.
    const share = steps - index;
    const isBetween =
      share > nearCurve && share < 1 - nearCurve && x >= ends[2 * index]! && x <= ends[2 * index + 1]!;
    if (!isBetween) return slowly(from, at, to, slot);
    let p = first[index * buckets + (((x - least) * perUnit) | 0)]!;
    while (x >= records[p + width]!) p += width;
    const lower = records[p + 2]! + (x - records[p + 1]!) * records[p + 3]!;
    const upper = records[p + 5]! + (x - records[p + 4]!) * records[p + 6]!;
    to[slot] = lower + share * (upper - lower);
    return true;
  };
}

function cubicLookup({ low, step, most, acrossAt, alongAt, pairs, slowly }: EvenFamily): Lookup {
  const width = recordWidth;
  const { least, perUnit, buckets, ends, first, records } = joinPairs(
    pairs,
    Array.from({ length: recordWidth }, (_, part) => part),
  );
  return (from, at, to, slot) => {
    const steps = (from[at + acrossAt]! - low) / step;
    const x = from[at + alongAt]!;
    if (!(steps >= 0 && steps < most)) return slowly(from, at, to, slot);
    const index = steps | 0;
    // Never more than `mostShare` where it is used, which is on neither curve.
    const share = steps - index;
    const isBetween =
      share > nearCurve && share < 1 - nearCurve && x >= ends[2 * index]! && x <= ends[2 * index + 1]!;
    if (!isBetween) return slowly(from, at, to, slot);
    let p = first[index * buckets + (((x - least) * perUnit) | 0)]!;
    while (x >= records[p + width]!) p += width;
    const lower = cubicIn(records, p + 1, x);
    const upper = cubicIn(records, p + 1 + curveWidth, x);
    to[slot] = lower + share * (upper - lower);
    return true;
  };
}

/**
 * All pairs in a few arrays, so that one look-up touches few places. The buckets along are the same for every pair, so
 * that the two searches of a look-up do not wait for each other.
 */
type Joined = {
  /** The beginning of the first bucket, buckets per unit, and how many a pair has. */
  readonly least: number;
  readonly perUnit: number;
  readonly buckets: number;
  /** Where each pair begins and ends. */
  readonly ends: Float64Array;
  /** By pair and bucket: the last record that begins in an earlier bucket, or the pair's first. */
  readonly first: Int32Array;
  /** Of each record the parts that are kept. */
  readonly records: Float64Array;
};

function joinPairs(pairs: readonly Pair[], kept: readonly number[]): Joined {
  const least = Math.min(...pairs.map(({ search }) => search.low));
  const most = Math.max(...pairs.map(({ search }) => search.high));
  const finest = Math.max(...pairs.map(({ search }) => search.perUnit));
  const perUnit = most > least ? Math.min(bucketsMost / (most - least), finest) : 0;
  const bucketOf = (x: number): number => Math.trunc((x - least) * perUnit);
  const buckets = bucketOf(most) + 1;
  const first = new Int32Array(pairs.length * buckets);
  const records: number[] = [];
  pairs.forEach(({ records: own }, pair) => {
    const start = records.length;
    for (let r = 0; r < own.length; r += recordWidth) records.push(...kept.map((part) => own[r + part]!));
    for (let bucket = 0, p = start; bucket < buckets; bucket += 1) {
      while (bucketOf(records[p + kept.length]!) < bucket) p += kept.length;
      first[pair * buckets + bucket] = p;
    }
  });
  return {
    least,
    perUnit,
    buckets,
    ends: Float64Array.from(pairs.flatMap(({ search }) => [search.low, search.high])),
    first,
    records: Float64Array.from(records),
  };
}

function pairOf(one: Curve, other: Curve): Pair {
  const low = Math.max(one.x[0]!, other.x[0]!);
  const high = Math.min(one.x.at(-1)!, other.x.at(-1)!);
  const begins = breakpoints(one.x, other.x, low, high);
  const records = begins.flatMap((x) => [x, ...cubicFrom(one, x), ...cubicFrom(other, x)]);
  const end = Array.from({ length: recordWidth }, () => Number.POSITIVE_INFINITY);
  return { search: searchOn(begins, null), records: Float64Array.from([...records, ...end]) };
}

/** The cubic of a curve that holds from x on. */
function cubicFrom({ x: xs, y, c1, c2, c3 }: Curve, x: number): readonly number[] {
  const i = pointBefore(xs, x);
  const next = y[i + 1] ?? y[i]!;
  return [xs[i]!, y[i]!, c1[i]!, c2[i]!, c3[i]!, Math.min(y[i]!, next), Math.max(y[i]!, next)];
}

function cubicIn(records: Float64Array, p: number, x: number): number {
  const h = x - records[p]!;
  const value = records[p + 1]! + h * (records[p + 2]! + h * (records[p + 3]! + h * records[p + 4]!));
  return Math.min(Math.max(value, records[p + 5]!), records[p + 6]!);
}

function onOneCurve({ search, records }: Pair, x: number, to: Float64Array, slot: number): boolean {
  const moved = x >= search.low && x <= search.high ? x : inRange(x, search.low, search.high);
  if (moved === null) return false;
  to[slot] = cubicIn(records, nodeBefore(search, moved) * recordWidth + 1, moved);
  return true;
}

function curveLookup(curve: Pair): Lookup {
  return (from, at, to, slot) => onOneCurve(curve, from[at]!, to, slot);
}

function chainLookup({ inputs, steps }: Chain): Lookup {
  const names = [...inputs, ...steps.map(({ output }) => output)];
  const known = new Float64Array(names.length);
  const stages = steps.map((step: PlainChart, i) => ({
    lookup: lookupOf(step),
    gather: Int32Array.from(step.inputs, (input) => names.indexOf(input)),
    slot: inputs.length + i,
  }));
  const given = new Float64Array(Math.max(...steps.map((step) => step.inputs.length)));
  return (from, at, to, slot) => {
    for (let i = 0; i < inputs.length; i += 1) known[i] = from[at + i]!;
    for (let s = 0; s < stages.length; s += 1) {
      const stage = stages[s]!;
      for (let i = 0; i < stage.gather.length; i += 1) given[i] = known[stage.gather[i]!]!;
      if (!stage.lookup(given, 0, known, stage.slot)) return false;
    }
    to[slot] = known[names.length - 1]!;
    return true;
  };
}
