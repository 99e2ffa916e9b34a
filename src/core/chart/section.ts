// A chart along one of its inputs, the others fixed: stretches of cubics, and where on them the output lies in a band.
//
// In: a chart that is no chain, the input, values of the others. Out: the stretches of the input for which the chart has
// an answer (several where a family has gaps), each as cubics between breakpoints; on a grid and across a family the
// cubics are straight lines. Exact: the chart is such a function, so nothing is sampled.
// Finding where the output lies between two values cuts every cubic at its turning points (the roots of its slope), and
// closes in on the crossing in each rising or falling part by Newton's method inside a bracket.

import { onLimit } from "../quantity/compare.ts";
import type { Lack } from "./read-chart.ts";
import { acrossPlace, type Asked, rangeAlong } from "./read-chart.ts";
import {
  type Family,
  type Grid,
  inRange,
  type Place,
  placeOn,
  type PlainChart,
  valueInGrid,
} from "./chart.ts";
import { type Curve, pointBefore, valueOnCurve } from "./monotone-cubic.ts";

/** A stretch of the input as a curve; one point where the chart answers there only. */
export type Stretch = Curve & {
  /** The largest output of the whole chart, for telling what is flat from what roundings made of it. */
  readonly size: number;
};

export type Interval = readonly [low: number, high: number];

/** The stretches, ascending; or what keeps the chart from being read at all. The asked input's own value is not looked at. */
export function sectionOf(chart: PlainChart, input: string, fixed: Asked): readonly Stretch[] | Lack {
  if (chart.kind === "grid") return sectionOfGrid(chart, input, fixed);
  return input === chart.along ? sectionAlong(chart, fixed) : sectionAcross(chart, fixed);
}

function sectionOfGrid(grid: Grid, input: string, fixed: Asked): readonly Stretch[] | Lack {
  const places: Place[] = [];
  let free = -1;
  for (const [i, axis] of grid.axes.entries()) {
    if (axis.input === input) {
      free = i;
      places.push({ index: 0, share: 0 });
      continue;
    }
    const [low, high] = [axis.at[0]!, axis.at.at(-1)!];
    const asked = fixed[axis.input]!;
    const value = inRange(asked, low, high);
    if (value === null) return { why: "outside", input: axis.input, asked, range: [low, high], step: null };
    places.push(placeOn(axis, value));
  }
  const { at } = grid.axes[free]!;
  const values = at.map((_, index) => {
    places[free] = { index, share: 0 };
    return valueInGrid(grid, places);
  });
  return [straight(at, values, grid.size)];
}

function straight(x: readonly number[], y: readonly number[], size: number): Stretch {
  const none = x.map(() => 0);
  const c1 = x.map((here, i) => (i + 1 < x.length ? (y[i + 1]! - y[i]!) / (x[i + 1]! - here) : 0));
  return { x, y, c1, c2: none, c3: none, size };
}

function sectionAlong(family: Family, fixed: Asked): readonly Stretch[] | Lack {
  const across = acrossPlace(family, fixed);
  if ("why" in across) return across;
  const { index, share } = across;
  const here = family.curves[index]!;
  const { size } = family;
  if (share === 0) return [{ ...here, size }];
  const next = family.curves[index + 1]!;
  const [low, high] = rangeAlong(family, across);
  const x = breakpoints(here.x, next.x, low, high);
  const [y, c1, c2, c3]: readonly [number[], number[], number[], number[]] = [[], [], [], []];
  for (const at of x) {
    const a = cubicAt(here, at);
    const b = cubicAt(next, at);
    y.push(a[0] + share * (b[0] - a[0]));
    c1.push(a[1] + share * (b[1] - a[1]));
    c2.push(a[2] + share * (b[2] - a[2]));
    c3.push(a[3] + share * (b[3] - a[3]));
  }
  return [{ x, y, c1, c2, c3, size }];
}

/** The ends and every point of two rising lists between them, each once. */
export function breakpoints(
  one: readonly number[],
  other: readonly number[],
  low: number,
  high: number,
): readonly number[] {
  const all = [low];
  for (let i = 0, j = 0; i < one.length || j < other.length;) {
    const next = Math.min(one[i] ?? Number.POSITIVE_INFINITY, other[j] ?? Number.POSITIVE_INFINITY);
    if (one[i] === next) i += 1;
    if (other[j] === next) j += 1;
    if (next > low && next < high) all.push(next);
  }
  if (high > low) all.push(high);
  return all;
}

/** Value, slope, and the coefficients of h² and h³ of the cubic that goes on from x. */
export function cubicAt(curve: Curve, x: number): readonly [number, number, number, number] {
  const i = pointBefore(curve.x, x);
  const h = x - curve.x[i]!;
  const [c1, c2, c3] = [curve.c1[i]!, curve.c2[i]!, curve.c3[i]!];
  return [valueOnCurve(curve, x), c1 + h * (2 * c2 + 3 * h * c3), c2 + 3 * h * c3, c3];
}

