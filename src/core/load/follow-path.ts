// Follows a path through one plane of the limits over its whole length: where it is inside, and where it is worst.
//
// Exact, not sampled. Between two neighbouring cuts of the path nothing can change that matters, the cuts being all
// masses m where
//   - the path passes the height of a corner (then other edges count),
//   - it meets the line of an edge                      k0 + k1·m + k2·m² = 0,
//   - its distance from an edge, or its height, turns    m = √(k0/k2),
//   - outside between two parts of a non-convex limit it is as far from one as from the other.
// On such a stretch the distance from each edge is monotone. So the middle of a stretch tells whether all of it is
// inside, and the smallest margin of the path is at a cut. At a step of the limit (an edge of constant mass) the margin
// jumps; then the worst is what the margin tends to on the stretch beside it, whichever side is worse.
//
// A stretch that leaves a limit by no more than the tolerance of outline.ts counts as inside. Where the total mass is
// beyond the limit no arm is inside; the margin is null there, which is worse than any number, and the state furthest
// beyond is the worst. Outside the band of a coupled limit the path is inside and has no margin from it.

import type { Plane, SideMargins } from "./limits.ts";
import { isWithinPlane, leastMargin, marginsIn, planeCurves } from "./limits.ts";
import { sectionsAt, type Span, type Strip, type StripEdge, stripSections, toleranceAt } from "./outline.ts";
import { type Curve, curveAt, type Path, type PathPiece, turningMass } from "./path.ts";
import { quadraticRoots } from "./quadratic.ts";

/** A part of a path in terms of the mass that changes; ends inclusive. */
export type TrackSpan = { readonly low_kg: number; readonly high_kg: number; readonly inside: boolean };

export type WorstPoint = {
  /** The mass that changes, where the margin is smallest; the largest such mass of several. */
  readonly at_kg: number;
  /** Null where no arm is inside at that mass. */
  readonly margin_m: number | null;
  /** How far the state is beyond all sections, where the margin is null; 0 otherwise. */
  readonly beyond: number;
};

export type PlaneTrack = {
  readonly plane: Plane;
  /** Ascending, neighbours differ in `inside`. */
  readonly spans: readonly TrackSpan[];
  /** Null where the path is never in the band of the limit. */
  readonly worst: WorstPoint | null;
  /** The smallest distance from each side of the limit; null where at some mass no arm is inside, or none is limited. */
  readonly least: SideMargins | null;
  /** Whether the very ends of the path are inside; a path can begin on a limit and leave at once. */
  readonly insideAtLow: boolean;
  readonly insideAtHigh: boolean;
};

export function followPath(path: Path, plane: Plane): PlaneTrack {
  const spans: TrackSpan[] = [];
  let worst: WorstPoint | null = null;
  const sides: SideMargins = { below: Number.POSITIVE_INFINITY, above: Number.POSITIVE_INFINITY };
  let least: SideMargins | null = sides;
  for (const piece of path.pieces) {
    for (const stretch of followPiece(piece, plane)) {
      addSpan(spans, stretch);
      for (const point of stretch.points) {
        worst = worse(worst, point);
        least = lesserSides(least, point.sides);
      }
    }
  }
  return {
    plane,
    spans,
    worst,
    least: worst === null ? null : least,
    insideAtLow: isInsideAt(path.pieces[0]!, plane, "low"),
    insideAtHigh: isInsideAt(path.pieces.at(-1)!, plane, "high"),
  };
}

function lesserSides(one: SideMargins | null, other: SideMargins | null): SideMargins | null {
  if (one === null || other === null) return null;
  return { below: Math.min(one.below, other.below), above: Math.min(one.above, other.above) };
}

function addSpan(spans: TrackSpan[], { low_kg, high_kg, inside }: TrackSpan): void {
  const last = spans.at(-1);
  if (last !== undefined && last.inside === inside) spans[spans.length - 1] = { ...last, high_kg };
  else spans.push({ low_kg, high_kg, inside });
}

/** The worse of two points; of two as bad, the one with more of the changing mass (earlier in a burn). */
export function worse(one: WorstPoint | null, other: WorstPoint): WorstPoint {
  if (one === null) return other;
  const difference = badness(other) - badness(one);
  if (one.margin_m === null || other.margin_m === null) {
    if ((one.margin_m === null) !== (other.margin_m === null)) return one.margin_m === null ? one : other;
  }
  return difference > 0 || (difference === 0 && other.at_kg > one.at_kg) ? other : one;
}

function badness({ margin_m, beyond }: WorstPoint): number {
  return margin_m === null ? beyond : -margin_m;
}

function isInsideAt(piece: PathPiece, plane: Plane, end: "low" | "high"): boolean {
  const m = piece.other_kg + (end === "low" ? piece.low_kg : piece.high_kg);
  const [low, high] = bandOf(plane);
  if (m < low || m > high) return true;
  const { u, v } = planeCurves(plane, piece);
  return isWithinPlane(plane, curveAt(u, m), curveAt(v, m));
}

/** The band of total mass in which the limit holds; a mass within tolerance of its ends counts as on them. */
function bandOf({ above_kg, upTo_kg }: Plane): readonly [low: number, high: number] {
  return [
    above_kg - toleranceAt(above_kg, 0),
    Number.isFinite(upTo_kg) ? upTo_kg + toleranceAt(upTo_kg, 0) : upTo_kg,
  ];
}

