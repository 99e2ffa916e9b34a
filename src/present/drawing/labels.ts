// Places the names of stops beside their points so that no name lies on another, on the way, or outside the picture.
//
// Greedy, in the order of importance that the caller gives: each label tries the directions round its point, the outward
// one first, near before far, and takes the first free place. A label that finds none is left out, unless it must be
// shown: then it takes the place with the least overlap. Pixels; y down.
import { textWidth } from "./text-width.ts";
import { isWithin } from "./ring.ts";
import type { Point } from "./ring.ts";

export type LabelWanted = {
  readonly id: string;
  readonly text: string;
  readonly point: Point;
  /** Direction away from the aircraft, of length 1. */
  readonly outward: Point;
  readonly strong: boolean;
  readonly must: boolean;
};

export type Label = {
  readonly id: string;
  readonly lines: readonly string[];
  /** Where the first line's baseline stands, and which end of it. */
  readonly x: number;
  readonly y: number;
  readonly anchor: "start" | "middle" | "end";
  readonly strong: boolean;
};

export type LabelRoom = {
  readonly width: number;
  readonly height: number;
  /** Points that no label may lie on: the way and the stops. */
  readonly keepClear: readonly Point[];
  /** The closed line inside which the aircraft lies: no label may stand there. */
  readonly inside: readonly Point[];
  readonly size: number;
};

type Box = { readonly x0: number; readonly y0: number; readonly x1: number; readonly y1: number };

const lineHeight = 1.12;
const longestLine = 16;
const distances = [13, 19, 26, 34];
const turns = [0, 30, -30, 60, -60, 90, -90, 120, -120];

export function placeLabels(wanted: readonly LabelWanted[], room: LabelRoom): readonly Label[] {
  const taken: Box[] = [];
  const labels: Label[] = [];
  for (const want of wanted) {
    const choice = choose(want, taken, room);
    if (choice === null) continue;
    taken.push(choice.box);
    labels.push(choice.label);
  }
  return labels;
}

type Candidate = { readonly label: Label; readonly box: Box; readonly cost: number };

function choose(want: LabelWanted, taken: readonly Box[], room: LabelRoom): Candidate | null {
  const lines = wrapped(want.text);
  let best: Candidate | null = null;
  for (const distance of distances) {
    for (const turn of turns) {
      const candidate = candidateAt(want, lines, distance, turn, taken, room);
      if (candidate.cost === 0) return candidate;
      if (best === null || candidate.cost < best.cost) best = candidate;
    }
  }
  return want.must ? best : null;
}

/** Two lines at most, broken at the blank that leaves them most alike; a word is never broken. */
export function wrapped(text: string): readonly string[] {
  if (text.length <= longestLine) return [text];
  const words = text.split(" ");
  let best: readonly string[] = [text];
  let longest = text.length;
  for (let at = 1; at < words.length; at += 1) {
    const lines = [words.slice(0, at).join(" "), words.slice(at).join(" ")];
    const length = Math.max(...lines.map((line) => line.length));
    if (length < longest) [longest, best] = [length, lines];
  }
  return best;
}

function candidateAt(
  want: LabelWanted,
  lines: readonly string[],
  distance: number,
  turn_deg: number,
  taken: readonly Box[],
  room: LabelRoom,
): Candidate {
  const { size } = room;
  const angle = Math.atan2(want.outward[1], want.outward[0]) + (turn_deg * Math.PI) / 180;
  const [dx, dy] = [Math.cos(angle), Math.sin(angle)];
  const [x, y] = [want.point[0] + dx * distance, want.point[1] + dy * distance];
  const anchor = dx > 0.4 ? "start" : dx < -0.4 ? "end" : "middle";
  const width = Math.max(...lines.map((line) => textWidth(line, size)));
  const height = lines.length * size * lineHeight;
  const x0 = anchor === "start" ? x : anchor === "end" ? x - width : x - width / 2;
  // Straight above or below, the box hangs from its near edge; to the side it is centred.
  const y0 = dy < -0.6 ? y - height : dy > 0.6 ? y : y - height / 2;
  const box = { x0, y0, x1: x0 + width, y1: y0 + height };
  const label = { id: want.id, lines, x, y: y0 + size * 0.86, anchor, strong: want.strong } as const;
  return { label, box, cost: costOf(box, taken, room) };
}

function costOf(box: Box, taken: readonly Box[], { width, height, keepClear, inside }: LabelRoom): number {
  const margin = 3;
  const outside =
    Math.max(0, -box.x0) + Math.max(0, box.x1 - width) + Math.max(0, -box.y0) + Math.max(0, box.y1 - height);
  const overlaps = taken.filter(
    (other) =>
      box.x0 - margin < other.x1 + margin &&
      box.x1 + margin > other.x0 - margin &&
      box.y0 < other.y1 + 1 &&
      box.y1 > other.y0 - 1,
  ).length;
  const covered = keepClear.filter(
    ([x, y]) => x > box.x0 - margin && x < box.x1 + margin && y > box.y0 - 1 && y < box.y1 + 1,
  ).length;
  const cost = outside * 10 + overlaps * 40 + covered;
  const within = cornersAndMiddles(box).filter((point) => isWithin(inside, point)).length;
  return cost + within * 20;
}

function cornersAndMiddles({ x0, y0, x1, y1 }: Box): readonly Point[] {
  const xs = [x0, (x0 + x1) / 2, x1];
  return [y0, (y0 + y1) / 2, y1].flatMap((y) => xs.map((x): Point => [x, y]));
}
