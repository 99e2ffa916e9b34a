// The whole burn against both limits, as maps and solvers ask it: 12 masses, a tank of three straight parts, polygons
// of 8 and 6 edges, one processor core.
// Peers, both over the same burn at every kilogram and at its two ends, in typed arrays as well: the textbook ray through
// every edge, which says inside or not; and a sampler cut to these two limits (only edges that span the mass are looked
// at, which does for limits with one section at every mass), which also gives the smallest arm margin as ours does. It
// is counted how often they miss a part of the burn that is outside.
// All figures are invented; masses come from a seeded generator, and lie so that about half the burns leave a limit.
import { compileLoad, planeSlots, slots } from "../src/core/load/compile-load.ts";
import { trackBurn } from "../src/core/load/burn-track.ts";
import { fuelLineOfTank, type TankPoint } from "../src/core/load/fuel-line.ts";
import { type Limits, noLimits } from "../src/core/load/limits.ts";
import { type Corner, type Outline, readOutline } from "../src/core/load/outline.ts";
import { totalsOf } from "../src/core/load/totals.ts";
import type { Bench } from "./rows.ts";

const tank: TankPoint[] = [
  [0, 4.1, 0],
  [120, 4.35, -0.02],
  [260, 4.3, 0.03],
  [420, 4.55, 0],
];
const longitudinal: Corner[] = [
  [4.02, 1700],
  [4.02, 2300],
  [4.08, 2700],
  [4.16, 3000],
  [4.42, 3000],
  [4.5, 2600],
  [4.56, 2100],
  [4.56, 1700],
];
const lateral: Corner[] = [
  [-0.09, 1700],
  [-0.09, 2600],
  [-0.06, 3000],
  [0.06, 3000],
  [0.09, 2600],
  [0.09, 1700],
];
const stations = [
  { x_m: 4.32, y_m: 0.005 },
  { x_m: 2.2, y_m: 0.38 },
  { x_m: 2.2, y_m: -0.38 },
  { x_m: 3.3, y_m: 0.4 },
  { x_m: 3.3, y_m: -0.4 },
  { x_m: 3.9, y_m: 0.35 },
  { x_m: 3.7, y_m: -0.3 },
  { x_m: 5.1, y_m: 0 },
  { x_m: 5.4, y_m: 0.2 },
  { x_m: 4.1, y_m: 1.1 },
  { x_m: 4.6, y_m: -0.5 },
  { x_m: 1.2, y_m: 0 },
];
const usual_kg = [1850, 85, 85, 80, 80, 0, 90, 55, 20, 60, 35, 15];

const bench: Bench = async (size) => {
  const count = size === "tiny" ? 200 : 200_000;
  const fixture = burns(count);
  // Timed over few enough that memory is not what is measured.
  const timed = Math.min(count, 1000);
  const limits: Limits = { ...noLimits, longitudinal: outline(longitudinal), lateral: outline(lateral) };
  const exact = compileLoad(stations, fuelLineOfTank(tank), limits);
  const output = new Float64Array(exact.outputLength);
  const run = (index: number): boolean =>
    exact.evaluate(fixture.masses[index]!, fixture.from[index]!, fixture.to[index]!, output);
  const cut = cutSampler();
  const textbook = textbookSampler();
  const ask = (sampler: Sampler, index: number): boolean =>
    sampler.evaluate(fixture.masses[index]!, fixture.from[index]!, fixture.to[index]!);

  checkAgainstPlain(fixture, limits, run, output, Math.min(count, 500));
  const missed = countMissed(
    count,
    run,
    () => smallest(output),
    cut,
    (index) => ask(cut, index),
  );
  for (let index = 0; index < Math.min(count, 5000); index += 1) {
    if (ask(textbook, index) !== ask(cut, index)) throw new Error(`the samplers differ about burn ${index}`);
  }

  const [ours, byTextbook, byCut] = bestRates(timed, size === "tiny" ? 1 : 10, [
    { run, passes: size === "tiny" ? 1 : 200 },
    { run: (index) => ask(textbook, index), passes: size === "tiny" ? 1 : 4 },
    { run: (index) => ask(cut, index), passes: size === "tiny" ? 1 : 4 },
  ]) as [number, number, number];
  return [
    {
      name: "whole burns against both limits",
      value: ours,
      unit: "/s",
      budget: 1_000_000,
      better: "higher",
      peer: { name: "textbook sampling", value: byTextbook },
    },
    { name: "… to textbook sampling", value: ours / byTextbook, unit: "×", budget: 50, better: "higher" },
    { name: "… to sampling cut to these limits", value: ours / byCut, unit: "×", better: "higher" },
    {
      name: `outside, but called inside by sampling, of ${count.toLocaleString("en")} (and one)`,
      value: missed + 1,
      unit: "burns",
      better: "higher",
    },
  ];
};

