// Charts read and solved as maps and calls do it: a grid of three axes and a family of curves, a chain of three, and the
// inverse. One processor core, typed arrays, all figures invented, questions from a seeded generator.
// Peers, each the fastest of the general packages tried that gives the same answer (they say nothing of what is outside):
// - grid: ndarray-linear-interpolate, which reads by index and so needs evenly spaced axes; on uneven ones it is given the
//   place by a binary search of ours;
// - straight curves: commons-math-interpolation (faster here than linear-interpolator, d3-scale, everpolate, interp1);
// - monotone cubics: cubic-hermite-spline with our slopes; no package was found that computes these slopes itself.
// Between two curves the peers are read by the same few lines of ours.
import { createLinearInterpolator } from "commons-math-interpolation";
import cubicHermiteSpline from "cubic-hermite-spline";
import ndarray from "ndarray";
import interpolate from "ndarray-linear-interpolate";
import type { ChartBlock, CurvesBlock, GridBlock } from "../src/core/chart/chart-schema.ts";
import { chartOf } from "../src/core/chart/chart.ts";
import { compileChart, type CompiledChart } from "../src/core/chart/compile-chart.ts";
import { pchipSlopes } from "../src/core/chart/monotone-cubic.ts";
import { solveChart } from "../src/core/chart/solve-chart.ts";
import type { Bench, Row } from "./rows.ts";

const bench: Bench = async (size) => {
  const passes = size === "tiny" ? 1 : 450;
  return [...grids(passes), ...families(passes), chain(passes), ...solutions(size === "tiny" ? 1 : 10)];
};

export default bench;

const count = 4096;
const timesFaster = 3;

/** A 32-bit generator with a seed (a Weyl sequence, mixed as in MurmurHash3's end). */
function generator(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x9e37_79b9) >>> 0;
    let mixed = state ^ (state >>> 16);
    mixed = Math.imul(mixed, 0x85eb_ca6b);
    mixed ^= mixed >>> 13;
    mixed = Math.imul(mixed, 0xc2b2_ae35);
    return ((mixed ^ (mixed >>> 16)) >>> 0) / 2 ** 32;
  };
}

const spaced = (from: number, step: number, length: number): number[] =>
  Array.from({ length }, (_, i) => from + step * i);
const heights_ft = spaced(0, 1000, 11);
const temperatures_C = spaced(-40, 10, 12);
const winds_kt = spaced(0, 5, 9);
const limit_kg = (height: number, temperature: number, wind: number): number =>
  3300 - 0.05 * height - 4 * temperature + 3 * wind - 0.0003 * height * temperature;

function gridOf(
  heights: readonly number[],
  temperatures: readonly number[],
  winds: readonly number[],
): GridBlock {
  // Named in the order of the alphabet, which is the order in which a compiled chart takes them.
  return {
    kind: "grid",
    axes: [
      { input: "a_ft", at: [...heights] },
      { input: "b_C", at: [...temperatures] },
      { input: "c_kt", at: [...winds] },
    ],
    values: heights.map((height) => temperatures.map((t) => winds.map((wind) => limit_kg(height, t, wind)))),
    output: "mass_kg",
  };
}

/** Questions inside the ranges, one after the other. */
function questions(ranges: readonly (readonly [number, number])[], seed: number): Float64Array {
  const next = generator(seed);
  const all = new Float64Array(count * ranges.length);
  for (let i = 0; i < all.length; i += 1) {
    const [low, high] = ranges[i % ranges.length]!;
    all[i] = low + next() * (high - low);
  }
  return all;
}

/** How often each side is timed; the fastest time counts, since whatever else runs can only make it slower. */
const turns = 9;

/** Nanoseconds for one of `count` questions, of each of the runs, which take turns. */
function nanoseconds(runs: readonly (() => number)[], passes: number): readonly number[] {
  let sum = 0;
  const each = Math.ceil(passes / turns);
  const fastest = runs.map((run) => {
    for (let pass = 0; pass < each; pass += 1) sum += run();
    return Number.POSITIVE_INFINITY;
  });
  for (let turn = 0; turn < turns; turn += 1) {
    runs.forEach((run, i) => {
      const began = performance.now();
      for (let pass = 0; pass < each; pass += 1) sum += run();
      fastest[i] = Math.min(fastest[i]!, ((performance.now() - began) * 1e6) / (each * count));
    });
  }
  if (!Number.isFinite(sum)) throw new Error("a look-up gave no number");
  return fastest;
}

type Sides = { readonly ours: () => number; readonly theirs: () => number };

function row(name: string, peerName: string, { ours, theirs }: Sides, passes: number): Row[] {
  requireSame(ours(), theirs(), name);
  const [value, peer] = nanoseconds([ours, theirs], passes) as readonly [number, number];
  return [
    { name, value, unit: "ns", better: "lower", peer: { name: peerName, value: peer } },
    { name: `${name}: times faster`, value: peer / value, unit: "×", budget: timesFaster, better: "higher" },
  ];
}

