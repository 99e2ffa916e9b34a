// A limit drawn as a polygon in a plane of two coordinates a and b, and where a point lies against it.
//
// In an envelope of centre of gravity against mass, a is the arm in m and b the mass in kg; in a coupled one, a is the
// longitudinal and b the lateral arm, both in m. The two axes have different units, so no distance across the plane is
// ever taken: a point is compared with the outline along a alone or along b alone.
//
// Accepted: either sense of turning, the first corner repeated at the end, doubled corners, corners on a straight line,
// non-convex outlines. Refused, all at once, each with its path: not a list of pairs of finite numbers, numbers beyond
// 1e9 or of magnitude below 1e-100 but not 0, fewer than three different corners or no area (an outline that does not
// close around anything), an outline that crosses or touches itself, more than 200 corners.
//
// A point on the outline is inside. So is one within a relative 1e-9 of it along a, or along b, or of a corner in both,
// so that every engine agrees although each rounds differently. Where the limit is near zero (a lateral limit through
// the centre line) a relative margin vanishes; there 1e-12 of the outline's largest coordinate is the margin.
//
// For sections the outline is cut into strips at the b (or a) of every corner. Within a strip no edge ends and none
// cross, so its edges stand in one order from side to side, and the inside lies between the 1st and 2nd, 3rd and 4th, …
// (trapezoidal decomposition: M. de Berg and others, Computational Geometry, 3rd edition, 2008, section 6.1).

import { onLimit } from "../quantity/compare.ts";
import { atIndex, describe, type Issue } from "../quantity/refusal.ts";
import { orientation } from "./orientation.ts";

export type Corner = readonly [a: number, b: number];

/** An edge as a line across a strip: from (u0, v0) to (u1, v1), v0 < v1, where v is what the strips are cut by. */
export type StripEdge = {
  readonly u0: number;
  readonly v0: number;
  readonly u1: number;
  readonly v1: number;
};

/** `edges` in ascending u, an even number of them; all reach from `low` to `high`. */
export type Strip = { readonly low: number; readonly high: number; readonly edges: readonly StripEdge[] };

export type Outline = {
  /** Without doubled corners. */
  readonly corners: readonly Corner[];
  /** Cut by b, ascending: sections along a. */
  readonly byB: readonly Strip[];
  /** Cut by a, ascending: sections along b. */
  readonly byA: readonly Strip[];
  /** The absolute tolerances where a limit is near zero. */
  readonly floorA: number;
  readonly floorB: number;
};

export type Span = readonly [low: number, high: number];

const floorPart = 1e-12;
const largest = 1e9;
const smallest = 1e-100;
const mostCorners = 200;

/** How far from a limit a value may be and still count as on it. */
export function toleranceAt(limit: number, floor: number): number {
  return Math.max(onLimit * Math.abs(limit), floor);
}

/** The outline, or null with what is wrong with it added to `issues`. `path` is where the list stands. */
export function readOutline(points: unknown, path: string, issues: Issue[]): Outline | null {
  const before = issues.length;
  const corners = readCorners(points, path, issues);
  if (issues.length > before) return null;
  addShapeIssues(corners, path, issues);
  if (issues.length > before) return null;
  return buildOutline(corners);
}

function readCorners(points: unknown, path: string, issues: Issue[]): Corner[] {
  if (!Array.isArray(points)) {
    issues.push({ path, code: "wrongKind", found: describe(points), wanted: "a list of corners" });
    return [];
  }
  if (points.length > mostCorners) {
    issues.push({
      path,
      code: "outsideDomain",
      found: describe(points),
      wanted: `at most ${mostCorners} corners`,
    });
    return [];
  }
  const corners: Corner[] = [];
  for (const [index, point] of (points as readonly unknown[]).entries()) {
    const where = atIndex(path, index);
    if (!Array.isArray(point) || point.length !== 2) {
      issues.push({ path: where, code: "wrongKind", found: describe(point), wanted: "a pair of numbers" });
      continue;
    }
    const a = readCoordinate(point[0], atIndex(where, 0), issues);
    const b = readCoordinate(point[1], atIndex(where, 1), issues);
    const last = corners.at(-1);
    if (last === undefined || last[0] !== a || last[1] !== b) corners.push([a, b]);
  }
  const first = corners[0];
  const last = corners.at(-1);
  if (corners.length > 1 && first![0] === last![0] && first![1] === last![1]) corners.pop();
  return corners;
}

