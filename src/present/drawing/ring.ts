// The way round an aircraft seen from above: one closed line outside of everything that stands in the outline.
//
// Metres, x aft, y right, as in the sheet. The outline is taken column by column (how far it reaches to the left and to
// the right at each x) and grown by a clearance in every direction, so the line follows fuselage, boom and tail, and no
// part of it lies nearer to the outline than the clearance, less what softening its corners takes (a fifth at most).
// Refuses (RangeError) an outline without points.
import { obstacles } from "../../core/sheet/obstacles.ts";
import type { Point } from "../../core/sheet/obstacles.ts";
import type { Outline } from "../../core/sheet/type-block.ts";

export type { Point };

/** A closed line; `at[i]` is the distance walked from the first point to point i. Round by the right side, back by the left. */
export type Ring = {
  readonly points: readonly Point[];
  readonly at: readonly number[];
  readonly length: number;
};

const step_m = 0.1;
/** Bays are rounded to at least this radius. */
const turn_m = 3;

type Columns = {
  readonly from_m: number;
  readonly left: readonly number[];
  readonly right: readonly number[];
};

/** How far the outline reaches at each column; columns that nothing crosses take the line between their neighbours. */
function columnsOf(lines: readonly (readonly Point[])[]): Columns {
  const points = lines.flat();
  if (points.length === 0) throw new RangeError("an outline without points cannot be walked round");
  const from_m = Math.min(...points.map(([x]) => x));
  const count = Math.ceil((Math.max(...points.map(([x]) => x)) - from_m) / step_m) + 1;
  const left: (number | null)[] = Array.from({ length: count }, () => null);
  const right: (number | null)[] = Array.from({ length: count }, () => null);
  const reach = (x: number, y: number) => {
    // A point between two columns counts for both, so that no corner is cut.
    for (const column of new Set([Math.floor((x - from_m) / step_m), Math.ceil((x - from_m) / step_m)])) {
      if (column < 0 || column >= count) continue;
      left[column] = Math.min(left[column] ?? y, y);
      right[column] = Math.max(right[column] ?? y, y);
    }
  };
  for (const line of lines) {
    line.forEach(([x, y], index) => {
      const [nextX, nextY] = line[index + 1] ?? [x, y];
      const pieces = Math.max(1, Math.ceil(Math.abs(nextX - x) / (step_m / 2)));
      for (let piece = 0; piece <= pieces; piece += 1) {
        reach(x + ((nextX - x) * piece) / pieces, y + ((nextY - y) * piece) / pieces);
      }
    });
  }
  return { from_m, left: filled(left), right: filled(right) };
}

function filled(values: readonly (number | null)[]): readonly number[] {
  let known = values.findIndex((value) => value !== null);
  return values.map((value, index) => {
    if (value !== null) {
      known = index;
      return value;
    }
    const next = values.findIndex((later, at) => at > index && later !== null);
    const [before, after] = [values[known] ?? 0, values[next] ?? values[known] ?? 0];
    return next < 0 ? before : before + ((after - before) * (index - known)) / (next - known);
  });
}

/** One side grown by a distance in every direction: the envelope of circles round its points. */
function grown(side: readonly number[], by_m: number): readonly number[] {
  const reach = Math.round(by_m / step_m);
  return Array.from({ length: side.length + 2 * reach }, (_, column) => {
    let outermost = -Infinity;
    for (let shift = -reach; shift <= reach; shift += 1) {
      const value = side[column - reach + shift];
      if (value === undefined) continue;
      outermost = Math.max(outermost, value + Math.sqrt(Math.max(0, by_m ** 2 - (shift * step_m) ** 2)));
    }
    return outermost;
  });
}

/** The opposite of `grown`: what is left of a side when every outside point takes a distance from it. */
function shrunk(side: readonly number[], by_m: number): readonly number[] {
  const reach = Math.round(by_m / step_m);
  return Array.from({ length: side.length - 2 * reach }, (_, column) => {
    let innermost = Infinity;
    for (let shift = -reach; shift <= reach; shift += 1) {
      const value = side[column + reach + shift];
      if (value === undefined) continue;
      innermost = Math.min(innermost, value - Math.sqrt(Math.max(0, by_m ** 2 - (shift * step_m) ** 2)));
    }
    return innermost;
  });
}

