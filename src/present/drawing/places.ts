// Where each stop stands in the drawing: on the ring, a little way out from it, or on top of the aircraft.
//
// A stop on the ring keeps its order along it and a least distance to its neighbours, so that every stop can be told and
// tapped; the drawing is a map, not a survey. All in metres, x aft, y right.
import type { Stop } from "../../core/sheet/walk-blocks.ts";
import { isWithin, nearestOnRing, pointOnRing } from "./ring.ts";
import type { Point, Ring } from "./ring.ts";

export type PlacedStop = {
  readonly id: string;
  /** Where along the ring one comes to it, and the point there. */
  readonly foot_m: number;
  readonly foot: Point;
  /** Where one stands: the foot, or further out from it. */
  readonly spot: Point;
  /** A place on top of the aircraft that is reached from the foot by a ladder; else null. */
  readonly top: Point | null;
};

export type StopSpot = Pick<Stop, "id" | "x_m" | "y_m" | "access">;

/** A stop that lies further out than this from the ring is drawn apart from it. */
const apart_m = 0.6;
/** How far out at most, so that one far stop does not make everything else small. */
const furthest_m = 1.1;

export function placeStops(
  stops: readonly StopSpot[],
  ring: Ring,
  leastGap_m: number,
): readonly PlacedStop[] {
  const wanted = inWalkOrder(
    stops.map(({ x_m, y_m }) => nearestOnRing(ring, [x_m, y_m])),
    ring.length,
  );
  const feet = spread(wanted, ring.length, leastGap_m);
  return stops.map((stop, index) => {
    const foot_m = feet[index] as number;
    const foot = pointOnRing(ring, foot_m);
    const nearest = pointOnRing(ring, wanted[index] as number);
    const top = stop.access === "top" ? ([stop.x_m, stop.y_m] as const) : null;
    return { id: stop.id, foot_m, foot, spot: spotOf(stop, nearest, foot, ring), top };
  });
}

function spotOf({ x_m, y_m, access }: StopSpot, nearest: Point, foot: Point, ring: Ring): Point {
  if (access === "top") return foot;
  const [dx, dy] = [x_m - nearest[0], y_m - nearest[1]];
  const distance = Math.hypot(dx, dy);
  if (distance < apart_m || isWithin(ring.points, [x_m, y_m])) return foot;
  const share = Math.min(distance, furthest_m) / distance;
  return [foot[0] + dx * share, foot[1] + dy * share];
}

/** Stops that share one place are set a hair apart, in the direction in which the walk passes there. */
function inWalkOrder(wanted: readonly number[], length: number): readonly number[] {
  const turn = (from: number, to: number) => {
    const forward = (((to - from) % length) + length) % length;
    return forward <= length / 2 ? forward : forward - length;
  };
  return wanted.map((value, index) => {
    const before = wanted[Math.max(0, index - 2)] ?? value;
    const after = wanted[Math.min(wanted.length - 1, index + 2)] ?? value;
    return value + Math.sign(turn(before, after)) * index * 1e-3;
  });
}

/** Pushes values on a circle apart to a least gap, keeping their order; with too many of them, to even gaps. */
export function spread(wanted: readonly number[], length: number, leastGap: number): readonly number[] {
  const count = wanted.length;
  const gap = Math.min(leastGap, (length / Math.max(1, count)) * 0.98);
  const order = wanted
    .map((_, index) => index)
    .toSorted((a, b) => (wanted[a] as number) - (wanted[b] as number) || a - b);
  const feet = order.map((index) => wanted[index] as number);
  for (let round = 0; round < 200; round += 1) {
    let moved = 0;
    for (let index = 0; index < count && count > 1; index += 1) {
      const next = (index + 1) % count;
      const distance = (feet[next] as number) - (feet[index] as number) + (next === 0 ? length : 0);
      const missing = gap - distance;
      if (missing <= 1e-6) continue;
      feet[index] = (feet[index] as number) - missing / 2;
      feet[next] = (feet[next] as number) + missing / 2;
      moved = Math.max(moved, missing);
    }
    if (moved < 1e-3) break;
  }
  const spreadOut: number[] = [];
  order.forEach((index, place) => (spreadOut[index] = feet[place] as number));
  return spreadOut;
}
