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
  const parts = new Float64Array((segments.length / segmentWidth) * partWidth);

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
    // A burn that begins or ends at a point of the tank is in the segment that it has a part of.
    let last = 0;
    while (segments[last * segmentWidth + 1]! < from_kg) last += 1;
    let first = last;
    while (segments[first * segmentWidth]! > to_kg) first -= 1;
    cutBurn(segments, first, last, base, from_kg, to_kg, parts);
    const perMost = parts[last * partWidth + partPerHigh]!;
    const perLeast = parts[first * partWidth + partPerLow]!;
    writeState(segments, last, from_kg, base, baseX, baseY, perMost, output, slots.startMass);
    writeState(segments, first, to_kg, base, baseX, baseY, perLeast, output, slots.endMass);
    let inside = true;
    for (let p = 0; p < flats.length; p += 1) {
      const flat = flats[p];
      const at = slots.planes + 3 * p;
      if (
        flat == null ||
        !followFlat(flat, segments, parts, first, last, base, baseX, baseY, from_kg, to_kg, output, at)
      ) {
        followPlain(
          { mass_kg: base, x_kgm: baseX, y_kgm: baseY },
          line,
          planes[p]!,
          from_kg,
          to_kg,
          output,
          at,
        );
      }
      if (output[at + planeSlots.inside] === 0) inside = false;
    }
    return inside;
  }

  return {
    planes: planes.map(({ limit, axis }) => ({ limit, axis })),
    outputLength: slots.planes + 3 * planes.length,
    evaluate,
  };
}

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

/**
 * Per segment of fuel that a burn is in: the total mass at the lower and the upper end of the burn's part of it, and one
 * over each. Made once for all planes.
 */
const partWidth = 4;
const partLow = 0;
const partHigh = 1;
const partPerLow = 2;
const partPerHigh = 3;

type FlatPlane = {
  readonly isLongitudinal: boolean;
  /** All strips, ascending; see below. In one array, since each further one costs the inner loop time. */
  readonly strips: Float64Array;
  /** The lines of the edges of all strips, u = c + s·m: c, s, c, s … */
  readonly edges: Float64Array;
  /** Beyond an edge by more than this, and not near the height of a corner, no tolerance can reach. */
  readonly reach_m: number;
  readonly reach_kg: number;
};

/**
 * Per strip: its ends in mass, one over the upper one, the lines of its first two edges (all that it has when it has
 * one section), where its edges begin and end in `edges`.
 */
const stripWidth = 9;
const stripLow = 0;
const stripHigh = 1;
const stripPerHigh = 2;
const stripC0 = 3;
const stripS0 = 4;
const stripC1 = 5;
const stripS1 = 6;
const stripFirst = 7;
const stripEnd = 8;

function flatten({ axis, strips, floorU, floorV }: Plane): FlatPlane {
  const edges: number[] = [];
  const flat: number[] = [];
  let widest = 0;
  let steepest = 0;
  for (const { low, high, edges: across } of strips) {
    const first = edges.length;
    for (const { u0, v0, u1, v1 } of across) {
      const slope = (u1 - u0) / (v1 - v0);
      edges.push(u0 - slope * v0, slope);
      widest = Math.max(widest, Math.abs(u0), Math.abs(u1));
      steepest = Math.max(steepest, Math.abs(slope));
    }
    flat.push(low, high, 1 / high, ...edges.slice(first, first + 4), first, edges.length);
  }
  const reach_kg = 2 * toleranceAt(strips.at(-1)!.high, floorV);
  return {
    isLongitudinal: axis === "longitudinal",
    strips: Float64Array.from(flat),
    edges: Float64Array.from(edges),
    reach_m: 2 * toleranceAt(widest, floorU) + steepest * reach_kg,
    reach_kg,
  };
}

// ---- Following ------------------------------------------------------------------------------------------------------

/** Fills the parts of a burn from segment `first` to segment `last`. */
function cutBurn(
  segments: Float64Array,
  first: number,
  last: number,
  base: number,
  from_kg: number,
  to_kg: number,
  parts: Float64Array,
): void {
  let low = base + to_kg;
  let perLow = 1 / low;
  for (let n = first; n <= last; n += 1) {
    const high = base + (n === last ? from_kg : segments[n * segmentWidth + 1]!);
    const perHigh = 1 / high;
    const p = n * partWidth;
    parts[p + partLow] = low;
    parts[p + partHigh] = high;
    parts[p + partPerLow] = perLow;
    parts[p + partPerHigh] = perHigh;
    low = high;
    perLow = perHigh;
  }
}

