// Making the bodies of entries from what a person has done at the craft: pure, and always naming what stood on the
// screen (`replaces`), so that only what was seen is replaced and everything else stands beside it.
import type { ClosureState, CraftState, Mark, WalkFacts } from "../../core/facts/craft.ts";
import { msToInstant } from "../../core/facts/instant.ts";
import { own } from "../../core/facts/own.ts";
import type { ClosureSet } from "./closure-entries.ts";
import type { ReadingShape } from "./reading-entries.ts";
import type { TakenBack, TypedWalk, WalkPage } from "./walk-entries.ts";

export type DraftMark = { readonly mark: Mark; readonly why: string | null; readonly finding: string | null };

/**
 * What one person has tapped at one stop and not yet sealed. Kept on the device, tap by tap. Times of taps are not in it,
 * but for the last one, by which a walk is noticed that its walker has left; it never goes into a page.
 */
export type StopDraft = {
  readonly walk: string;
  readonly stop: string;
  readonly arrived_ms: number;
  readonly marks: Readonly<Record<string, DraftMark>>;
  readonly closures: Readonly<Record<string, ClosureState>>;
  readonly readings: Readonly<Record<string, Omit<ReadingShape, "gauge">>>;
  /**
   * Ids of the facts that stood on the screen when each mark and closure was tapped: they alone are replaced. Without
   * one, what stands when the page is made was on the screen.
   */
  readonly touched_ms?: number;
  readonly seen?: { readonly marks: Ids; readonly closures: Ids };
};

type Ids = Readonly<Record<string, readonly string[]>>;

export function emptyDraft(walk: string, stop: string, arrived_ms: number): StopDraft {
  return { walk, stop, arrived_ms, marks: {}, closures: {}, readings: {} };
}

/** True while nothing was tapped: such a page is not worth an entry. */
export function isEmptyDraft(draft: StopDraft): boolean {
  return [draft.marks, draft.closures, draft.readings].every((part) => Object.keys(part).length === 0);
}

function idsOf(facts: readonly { readonly entry: string }[] | undefined): readonly string[] {
  return (facts ?? []).map(({ entry }) => entry);
}

/** What one tap says: a mark or none of items, a state of closures, a reading of gauges. */
export type Tap = {
  readonly marks?: Readonly<Record<string, DraftMark | null>>;
  /** What a good mark of an item says of closures; taken back with the mark. */
  readonly closuresBy?: (item: string) => StopDraft["closures"];
  readonly closures?: StopDraft["closures"];
  readonly readings?: StopDraft["readings"];
};

/** The draft after a tap, with what stood on the screen of everything that the tap spoke about. */
export function tapped(draft: StopDraft, tap: Tap, state: CraftState): StopDraft {
  const { marks = {}, closures = {}, readings = {}, closuresBy = () => ({}) } = tap;
  const marked = own(state.walks, draft.walk)?.marks ?? {};
  const kept: Record<string, DraftMark> = { ...draft.marks };
  for (const [item, mark] of Object.entries(marks)) {
    // What was tapped last stands last.
    delete kept[item];
    if (mark !== null) kept[item] = mark;
  }
  const spokenOf = (items: readonly string[]): readonly string[] =>
    items.flatMap((item) => Object.keys(closuresBy(item)));
  const good = Object.keys(marks).filter((item) => own(marks, item)?.mark === "good");
  const looked = spokenOf(good);
  const withdrawn = spokenOf(Object.keys(marks).filter((item) => !good.includes(item)));
  const idsIn = (
    ids: readonly string[],
    standing: Readonly<Record<string, readonly { entry: string }[]>>,
  ): Ids => Object.fromEntries(ids.map((id) => [id, idsOf(own(standing, id))]));
  return {
    ...draft,
    marks: kept,
    closures: {
      ...closuresAfter(draft.closures, kept, new Set([...looked, ...withdrawn]), closuresBy),
      ...closures,
    },
    readings: { ...draft.readings, ...readings },
    seen: {
      marks: { ...draft.seen?.marks, ...idsIn(Object.keys(marks), marked) },
      closures: {
        ...draft.seen?.closures,
        // What an earlier mark says again replaces nothing: who made it may not have seen what came since.
        ...idsIn(withdrawn, {}),
        ...idsIn([...looked, ...Object.keys(closures)], state.closures),
      },
    },
  };
}

/**
 * Closures as the marks that stand now say them, the last tapped last. A mark taken back, or no longer good, takes what it
 * said of a closure with it.
 */
function closuresAfter(
  before: StopDraft["closures"],
  kept: StopDraft["marks"],
  spoken: ReadonlySet<string>,
  closuresBy: NonNullable<Tap["closuresBy"]>,
): StopDraft["closures"] {
  const said = Object.entries(kept).flatMap(([item, { mark }]) =>
    mark === "good" ? Object.entries(closuresBy(item)).filter(([closure]) => spoken.has(closure)) : [],
  );
  const others = Object.entries(before).filter(([closure]) => !spoken.has(closure));
  return Object.fromEntries([...others, ...said]);
}

/** Facts that came after the tap and so are not replaced by it. */
function unseen<Fact extends { readonly entry: string }>(
  facts: readonly Fact[] | undefined,
  seen: readonly string[] | undefined,
): readonly Fact[] {
  return seen === undefined ? [] : (facts ?? []).filter(({ entry }) => !seen.includes(entry));
}

