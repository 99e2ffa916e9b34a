import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { smallSheet } from "../../../demo/sheet/small-sheet.ts";
import { standingAt } from "../../core/standing/combine.ts";
import { assessCraft } from "../../core/standing/assess.ts";
import { holdingWalk, recentWalks } from "../../core/walk/assess.ts";
import { planOf, planWalk } from "../../core/walk/plan.ts";
import { countingMark, finishHindrances, walkProgress } from "../../core/walk/progress.ts";
import { reopenedOnResume, standingInterruption } from "../../core/walk/resume.ts";
import { walkValidity } from "../../core/walk/validity.ts";
import { Story, good } from "./arbitrary-story.ts";
import type { DraftMark } from "./recorder.ts";

const walk = "walk-0001";
const fitted = { floats: true, boards: false };
const notReached: DraftMark = { mark: "notReached", why: "ladder away", finding: null };

function begun(): Story {
  const story = new Story(smallSheet, fitted);
  story.begin(walk);
  return story;
}

function progressOf(story: Story) {
  const facts = story.state.walks[walk]!;
  const plan = planOf(story.sheet, story.state, facts);
  return { facts, plan, progress: walkProgress(story.sheet, plan, facts, story.state) };
}

const operation = smallSheet.operations.find(({ needs }) => needs.walks.includes("full"))!.id;
const verdictOf = (story: Story) =>
  standingAt(assessCraft(story.sheet, story.state, story.situation()), operation, story.now_ms);
const codesOf = (story: Story) => verdictOf(story).reasons.map(({ code }) => code);

describe("a full walk", () => {
  test("is due before it is made, and the machine is not ready until it is closed, valid and signed", () => {
    const story = new Story(smallSheet, fitted);
    expect(codesOf(story)).toContain("walk.due");
    story.begin(walk);
    expect(codesOf(story)).toContain("walk.running");
    story.walkAll(walk);
    expect(verdictOf(story).verdict).toBe("notReady");
    story.finish(walk);
    expect(codesOf(story)).not.toContain("walk.running");
    expect(verdictOf(story).verdict).toBe("ready");
  });

  test("that was signed with a blank does not hold, and says how many are not marked", () => {
    const story = begun();
    story.walkAll(walk, { pitot: null });
    story.finish(walk);
    const [reason] = verdictOf(story).reasons.filter(({ code }) => code === "walk.incomplete");
    expect(reason?.facts["blank"]).toBe(1);
    expect(verdictOf(story).verdict).toBe("notReady");
  });

  test("with an item not reached is closed, and does not hold", () => {
    const story = begun();
    story.walkAll(walk, { pitot: notReached });
    expect(finishHindrances(progressOf(story).plan, progressOf(story).progress).blank).toEqual([]);
    story.finish(walk);
    expect(codesOf(story)).toContain("walk.incomplete");
  });

  test("lapses when its calendar day ends at the base, not in UTC", () => {
    const story = begun();
    story.walkAll(walk);
    story.finish(walk);
    const holding = holdingWalk(recentWalks(story.sheet, story.state, "full", story.situation()))!;
    expect(new Date(holding.lapses_ms!).toISOString()).toBe("2026-02-04T23:00:00.000Z");
    story.now_ms = holding.lapses_ms! - 1;
    expect(codesOf(story)).not.toContain("walk.lapsed");
    story.now_ms = holding.lapses_ms!;
    expect(codesOf(story)).toContain("walk.lapsed");
  });

  test("is void once maintenance has had the machine", () => {
    const story = begun();
    story.walkAll(walk);
    story.finish(walk);
    story.pass(5);
    const body = { custody: "maintenance", people: [], words: "line", expectedEnd: null, at: story.at };
    story.tell("custody.taken", { ...body, replaces: story.state.custody.map(({ entry }) => entry) });
    expect(walkValidity(story.sheet, story.state, story.state.walks[walk]!, story.situation()).status).toBe(
      "void",
    );
    expect(codesOf(story)).toContain("custody.maintenance");
  });

  test("asks for what came to apply since: equipment that was installed after it leaves blanks", () => {
    const story = new Story(smallSheet, { floats: false, boards: false });
    story.begin(walk);
    story.walkAll(walk);
    story.finish(walk);
    expect(verdictOf(story).verdict).toBe("ready");
    const replaces = story.state.equipment["floats"]!.map(({ entry }) => entry);
    story.tell("equipment.set", { equipment: "floats", installed: true, at: story.at, replaces });
    expect(verdictOf(story).verdict).toBe("notReady");
  });
});