function readCoordinate(value: unknown, path: string, issues: Issue[]): number {
  const magnitude = typeof value === "number" ? Math.abs(value) : Number.NaN;
  if (magnitude === 0 || (magnitude >= smallest && magnitude <= largest)) return value as number;
  const code =
    typeof value !== "number" ? "notANumber" : Number.isFinite(value) ? "outsideDomain" : "notFinite";
  issues.push({ path, code, found: describe(value), wanted: `a number between -${largest} and ${largest}` });
  return 0;
}

function addShapeIssues(corners: readonly Corner[], path: string, issues: Issue[]): void {
  const count = corners.length;
  const few = count < 3;
  if (few || corners.every((corner) => turn(corners[0]!, corners[1]!, corner) === 0)) {
    const found = few ? `${count} different corners` : "corners on one line";
    issues.push({ path, code: "impossible", found, wanted: "an outline that closes around an area" });
    return;
  }
  for (let i = 0; i < count; i += 1) {
    for (let j = i + 1; j < count; j += 1) {
      if (!edgesClash(corners, i, j)) continue;
      const found = `edge ${i} meets edge ${j}`;
      issues.push({
        path,
        code: "contradiction",
        found,
        wanted: "an outline that does not cross or touch itself",
      });
    }
  }
}

/** Whether two edges (each from its corner to the next) share more than the corner that neighbours must share. */
function edgesClash(corners: readonly Corner[], i: number, j: number): boolean {
  const count = corners.length;
  const [p, q] = [corners[i]!, corners[(i + 1) % count]!];
  const [r, s] = [corners[j]!, corners[(j + 1) % count]!];
  if (j === i + 1) return foldsBack(p, q, s);
  if ((j + 1) % count === i) return foldsBack(r, p, q);
  const [pqr, pqs, rsp, rsq] = [turn(p, q, r), turn(p, q, s), turn(r, s, p), turn(r, s, q)];
  if (pqr * pqs < 0 && rsp * rsq < 0) return true;
  return (
    (pqr === 0 && withinBox(p, q, r)) ||
    (pqs === 0 && withinBox(p, q, s)) ||
    (rsp === 0 && withinBox(r, s, p)) ||
    (rsq === 0 && withinBox(r, s, q))
  );
}

/** Whether the edge from `middle` runs back along the edge that came to it. */
function foldsBack(from: Corner, middle: Corner, to: Corner): boolean {
  return turn(from, middle, to) === 0 && (withinBox(from, middle, to) || withinBox(middle, to, from));
}

function turn(p: Corner, q: Corner, r: Corner): -1 | 0 | 1 {
  return orientation(p[0], p[1], q[0], q[1], r[0], r[1]);
}

/** For a point on the line through p and q: whether it is between them, ends included. */
function withinBox(p: Corner, q: Corner, point: Corner): boolean {
  return between(p[0], point[0], q[0]) && between(p[1], point[1], q[1]);
}

function between(end: number, value: number, otherEnd: number): boolean {
  return value >= Math.min(end, otherEnd) && value <= Math.max(end, otherEnd);
}

function buildOutline(corners: readonly Corner[]): Outline {
  return {
    corners,
    byB: cutIntoStrips(corners.map(([a, b]) => [a, b])),
    byA: cutIntoStrips(corners.map(([a, b]) => [b, a])),
    floorA: floorPart * Math.max(...corners.map(([a]) => Math.abs(a))),
    floorB: floorPart * Math.max(...corners.map(([, b]) => Math.abs(b))),
  };
}