/** Total mass and centre of gravity with a quantity of fuel of segment `n`. */
function writeState(
  segments: Float64Array,
  n: number,
  fuel: number,
  base: number,
  baseX: number,
  baseY: number,
  perMass: number,
  output: Float64Array,
  at: number,
): void {
  const s = n * segmentWidth;
  output[at] = base + fuel;
  output[at + 1] = (baseX + segments[s + 2]! + fuel * (segments[s + 3]! + segments[s + 4]! * fuel)) * perMass;
  output[at + 2] = (baseY + segments[s + 5]! + fuel * (segments[s + 6]! + segments[s + 7]! * fuel)) * perMass;
}

function followPlain(
  base: Totals,
  line: FuelLine,
  plane: Plane,
  from_kg: number,
  to_kg: number,
  output: Float64Array,
  at: number,
): void {
  const { spans, worst } = followPath(fuelPath(base, line, to_kg, from_kg), plane);
  output[at + planeSlots.inside] = spans.every((span) => span.inside) ? 1 : 0;
  // Out of the band of a coupled limit all the way there is no margin from it.
  output[at + planeSlots.margin] =
    worst === null ? Number.POSITIVE_INFINITY : (worst.margin_m ?? Number.NEGATIVE_INFINITY);
  output[at + planeSlots.fuel] = worst === null ? from_kg : worst.at_kg;
}

/** Follows one plane; false when a tolerance could decide, and then what it wrote is not to be used. */
function followFlat(
  plane: FlatPlane,
  segments: Float64Array,
  parts: Float64Array,
  first: number,
  last: number,
  base: number,
  baseX: number,
  baseY: number,
  from_kg: number,
  to_kg: number,
  output: Float64Array,
  at: number,
): boolean {
  const { strips, reach_kg } = plane;
  const least = parts[first * partWidth + partLow]!;
  const most = parts[last * partWidth + partHigh]!;
  if (least < strips[stripLow]! || most > strips[strips.length - stripWidth + stripHigh]!) {
    return followBeyond(plane, least, most, from_kg, to_kg, output, at);
  }
  let worst = Number.POSITIVE_INFINITY;
  let worstMass = most;
  let isDoubtful = false;
  let isOutside = false;
  const moment = plane.isLongitudinal ? baseX : baseY;
  let i = 0;
  for (let n = first; n <= last; n += 1) {
    const p = n * partWidth;
    const t = n * segmentWidth + (plane.isLongitudinal ? 2 : 5);
    const t1 = segments[t + 1]!;
    const k2 = segments[t + 2]!;
    const k0 = moment + segments[t]! - base * (t1 - k2 * base);
    const k1 = t1 - 2 * k2 * base;
    const massHigh = parts[p + partHigh]!;
    let from = parts[p + partLow]!;
    let uFrom = k0 * parts[p + partPerLow]! + k1 + k2 * from;
    while (i < strips.length && strips[i + stripHigh]! <= from) i += stripWidth;
    while (i < strips.length && from < massHigh) {
      const high = strips[i + stripHigh]!;
      const isLastOfPart = high >= massHigh;
      const to = isLastOfPart ? massHigh : high;
      // So short a stretch can lie in the tolerance of a corner's height, where two strips count together.
      if (to - from <= 2 * reach_kg) return false;
      const uTo = k0 * (isLastOfPart ? parts[p + partPerHigh]! : strips[i + stripPerHigh]!) + k1 + k2 * to;
      let margin: number;
      let mass = to;
      if (strips[i + stripEnd]! - strips[i + stripFirst]! > 4) {
        leastAmongSections(plane, i, k0, k1, k2, from, to, output, at);
        margin = output[at + planeSlots.margin]!;
        mass = output[at + planeSlots.fuel]!;
      } else {
        const c0 = strips[i + stripC0]!;
        const s0 = strips[i + stripS0]!;
        const c1 = strips[i + stripC1]!;
        const s1 = strips[i + stripS1]!;
        const belowTo = uTo - (c0 + s0 * to);
        const aboveTo = c1 + s1 * to - uTo;
        margin = belowTo < aboveTo ? belowTo : aboveTo;
        const belowFrom = uFrom - (c0 + s0 * from);
        const aboveFrom = c1 + s1 * from - uFrom;
        const atFrom = belowFrom < aboveFrom ? belowFrom : aboveFrom;
        if (atFrom < margin) {
          margin = atFrom;
          mass = from;
        }
        // A distance from a line turns where k0 = (k2 − slope)·m². Only a valley between the ends is lower than both;
        // it is one for the lower line where k0 > 0, and for the upper one where k0 < 0.
        const bend = k0 > 0 ? k2 - s0 : s1 - k2;
        const pull = k0 > 0 ? k0 : -k0;
        if (pull > bend * from * from && pull < bend * to * to) {
          const m = Math.sqrt(pull / bend);
          const u = k0 / m + k1 + k2 * m;
          const atTurn = k0 > 0 ? u - (c0 + s0 * m) : c1 + s1 * m - u;
          if (atTurn < margin) {
            margin = atTurn;
            mass = m;
          }
        }
      }
      // Stretches come by ascending mass, and of several as bad the heaviest counts.
      if (margin <= worst) {
        worst = margin;
        worstMass = mass;
        if (margin < 0 && !isOutside) {
          // Near the height of a corner the tolerance reaches further, so look a little away from it instead.
          const away = Math.min(Math.max(mass, strips[i + stripLow]! + reach_kg), high - reach_kg);
          const isClear = away >= from && away <= to;
          if (isClear && marginAt(plane, i, k0, k1, k2, away) < -plane.reach_m) isOutside = true;
          else isDoubtful = true;
        }
      }
      from = to;
      uFrom = uTo;
      if (!isLastOfPart) i += stripWidth;
    }
  }
  output[at + planeSlots.inside] = isOutside ? 0 : 1;
  output[at + planeSlots.margin] = worst;
  output[at + planeSlots.fuel] =
    worstMass === most ? from_kg : worstMass === least ? to_kg : worstMass - base;
  // A burn of nothing, or of less than a rounding of the mass, has no stretch to look at.
  return worst < Number.POSITIVE_INFINITY && (isOutside || !isDoubtful);
}

