// The same answer as trackBurn, prepared once for fixed stations, tank and limits, and then given for any masses at those
// stations about a million times a second: for maps, solvers over seatings, and sliders that follow a finger.
//
// The limits are flattened into typed arrays: strips of each plane, and in each strip the lines of its edges as
// u = c + s·m. For a burn, each straight part of the tank gives the two curves k0/m + k1 + k2·m; each strip that the part
// passes gives, for each edge, the distance k0/m + (k1 − c) + (k2 − s)·m, whose least value on the strip is at one of the
// strip's or part's ends or at its turning point. Nothing is allocated on the way.
//
// Where a state is outside a limit by so little that the tolerance of outline.ts decides (and for coupled limits, which
// are seldom), that one plane is followed by follow-path.ts instead, so that both always agree. A test holds them equal.
// Same units, signs, domains and refusals as trackBurn; a margin of null is -Infinity here.

import { refuse } from "../quantity/refusal.ts";
import { followPath } from "./follow-path.ts";
import { type FuelLine, fuelRange } from "./fuel-line.ts";
import { type LimitName, type Limits, type Plane, planesOf } from "./limits.ts";
import { toleranceAt } from "./outline.ts";
import { fuelPath } from "./path.ts";
import type { Station, Totals } from "./totals.ts";

/** Where each number stands in the output; a plane's three begin at `planes + 3 × its index`. */
export const slots = { startMass: 0, startX: 1, startY: 2, endMass: 3, endX: 4, endY: 5, planes: 6 } as const;
export const planeSlots = { inside: 0, margin: 1, fuel: 2 } as const;

export type CompiledLoad = {
  /** The limit that each plane belongs to, in the order of the output. */
  readonly planes: readonly { readonly limit: LimitName; readonly axis: string }[];
  /** How long the output is. */
  readonly outputLength: number;
  /**
   * `masses_kg` at the stations, in their order; the burn from `from_kg` down to `to_kg`; `output` is filled (see slots;
   * `inside` is 1 or 0, `margin` the smallest arm margin of the burn in m, `fuel` where it is). Returns whether all of
   * the burn is inside every limit.
   */
  evaluate(masses_kg: Float64Array, from_kg: number, to_kg: number, output: Float64Array): boolean;
};

export function compileLoad(stations: readonly Station[], line: FuelLine, limits: Limits): CompiledLoad {
  const planes = planesOf(limits);
  const flats = planes.map((plane) => (plane.limit === "coupled" ? null : flatten(plane)));
  const stationX = Float64Array.from(stations, ({ x_m }) => x_m);
  const stationY = Float64Array.from(stations, ({ y_m }) => y_m);
  const segments = flattenFuel(line);
  const [lowest, highest] = fuelRange(line);
  const result = new Float64Array(left.length);

  function evaluate(masses_kg: Float64Array, from_kg: number, to_kg: number, output: Float64Array): boolean {
    let base = 0;
    let baseX = 0;
    let baseY = 0;
    for (let i = 0; i < stationX.length; i += 1) {
      const mass = masses_kg[i]!;
      if (!(mass >= 0)) refuseMass(mass, i);
      base += mass;
      baseX += mass * stationX[i]!;
      baseY += mass * stationY[i]!;
    }
    if (!(to_kg >= lowest && to_kg <= from_kg && from_kg <= highest && base + to_kg > 0 && base < 1e9)) {
      refuseBurn(base, from_kg, to_kg, lowest, highest);
    }
    writeState(segments, base, baseX, baseY, from_kg, output, slots.startMass);
    writeState(segments, base, baseX, baseY, to_kg, output, slots.endMass);
    let inside = true;
    for (let p = 0; p < flats.length; p += 1) {
      const flat = flats[p];
      const isDecided =
        flat != null && followFlat(flat, segments, base, baseX, baseY, from_kg, to_kg, result);
      if (!isDecided) {
        const totals = { mass_kg: base, x_kgm: baseX, y_kgm: baseY };
        followPlain(totals, line, planes[p]!, from_kg, to_kg, result);
      }
      const at = slots.planes + 3 * p;
      output[at + planeSlots.inside] = result[left.inside]!;
      output[at + planeSlots.margin] = result[left.margin]!;
      output[at + planeSlots.fuel] = result[left.fuel]!;
      if (result[left.inside] === 0) inside = false;
    }
    return inside;
  }

  return {
    planes: planes.map(({ limit, axis }) => ({ limit, axis })),
    outputLength: slots.planes + 3 * planes.length,
    evaluate,
  };
}

