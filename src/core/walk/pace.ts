// How long the rest of a walk takes, and whether marks came faster than hands can move.
//
// The rest: what the same stop took on the last walks of this craft, by their times of arriving and leaving, per item
// marked there; the median of at least three visits. Where a stop has no such history, the sheet's time model stands. The
// ways between stops are taken alike. Times of single marks are recorded nowhere: the hint is reckoned on the device of
// the person who marked, from what that device saw, and shown to nobody else.
import type { CraftState, WalkFacts, WalkKind } from "../facts/craft.ts";
import type { Sheet } from "../sheet/schema.ts";
import type { Item } from "../sheet/walk-blocks.ts";

/** Ours: enough walks to be usual, few enough to be recent. */
const walksBack = 8;
const visitsNeeded = 3;

type OfItem = { readonly item: Item };

/** Seconds for the rows by the sheet's time model: the action of each, and going up and down once per stop. */
export function secondsFor(sheet: Sheet, rows: readonly OfItem[]): number {
  const { action_s, step_s, ladder_s, top_s } = sheet.sequence;
  const access_s = { floor: 0, step: step_s, ladder: ladder_s, top: top_s };
  const stops = new Set(rows.map(({ item }) => item.stop));
  const climbing = sheet.stops.reduce(
    (sum, stop) => sum + (stops.has(stop.id) ? access_s[stop.access] : 0),
    0,
  );
  return rows.reduce((sum, { item }) => sum + action_s[item.action], climbing);
}

function median(values: readonly number[]): number | null {
  if (values.length < visitsNeeded) return null;
  const sorted = values.toSorted((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}

type History = {
  /** Seconds per item at a stop; null without enough visits. */
  readonly perItem_s: (stop: string) => number | null;
  readonly between_s: number | null;
};

function historyOf(state: CraftState, kind: WalkKind): History {
  const walks = Object.values(state.walks)
    .filter((walk) => walk.kind === kind && walk.finished.length > 0 && !walk.paper)
    .toSorted((a, b) => b.begun.at_ms - a.begun.at_ms)
    .slice(0, walksBack);
  const visits = new Map<string, number[]>();
  const gaps: number[] = [];
  for (const walk of walks) {
    const marked = marksByPage(walk);
    walk.visits.forEach((visit, index) => {
      const count = marked.get(visit.entry) ?? 0;
      if (count > 0 && visit.sealedBy === "left") {
        const held = visits.get(visit.stop) ?? [];
        held.push((visit.left_ms - visit.arrived_ms) / 1000 / count);
        visits.set(visit.stop, held);
      }
      const next = walk.visits[index + 1];
      if (next !== undefined && next.by === visit.by && next.arrived_ms >= visit.left_ms)
        gaps.push((next.arrived_ms - visit.left_ms) / 1000);
    });
  }
  return { perItem_s: (stop) => median(visits.get(stop) ?? []), between_s: median(gaps) };
}

// Walks of other days do not change, and every tap asks for them again.
const counted = new WeakMap<WalkFacts["marks"], ReadonlyMap<string, number>>();

function marksByPage({ marks }: WalkFacts): ReadonlyMap<string, number> {
  const held = counted.get(marks);
  if (held !== undefined) return held;
  const counts = new Map<string, number>();
  for (const facts of Object.values(marks))
    for (const { entry } of facts) counts.set(entry, (counts.get(entry) ?? 0) + 1);
  counted.set(marks, counts);
  return counts;
}

/** About how many seconds the rows take on this craft. */
export function secondsLeft(
  sheet: Sheet,
  state: CraftState,
  kind: WalkKind,
  rows: readonly OfItem[],
): number {
  if (rows.length === 0) return 0;
  const { perItem_s, between_s } = historyOf(state, kind);
  const byStop = Map.groupBy(rows, ({ item }) => item.stop);
  let total = 0;
  for (const [stop, here] of byStop) {
    const each = perItem_s(stop);
    total += each === null ? secondsFor(sheet, here) : each * here.length;
  }
  return total + (between_s ?? 0) * Math.max(0, byStop.size - 1);
}

/** One mark on this device, with when it was tapped: kept nowhere but in its memory. */
export type OwnTap = { readonly item: string; readonly at_ms: number };

/** Ours: below this share of what the sheet reckons nobody can have looked, felt and turned. */
const handsShare = 0.25;
const tapsNeeded = 5;

/** How fast this person marked the last items, where that is faster than hands move; null where it is not. */
export function fasterThanHands(
  sheet: Sheet,
  taps: readonly OwnTap[],
): { readonly marks: number; readonly took_s: number; readonly reckoned_s: number } | null {
  if (taps.length < tapsNeeded) return null;
  const [first] = taps;
  const last = taps.at(-1);
  if (first === undefined || last === undefined) return null;
  const after = new Set(taps.slice(1).map(({ item }) => item));
  const reckoned_s = sheet.items
    .filter(({ id }) => after.has(id))
    .reduce((sum, { action }) => sum + sheet.sequence.action_s[action], 0);
  const took_s = (last.at_ms - first.at_ms) / 1000;
  if (took_s < 0 || took_s >= handsShare * reckoned_s) return null;
  return { marks: taps.length, took_s, reckoned_s };
}