type Stretch = TrackSpan & {
  readonly points: readonly (WorstPoint & { readonly sides: SideMargins | null })[];
};

function followPiece(piece: PathPiece, plane: Plane): Stretch[] {
  const { u, v } = planeCurves(plane, piece);
  const lowest = piece.other_kg + piece.low_kg;
  const highest = piece.other_kg + piece.high_kg;
  const [bandLow, bandHigh] = bandOf(plane);
  const low = Math.max(lowest, bandLow);
  const high = Math.min(highest, bandHigh);
  // Totals that round to the same mass at both ends still are what the piece says.
  const changing = (m: number): number =>
    m === highest ? piece.high_kg : m === lowest ? piece.low_kg : m - piece.other_kg;
  const outOfBand = (from_kg: number, to_kg: number): Stretch => ({
    low_kg: from_kg,
    high_kg: to_kg,
    inside: true,
    points: [],
  });
  if (low > high) return [outOfBand(piece.low_kg, piece.high_kg)];
  const stretches: Stretch[] = [];
  if (lowest < low) stretches.push(outOfBand(piece.low_kg, changing(low)));
  const masses = cutMasses(u, v, plane, low, high);
  if (low === high) stretches.push(judge(plane, u, v, low, low, changing));
  for (let i = 1; i < masses.length; i += 1) {
    stretches.push(judge(plane, u, v, masses[i - 1]!, masses[i]!, changing));
  }
  if (highest > high) stretches.push(outOfBand(changing(high), piece.high_kg));
  return stretches;
}

/** The masses that cut the path into stretches on which nothing changes, ends included, ascending. */
function cutMasses(u: Curve, v: Curve, plane: Plane, low: number, high: number): number[] {
  const masses = new Set([low, high]);
  const add = (m: number | null): void => {
    if (m !== null && m > low && m < high) masses.add(m);
  };
  const addRoots = ([k0, k1, k2]: Curve): void => {
    for (const m of quadraticRoots(k0, k1, k2)) add(m);
  };
  add(turningMass(v));
  for (const strip of plane.strips) {
    if (plane.limit !== "coupled" && (strip.low > high || strip.high < low)) continue;
    addRoots(minusLine(v, strip.low));
    addRoots(minusLine(v, strip.high));
    const distances = strip.edges.map((edge) => distanceFrom(edge, u, v));
    for (const [index, distance] of distances.entries()) {
      addRoots(distance);
      add(turningMass(distance));
      // Outside between part and part: as far right of the one as left of the other.
      const next = distances[index + 1];
      if (index % 2 === 1 && next !== undefined) {
        addRoots([distance[0] + next[0], distance[1] + next[1], distance[2] + next[2]]);
      }
    }
  }
  return [...masses].sort((a, b) => a - b);
}

function minusLine([k0, k1, k2]: Curve, level: number): Curve {
  return [k0, k1 - level, k2];
}

/** How far the path is to the upper side of an edge's line, along u. */
export function distanceFrom({ u0, v0, u1, v1 }: StripEdge, u: Curve, v: Curve): Curve {
  const slope = (u1 - u0) / (v1 - v0);
  return [u[0] - slope * v[0], u[1] - slope * v[1] - (u0 - slope * v0), u[2] - slope * v[2]];
}

function judge(
  plane: Plane,
  u: Curve,
  v: Curve,
  from: number,
  to: number,
  changing: (m: number) => number,
): Stretch {
  const middle = from + (to - from) / 2;
  const strips = stripsAt(plane, curveAt(v, middle));
  const isInsideMiddle = sectionsOfStretch(strips, plane, curveAt(v, middle)).some(
    ([low, high]) => curveAt(u, middle) >= low && curveAt(u, middle) <= high,
  );
  const inside =
    isInsideMiddle || [from, middle, to].every((m) => isWithinPlane(plane, curveAt(u, m), curveAt(v, m)));
  // Within tolerance above or below the whole limit: it counts as on it, and the nearest strip gives the section.
  const near = strips.length === 0 && inside ? plane.strips : strips;
  const points = (from === to ? [from] : [from, to]).map((m) => {
    const level = curveAt(v, m);
    const margins = marginsIn(sectionsOfStretch(near, plane, level), curveAt(u, m));
    if (margins !== null) {
      return { at_kg: changing(m), margin_m: leastMargin(margins), beyond: 0, sides: margins };
    }
    return { at_kg: changing(m), margin_m: null, beyond: beyondSections(plane, level), sides: null };
  });
  return { low_kg: changing(from), high_kg: changing(to), inside, points };
}

/**
 * The sections that hold on a stretch, at one end of it as they are on its side: two parts that meet there in a corner
 * stay two. Along the height of a corner two strips hold, and then their sections together.
 */
function sectionsOfStretch(strips: readonly Strip[], plane: Plane, level: number): readonly Span[] {
  const [only, ...others] = strips;
  return only !== undefined && others.length === 0
    ? stripSections(only, level)
    : sectionsAt(strips, level, plane.floorV);
}

function stripsAt(plane: Plane, level: number): Strip[] {
  return plane.strips.filter(
    ({ low, high }) =>
      level >= low - toleranceAt(low, plane.floorV) && level <= high + toleranceAt(high, plane.floorV),
  );
}

function beyondSections({ strips }: Plane, level: number): number {
  return Math.max(strips[0]!.low - level, level - strips.at(-1)!.high, 0);
}