/** What following a plane leaves behind: numbers in one array, so that nothing is allocated. */
const left = { inside: 0, margin: 1, fuel: 2, mass: 3, length: 4 } as const;

function refuseMass(mass: number, index: number): never {
  refuse(`masses_kg[${index}]`, "outsideDomain", `${mass} kg`, "a mass of at least 0 kg");
}

function refuseBurn(base: number, from_kg: number, to_kg: number, lowest: number, highest: number): never {
  const found = `${from_kg} kg down to ${to_kg} kg on ${base} kg`;
  refuse("burn", "outsideDomain", found, `${highest} kg at most down to ${lowest} kg, on a mass above 0 kg`);
}

// ---- Flat forms -----------------------------------------------------------------------------------------------------

/** Per segment of fuel: low, high, and the moments' coefficients x0 x1 x2 y0 y1 y2. */
const segmentWidth = 8;

function flattenFuel(line: FuelLine): Float64Array {
  return Float64Array.from(
    line.segments.flatMap(({ low_kg, high_kg, x, y }) => [low_kg, high_kg, ...x, ...y]),
  );
}

type FlatPlane = {
  readonly isLongitudinal: boolean;
  readonly stripCount: number;
  readonly stripLow: Float64Array;
  readonly stripHigh: Float64Array;
  /** Where a strip's edges begin; one more entry than strips. */
  readonly edgeStart: Int32Array;
  readonly edgeC: Float64Array;
  readonly edgeS: Float64Array;
  /** Beyond an edge by more than this, and not near the height of a corner, no tolerance can reach. */
  readonly reach_m: number;
  readonly reach_kg: number;
};

function flatten({ axis, strips, floorU, floorV }: Plane): FlatPlane {
  const edges = strips.flatMap((strip) => strip.edges);
  const slopes = edges.map(({ u0, v0, u1, v1 }) => (u1 - u0) / (v1 - v0));
  const widest = Math.max(...edges.flatMap(({ u0, u1 }) => [Math.abs(u0), Math.abs(u1)]));
  const reach_kg = 2 * toleranceAt(strips.at(-1)!.high, floorV);
  const steepest = Math.max(...slopes.map((slope) => Math.abs(slope)));
  let start = 0;
  const starts = strips.map((strip) => (start += strip.edges.length));
  return {
    isLongitudinal: axis === "longitudinal",
    stripCount: strips.length,
    stripLow: Float64Array.from(strips, ({ low }) => low),
    stripHigh: Float64Array.from(strips, ({ high }) => high),
    edgeStart: Int32Array.from([0, ...starts]),
    edgeC: Float64Array.from(edges, ({ u0, v0 }, index) => u0 - slopes[index]! * v0),
    edgeS: Float64Array.from(slopes),
    reach_m: 2 * toleranceAt(widest, floorU) + steepest * reach_kg,
    reach_kg,
  };
}

// ---- Following ------------------------------------------------------------------------------------------------------

function writeState(
  segments: Float64Array,
  base: number,
  baseX: number,
  baseY: number,
  fuel: number,
  output: Float64Array,
  at: number,
): void {
  let s = 0;
  while (fuel > segments[s + 1]!) s += segmentWidth;
  const mass = base + fuel;
  output[at] = mass;
  output[at + 1] = (baseX + segments[s + 2]! + fuel * (segments[s + 3]! + segments[s + 4]! * fuel)) / mass;
  output[at + 2] = (baseY + segments[s + 5]! + fuel * (segments[s + 6]! + segments[s + 7]! * fuel)) / mass;
}