describe("marks that were made apart", () => {
  test("merge to the worst, in whatever order they arrive; a blank yields", () => {
    const worst = (first: DraftMark, second: DraftMark) => {
      const story = begun();
      story.page(walk, "nose", { pitot: first });
      story.page(walk, "nose", { pitot: second }, { by: "p-two", replaceNothing: true });
      return countingMark(story.state.walks[walk]!, "pitot")?.mark;
    };
    expect(worst(good, notReached)).toBe("notReached");
    expect(worst(notReached, good)).toBe("notReached");
    expect(worst(good, good)).toBe("good");
  });

  test("are replaced by who had them on the screen", () => {
    const story = begun();
    story.page(walk, "nose", { pitot: notReached });
    story.page(walk, "nose", { pitot: good });
    expect(countingMark(story.state.walks[walk]!, "pitot")?.mark).toBe("good");
    expect(story.state.walks[walk]!.marks["pitot"]).toHaveLength(1);
  });

  test("never turn a mark better when pages merge (any two people, any marks)", () => {
    const anyMark = fc.constantFrom<DraftMark>(good, notReached, {
      mark: "finding",
      why: null,
      finding: "finding-1",
    });
    const rank = { good: 0, notReached: 1, finding: 2 };
    fc.assert(
      fc.property(fc.array(anyMark, { minLength: 1, maxLength: 5 }), (marks) => {
        const story = begun();
        for (const [index, mark] of marks.entries()) {
          story.page(walk, "nose", { pitot: mark }, { by: `p-${index}`, replaceNothing: true });
        }
        const counting = countingMark(story.state.walks[walk]!, "pitot")!.mark;
        expect(rank[counting]).toBe(Math.max(...marks.map(({ mark }) => rank[mark])));
      }),
      { numRuns: 60 },
    );
  });
});

describe("an item that reads a gauge", () => {
  test("stays blank until its reading is in", () => {
    const story = begun();
    const { facts } = progressOf(story);
    const body = {
      walk,
      stop: "left",
      arrivedAt: story.at,
      leftAt: story.at,
      sealedBy: "left",
      closures: [],
      readings: [],
      replaces: [],
    };
    story.tell("walk.page", { ...body, marks: [{ item: "oil", ...good }] });
    const oil = progressOf(story).progress.items.find(({ row }) => row.item.id === "oil")!;
    expect([facts.walk, oil.mark, oil.wants]).toEqual([walk, null, "reading"]);
  });
});

describe("what stands open", () => {
  test("hinders the signature and blocks at once, until it is closed", () => {
    const story = begun();
    story.page(walk, "left", { cowlOpen: good });
    expect(progressOf(story).progress.open).toEqual(["cowl"]);
    expect(codesOf(story)).toContain("closure.open");
    story.tell("closure.set", {
      closure: "cowl",
      state: "closed",
      at: story.at,
      replaces: story.state.closures["cowl"]!.map(({ entry }) => entry),
    });
    expect(codesOf(story)).not.toContain("closure.open");
  });

  test("stays open when somebody closed it without having seen that it was opened", () => {
    const story = begun();
    story.page(walk, "left", { cowlOpen: good });
    story.tell("closure.set", { closure: "cowl", state: "closed", at: story.at, replaces: [] }, "p-two");
    expect(codesOf(story)).toContain("closure.open");
  });
});

describe("an interruption", () => {
  const interrupted = (stop: string) => {
    const story = begun();
    story.page(walk, "nose", { pitot: good });
    story.pass(1);
    story.page(walk, "left", { cowlOpen: good, oil: good }, { sealedBy: "interrupted" });
    story.tell("walk.interrupted", { walk, cause: "callOut", stop, words: "", at: story.at });
    return story;
  };

  test("starts the interrupted stop again, and at least the last three items whatever their stop", () => {
    const story = interrupted("left");
    const { plan, facts } = progressOf(story);
    const reopened = reopenedOnResume(plan, facts, story.state, standingInterruption(facts)!);
    const left = plan.rows.filter(({ item }) => item.stop === "left").map(({ item }) => item.id);
    expect(reopened).toEqual(expect.arrayContaining([...left, "pitot"]));
  });

  test("makes what is asked again blank, whoever marked it, and nothing else", () => {
    const story = interrupted("left");
    const { facts } = progressOf(story);
    const interruption = standingInterruption(facts)!.entry;
    story.tell("walk.resumed", { walk, interruption, reopened: ["cowlOpen", "oil"], at: story.at });
    const blank = progressOf(story).progress.blank.map(({ row }) => row.item.id);
    expect(blank).toEqual(expect.arrayContaining(["cowlOpen", "oil"]));
    expect(blank).not.toContain("pitot");
    expect(standingInterruption(story.state.walks[walk]!)).toBeNull();
  });

  test("at any stop, resumed at once, asks every item that is blank or was reopened before the walk can be signed", () => {
    const all = planWalk(smallSheet, begun().state, "full", {}).stops;
    fc.assert(
      fc.property(fc.nat(all.length - 1), (index) => {
        const story = begun();
        for (const { stop, rows } of all.slice(0, index)) {
          story.pass(1);
          story.page(walk, stop.id, Object.fromEntries(rows.map(({ item }) => [item.id, good])));
        }
        const here = all[index]!.stop.id;
        story.tell("walk.interrupted", { walk, cause: "callOut", stop: here, words: "", at: story.at });
        const before = progressOf(story);
        const interruption = standingInterruption(before.facts)!;
        const reopened = reopenedOnResume(before.plan, before.facts, story.state, interruption);
        story.tell("walk.resumed", { walk, interruption: interruption.entry, reopened, at: story.at });
        const blank = progressOf(story).progress.blank.map(({ row }) => row.item.id);
        for (const item of reopened) expect(blank).toContain(item);
        for (const { row } of before.progress.blank) expect(blank).toContain(row.item.id);
        expect(reopened.length).toBeGreaterThanOrEqual(
          Math.min(3, before.plan.rows.length - before.progress.blank.length),
        );
      }),
      { numRuns: 30 },
    );
  });
});