/** The way round an outline at a clearance in metres. */
export function ringOf(outline: Outline, clearance_m: number): Ring {
  const { from_m, left, right } = columnsOf(obstacles(outline));
  // Grown further and shrunk back, a bay that is narrower than a person's turn is walked past, not into; what is left is
  // nowhere nearer than the clearance.
  const outside = (side: readonly number[]) => shrunk(grown(side, clearance_m + turn_m), turn_m);
  const rightSide = outside(right);
  const leftSide = outside(left.map((y) => -y)).map((y) => -y);
  const start_m = from_m - Math.round(clearance_m / step_m) * step_m;
  const down = rightSide.map((y, column): Point => [start_m + column * step_m, y]);
  const back = leftSide.map((y, column): Point => [start_m + column * step_m, y]).toReversed();
  return closed(softened(evenly(closed([...down, ...back]))));
}

/** The same line by points at even distances, so that averaging treats steep and flat parts alike. */
function evenly(ring: Ring): readonly Point[] {
  const count = Math.max(8, Math.round(ring.length / step_m));
  return Array.from({ length: count }, (_, index) => pointOnRing(ring, (ring.length * index) / count));
}

/** Corners taken off a closed line by averaging over about a metre, twice. */
function softened(points: readonly Point[]): readonly Point[] {
  const reach = 4;
  const once = (line: readonly Point[]) =>
    line.map((_, index): Point => {
      let [x, y] = [0, 0];
      for (let shift = -reach; shift <= reach; shift += 1) {
        const [px, py] = line[(index + shift + line.length) % line.length] as Point;
        x += px;
        y += py;
      }
      return [x / (2 * reach + 1), y / (2 * reach + 1)];
    });
  return once(once(points));
}

function closed(points: readonly Point[]): Ring {
  const loop = [...points, points[0] as Point];
  const at = [0];
  loop.slice(1).forEach(([x, y], index) => {
    const [lastX, lastY] = loop[index] as Point;
    at.push((at[index] as number) + Math.hypot(x - lastX, y - lastY));
  });
  return { points: loop, at, length: at.at(-1) as number };
}

/** The distance along the ring of its point nearest to a place. */
export function nearestOnRing({ points, at }: Ring, [x, y]: Point): number {
  let best = 0;
  let nearest = Infinity;
  points.forEach(([px, py], index) => {
    const distance = Math.hypot(px - x, py - y);
    if (distance < nearest) [nearest, best] = [distance, at[index] as number];
  });
  return best;
}

/** The point of the ring at a distance along it; distances wrap round. */
export function pointOnRing({ points, at, length }: Ring, distance_m: number): Point {
  const wanted = ((distance_m % length) + length) % length;
  let low = 0;
  let high = at.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((at[middle] as number) <= wanted) low = middle;
    else high = middle;
  }
  const [a, b] = [points[low] as Point, points[high] as Point];
  const [from, to] = [at[low] as number, at[high] as number];
  const share = to > from ? (wanted - from) / (to - from) : 0;
  return [a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share];
}

/** The shorter way along the ring from one distance to another, both ends included. */
export function alongRing(ring: Ring, from_m: number, to_m: number): readonly Point[] {
  const forward = (((to_m - from_m) % ring.length) + ring.length) % ring.length;
  const way = forward <= ring.length / 2 ? forward : forward - ring.length;
  const pieces = Math.max(1, Math.ceil(Math.abs(way) / step_m));
  return Array.from({ length: pieces + 1 }, (_, piece) => pointOnRing(ring, from_m + (way * piece) / pieces));
}

/** Outward direction at a distance along the ring, of length 1. */
export function outwardAt(ring: Ring, distance_m: number): Point {
  const [ax, ay] = pointOnRing(ring, distance_m - step_m * 3);
  const [bx, by] = pointOnRing(ring, distance_m + step_m * 3);
  const long = Math.hypot(bx - ax, by - ay) || 1;
  // The ring runs aft along the right side: outside lies to the right hand of that way, seen with y to the right.
  return [-(by - ay) / long, (bx - ax) / long];
}

/** Whether a point lies inside a closed line (even-odd rule). */
export function isWithin(line: readonly Point[], [x, y]: Point): boolean {
  let within = false;
  line.slice(1).forEach(([bx, by], index) => {
    const [ax, ay] = line[index] as Point;
    if (ay > y !== by > y && x < ax + ((bx - ax) * (y - ay)) / (by - ay)) within = !within;
  });
  return within;
}

/** Whether a straight way from one place to another leaves the inside of the ring alone (looked at every 10 cm). */
export function isClear(ring: Ring, from: Point, to: Point): boolean {
  const pieces = Math.max(2, Math.ceil(Math.hypot(to[0] - from[0], to[1] - from[1]) / step_m));
  for (let piece = 1; piece < pieces; piece += 1) {
    const share = piece / pieces;
    const at: Point = [from[0] + (to[0] - from[0]) * share, from[1] + (to[1] - from[1]) * share];
    if (isWithin(ring.points, at)) return false;
  }
  return true;
}
