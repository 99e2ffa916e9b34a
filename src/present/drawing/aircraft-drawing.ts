// The drawing of an aircraft as the map of a walk: plan view, from the sheet's outline and stops, in pixels.
//
// A pure view model: paths to be stroked or filled by role, points, labels. The way walked is one line from stop to stop
// in the order they were visited; the way to come goes from where one stands through the stops that are left. Both run
// round the outside, never through the aircraft; to a stop on top leads a ladder.
// Seen from above: with the nose to the left the right side is at the top. In the sheet x is aft, y is right (metres).
import type { Outline } from "../../core/sheet/type-block.ts";
import { alongRing, isClear, outwardAt, ringOf } from "./ring.ts";
import type { Point, Ring } from "./ring.ts";
import { frameOf, margin } from "./frame.ts";
import type { Frame, Heading } from "./frame.ts";
import { placeStops } from "./places.ts";
import type { PlacedStop, StopSpot } from "./places.ts";
import { placeLabels } from "./labels.ts";
import type { Label } from "./labels.ts";
import { outlineShapes } from "./outline-shapes.ts";
import type { OutlineShapes } from "./outline-shapes.ts";
import { pathOf } from "./path.ts";

export type DrawnStop = StopSpot & { readonly name: string };

export type DrawingInput = {
  readonly outline: Outline;
  readonly stops: readonly DrawnStop[];
  /** Stop ids in the order they were visited; a stop may come twice. */
  readonly visited: readonly string[];
  readonly here: string | null;
  /** Stop ids left, in the order they will be walked, without `here`. */
  readonly ahead: readonly string[];
  /** Closures that are open now: their doors are drawn swung out. */
  readonly open: ReadonlySet<string>;
  /** Count of findings by stop. */
  readonly findings: ReadonlyMap<string, number>;
  /** `few`: here, next, findings and a handful of others. `all`: every one that finds a place. */
  readonly names: "few" | "all";
  readonly width: number;
  readonly heading: Heading;
};

export type StopState = "here" | "next" | "toCome" | "walked";

export type StopPoint = {
  readonly id: string;
  readonly name: string;
  readonly x: number;
  readonly y: number;
  readonly state: StopState;
  readonly findings: number;
};

export type AircraftDrawing = {
  readonly width: number;
  readonly height: number;
  readonly shapes: OutlineShapes;
  readonly walked: string;
  readonly toCome: string;
  /** A short stroke across the way at every stop. */
  readonly stopTicks: string;
  readonly findingTicks: string;
  /** Ladders to the stops on top. */
  readonly ladders: string;
  readonly here: Point | null;
  readonly stops: readonly StopPoint[];
  readonly labels: readonly Label[];
};

const clearance_m = 0.75;
/** WCAG 2.2, 2.5.8: targets may lie nearer than their size when circles of 24 px round them do not meet. */
const leastGap = 25;
export const nameSize = 14;

/** The drawing at a width. Refuses (RangeError) a stop id that is not among the stops. */
export function drawAircraft(input: DrawingInput): AircraftDrawing {
  const { outline, stops, width, heading } = input;
  const ring = ringOf(outline, clearance_m);
  const roughScale = Math.max(1, width - 2 * margin) / (ring.length / 2);
  const placed = placeStops(stops, ring, leastGap / roughScale);
  const frame = frameOf([...ring.points, ...placed.map(({ spot }) => spot)], width, heading);
  const byId = new Map(placed.map((stop) => [stop.id, stop]));
  const find = (id: string): PlacedStop => {
    const stop = byId.get(id);
    if (stop === undefined) throw new RangeError(`no stop ${JSON.stringify(id)} in this drawing`);
    return stop;
  };
  const { visited, here, ahead } = input;
  const walkedStops = [...visited, ...(here === null ? [] : [here])].map(find);
  const last = here ?? visited.at(-1);
  const comingStops = [...(last === undefined ? [] : [last]), ...ahead].map(find);
  const points = stopPoints(input, placed, frame);
  return {
    width,
    height: frame.height,
    shapes: outlineShapes(outline, input.open, frame),
    walked: pathOf(wayThrough(walkedStops, ring).map(frame.to)),
    toCome: pathOf(wayThrough(comingStops, ring).map(frame.to)),
    stopTicks: placed.map((stop) => tick(stop, ring, frame, 3.5)).join(""),
    findingTicks: placed
      .map((stop) => findingTicks(stop, input.findings.get(stop.id) ?? 0, ring, frame))
      .join(""),
    ladders: placed.map((stop) => ladder(stop, frame)).join(""),
    here: here === null ? null : frame.to(standing(find(here))),
    stops: points,
    labels: labelsOf(input, placed, points, ring, frame),
  };
}

/** Where the stop itself is shown: on top, or where one stands. */
function standing({ top, spot }: PlacedStop): Point {
  return top ?? spot;
}

/** From stop to stop: straight where that leaves the aircraft alone, else along the ring. Metres. */
export function wayThrough(stops: readonly PlacedStop[], ring: Ring): readonly Point[] {
  return stops.flatMap((stop, index): readonly Point[] => {
    const before = stops[index - 1];
    if (before === undefined) return [stop.spot];
    const offRing = before.spot !== before.foot || stop.spot !== stop.foot;
    if (offRing && isClear(ring, before.spot, stop.spot)) return [stop.spot];
    return [...alongRing(ring, before.foot_m, stop.foot_m), stop.spot];
  });
}

