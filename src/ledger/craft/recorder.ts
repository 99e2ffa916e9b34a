// Making the bodies of entries from what a person has done at the craft: pure, and always naming what stood on the
// screen (`replaces`), so that only what was seen is replaced and everything else stands beside it.
import type { ClosureState, CraftState, Mark, WalkFacts } from "../../core/facts/craft.ts";
import { msToInstant } from "../../core/facts/instant.ts";
import { own } from "../../core/facts/own.ts";
import type { ClosureSet } from "./closure-entries.ts";
import type { ReadingShape } from "./reading-entries.ts";
import type { WalkPage } from "./walk-entries.ts";

export type DraftMark = { readonly mark: Mark; readonly why: string | null; readonly finding: string | null };

/** What one person has tapped at one stop and not yet sealed. Kept on the device, tap by tap; times of taps are not in it. */
export type StopDraft = {
  readonly walk: string;
  readonly stop: string;
  readonly arrived_ms: number;
  readonly marks: Readonly<Record<string, DraftMark>>;
  readonly closures: Readonly<Record<string, ClosureState>>;
  readonly readings: Readonly<Record<string, Omit<ReadingShape, "gauge">>>;
};

export function emptyDraft(walk: string, stop: string, arrived_ms: number): StopDraft {
  return { walk, stop, arrived_ms, marks: {}, closures: {}, readings: {} };
}

/** True while nothing was tapped: such a page is not worth an entry. */
export function isEmptyDraft(draft: StopDraft): boolean {
  return [draft.marks, draft.closures, draft.readings].every((part) => Object.keys(part).length === 0);
}

/** Ids of the facts that stand for one closure. */
export function closureReplaces(state: CraftState, closure: string): string[] {
  return (own(state.closures, closure) ?? []).map(({ entry }) => entry);
}

export function closureBody(state: CraftState, closure: string, to: ClosureState): ClosureSet {
  return { closure, state: to, replaces: closureReplaces(state, closure) };
}

/** The page that seals a draft: one person's marks at one stop. */
export function pageBody(
  draft: StopDraft,
  state: CraftState,
  facts: WalkFacts,
  left_ms: number,
  sealedBy: WalkPage["sealedBy"],
): WalkPage {
  const items = Object.keys(draft.marks).toSorted();
  const replaced = new Set(items.flatMap((item) => (own(facts.marks, item) ?? []).map(({ entry }) => entry)));
  return {
    walk: draft.walk,
    stop: draft.stop,
    arrivedAt: msToInstant(draft.arrived_ms),
    leftAt: msToInstant(Math.max(left_ms, draft.arrived_ms)),
    sealedBy,
    marks: items.map((item) => ({ item, ...draft.marks[item]! })),
    closures: Object.entries(draft.closures)
      .toSorted(([a], [b]) => (a < b ? -1 : 1))
      .map(([closure, to]) => closureBody(state, closure, to)),
    readings: Object.entries(draft.readings)
      .toSorted(([a], [b]) => (a < b ? -1 : 1))
      .map(([gauge, reading]) => ({ gauge, ...reading })),
    replaces: [...replaced].toSorted(),
  };
}

/** The facts of a walk as they will stand once the draft is sealed: what the screen shows while it is not. */
export function withDraft(state: CraftState, draft: StopDraft, by: string): CraftState {
  const facts = own(state.walks, draft.walk);
  if (facts === undefined) return state;
  const said = { entry: "draft", by, at_ms: draft.arrived_ms };
  const marks = { ...facts.marks };
  for (const [item, mark] of Object.entries(draft.marks)) marks[item] = [{ ...said, ...mark }];
  const closures = { ...state.closures };
  for (const [closure, to] of Object.entries(draft.closures)) {
    closures[closure] = [{ ...said, state: to, walk: draft.walk }];
  }
  const readings = { ...state.readings };
  for (const [gauge, reading] of Object.entries(draft.readings)) {
    const known = Object.fromEntries(
      Object.entries(reading.conditions).filter(([, value]) => value !== undefined),
    );
    readings[gauge] = [
      ...(own(readings, gauge) ?? []),
      { ...said, ...reading, conditions: known, gauge, walk: draft.walk },
    ];
  }
  return { ...state, closures, readings, walks: { ...state.walks, [draft.walk]: { ...facts, marks } } };
}