export default bench;

type Fixture = {
  readonly masses: readonly Float64Array[];
  readonly from: Float64Array;
  readonly to: Float64Array;
};

function burns(count: number): Fixture {
  const next = generator(20_240_611);
  const masses = Array.from({ length: count }, () =>
    Float64Array.from(usual_kg, (kg, index) => (index === 0 ? kg : kg * (0.4 + 1.2 * next()))),
  );
  // From a tank nearly full to one nearly empty, never on a whole kilogram.
  const from = Float64Array.from(masses, () => 400 + 20 * next());
  return { masses, from, to: Float64Array.from(masses, () => 20 * next()) };
}

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

function outline(corners: readonly Corner[]): Outline {
  const read = readOutline(corners, "corners", []);
  if (read === null) throw new Error("the bench's outline was refused");
  return read;
}

function smallest(output: Float64Array): number {
  return Math.min(output[slots.planes + planeSlots.margin]!, output[slots.planes + 3 + planeSlots.margin]!);
}

function checkAgainstPlain(
  { masses, from, to }: Fixture,
  limits: Limits,
  run: (index: number) => boolean,
  output: Float64Array,
  count: number,
): void {
  let inside = 0;
  for (let index = 0; index < count; index += 1) {
    const items = stations.map((station, s) => ({ ...station, mass_kg: masses[index]![s]! }));
    const burn = { line: fuelLineOfTank(tank), from_kg: from[index]!, to_kg: to[index]! };
    const plain = trackBurn(totalsOf(items), burn, limits);
    const isInside = run(index);
    const margin = plain.worst?.margin_m ?? Number.NEGATIVE_INFINITY;
    const isSame = margin === smallest(output) || Math.abs(margin - smallest(output)) < 1e-11;
    if (isInside !== (plain.inside.longitudinal! && plain.inside.lateral!) || !isSame) {
      throw new Error(`burn ${index}: ${smallest(output)} m compiled, ${margin} m plain`);
    }
    if (isInside) inside += 1;
  }
  if (inside < count / 5 || inside > (4 * count) / 5)
    throw new Error(`${inside} of ${count} burns are inside`);
}

/** How often sampling sees nothing of a part that is outside; throws where it sees more than the exact answer. */
function countMissed(
  count: number,
  run: (index: number) => boolean,
  exactMargin: () => number,
  sampled: CutSampler,
  sample: (index: number) => boolean,
): number {
  let missed = 0;
  for (let index = 0; index < count; index += 1) {
    const isInside = run(index);
    const looksInside = sample(index);
    if (isInside && !looksInside)
      throw new Error(`burn ${index} is inside, and sampling found a state outside`);
    if (exactMargin() > sampled.margin() + 1e-12)
      throw new Error(`burn ${index}: sampling found a worse state`);
    if (!isInside && looksInside) missed += 1;
  }
  return missed;
}

type Sampler = { evaluate(masses: Float64Array, from_kg: number, to_kg: number): boolean };
type CutSampler = Sampler & { margin(): number };

/** x, y and mass of one state after the other. */
const states = new Float64Array(3 * 430);
const stationX = Float64Array.from(stations, ({ x_m }) => x_m);
const stationY = Float64Array.from(stations, ({ y_m }) => y_m);
const points = Float64Array.from(tank.flat());

/** Fills `states` with every kilogram of the burn and its two ends; returns how much of it. */
function everyKilogram(masses: Float64Array, from_kg: number, to_kg: number): number {
  let base = 0;
  let baseX = 0;
  let baseY = 0;
  for (let i = 0; i < stationX.length; i += 1) {
    base += masses[i]!;
    baseX += masses[i]! * stationX[i]!;
    baseY += masses[i]! * stationY[i]!;
  }
  let segment = points.length - 6;
  let end = 0;
  for (let fuel = from_kg; ; fuel = Math.max(fuel - 1, to_kg)) {
    while (segment > 0 && fuel < points[segment]!) segment -= 3;
    const part = (fuel - points[segment]!) / (points[segment + 3]! - points[segment]!);
    const mass = base + fuel;
    const armX = points[segment + 1]! + part * (points[segment + 4]! - points[segment + 1]!);
    const armY = points[segment + 2]! + part * (points[segment + 5]! - points[segment + 2]!);
    states[end] = (baseX + fuel * armX) / mass;
    states[end + 1] = (baseY + fuel * armY) / mass;
    states[end + 2] = mass;
    end += 3;
    if (fuel === to_kg) return end;
  }
}

