// How far a walk has come: what is marked and how, what is blank, what stands open, about how long the rest takes.
// How long: by what the stops' own visits took on the last walks of this craft, else by the sheet's time model (pace.ts).
//
// Marks made apart merge per item: the worst wins, a blank yields. An item that reads a gauge is blank until its reading
// is in. An item that needs two persons is blank until two have marked it. A blank is never done.
import { marks } from "../facts/craft.ts";
import type { CraftState, Mark, MarkFact, WalkFacts } from "../facts/craft.ts";
import { own } from "../facts/own.ts";
import type { Sheet } from "../sheet/schema.ts";
import { secondsLeft } from "./pace.ts";
import type { WalkPlan, WalkRow } from "./plan.ts";

/** The mark that counts for an item: the worst that stands; null for a blank. */
export function countingMark(facts: WalkFacts, item: string): MarkFact | null {
  let worst: MarkFact | null = null;
  for (const fact of own(facts.marks, item) ?? []) {
    if (worst === null || marks.indexOf(fact.mark) > marks.indexOf(worst.mark)) worst = fact;
  }
  return worst;
}

export type ItemProgress = {
  readonly row: WalkRow;
  /** Null: blank. */
  readonly mark: Mark | null;
  readonly fact: MarkFact | null;
  /** What keeps a marked item blank, if anything. */
  readonly wants: "reading" | "secondPerson" | null;
};

export type WalkProgress = {
  readonly items: readonly ItemProgress[];
  readonly blank: readonly ItemProgress[];
  readonly notReached: readonly ItemProgress[];
  readonly withFinding: readonly ItemProgress[];
  /** Closures of this craft that stand open now, by id. */
  readonly open: readonly string[];
  /** About how many seconds the blank items take. Computed when it is asked for. */
  readonly left_s: number;
};

/** Closures of which any standing fact says open (the worse end), by id, in the sheet's order. */
export function openClosures(
  state: CraftState,
  known: readonly { readonly id: string }[],
): readonly string[] {
  return known
    .filter(({ id }) => (own(state.closures, id) ?? []).some((fact) => fact.state === "open"))
    .map(({ id }) => id);
}

/** Whether the walk holds a reading of the gauge. */
export function hasReading(state: CraftState, walk: string, gauge: string): boolean {
  return (own(state.readings, gauge) ?? []).some((reading) => reading.walk === walk);
}

function progressOf(row: WalkRow, facts: WalkFacts, state: CraftState): ItemProgress {
  const fact = countingMark(facts, row.item.id);
  if (fact === null) return { row, mark: null, fact: null, wants: null };
  const { reads, marksNeeded = 1 } = row.item;
  if (fact.mark === "good" && reads !== undefined && !hasReading(state, facts.walk, reads)) {
    return { row, mark: null, fact, wants: "reading" };
  }
  const people = new Set((own(facts.marks, row.item.id) ?? []).map(({ by }) => by));
  if (fact.mark === "good" && people.size < marksNeeded)
    return { row, mark: null, fact, wants: "secondPerson" };
  return { row, mark: fact.mark, fact, wants: null };
}

/** How far the walk has come on this plan. */
export function walkProgress(
  sheet: Sheet,
  plan: WalkPlan,
  facts: WalkFacts,
  state: CraftState,
): WalkProgress {
  const items = plan.rows.map((row) => progressOf(row, facts, state));
  const blank = items.filter(({ mark }) => mark === null);
  return {
    items,
    blank,
    notReached: items.filter(({ mark }) => mark === "notReached"),
    withFinding: items.filter(({ mark }) => mark === "finding"),
    open: openClosures(state, plan.closures),
    get left_s() {
      return secondsLeft(
        sheet,
        state,
        facts.kind,
        blank.map(({ row }) => row),
      );
    },
  };
}

/**
 * What keeps a walk from being finished: each blank item, and each open closure. A parking walk may leave what the sheet
 * says stays so on a parked machine: covers and plugs fitted, tie-downs on.
 */
export function finishHindrances(
  plan: WalkPlan,
  progress: WalkProgress,
): {
  readonly blank: readonly ItemProgress[];
  readonly open: readonly string[];
} {
  const stays = new Set(
    plan.kind === "parking"
      ? plan.closures.filter(({ parked }) => parked === "open").map(({ id }) => id)
      : [],
  );
  return { blank: progress.blank, open: progress.open.filter((closure) => !stays.has(closure)) };
}