/** Strips between neighbouring v of the points (u, v). */
function cutIntoStrips(points: readonly (readonly [u: number, v: number])[]): Strip[] {
  const edges: StripEdge[] = [];
  for (const [index, [u0, v0]] of points.entries()) {
    const [u1, v1] = points[(index + 1) % points.length]!;
    if (v0 < v1) edges.push({ u0, v0, u1, v1 });
    if (v0 > v1) edges.push({ u0: u1, v0: v1, u1: u0, v1: v0 });
  }
  const cuts = [...new Set(points.map(([, v]) => v))].sort((v, w) => v - w);
  return cuts.slice(1).map((high, index) => {
    const low = cuts[index]!;
    const middle = low + (high - low) / 2;
    const across = edges.filter((edge) => edge.v0 <= low && edge.v1 >= high);
    return { low, high, edges: across.sort((e, f) => edgeAt(e, middle) - edgeAt(f, middle)) };
  });
}

/** The u of an edge at v, exact at its ends. */
export function edgeAt(edge: StripEdge, v: number): number {
  if (v === edge.v0) return edge.u0;
  if (v === edge.v1) return edge.u1;
  return edge.u0 + ((edge.u1 - edge.u0) / (edge.v1 - edge.v0)) * (v - edge.v0);
}

/**
 * The parts of the line at v that are inside, ascending and apart from each other; empty when none are. At the v of a
 * corner the strips on both sides count, since the outline belongs to the inside; v within tolerance of it counts as it.
 */
export function sectionsAt(strips: readonly Strip[], v: number, floor: number): Span[] {
  const spans: [number, number][] = [];
  for (const strip of strips) {
    if (v < strip.low - toleranceAt(strip.low, floor) || v > strip.high + toleranceAt(strip.high, floor))
      continue;
    spans.push(...stripSections(strip, v));
  }
  return joinSpans(spans);
}

/** The sections of one strip at v, or at its nearer end where v is beyond it; kept apart where they only touch. */
export function stripSections({ low, high, edges }: Strip, v: number): [number, number][] {
  const at = v < low ? low : v > high ? high : v;
  const spans: [number, number][] = [];
  for (let i = 0; i < edges.length; i += 2) spans.push([edgeAt(edges[i]!, at), edgeAt(edges[i + 1]!, at)]);
  return spans;
}

function joinSpans(spans: readonly [number, number][]): Span[] {
  const joined: [number, number][] = [];
  for (const [low, high] of spans.toSorted((s, t) => s[0] - t[0])) {
    const last = joined.at(-1);
    if (last !== undefined && low <= last[1]) last[1] = Math.max(last[1], high);
    else joined.push([low, high]);
  }
  return joined;
}

/** Where a point lies, with no tolerance at all. */
export function placeOf(outline: Outline, a: number, b: number): "inside" | "edge" | "outside" {
  let inside = false;
  const { corners } = outline;
  for (const [index, p] of corners.entries()) {
    const q = corners[(index + 1) % corners.length]!;
    const side = orientation(p[0], p[1], q[0], q[1], a, b);
    if (side === 0 && between(p[0], a, q[0]) && between(p[1], b, q[1])) return "edge";
    // A ray towards larger a; an edge counts when it leaves b on one side only, its lower end included.
    const upward = p[1] <= b && q[1] > b;
    const downward = q[1] <= b && p[1] > b;
    if ((upward && side > 0) || (downward && side < 0)) inside = !inside;
  }
  return inside ? "inside" : "outside";
}

/** Whether a point is inside, or on the outline within the tolerances above. */
export function isWithin(outline: Outline, a: number, b: number): boolean {
  return placeOf(outline, a, b) !== "outside" || isOnOutline(outline, a, b);
}

function isOnOutline(outline: Outline, a: number, b: number): boolean {
  const { byA, byB, floorA, floorB } = outline;
  return (
    outline.corners.some(
      ([cornerA, cornerB]) =>
        Math.abs(a - cornerA) <= toleranceAt(cornerA, floorA) &&
        Math.abs(b - cornerB) <= toleranceAt(cornerB, floorB),
    ) ||
    isNearEdge(byB, a, b, floorA) ||
    isNearEdge(byA, b, a, floorB)
  );
}

function isNearEdge(strips: readonly Strip[], u: number, v: number, floor: number): boolean {
  for (const strip of strips) {
    if (v < strip.low || v > strip.high) continue;
    for (const edge of strip.edges) {
      const limit = edgeAt(edge, v);
      if (Math.abs(u - limit) <= toleranceAt(limit, floor)) return true;
    }
  }
  return false;
}