function sectionAcross({ across, along, curves, size }: Family, fixed: Asked): readonly Stretch[] | Lack {
  const asked = fixed[along]!;
  const stretches: Stretch[] = [];
  let x: number[] = [];
  let y: number[] = [];
  const close = (): void => {
    if (x.length > 0) stretches.push(straight(x, y, size));
    [x, y] = [[], []];
  };
  for (const [i, curve] of curves.entries()) {
    const inside = inRange(asked, curve.x[0]!, curve.x.at(-1)!);
    if (inside === null) {
      close();
      continue;
    }
    x.push(across!.at[i]!);
    y.push(valueOnCurve(curve, inside));
  }
  close();
  if (stretches.length > 0) return stretches;
  const range = [
    Math.min(...curves.map((c) => c.x[0]!)),
    Math.max(...curves.map((c) => c.x.at(-1)!)),
  ] as const;
  return { why: "outside", input: along, asked, range, step: null };
}

/**
 * Where the output is at least `low` and at most `high`; ascending, apart from each other. A flat part, a peak or a trough
 * that misses the band by a relative 1e−9 is in it (law 6), or by `rounding` where the band itself was computed.
 */
export function whereBetween(
  stretches: readonly Stretch[],
  low: number,
  high: number,
  rounding = 0,
): readonly Interval[] {
  const size = Math.max(Number.isFinite(low) ? Math.abs(low) : 0, Number.isFinite(high) ? Math.abs(high) : 0);
  const near = Math.max(onLimit * size, rounding);
  return stretches.flatMap((stretch) => {
    // Most pieces are nowhere near; they are left out before anything is made of them.
    const reach = Math.max(near, 1e-12 * stretch.size);
    const parts = partsOf(stretch, low - reach, high + reach);
    return stretchBetween(parts, low, high, near, 1e-12 * stretch.size);
  });
}

/**
 * @param parts null where a piece lies outside the band and its surroundings altogether
 * @param flat a part that rises or falls by no more is flat, and what roundings have made of it
 */
function stretchBetween(
  parts: readonly (Part | null)[],
  low: number,
  high: number,
  near: number,
  flat: number,
): readonly Interval[] {
  const isNear = (y: number): boolean => y >= low - near && y <= high + near;
  const exact = parts.map((part) => {
    if (part === null) return null;
    const reach = Math.abs(part.atTo - part.atFrom) <= flat ? Math.max(near, flat) : 0;
    return partBetween(part, low - reach, high + reach);
  });
  const found: Interval[] = [];
  parts.forEach((part, i) => {
    if (part === null) return;
    const [here, before, after] = [exact[i]!, exact[i - 1] ?? null, exact[i + 1] ?? null];
    if (here !== null) {
      const last = found.at(-1);
      // Parts that meet within the band's tolerance are found as one, although a rounding may lie between.
      const isJoined = before !== null && isNear(part.atFrom);
      if (last !== undefined && isJoined) found[found.length - 1] = [last[0], here[1]];
      else found.push(here);
      return;
    }
    // A peak, a trough or an end that only just misses: where a neighbour is in the band, it goes on from there.
    if (before === null && isNear(part.atFrom) && found.at(-1)?.[1] !== part.from)
      found.push([part.from, part.from]);
    if (after === null && isNear(part.atTo)) found.push([part.to, part.to]);
  });
  return found;
}

/** The outputs that the inputs in `within` lead to; ascending, joined where they touch. */
export function imageOf(stretches: readonly Stretch[], within: readonly Interval[]): readonly Interval[] {
  const images: Interval[] = [];
  for (const stretch of stretches) {
    for (const part of partsOf(stretch)) {
      if (part === null) continue;
      for (const [low, high] of within) {
        const from = Math.max(part.from, low);
        const to = Math.min(part.to, high);
        if (from > to) continue;
        const ends = [valueIn(part, from), valueIn(part, to)] as const;
        images.push([Math.min(...ends), Math.max(...ends)]);
      }
    }
  }
  return joined(images);
}

export function joined(intervals: readonly Interval[]): readonly Interval[] {
  const out: Interval[] = [];
  for (const [low, high] of intervals.toSorted((a, b) => a[0] - b[0] || a[1] - b[1])) {
    const last = out.at(-1);
    if (last !== undefined && low <= last[1]) out[out.length - 1] = [last[0], Math.max(last[1], high)];
    else out.push([low, high]);
  }
  return out;
}

/** The inputs for which the section has an answer. */
export function domainOf(stretches: readonly Stretch[]): readonly Interval[] {
  return stretches.map(({ x }) => [x[0]!, x.at(-1)!]);
}

/** A part of a cubic on which it only rises or only falls. `start` is where its own h is 0. */
type Part = {
  readonly from: number;
  readonly to: number;
  readonly start: number;
  readonly y: number;
  readonly c1: number;
  readonly c2: number;
  readonly c3: number;
  /** The values at the two ends; those of given points exactly. */
  readonly atFrom: number;
  readonly atTo: number;
};

