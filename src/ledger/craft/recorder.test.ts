// What a draft replaces: only what stood on the screen when it was tapped (merging is pessimistic until a person who had
// both before them decides).
import { describe, expect, test } from "vitest";
import { countingMark } from "../../core/walk/progress.ts";
import type { CraftState, WalkFacts } from "../../core/facts/craft.ts";
import { craftLedger } from "./craft-ledger.ts";
import { emptyDraft, pageBody, tapped, withDraft } from "./recorder.ts";
import type { StopDraft } from "./recorder.ts";

const good = { mark: "good", why: null, finding: null } as const;
const notReached = { mark: "notReached", why: "ladder away", finding: null } as const;

function walkWith(marks: WalkFacts["marks"]): WalkFacts {
  return {
    walk: "walk-a",
    kind: "full",
    begun: { entry: "begun", by: "p-one", at_ms: 0, sheet: "s", plan: "p", conditions: {} },
    marks,
    visits: [],
    interruptions: [],
    weather: [],
    takenBack: [],
    finished: [],
    voided: [],
    paper: false,
  };
}

function stateWith(marks: WalkFacts["marks"], closures: CraftState["closures"] = {}): CraftState {
  return { ...craftLedger.initial, closures, walks: { "walk-a": walkWith(marks) } };
}

function mark(draft: StopDraft, item: string, state: CraftState): StopDraft {
  return tapped(draft, { marks: { [item]: good } }, state);
}

const byOther = (entry: string) => [{ entry, by: "p-two", at_ms: 5, ...notReached }];
const pageOf = (draft: StopDraft, state: CraftState) =>
  pageBody(draft, state, state.walks["walk-a"] as WalkFacts, 10, "left");

describe("A page of marks", () => {
  const empty = emptyDraft("walk-a", "nose", 1);

  test("replaces the mark that was on the screen when the item was tapped", () => {
    const state = stateWith({ hatch: byOther("before") });
    const page = pageOf(mark(empty, "hatch", state), state);
    expect(page.replaces).toEqual(["before"]);
  });

  test("leaves a mark standing that arrived after the tap, and shows it at once", () => {
    const draft = mark(empty, "hatch", stateWith({}));
    const later = stateWith({ hatch: byOther("later") });
    expect(pageOf(draft, later).replaces).toEqual([]);
    const shown = withDraft(later, draft, "p-one").walks["walk-a"] as WalkFacts;
    expect(countingMark(shown, "hatch")?.mark).toBe("notReached");
  });

  test("replaces a late mark once it is tapped again with that mark on the screen", () => {
    const draft = mark(empty, "hatch", stateWith({}));
    const later = stateWith({ hatch: byOther("later") });
    expect(pageOf(mark(draft, "hatch", later), later).replaces).toEqual(["later"]);
  });

  test("leaves another's page whole where it was seen for one item and not for the other", () => {
    const draft = mark(empty, "hatch", stateWith({}));
    const later = stateWith({ hatch: byOther("later"), latch: byOther("later") });
    expect(pageOf(mark(draft, "latch", later), later).replaces).toEqual([]);
  });

  test("lets the good marks of two people stand, where the sheet wants both", () => {
    const state = stateWith({ hatch: [{ entry: "before", by: "p-two", at_ms: 5, ...good }] });
    const draft = mark(empty, "hatch", state);
    expect(pageOf(draft, state).replaces).toEqual([]);
    const shown = withDraft(state, draft, "p-one").walks["walk-a"] as WalkFacts;
    expect(shown.marks.hatch?.map(({ by }) => by)).toEqual(["p-two", "p-one"]);
  });

  test("replaces a closure's fact only when it was on the screen", () => {
    const open = (entry: string): CraftState["closures"] => ({
      cap: [{ entry, by: "p-two", at_ms: 5, state: "open", walk: null }],
    });
    const close = (draft: StopDraft, state: CraftState) =>
      tapped(draft, { closures: { cap: "closed" } }, state);
    const seen = stateWith({}, open("before"));
    expect(pageOf(close(empty, seen), seen).closures[0]?.replaces).toEqual(["before"]);
    const late = stateWith({}, open("later"));
    const draft = close(empty, stateWith({}));
    expect(pageOf(draft, late).closures[0]?.replaces).toEqual([]);
    expect(withDraft(late, draft, "p-one").closures.cap?.map(({ state }) => state)).toEqual([
      "open",
      "closed",
    ]);
  });

  const closuresBy = (item: string): StopDraft["closures"] =>
    item === "open" ? { cap: "open" } : item === "shut" ? { cap: "closed" } : {};
  const tap = (draft: StopDraft, item: string, to: typeof good | typeof notReached | null) =>
    tapped(draft, { marks: { [item]: to }, closuresBy }, stateWith({}));

  test("takes what a mark said of a closure with it when the mark is taken back or no longer good", () => {
    const shut = tap(empty, "shut", good);
    expect(shut.closures).toEqual({ cap: "closed" });
    expect(tap(shut, "shut", null).closures).toEqual({});
    expect(tap(shut, "shut", notReached).closures).toEqual({});
  });

  test("says of a closure what the good mark tapped last says, whichever was taken back", () => {
    const both = tap(tap(empty, "open", good), "shut", good);
    expect(both.closures).toEqual({ cap: "closed" });
    expect(tap(both, "shut", null).closures).toEqual({ cap: "open" });
    expect(tap(both, "open", null).closures).toEqual({ cap: "closed" });
    expect(tap(both, "open", good).closures).toEqual({ cap: "open" });
  });

  test("replaces nothing by what an earlier mark says again", () => {
    const open = stateWith(
      {},
      { cap: [{ entry: "late", by: "p-two", at_ms: 5, state: "open", walk: null }] },
    );
    const first = tap(empty, "shut", good);
    const second = tapped(first, { marks: { again: good }, closuresBy: () => ({ cap: "closed" }) }, open);
    expect(pageOf(second, open).closures).toEqual([{ closure: "cap", state: "closed", replaces: ["late"] }]);
    const back = tapped(second, { marks: { again: null }, closuresBy: () => ({ cap: "closed" }) }, open);
    expect(pageOf(back, open).closures).toEqual([{ closure: "cap", state: "closed", replaces: [] }]);
  });
});
