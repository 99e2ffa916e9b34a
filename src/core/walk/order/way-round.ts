// How far it is on foot from one place at an aircraft to another: the shortest way that keeps a clearance from everything
// in its outline.
//
// Method: the clearance is drawn as a regular polygon of 16 corners round every corner of the outline, outside of the true
// circle, so that the clearance is kept and the way is at most 2 % longer than along true arcs; between those corners that
// lie free, the shortest path in the graph of all that see each other (Dijkstra). From memory.
// A place within the clearance, on top or inside is reached from the nearest free place on the ground.
// Metres, x aft, y right. Refuses (RangeError) an outline without points, and places that no way joins.
import { holds } from "../../sheet/polygon.ts";
import type { Point } from "../../sheet/obstacles.ts";

const corners = 16;
/** Rounding: a way that touches the clearance keeps it. */
const slack_m = 1e-9;

type Segment = readonly [Point, Point];

export class WayRound {
  readonly #lines: readonly (readonly Point[])[];
  readonly #segments: readonly Segment[];
  readonly #clearance_m: number;
  readonly #free: readonly Point[];
  readonly #sees: readonly (readonly number[])[];

  constructor(lines: readonly (readonly Point[])[], clearance_m: number) {
    this.#lines = lines;
    this.#clearance_m = clearance_m;
    this.#segments = lines.flatMap((line) =>
      line.length === 1
        ? [[line[0]!, line[0]!] as const]
        : line.slice(1).map((to, at): Segment => [line[at]!, to]),
    );
    if (this.#segments.length === 0) throw new RangeError("an outline without points cannot be walked round");
    const radius_m = clearance_m / Math.cos(Math.PI / corners);
    const round = lines.flat().flatMap(([x, y]) =>
      Array.from({ length: corners }, (_, corner): Point => {
        const angle = (2 * Math.PI * corner) / corners;
        return [x + radius_m * Math.cos(angle), y + radius_m * Math.sin(angle)];
      }),
    );
    this.#free = round.filter((point) => this.isFree(point));
    this.#sees = this.#free.map((from) => this.#seenFrom(from));
  }

  /** Neither inside a closed line nor nearer than the clearance to any line. */
  isFree(point: Point): boolean {
    return (
      this.#segments.every((segment) => distanceTo(point, segment) >= this.#clearance_m - slack_m) &&
      !this.#lines.some((line) => line.length > 3 && isClosed(line) && holds(line, point))
    );
  }

  /** The place on the ground from which a place is reached: itself where it is free. */
  groundOf(place: Point): Point {
    if (this.isFree(place)) return place;
    const beside = this.#segments.flatMap((segment) => besides(place, segment, this.#clearance_m));
    let nearest: Point | null = null;
    for (const candidate of [...this.#free, ...beside]) {
      if (nearest !== null && between(candidate, place) >= between(nearest, place)) continue;
      if (this.isFree(candidate)) nearest = candidate;
    }
    if (nearest === null) throw new RangeError("no place beside the outline is free");
    return nearest;
  }

  /** Shortest ways from a place to each of the others, in metres. */
  distances(from: Point, to: readonly Point[]): readonly number[] {
    const start = this.groundOf(from);
    const ends = to.map((place) => this.groundOf(place));
    const reached = this.#free.map(() => Infinity);
    for (const at of this.#seenFrom(start)) reached[at] = between(start, this.#free[at]!);
    this.#spread(reached);
    return ends.map((end) => {
      if (this.#isClear(start, end)) return between(start, end);
      let least = Infinity;
      for (const at of this.#seenFrom(end))
        least = Math.min(least, reached[at]! + between(this.#free[at]!, end));
      if (least === Infinity)
        throw new RangeError(`no way leads from ${start.join(", ")} to ${end.join(", ")}`);
      return least;
    });
  }

  /** Dijkstra over the free corners, from the distances given. */
  #spread(reached: number[]): void {
    const open = new Set(reached.keys());
    while (open.size > 0) {
      let next = -1;
      for (const at of open) if (next === -1 || reached[at]! < reached[next]!) next = at;
      open.delete(next);
      if (reached[next] === Infinity) return;
      for (const at of this.#sees[next]!) {
        const total = reached[next]! + between(this.#free[next]!, this.#free[at]!);
        if (total < reached[at]!) reached[at] = total;
      }
    }
  }

  #seenFrom(from: Point): readonly number[] {
    return this.#free.flatMap((to, at) => (to !== from && this.#isClear(from, to) ? [at] : []));
  }

  /** The straight way keeps the clearance: then it crosses no line either. */
  #isClear(from: Point, to: Point): boolean {
    return this.#segments.every((segment) => apart([from, to], segment) >= this.#clearance_m - slack_m);
  }
}

const between = ([ax, ay]: Point, [bx, by]: Point): number => Math.hypot(bx - ax, by - ay);

function isClosed(line: readonly Point[]): boolean {
  const [first, last] = [line[0]!, line.at(-1)!];
  return first[0] === last[0] && first[1] === last[1];
}

function shareAlong([x, y]: Point, [[ax, ay], [bx, by]]: Segment): number {
  const square = (bx - ax) ** 2 + (by - ay) ** 2;
  return square === 0 ? 0 : Math.min(1, Math.max(0, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / square));
}

function pointAlong([[ax, ay], [bx, by]]: Segment, share: number): Point {
  return [ax + (bx - ax) * share, ay + (by - ay) * share];
}

function distanceTo(point: Point, segment: Segment): number {
  return between(point, pointAlong(segment, shareAlong(point, segment)));
}

/** The least distance of two segments; 0 where they cross. */
function apart(a: Segment, b: Segment): number {
  const side = ([o, p]: Segment, q: Point): number =>
    (p[0] - o[0]) * (q[1] - o[1]) - (p[1] - o[1]) * (q[0] - o[0]);
  if (side(a, b[0]) * side(a, b[1]) < 0 && side(b, a[0]) * side(b, a[1]) < 0) return 0;
  return Math.min(distanceTo(a[0], b), distanceTo(a[1], b), distanceTo(b[0], a), distanceTo(b[1], a));
}

/** The two places straight out from the nearest point of a segment, a clearance and a hair away. */
function besides(place: Point, segment: Segment, clearance_m: number): readonly Point[] {
  const [[ax, ay], [bx, by]] = segment;
  const long = Math.hypot(bx - ax, by - ay);
  if (long === 0) return [];
  const [x, y] = pointAlong(segment, shareAlong(place, segment));
  const away_m = clearance_m * (1 + 1e-9);
  const [nx, ny] = [(-(by - ay) / long) * away_m, ((bx - ax) / long) * away_m];
  return [
    [x + nx, y + ny],
    [x - nx, y - ny],
  ];
}