/** A track that is in part above or below the whole limit. */
function followBeyond(
  { strips, reach_kg }: FlatPlane,
  least: number,
  most: number,
  from_kg: number,
  to_kg: number,
  output: Float64Array,
  at: number,
): boolean {
  const below = strips[stripLow]! - least;
  const above = most - strips[strips.length - stripWidth + stripHigh]!;
  if (below <= reach_kg && above <= reach_kg) return false;
  output[at + planeSlots.inside] = 0;
  output[at + planeSlots.margin] = Number.NEGATIVE_INFINITY;
  output[at + planeSlots.fuel] = above >= below ? from_kg : to_kg;
  return true;
}

/** The arm margin at one mass, against the nearest section of the strip that begins at `i`. */
function marginAt(
  { strips, edges }: FlatPlane,
  i: number,
  k0: number,
  k1: number,
  k2: number,
  m: number,
): number {
  const u = k0 / m + k1 + k2 * m;
  let best = Number.NEGATIVE_INFINITY;
  for (let e = strips[i + stripFirst]!; e < strips[i + stripEnd]!; e += 4) {
    const below = u - (edges[e]! + edges[e + 1]! * m);
    const above = edges[e + 2]! + edges[e + 3]! * m - u;
    const margin = below < above ? below : above;
    if (margin > best) best = margin;
  }
  return best;
}

/**
 * The smallest margin where a strip has several sections: outside between two of them the nearer one counts. Written to
 * the plane's `margin`, and the mass at which it is to its `fuel`.
 */
function leastAmongSections(
  plane: FlatPlane,
  i: number,
  k0: number,
  k1: number,
  k2: number,
  from: number,
  to: number,
  output: Float64Array,
  at: number,
): void {
  const { strips, edges } = plane;
  const first = strips[i + stripFirst]!;
  const end = strips[i + stripEnd]!;
  output[at + planeSlots.margin] = marginAt(plane, i, k0, k1, k2, to);
  output[at + planeSlots.fuel] = to;
  lookAt(plane, i, k0, k1, k2, from, output, at);
  for (let e = first; e < end; e += 2) {
    const ratio = k0 / (k2 - edges[e + 1]!);
    if (ratio > from * from && ratio < to * to) lookAt(plane, i, k0, k1, k2, Math.sqrt(ratio), output, at);
    if ((e - first) % 4 === 0 || e + 2 === end) continue;
    // Where the track is midway between one section and the next: k0/m + d1 + d2·m = 0.
    const d1 = k1 - (edges[e]! + edges[e + 2]!) / 2;
    const d2 = k2 - (edges[e + 1]! + edges[e + 3]!) / 2;
    const q = -(d1 + (d1 < 0 ? -1 : 1) * Math.sqrt(Math.max(d1 * d1 - 4 * k0 * d2, 0))) / 2;
    const one = q / d2;
    const other = k0 / q;
    if (one > from && one < to) lookAt(plane, i, k0, k1, k2, one, output, at);
    if (other > from && other < to) lookAt(plane, i, k0, k1, k2, other, output, at);
  }
}

function lookAt(
  plane: FlatPlane,
  i: number,
  k0: number,
  k1: number,
  k2: number,
  m: number,
  output: Float64Array,
  at: number,
): void {
  const margin = marginAt(plane, i, k0, k1, k2, m);
  if (margin < output[at + planeSlots.margin]!) {
    output[at + planeSlots.margin] = margin;
    output[at + planeSlots.fuel] = m;
  }
}