function requireSame(one: number, other: number, what: string): void {
  if (!(Math.abs(one - other) <= 1e-9 * Math.abs(one)))
    throw new Error(`${what}: ${one} ours, ${other} theirs`);
}

function grids(passes: number): Row[] {
  const asked = questions(
    [
      [0, 10_000],
      [-40, 70],
      [0, 40],
    ],
    1,
  );
  const flat = Float64Array.from(
    heights_ft.flatMap((h) => temperatures_C.flatMap((t) => winds_kt.map((w) => limit_kg(h, t, w)))),
  );
  const array = ndarray(flat, [heights_ft.length, temperatures_C.length, winds_kt.length]);
  const even = compileChart(chartOf(gridOf(heights_ft, temperatures_C, winds_kt)));
  const out = new Float64Array(1);
  const evenRun = (): number => {
    let sum = 0;
    for (let i = 0; i < asked.length; i += 3) if (even.lookup(asked, i, out, 0)) sum += out[0]!;
    return sum;
  };
  const evenPeer = (): number => {
    let sum = 0;
    for (let i = 0; i < asked.length; i += 3)
      sum += interpolate.d3(array, asked[i]! / 1000, (asked[i + 1]! + 40) / 10, asked[i + 2]! / 5);
    return sum;
  };
  // Nodes put closer together where a chart bends: the places differ, the work does not.
  const bent = (nodes: readonly number[]): number[] => {
    const [first, last] = [nodes[0]!, nodes.at(-1)!];
    return nodes.map((node) => first + (last - first) * ((node - first) / (last - first)) ** 1.25);
  };
  const [hs, ts, ws] = [bent(heights_ft), bent(temperatures_C), bent(winds_kt)];
  const uneven = compileChart(chartOf(gridOf(hs, ts, ws)));
  const bentArray = ndarray(
    Float64Array.from(hs.flatMap((h) => ts.flatMap((t) => ws.map((w) => limit_kg(h, t, w))))),
    [hs.length, ts.length, ws.length],
  );
  const unevenRun = (): number => {
    let sum = 0;
    for (let i = 0; i < asked.length; i += 3) if (uneven.lookup(asked, i, out, 0)) sum += out[0]!;
    return sum;
  };
  const unevenPeer = (): number => {
    let sum = 0;
    for (let i = 0; i < asked.length; i += 3) {
      const place = [indexOn(hs, asked[i]!), indexOn(ts, asked[i + 1]!), indexOn(ws, asked[i + 2]!)] as const;
      sum += interpolate.d3(bentArray, place[0], place[1], place[2]);
    }
    return sum;
  };
  const peer = "ndarray-linear-interpolate";
  return [
    ...row("grid of 3 even axes", peer, { ours: evenRun, theirs: evenPeer }, passes),
    ...row("grid of 3 uneven axes", peer, { ours: unevenRun, theirs: unevenPeer }, passes),
  ];
}

function indexOn(nodes: readonly number[], value: number): number {
  let low = 0;
  let high = nodes.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (nodes[middle]! <= value) low = middle;
    else high = middle;
  }
  return low + (value - nodes[low]!) / (nodes[low + 1]! - nodes[low]!);
}

const parameters_ft = spaced(0, 2000, 9);
const along_C = spaced(-40, 7, 13);
const onCurve = (p: number, x: number): number => 3300 - 4 * x - 0.03 * x * x - 0.06 * p;

const familyOf = (between: "linear" | "pchip"): CurvesBlock => ({
  kind: "curves",
  across: "a_ft",
  along: "b_C",
  between,
  curves: parameters_ft.map((at) => ({
    at,
    points: along_C.map((x): [number, number] => [x, onCurve(at, x)]),
  })),
  output: "mass_kg",
});

function families(passes: number): Row[] {
  const asked = questions(
    [
      [0, 16_000],
      [-40, 44],
    ],
    2,
  );
  const out = new Float64Array(1);
  const straight = compileChart(chartOf(familyOf("linear")));
  const cubic = compileChart(chartOf(familyOf("pchip")));
  const straightRun = (): number => {
    let sum = 0;
    for (let i = 0; i < asked.length; i += 2) if (straight.lookup(asked, i, out, 0)) sum += out[0]!;
    return sum;
  };
  const cubicRun = (): number => {
    let sum = 0;
    for (let i = 0; i < asked.length; i += 2) if (cubic.lookup(asked, i, out, 0)) sum += out[0]!;
    return sum;
  };
  const ys = parameters_ft.map((p) => along_C.map((x) => onCurve(p, x)));
  const lines = ys.map((y) => createLinearInterpolator(along_C, y));
  const straightPeer = (): number => {
    let sum = 0;
    for (let i = 0; i < asked.length; i += 2) {
      const steps = asked[i]! / 2000;
      const k = Math.min(Math.trunc(steps), lines.length - 2);
      const low = lines[k]!(asked[i + 1]!);
      sum += low + (steps - k) * (lines[k + 1]!(asked[i + 1]!) - low);
    }
    return sum;
  };
  const points = ys.map((y) => y.map((value) => [value]));
  const tangents = ys.map((y) => pchipSlopes(along_C, y).map((slope) => [slope]));
  const held = [0];
  const cubicPeer = (): number => {
    let sum = 0;
    for (let i = 0; i < asked.length; i += 2) {
      const steps = asked[i]! / 2000;
      const k = Math.min(Math.trunc(steps), points.length - 2);
      const x = asked[i + 1]!;
      const low = cubicHermiteSpline(x, points[k]!, tangents[k]!, along_C, false, held)[0]!;
      const high = cubicHermiteSpline(x, points[k + 1]!, tangents[k + 1]!, along_C, false, held)[0]!;
      sum += low + (steps - k) * (high - low);
    }
    return sum;
  };
  return [
    ...row(
      "family of straight curves",
      "commons-math-interpolation",
      { ours: straightRun, theirs: straightPeer },
      passes,
    ),
    ...row(
      "family of monotone cubics",
      "cubic-hermite-spline",
      { ours: cubicRun, theirs: cubicPeer },
      passes,
    ),
  ];
}

