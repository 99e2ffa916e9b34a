// One margin of a call, and the order in which margins bind: what is not met first, then what is not known, then the
// smallest share; within a relative 1e−9 of the limit is on it, and met (law 6).
import { onLimit } from "../quantity/compare.ts";
import type { Margin, MarginKind, MarginUnit } from "./call.ts";

const nowhere = { stop: null, leg: null, what: null } as const;

/** `scale` is what is needed: the room over it is the share. */
export function marginOf(
  kind: MarginKind,
  room: number,
  unit: MarginUnit,
  is: number | null,
  limit: number | null,
  scale: number,
): Margin {
  if (!Number.isFinite(room)) return notKnown(kind, "noNumber");
  const slack = onLimit * Math.max(Math.abs(is ?? 0), Math.abs(limit ?? 0), Math.abs(scale));
  const share = room / (scale > 0 ? scale : 1);
  return { kind, room, unit, is, limit, share, met: room >= -slack, ...nowhere };
}

export function notKnown(kind: MarginKind, what: string): Margin {
  return { kind, room: null, unit: "kg", is: null, limit: null, share: null, met: null, ...nowhere, what };
}

/** Not met, without a number that says how far. */
export function isBroken(kind: MarginKind): Margin {
  return { kind, room: null, unit: "kg", is: null, limit: null, share: null, met: false, ...nowhere };
}

const rank = ({ met }: Margin): number => (met === false ? 0 : met === null ? 1 : 2);

/** Without a number: first among what is not met, last among what is. */
const shareOf = ({ share, met }: Margin): number =>
  share ?? (met === false ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY);

export function sortMargins(margins: readonly Margin[]): readonly Margin[] {
  return margins.toSorted((a, b) => rank(a) - rank(b) || compare(shareOf(a), shareOf(b)));
}

const compare = (a: number, b: number): number => (a < b ? -1 : a > b ? 1 : 0);