/** Ids of the facts that stand for one closure. */
export function closureReplaces(state: CraftState, closure: string): string[] {
  return [...idsOf(own(state.closures, closure))];
}

export function closureBody(
  state: CraftState,
  closure: string,
  to: ClosureState,
  seen?: readonly string[],
): ClosureSet {
  return { closure, state: to, replaces: seen === undefined ? closureReplaces(state, closure) : [...seen] };
}

/**
 * Ids of the pages that the draft's marks replace. A good mark is never replaced: it hides nothing, and where the sheet
 * wants two people both must stand. A page that stands unseen on one item is left standing on all of them.
 */
function marksReplaced({ marks, seen }: StopDraft, facts: WalkFacts): string[] {
  const replaced = new Set<string>();
  const standing = new Set<string>();
  for (const item of Object.keys(marks)) {
    const held = own(facts.marks, item) ?? [];
    const late = unseen(held, own(seen?.marks ?? {}, item));
    for (const fact of late) standing.add(fact.entry);
    for (const fact of held) if (fact.mark !== "good" && !late.includes(fact)) replaced.add(fact.entry);
  }
  return [...replaced.difference(standing)].toSorted();
}

/** The page that seals a draft: one person's marks at one stop. */
export function pageBody(
  draft: StopDraft,
  state: CraftState,
  facts: WalkFacts,
  left_ms: number,
  sealedBy: WalkPage["sealedBy"],
): WalkPage {
  return {
    walk: draft.walk,
    stop: draft.stop,
    arrivedAt: msToInstant(draft.arrived_ms),
    leftAt: msToInstant(Math.max(left_ms, draft.arrived_ms)),
    sealedBy,
    ...bodyParts(draft, state),
    replaces: marksReplaced(draft, facts),
  };
}

/** Marks, closures and readings of a draft, in the order of their ids. */
function bodyParts(draft: StopDraft, state: CraftState): Pick<WalkPage, "marks" | "closures" | "readings"> {
  const inOrder = <Said>(said: Readonly<Record<string, Said>>): [string, Said][] =>
    Object.entries(said).toSorted(([a], [b]) => (a < b ? -1 : 1));
  return {
    marks: inOrder(draft.marks).map(([item, mark]) => ({ item, ...mark })),
    closures: inOrder(draft.closures).map(([closure, to]) =>
      closureBody(state, closure, to, own(draft.seen?.closures ?? {}, closure)),
    ),
    readings: inOrder(draft.readings).map(([gauge, reading]) => ({ gauge, ...reading })),
  };
}

/** The facts of a walk as they will stand once the draft is sealed: what the screen shows while it is not. */
export function withDraft(state: CraftState, draft: StopDraft, by: string): CraftState {
  const facts = own(state.walks, draft.walk);
  if (facts === undefined) return state;
  const said = { entry: "draft", by, at_ms: draft.arrived_ms };
  const marks = { ...facts.marks };
  const replaced = new Set(marksReplaced(draft, facts));
  for (const [item, mark] of Object.entries(draft.marks)) {
    const others = (own(marks, item) ?? []).filter(({ entry }) => !replaced.has(entry));
    marks[item] = [...others, { ...said, ...mark }];
  }
  const closures = { ...state.closures };
  for (const [closure, to] of Object.entries(draft.closures)) {
    const others = unseen(own(closures, closure), own(draft.seen?.closures ?? {}, closure));
    closures[closure] = [...others, { ...said, state: to, walk: draft.walk }];
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

/** What stood on a paper at one stop. */
export type PaperStop = Pick<StopDraft, "stop" | "marks" | "readings">;

type PaperItem = {
  readonly id: string;
  readonly opens?: readonly string[] | undefined;
  readonly closes?: readonly string[] | undefined;
};

/** The stops of a paper as they go into one entry; items that open or close something say so by a good mark. */
export function paperPages(
  stops: readonly PaperStop[],
  items: readonly PaperItem[],
  state: CraftState,
): TypedWalk["pages"] {
  return stops.map(({ stop, marks, readings }) => {
    const marked = items.filter(({ id }) => own(marks, id)?.mark === "good");
    const closures = new Map<string, ClosureState>();
    for (const { opens = [], closes = [] } of marked) {
      for (const closure of opens) closures.set(closure, "open");
      for (const closure of closes) closures.set(closure, "closed");
    }
    const draft: StopDraft = {
      walk: "",
      stop,
      arrived_ms: 0,
      marks,
      readings,
      closures: Object.fromEntries(closures),
    };
    return { stop, ...bodyParts(draft, state) };
  });
}

/**
 * Taking back marks of a page that is sealed: by who made them, item by item. What they said was closed is not known to be
 * closed any more, so it stands open until somebody looks.
 */
export function takenBackBody(
  state: CraftState,
  facts: WalkFacts,
  page: string,
  items: readonly string[],
  closes: (item: string) => readonly string[],
  at_ms: number,
): TakenBack {
  const marked = items.filter((item) =>
    (own(facts.marks, item) ?? []).some(({ entry, mark }) => entry === page && mark === "good"),
  );
  const closures = [...new Set(marked.flatMap(closes))].toSorted();
  return {
    walk: facts.walk,
    page,
    items: [...items],
    closures: closures.map((closure) => closureBody(state, closure, "open")),
    at: msToInstant(at_ms),
  };
}