/** A base chart, a correction by guide lines, and a torque read from the mass. */
const chainBlock: ChartBlock = {
  kind: "chain",
  steps: [
    { ...familyOf("pchip"), output: "calm_kg" },
    {
      kind: "guides",
      enter: "calm_kg",
      along: "c_kt",
      from: 0,
      between: "linear",
      lines: spaced(1800, 400, 5).map((y): [number, number][] => [
        [0, y],
        [20, y + 60 + y / 100],
        [40, y + 90 + y / 80],
      ]),
      output: "mass_kg",
    },
    {
      kind: "curve",
      along: "mass_kg",
      between: "pchip",
      points: spaced(1700, 300, 8).map((x): [number, number] => [x, 30 + ((x - 1500) / 260) ** 1.6]),
      output: "torque_pct",
    },
  ],
};

function chain(passes: number): Row {
  const { lookup, inputs } = compileChart(chartOf(chainBlock));
  if (inputs.join(" ") !== "a_ft b_C c_kt") throw new Error(`the chain takes ${inputs.join(" ")}`);
  const asked = questions(
    [
      [0, 12_000],
      [-30, 30],
      [0, 40],
    ],
    3,
  );
  const out = new Float64Array(1);
  let read = 0;
  const run = (): number => {
    let sum = 0;
    for (let i = 0; i < asked.length; i += 3)
      if (lookup(asked, i, out, 0)) {
        sum += out[0]!;
        read += 1;
      }
    return sum;
  };
  run();
  if (read < count / 2) throw new Error(`only ${read} of ${count} questions are inside the chain`);
  return {
    name: "chain of three",
    value: nanoseconds([run], passes)[0]!,
    unit: "ns",
    budget: 1000,
    better: "lower",
  };
}

const solveBudget_us = 5;

function solutions(passes: number): Row[] {
  const grid = compileChart(chartOf(gridOf(heights_ft, temperatures_C, winds_kt)));
  const family = compileChart(chartOf(familyOf("pchip")));
  return [
    solving(
      "solve a grid of 3 axes",
      grid,
      "b_C",
      [
        [0, 10_000],
        [-40, 70],
        [0, 40],
      ],
      passes,
    ),
    solving(
      "solve cubics along",
      family,
      "b_C",
      [
        [0, 16_000],
        [-39, 43],
      ],
      passes,
    ),
    solving(
      "solve cubics across",
      family,
      "a_ft",
      [
        [0, 16_000],
        [-40, 44],
      ],
      passes,
    ),
  ];
}

function solving(
  name: string,
  chart: CompiledChart,
  input: string,
  ranges: readonly (readonly [number, number])[],
  passes: number,
): Row {
  const asked = questions(ranges, 4);
  const width = chart.inputs.length;
  const slot = chart.inputs.indexOf(input);
  const out = new Float64Array(1);
  const cases = Array.from({ length: count }, (_, i) => {
    const values = chart.inputs.map((own, j) => [own, asked[i * width + j]!] as const);
    if (!chart.lookup(asked, i * width, out, 0)) throw new Error(`${name}: question ${i} is outside`);
    return {
      question: { input, with: Object.fromEntries(values.filter(([own]) => own !== input)) },
      result: out[0]!,
      wanted: asked[i * width + slot]!,
    };
  });
  const run = (): number => {
    let sum = 0;
    for (const { question, result } of cases) {
      const solution = solveChart(chart, question, result);
      if (solution.is !== "solved") throw new Error(`${name}: ${solution.is}`);
      sum += solution.at[0]![0];
    }
    return sum;
  };
  for (const { question, result, wanted } of cases) {
    const solution = solveChart(chart, question, result);
    const found = solution.is === "solved" ? solution.at.flat() : [];
    const off = Math.min(...found.map((x) => Math.abs(x - wanted)));
    if (!(off <= 1e-9 * Math.max(1, Math.abs(wanted)))) throw new Error(`${name}: ${off} off ${wanted}`);
  }
  return {
    name,
    value: nanoseconds([run], passes)[0]! / 1000,
    unit: "µs",
    budget: solveBudget_us,
    better: "lower",
  };
}