const pointPart = ({ x, y }: Stretch): Part => ({
  from: x[0]!,
  to: x[0]!,
  start: x[0]!,
  y: y[0]!,
  c1: 0,
  c2: 0,
  c3: 0,
  atFrom: y[0]!,
  atTo: y[0]!,
});

/** The rising and falling parts; null for a piece of the stretch whose outputs are all below `low` or all above `high`. */
function partsOf(
  stretch: Stretch,
  low = Number.NEGATIVE_INFINITY,
  high = Number.POSITIVE_INFINITY,
): readonly (Part | null)[] {
  const { x, y, c1, c2, c3 } = stretch;
  if (x.length === 1) return [pointPart(stretch)];
  const parts: (Part | null)[] = [];
  for (let i = 0; i + 1 < x.length; i += 1) {
    const start = x[i]!;
    const end = x[i + 1]!;
    const atStart = y[i]!;
    const atEnd = y[i + 1]!;
    const isStraight = c2[i] === 0 && c3[i] === 0;
    const cubic = { start, y: atStart, c1: c1[i]!, c2: c2[i]!, c3: c3[i]! };
    const turns = isStraight ? [] : turningPoints(cubic, end - start);
    if (turns.length === 0) {
      const isAway = (atStart < low && atEnd < low) || (atStart > high && atEnd > high);
      parts.push(isAway ? null : { ...cubic, from: start, to: end, atFrom: atStart, atTo: atEnd });
      continue;
    }
    let from = start;
    let atFrom = atStart;
    for (const turn of [...turns.map((h) => start + h), end]) {
      const atTo = turn === end ? atEnd : polynomial(cubic, turn);
      if (turn > from) parts.push({ ...cubic, from, to: turn, atFrom, atTo });
      [from, atFrom] = [turn, atTo];
    }
  }
  return parts;
}

type Cubic = Pick<Part, "start" | "y" | "c1" | "c2" | "c3">;
const polynomial = ({ start, y, c1, c2, c3 }: Cubic, x: number): number => {
  const h = x - start;
  return y + h * (c1 + h * (c2 + h * c3));
};

/** Between the two ends; a rounding past an end is taken back. */
function valueIn(part: Part, x: number): number {
  if (x <= part.from) return part.atFrom;
  if (x >= part.to) return part.atTo;
  const low = Math.min(part.atFrom, part.atTo);
  const high = Math.max(part.atFrom, part.atTo);
  return Math.min(Math.max(polynomial(part, x), low), high);
}

/** Where c1 + 2 c2 h + 3 c3 h² is 0 between 0 and `width`, ascending. */
export function turningPoints({ c1, c2, c3 }: Omit<Cubic, "start" | "y">, width: number): readonly number[] {
  if (c2 === 0 && c3 === 0) return [];
  const [a, b, c] = [3 * c3, 2 * c2, c1];
  const discriminant = b * b - 4 * a * c;
  if (discriminant <= 0) return [];
  // The root that does not cancel first, the other from the product of the two.
  const q = -(b + (b < 0 ? -1 : 1) * Math.sqrt(discriminant)) / 2;
  return [q / a, c / q].filter((h) => h > 0 && h < width).sort((one, other) => one - other);
}

/** Where a rising or falling part lies between two values; null where it does not. */
function partBetween(part: Part, low: number, high: number): Interval | null {
  const { atFrom, atTo, from, to } = part;
  const isRising = atFrom <= atTo;
  const [least, most] = isRising ? [atFrom, atTo] : [atTo, atFrom];
  if (most < low || least > high) return null;
  const atLow = least >= low ? (isRising ? from : to) : crossing(part, low);
  const atHigh = most <= high ? (isRising ? to : from) : crossing(part, high);
  return isRising ? [atLow, Math.max(atLow, atHigh)] : [Math.min(atLow, atHigh), atLow];
}

/** Newton's steps from the chord's crossing, each kept inside a bracket that halves when a step would leave it. */
const stepsMost = 80;

/** Where the part takes a value between its ends. */
function crossing(part: Part, value: number): number {
  const { atFrom, atTo, from, to, c1, c2, c3, start } = part;
  if (value === atFrom) return from;
  if (value === atTo) return to;
  const isRising = atFrom < atTo;
  let x = from + ((value - atFrom) / (atTo - atFrom)) * (to - from);
  if (c2 === 0 && c3 === 0) return Math.min(Math.max(x, from), to);
  let low = from;
  let high = to;
  for (let i = 0; i < stepsMost; i += 1) {
    const off = polynomial(part, x) - value;
    if (off === 0) return x;
    if (off < 0 === isRising) low = x;
    else high = x;
    const h = x - start;
    const next = x - off / (c1 + h * (2 * c2 + 3 * h * c3));
    const kept = next > low && next < high ? next : (low + high) / 2;
    if (kept === x || !(kept > low && kept < high)) return kept;
    x = kept;
  }
  return x;
}