function followPlain(
  base: Totals,
  line: FuelLine,
  plane: Plane,
  from_kg: number,
  to_kg: number,
  result: Float64Array,
): void {
  const { spans, worst } = followPath(fuelPath(base, line, to_kg, from_kg), plane);
  result[left.inside] = spans.every((span) => span.inside) ? 1 : 0;
  // Out of the band of a coupled limit all the way there is no margin from it.
  result[left.margin] =
    worst === null ? Number.POSITIVE_INFINITY : (worst.margin_m ?? Number.NEGATIVE_INFINITY);
  result[left.fuel] = worst === null ? from_kg : worst.at_kg;
}

/** Follows one plane; false when a tolerance could decide, and then `result` is not to be used. */
function followFlat(
  plane: FlatPlane,
  segments: Float64Array,
  base: number,
  baseX: number,
  baseY: number,
  from_kg: number,
  to_kg: number,
  result: Float64Array,
): boolean {
  const { stripCount, stripLow, stripHigh, reach_kg } = plane;
  const least = base + to_kg;
  const most = base + from_kg;
  if (least < stripLow[0]! || most > stripHigh[stripCount - 1]!) {
    return followBeyond(plane, least, most, from_kg, to_kg, result);
  }
  const moment = plane.isLongitudinal ? baseX : baseY;
  const offset = plane.isLongitudinal ? 2 : 5;
  let worst = Number.POSITIVE_INFINITY;
  let worstFuel = from_kg;
  let isDoubtful = false;
  let isOutside = false;
  for (let s = 0; s < segments.length; s += segmentWidth) {
    const fuelLow = Math.max(segments[s]!, to_kg);
    const fuelHigh = Math.min(segments[s + 1]!, from_kg);
    if (fuelLow >= fuelHigh) continue;
    const t1 = segments[s + offset + 1]!;
    const k2 = segments[s + offset + 2]!;
    const k0 = moment + segments[s + offset]! - t1 * base + k2 * base * base;
    const k1 = t1 - 2 * k2 * base;
    const massLow = base + fuelLow;
    const massHigh = base + fuelHigh;
    for (let i = 0; i < stripCount; i += 1) {
      const high = stripHigh[i]!;
      if (high <= massLow) continue;
      const low = stripLow[i]!;
      if (low >= massHigh) break;
      const from = low > massLow ? low : massLow;
      const to = high < massHigh ? high : massHigh;
      // So short a part can lie in the tolerance of a corner's height, where two strips count together.
      if (to - from <= 2 * reach_kg) return false;
      leastInStrip(plane, i, k0, k1, k2, from, to, result);
      const margin = result[left.margin]!;
      const mass = result[left.mass]!;
      const fuel = mass === massHigh ? fuelHigh : mass === massLow ? fuelLow : mass - base;
      if (margin < worst || (margin === worst && fuel > worstFuel)) {
        worst = margin;
        worstFuel = fuel;
      }
      if (margin >= 0 || isOutside) continue;
      // Near the height of a corner the tolerance reaches further, so look a little away from it instead.
      const away = Math.min(Math.max(mass, low + reach_kg), high - reach_kg);
      if (away >= from && away <= to && marginAt(plane, i, k0, k1, k2, away) < -plane.reach_m)
        isOutside = true;
      else isDoubtful = true;
    }
  }
  result[left.inside] = isOutside ? 0 : 1;
  result[left.margin] = worst;
  result[left.fuel] = worstFuel;
  // A burn of nothing, or of less than a rounding of the mass, is in no strip here or could be in two.
  return worst < Number.POSITIVE_INFINITY && (isOutside || !isDoubtful);
}

/** A track that is in part above or below the whole limit. */
function followBeyond(
  { stripCount, stripLow, stripHigh, reach_kg }: FlatPlane,
  least: number,
  most: number,
  from_kg: number,
  to_kg: number,
  result: Float64Array,
): boolean {
  const below = stripLow[0]! - least;
  const above = most - stripHigh[stripCount - 1]!;
  if (below <= reach_kg && above <= reach_kg) return false;
  result[left.inside] = 0;
  result[left.margin] = Number.NEGATIVE_INFINITY;
  result[left.fuel] = above >= below ? from_kg : to_kg;
  return true;
}

