// Computes and hatches the map of reach beside the page, so that a finger never waits for it.
//
// First it is told the desk (sheet, record, reasons, sky) and the box of the map, from which it makes the ground once; then a
// call at a time, each answered with the picture, the share of every margin and how far it goes on each bearing.
import { marginKinds } from "../../core/reach/call.ts";
import type { Call, CallKnown, MarginKind } from "../../core/reach/call.ts";
import {
  bearingPlaces,
  emptyFrame,
  gridPlaces,
  groundOf,
  reachAlong,
  reachOf,
} from "../../core/reach/reach.ts";
import type { Ground, ReachFrame } from "../../core/reach/reach.ts";
import { trackSun } from "../../core/sky/sun.ts";
import { basePlace, callKnown, hospitalsFrom } from "../../core/standing/call-desk.ts";
import type { CallDesk } from "../../core/standing/call-desk.ts";
import { hatchOf, isInked } from "../../present/plots/hatch.ts";

export type ReachDesk = {
  readonly kind: "desk";
  readonly desk: Omit<CallDesk, "sun">;
  readonly box: Parameters<typeof gridPlaces>[0];
  readonly rows: number;
  readonly columns: number;
  /** Pixels on a side of a cell. */
  readonly cell: number;
  readonly half_nm: number;
};

export type ReachAsk = {
  readonly kind: "ask";
  readonly id: number;
  readonly call: Call;
  /** Red, green and blue of ink and paper. */
  readonly ink: readonly [number, number, number];
  readonly paper: readonly [number, number, number];
};

export type ReachDrawn = {
  readonly id: number;
  readonly pixels: ArrayBuffer;
  readonly width: number;
  readonly height: number;
  /** Cells that are acceptable, acceptable within limits, and those by the margin that binds. */
  readonly ready: number;
  readonly within: number;
  readonly byKind: Readonly<Partial<Record<MarginKind, number>>>;
  readonly unknown: number;
  readonly along: ReturnType<typeof reachAlong>;
  readonly took_ms: number;
};

const bearings = 36;
const steps = 60;

type Prepared = {
  readonly known: CallKnown;
  readonly ground: Ground;
  readonly round: Ground;
  readonly asked: ReachDesk;
  readonly frame: ReachFrame;
  readonly roundFrame: ReachFrame;
  readonly pixels: Uint32Array;
};

let prepared: Prepared | null = null;

function prepare(asked: ReachDesk): Prepared | null {
  const { desk, box, rows, columns, cell, half_nm } = asked;
  if (desk.base === null) return null;
  const known = callKnown({ ...desk, sun: trackSun() });
  const base = basePlace(desk.base);
  const hospitals = hospitalsFrom(known, base).map(({ place }) => place);
  if (hospitals.length === 0) return null;
  const places = gridPlaces(box, rows, columns);
  return {
    known,
    asked,
    ground: groundOf(base, hospitals, places),
    round: groundOf(base, hospitals, bearingPlaces(base, bearings, half_nm, steps)),
    frame: emptyFrame(rows * columns),
    roundFrame: emptyFrame(bearings * steps),
    pixels: new Uint32Array(rows * columns * cell * cell),
  };
}

const packed = ([red, green, blue]: readonly [number, number, number]): number =>
  ((255 << 24) | (blue << 16) | (green << 8) | red) >>> 0;

/** Ink where the hatch of what binds wants it, paper elsewhere; rows of the frame go from south to north. */
function paint(
  { asked: { rows, columns, cell }, frame, pixels }: Prepared,
  ink: number,
  paper: number,
): void {
  const width = columns * cell;
  pixels.fill(paper);
  for (let row = 0; row < rows; row += 1) {
    for (let column = 0; column < columns; column += 1) {
      const at = row * columns + column;
      const verdict = frame.verdict[at]!;
      if (verdict <= 1) continue;
      const hatch = hatchOf(verdict === 2 ? "unknown" : marginKinds[frame.binding[at]!]!);
      const top = (rows - 1 - row) * cell;
      for (let y = top; y < top + cell; y += 1)
        for (let x = column * cell; x < (column + 1) * cell; x += 1)
          if (isInked(hatch, x, y)) pixels[y * width + x] = ink;
    }
  }
}

function draw(made: Prepared, { id, call, ink, paper }: ReachAsk): ReachDrawn {
  const began = performance.now();
  const { known, ground, round, frame, roundFrame, asked, pixels } = made;
  reachOf(known, ground, call).fill(frame);
  const took_ms = performance.now() - began;
  reachOf(known, round, call).fill(roundFrame);
  paint(made, packed(ink), packed(paper));
  const byKind: Partial<Record<MarginKind, number>> = {};
  let [ready, within, unknown] = [0, 0, 0];
  for (let at = 0; at < frame.verdict.length; at += 1) {
    const verdict = frame.verdict[at]!;
    if (verdict === 0) ready += 1;
    else if (verdict === 1) within += 1;
    else if (verdict === 2) unknown += 1;
    else {
      const kind = marginKinds[frame.binding[at]!]!;
      byKind[kind] = (byKind[kind] ?? 0) + 1;
    }
  }
  return {
    id,
    pixels: pixels.slice().buffer,
    width: asked.columns * asked.cell,
    height: asked.rows * asked.cell,
    ready,
    within,
    byKind,
    unknown,
    along: reachAlong(roundFrame, bearings, asked.half_nm, steps),
    took_ms,
  };
}

addEventListener("message", ({ data }: MessageEvent<ReachDesk | ReachAsk>) => {
  if (data.kind === "desk") {
    prepared = prepare(data);
    return;
  }
  if (prepared === null) {
    postMessage({ id: data.id, failed: true });
    return;
  }
  const drawn = draw(prepared, data);
  postMessage(drawn, { transfer: [drawn.pixels] });
});