function textbookSampler(): Sampler {
  const forward = Float64Array.from(longitudinal.flat());
  const side = Float64Array.from(lateral.flat());
  return {
    evaluate(masses, from_kg, to_kg) {
      const end = everyKilogram(masses, from_kg, to_kg);
      let inside = true;
      for (let i = 0; i < end; i += 3) {
        const mass = states[i + 2]!;
        if (!isAround(forward, states[i]!, mass) || !isAround(side, states[i + 1]!, mass)) inside = false;
      }
      return inside;
    },
  };
}

/** Even or odd crossings of a ray towards larger a. */
function isAround(corners: Float64Array, a: number, b: number): boolean {
  let inside = false;
  let before = corners.length - 2;
  for (let i = 0; i < corners.length; i += 2) {
    const b0 = corners[before + 1]!;
    const b1 = corners[i + 1]!;
    if (b0 > b !== b1 > b) {
      const a0 = corners[before]!;
      if (a < a0 + ((corners[i]! - a0) * (b - b0)) / (b1 - b0)) inside = !inside;
    }
    before = i;
  }
  return inside;
}

function cutSampler(): CutSampler {
  const forward = edgesOf(longitudinal);
  const side = edgesOf(lateral);
  let least = 0;
  return {
    evaluate(masses, from_kg, to_kg) {
      const end = everyKilogram(masses, from_kg, to_kg);
      least = Number.POSITIVE_INFINITY;
      for (let i = 0; i < end; i += 3) {
        const mass = states[i + 2]!;
        least = Math.min(least, marginAt(forward, states[i]!, mass), marginAt(side, states[i + 1]!, mass));
      }
      return least >= 0;
    },
    margin: () => least,
  };
}

/** Edges that span a range of mass: low, high, arm at low, slope. */
function edgesOf(corners: readonly Corner[]): Float64Array {
  return Float64Array.from(
    corners.flatMap(([a0, m0], index) => {
      const [a1, m1] = corners[(index + 1) % corners.length]!;
      if (m0 === m1) return [];
      return m0 < m1 ? [m0, m1, a0, (a1 - a0) / (m1 - m0)] : [m1, m0, a1, (a1 - a0) / (m1 - m0)];
    }),
  );
}

/** The smaller arm margin at a mass, in a limit with one section at every mass; -Infinity above or below it. */
function marginAt(edges: Float64Array, arm: number, mass: number): number {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let e = 0; e < edges.length; e += 4) {
    if (mass < edges[e]! || mass > edges[e + 1]!) continue;
    const limit = edges[e + 2]! + edges[e + 3]! * (mass - edges[e]!);
    if (limit < low) low = limit;
    if (limit > high) high = limit;
  }
  return low > high ? Number.NEGATIVE_INFINITY : Math.min(arm - low, high - arm);
}

type Timed = { readonly run: (index: number) => boolean; readonly passes: number };

/**
 * Burns in a second, for each of several ways to the answer: the best of some rounds in which all take turns, since what
 * else the machine does slows down one or the other. One round before is for warming up.
 */
function bestRates(count: number, rounds: number, ways: readonly Timed[]): number[] {
  const best = ways.map(() => 0);
  for (let round = -1; round < rounds; round += 1) {
    for (const [index, way] of ways.entries()) {
      const rate = rateOf(way, count);
      if (round >= 0) best[index] = Math.max(best[index]!, rate);
    }
  }
  return best;
}

function rateOf({ run, passes }: Timed, count: number): number {
  let sink = 0;
  const began = performance.now();
  for (let pass = 0; pass < passes; pass += 1) {
    for (let index = 0; index < count; index += 1) if (run(index)) sink += 1;
  }
  const rate = (count * passes * 1000) / (performance.now() - began);
  if (sink === 0) throw new Error("no burn was inside");
  return rate;
}