/** A ladder from where one stands to a stop on top: two rails and rungs. Pixels. */
function ladder({ spot, top }: PlacedStop, { to }: Frame): string {
  if (top === null) return "";
  const [ax, ay] = to(spot);
  const [bx, by] = to(top);
  const long = Math.hypot(bx - ax, by - ay);
  const [dx, dy] = [(bx - ax) / long, (by - ay) / long];
  const at = (along: number, aside: number): Point => [
    ax + dx * along - dy * aside,
    ay + dy * along + dx * aside,
  ];
  const rungs = Math.floor((long - 8) / 5);
  return [
    pathOf([at(6, -3), at(long, -3)]),
    pathOf([at(6, 3), at(long, 3)]),
    ...Array.from({ length: Math.max(0, rungs) }, (_, rung) =>
      pathOf([at(9 + rung * 5, -3), at(9 + rung * 5, 3)]),
    ),
  ].join("");
}

function stopPoints(
  { stops, visited, here, ahead, findings }: DrawingInput,
  placed: readonly PlacedStop[],
  frame: Frame,
) {
  const seen = new Set(visited);
  const stateOf = (id: string): StopState =>
    id === here
      ? "here"
      : id === ahead[0]
        ? "next"
        : seen.has(id) && !ahead.includes(id)
          ? "walked"
          : "toCome";
  return stops.map((stop, index): StopPoint => {
    const [x, y] = frame.to((placed[index] as PlacedStop).spot);
    return {
      id: stop.id,
      name: stop.name,
      x,
      y,
      state: stateOf(stop.id),
      findings: findings.get(stop.id) ?? 0,
    };
  });
}

/** Outward at a stop, in pixels, of length 1. */
function outward(stop: PlacedStop, ring: Ring, frame: Frame): Point {
  const [ox, oy] = outwardAt(ring, stop.foot_m);
  const [ax, ay] = frame.to(stop.foot);
  const [bx, by] = frame.to([stop.foot[0] + ox, stop.foot[1] + oy]);
  const long = Math.hypot(bx - ax, by - ay) || 1;
  return [(bx - ax) / long, (by - ay) / long];
}

function tick(stop: PlacedStop, ring: Ring, frame: Frame, half: number): string {
  const [ox, oy] = outward(stop, ring, frame);
  const [x, y] = frame.to(stop.spot);
  return pathOf([
    [x - ox * half, y - oy * half],
    [x + ox * half, y + oy * half],
  ]);
}

/** One heavy stroke per finding, side by side, from the way toward the aircraft where it was seen; three at most. */
function findingTicks(stop: PlacedStop, count: number, ring: Ring, frame: Frame): string {
  const shown = Math.min(3, count);
  const [ox, oy] = outward(stop, ring, frame);
  const [x, y] = frame.to(stop.spot);
  return Array.from({ length: shown }, (_, index) => {
    const aside = (index - (shown - 1) / 2) * 5;
    const [sx, sy] = [x - oy * aside, y + ox * aside];
    return pathOf([
      [sx - ox * 5, sy - oy * 5],
      [sx - ox * 15, sy - oy * 15],
    ]);
  }).join("");
}

function labelsOf(
  { names, here, ahead, visited }: DrawingInput,
  placed: readonly PlacedStop[],
  points: readonly StopPoint[],
  ring: Ring,
  frame: Frame,
): readonly Label[] {
  const rank = ({ id, findings }: StopPoint): number => {
    if (id === here) return 0;
    if (findings > 0) return 1;
    if (id === ahead[0]) return 2;
    return id === ahead.at(-1) || id === visited[0] ? 3 : 4;
  };
  const ordered = points
    .map((point, index) => ({ point, stop: placed[index] as PlacedStop, rank: rank(point) }))
    .toSorted((a, b) => a.rank - b.rank);
  const chosen = names === "all" ? ordered : thinned(ordered);
  // Every fifth point of the ring, half a metre apart: closer than any name is long.
  const way = ring.points
    .filter((_, index, all) => index % 5 === 0 || index === all.length - 1)
    .map(frame.to);
  return placeLabels(
    chosen.map(({ point, stop, rank: order }) => ({
      id: point.id,
      text: point.name,
      point: frame.to(stop.spot),
      outward: outward(stop, ring, frame),
      strong: order === 0,
      must: order === 0,
    })),
    {
      width: frame.width,
      height: frame.height,
      inside: way,
      keepClear: [...way, ...points.map(({ x, y }): Point => [x, y])],
      size: nameSize,
    },
  );
}

type Ranked = { readonly point: StopPoint; readonly stop: PlacedStop; readonly rank: number };

/** All that matter, and of the rest only those far from every name already chosen. */
function thinned(ordered: readonly Ranked[]): readonly Ranked[] {
  const apart = 84;
  const chosen: Ranked[] = [];
  for (const candidate of ordered) {
    const near = chosen.some(
      ({ point }) => Math.hypot(point.x - candidate.point.x, point.y - candidate.point.y) < apart,
    );
    if (candidate.rank <= 2 || !near) chosen.push(candidate);
  }
  return chosen;
}