/** The smallest arm margin in one strip between two masses, and the mass at which it is. */
function leastInStrip(
  plane: FlatPlane,
  strip: number,
  k0: number,
  k1: number,
  k2: number,
  from: number,
  to: number,
  result: Float64Array,
): void {
  const { edgeStart, edgeC, edgeS } = plane;
  const first = edgeStart[strip]!;
  if (edgeStart[strip + 1]! - first > 2) {
    leastAmongSections(plane, strip, k0, k1, k2, from, to, result);
    return;
  }
  let least = Number.POSITIVE_INFINITY;
  let leastMass = to;
  for (let side = 0; side < 2; side += 1) {
    const sign = side === 0 ? 1 : -1;
    const d0 = sign * k0;
    const d1 = sign * (k1 - edgeC[first + side]!);
    const d2 = sign * (k2 - edgeS[first + side]!);
    const atTo = d0 / to + d1 + d2 * to;
    if (atTo < least) {
      least = atTo;
      leastMass = to;
    }
    const atFrom = d0 / from + d1 + d2 * from;
    if (atFrom < least) {
      least = atFrom;
      leastMass = from;
    }
    // Only a valley between the ends is lower than both.
    if (d0 > 0 && d2 > 0 && d0 > d2 * from * from && d0 < d2 * to * to) {
      const m = Math.sqrt(d0 / d2);
      const atTurn = d0 / m + d1 + d2 * m;
      if (atTurn < least) {
        least = atTurn;
        leastMass = m;
      }
    }
  }
  result[left.margin] = least;
  result[left.mass] = leastMass;
}

/** The arm margin at one mass, against the nearest section of the strip. */
function marginAt(
  { edgeStart, edgeC, edgeS }: FlatPlane,
  strip: number,
  k0: number,
  k1: number,
  k2: number,
  m: number,
): number {
  const u = k0 / m + k1 + k2 * m;
  let best = Number.NEGATIVE_INFINITY;
  for (let e = edgeStart[strip]!; e < edgeStart[strip + 1]!; e += 2) {
    const below = u - (edgeC[e]! + edgeS[e]! * m);
    const above = edgeC[e + 1]! + edgeS[e + 1]! * m - u;
    const margin = below < above ? below : above;
    if (margin > best) best = margin;
  }
  return best;
}

/** The same where the strip has several sections: outside between two of them the nearer one counts. */
function leastAmongSections(
  plane: FlatPlane,
  strip: number,
  k0: number,
  k1: number,
  k2: number,
  from: number,
  to: number,
  result: Float64Array,
): void {
  const { edgeStart, edgeC, edgeS } = plane;
  const first = edgeStart[strip]!;
  const end = edgeStart[strip + 1]!;
  result[left.margin] = marginAt(plane, strip, k0, k1, k2, to);
  result[left.mass] = to;
  lookAt(plane, strip, k0, k1, k2, from, result);
  for (let e = first; e < end; e += 1) {
    const ratio = k0 / (k2 - edgeS[e]!);
    if (ratio > from * from && ratio < to * to) lookAt(plane, strip, k0, k1, k2, Math.sqrt(ratio), result);
    if ((e - first) % 2 === 0 || e + 1 === end) continue;
    // Where the track is midway between one section and the next: d0/m + d1 + d2·m = 0.
    const d1 = k1 - (edgeC[e]! + edgeC[e + 1]!) / 2;
    const d2 = k2 - (edgeS[e]! + edgeS[e + 1]!) / 2;
    const q = -(d1 + (d1 < 0 ? -1 : 1) * Math.sqrt(Math.max(d1 * d1 - 4 * k0 * d2, 0))) / 2;
    const one = q / d2;
    const other = k0 / q;
    if (one > from && one < to) lookAt(plane, strip, k0, k1, k2, one, result);
    if (other > from && other < to) lookAt(plane, strip, k0, k1, k2, other, result);
  }
}

function lookAt(
  plane: FlatPlane,
  strip: number,
  k0: number,
  k1: number,
  k2: number,
  m: number,
  result: Float64Array,
): void {
  const margin = marginAt(plane, strip, k0, k1, k2, m);
  if (margin < result[left.margin]!) {
    result[left.margin] = margin;
    result[left.mass] = m;
  }
}
