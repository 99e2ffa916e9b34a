// Walks over told records, in depth: shared by two people, interrupted anywhere, ended by weather and sheets, taken back,
// swept, timed; and input that makes no sense.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { smallSheet } from "../../../demo/sheet/small-sheet.ts";
import { emptyBase } from "../../core/facts/sky.ts";
import type { BaseSky } from "../../core/facts/sky.ts";
import { minute_ms } from "../../core/facts/instant.ts";
import type { Sheet } from "../../core/sheet/schema.ts";
import { assessFrost } from "../../core/walk/frost.ts";
import { fasterThanHands, secondsFor, secondsLeft } from "../../core/walk/pace.ts";
import { outsidePlan, planOf } from "../../core/walk/plan.ts";
import { countingMark, walkProgress } from "../../core/walk/progress.ts";
import { reopenedOnResume, standingInterruption, walkedAway } from "../../core/walk/resume.ts";
import { singlyBecause, sweepable } from "../../core/walk/sweep.ts";
import { walkValidity } from "../../core/walk/validity.ts";
import { craftLedger } from "./craft-ledger.ts";
import { Story, good } from "./arbitrary-story.ts";
import { paperPages, takenBackBody } from "./recorder.ts";
import type { DraftMark } from "./recorder.ts";

const fitted = { floats: true, boards: false };
const walk = "walk-0001";
const finding: DraftMark = { mark: "finding", why: null, finding: "finding-0001" };
const notReached: DraftMark = { mark: "notReached", why: "ladder away", finding: null };

function begun(sheet: Sheet = smallSheet, conditions: Readonly<Record<string, boolean | null>> = {}): Story {
  const story = new Story(sheet, fitted);
  story.begin(walk, "full", conditions);
  return story;
}

function progressOf(story: Story, id = walk) {
  const facts = story.state.walks[id]!;
  const plan = planOf(story.sheet, story.state, facts);
  return { facts, plan, progress: walkProgress(story.sheet, plan, facts, story.state) };
}

const blankOf = (story: Story) => progressOf(story).progress.blank.map(({ row }) => row.item.id);
const validityOf = (story: Story) =>
  walkValidity(story.sheet, story.state, story.state.walks[walk]!, story.situation());
const read = (story: Story, oat_C: number) =>
  story.tell("reading.taken", {
    gauge: "oil",
    value: 2.5,
    unit: "L",
    typed: "2.5",
    conditions: { oat_C },
    hours_h: null,
    at: story.at,
  });

describe("a walk that two people share", () => {
  const items = ["pitot", "tail", "leftFloat", "rightFloat"] as const;
  const stopOf = (item: string) => smallSheet.items.find(({ id }) => id === item)!.stop;
  const anyPage = fc.record({
    by: fc.constantFrom("p-one", "p-two"),
    item: fc.constantFrom(...items),
    mark: fc.constantFrom(good, finding, notReached),
  });

  test("comes out the same in whatever order the pages arrive; nothing is lost and nothing counts twice", () => {
    const rank = { good: 0, notReached: 1, finding: 2 };
    fc.assert(
      fc.property(
        fc
          .array(anyPage, { minLength: 1, maxLength: 6 })
          .chain((pages) =>
            fc.tuple(fc.constant(pages), fc.shuffledSubarray(pages, { minLength: pages.length })),
          ),
        ([pages, shuffled]) => {
          const tell = (told: typeof pages) => {
            const story = begun();
            for (const { by, item, mark } of told)
              story.page(walk, stopOf(item), { [item]: mark }, { by, replaceNothing: true });
            return story;
          };
          const outcome = (story: Story) =>
            items.map((item) => countingMark(story.state.walks[walk]!, item)?.mark ?? null);
          const [first, second] = [tell(pages), tell(shuffled)];
          expect(outcome(second)).toEqual(outcome(first));
          for (const [index, item] of items.entries()) {
            const told = pages.filter((page) => page.item === item);
            const worst = Math.max(...told.map(({ mark }) => rank[mark.mark]));
            expect(outcome(first)[index]).toBe(
              told.length === 0 ? null : ["good", "notReached", "finding"][worst],
            );
            expect(first.state.walks[walk]!.marks[item]?.length ?? 0).toBe(told.length);
          }
          expect(first.state.walks[walk]!.visits).toHaveLength(pages.length);
        },
      ),
      { numRuns: 80 },
    );
  });

  test("never has a mark improved by one more page that was made apart", () => {
    const rank = { good: 0, notReached: 1, finding: 2 };
    fc.assert(
      fc.property(fc.array(anyPage, { minLength: 1, maxLength: 5 }), anyPage, (pages, one) => {
        const story = begun();
        for (const { by, item, mark } of pages) story.page(walk, stopOf(item), { [item]: mark }, { by });
        const before = countingMark(story.state.walks[walk]!, one.item)?.mark;
        story.page(walk, stopOf(one.item), { [one.item]: one.mark }, { by: one.by, replaceNothing: true });
        const after = countingMark(story.state.walks[walk]!, one.item)!.mark;
        if (before !== undefined) expect(rank[after]).toBeGreaterThanOrEqual(rank[before]);
      }),
      { numRuns: 80 },
    );
  });

  test("has an item that two must mark blank until both have, on whichever device", () => {
    const sheet: Sheet = {
      ...smallSheet,
      items: smallSheet.items.map((item) =>
        item.id === "tail" ? { ...item, marksNeeded: 2, sweep: false } : item,
      ),
    };
    for (const replaceNothing of [true, false]) {
      const story = begun(sheet);
      story.page(walk, "tail", { tail: good });
      story.page(walk, "tail", { tail: good });
      expect(blankOf(story)).toContain("tail");
      expect(progressOf(story).progress.items.find(({ row }) => row.item.id === "tail")!.wants).toBe(
        "secondPerson",
      );
      story.page(walk, "tail", { tail: good }, { by: "p-two", replaceNothing });
      expect(blankOf(story)).not.toContain("tail");
    }
  });
});

describe("an interruption anywhere", () => {
  const rows = () => progressOf(begun()).plan.rows.map(({ item }) => item);

  test("at any item, with anybody's marks and any closure touched while away, asks every item it should", () => {
    const all = rows();
    fc.assert(
      fc.property(
        fc.nat(all.length - 1),
        fc.array(fc.boolean(), { minLength: all.length, maxLength: all.length }),
        fc.constantFrom(null, "cowl", "pitotCover"),
        (reached, byOther, touched) => {
          const story = begun();
          const marked = all.slice(0, reached);
          for (const [index, item] of marked.entries()) {
            story.pass(1);
            const by = byOther[index] === true ? "p-two" : "p-one";
            const last = index === marked.length - 1;
            story.page(walk, item.stop, { [item.id]: good }, { by, sealedBy: last ? "interrupted" : "left" });
          }
          const here = all[reached]!.stop;
          story.pass(1);
          story.tell("walk.interrupted", { walk, cause: "callOut", stop: here, words: "", at: story.at });
          const before = progressOf(story);
          story.pass(20);
          if (touched !== null)
            story.tell(
              "closure.set",
              { closure: touched, state: "closed", replaces: [], at: story.at },
              "p-two",
            );
          const interruption = standingInterruption(story.state.walks[walk]!)!;
          const reopened = reopenedOnResume(before.plan, before.facts, story.state, interruption);
          story.tell("walk.resumed", { walk, interruption: interruption.entry, reopened, at: story.at });
          const blank = new Set(blankOf(story));

          const should = [
            ...before.progress.blank.map(({ row }) => row.item.id),
            ...all.filter(({ stop }) => stop === here).map(({ id }) => id),
            ...marked.slice(-3).map(({ id }) => id),
            ...marked
              .filter((_, index) => byOther[index] !== true)
              .slice(-3)
              .map(({ id }) => id),
            ...all
              .filter(({ closes }) => touched !== null && closes?.includes(touched) === true)
              .map(({ id }) => id),
          ];
          for (const item of should) expect(blank).toContain(item);
          // And nothing beyond what was blank or is asked again.
          const asked = new Set([...before.progress.blank.map(({ row }) => row.item.id), ...reopened]);
          expect([...blank].filter((item) => !asked.has(item))).toEqual([]);
        },
      ),
      { numRuns: 80 },
    );
  });

  test("starts the stop of each again who was called away, and asks the last three items of each", () => {
    const story = begun();
    const [here, there] = [rows().slice(0, 5), rows().slice(-5)];
    for (const [by, items] of [
      ["p-one", here],
      ["p-two", there],
    ] as const)
      for (const item of items.slice(0, -1)) {
        story.pass(1);
        story.page(walk, item.stop, { [item.id]: good }, { by });
      }
    story.pass(1);
    const stop = here.at(-1)!.stop;
    story.page(walk, stop, { [here.at(-1)!.id]: good }, { sealedBy: "interrupted" });
    story.tell("walk.interrupted", { walk, cause: "callOut", stop, words: "", at: story.at });
    story.pass(2);
    const other = there.at(-1)!;
    story.page(walk, other.stop, { [other.id]: good }, { by: "p-two", sealedBy: "interrupted" });
    const { plan, facts } = progressOf(story);
    const asked = reopenedOnResume(plan, facts, story.state, standingInterruption(facts)!);
    const stops = new Set([stop, other.stop]);
    const should = [
      ...rows().filter((item) => stops.has(item.stop)),
      ...here.slice(-3),
      ...there.slice(-3),
    ].map(({ id }) => id);
    expect(asked).toEqual(expect.arrayContaining(should));

    // Once resumed, a page of before it asks for nothing any more.
    const resumed = { walk, interruption: standingInterruption(facts)!.entry, reopened: asked };
    story.tell("walk.resumed", { ...resumed, at: story.at });
    story.pass(1);
    story.tell("walk.interrupted", { walk, cause: "other", stop: null, words: "", at: story.at });
    const after = progressOf(story);
    const again = reopenedOnResume(after.plan, after.facts, story.state, standingInterruption(after.facts)!);
    expect(again.length).toBeLessThanOrEqual(6);
  });

  test("counts as one when nobody has touched the walk for ten minutes, from the last touch on", () => {
    expect(walkedAway(0, 10 * minute_ms - 1)).toBeNull();
    expect(walkedAway(0, 10 * minute_ms)).toEqual({ at_ms: 0 });
    // A clock that went back says nothing.
    expect(walkedAway(0, -5 * minute_ms)).toBeNull();
    const story = begun();
    story.tell("walk.interrupted", { walk, cause: "walkAway", stop: "left", words: "", at: story.at });
    expect(standingInterruption(story.state.walks[walk]!)?.cause).toBe("walkAway");
  });
});

describe("what ends a walk", () => {
  const frosty: Sheet = {
    ...smallSheet,
    walkValidity: {
      ...smallSheet.walkValidity,
      full: { calendarDay: true, voidedBy: ["maintenance", "frostAfterFreezing", "storm"] },
    },
  };
  const walked = (sheet = frosty, oat_C: number | null = 4, conditions = {}) => {
    const story = begun(sheet, conditions);
    if (oat_C !== null) read(story, oat_C);
    story.walkAll(walk);
    story.finish(walk);
    // The test's readings on the walk say 5 °C.
    story.pass(60);
    return story;
  };

  test("the end of the day in which it was begun, even while it is still under way", () => {
    const story = begun();
    const { lapses_ms } = validityOf(story);
    expect(new Date(lapses_ms!).toISOString()).toBe("2026-02-04T23:00:00.000Z");
    story.now_ms = lapses_ms!;
    expect(validityOf(story).status).toBe("lapsed");
    story.walkAll(walk);
    story.finish(walk);
    expect(validityOf(story).status).toBe("lapsed");
  });

  test("frost: air that went through zero after it, as read at the machine", () => {
    const story = walked();
    expect(validityOf(story).status).toBe("valid");
    read(story, 1);
    expect(validityOf(story).status).toBe("valid");
    story.pass(30);
    read(story, 0);
    expect(validityOf(story)).toMatchObject({ status: "void", voided: { by: "frostAfterFreezing" } });
    expect(validityOf(walked(smallSheet)).endsBy).not.toContain("frostAfterFreezing");
  });

  test("frost as the base's reports tell it; but not over a machine that stands inside", () => {
    const report = (text: string, at_ms: number, entry: string) => ({
      entry,
      by: "p-one",
      at_ms,
      text,
      source: "typed" as const,
    });
    const over = (story: Story, temperatures: readonly string[]): BaseSky => ({
      base: "base:x",
      name: "X",
      lat_deg: 70,
      lon_deg: 12,
      elevation_m: 11,
      state: {
        ...emptyBase,
        reports: temperatures.map((temperature, index) => {
          const at_ms = story.now_ms - (temperatures.length - 1 - index) * 30 * minute_ms;
          const time = new Date(at_ms);
          const hhmm = `${time.getUTCHours()}`.padStart(2, "0") + `${time.getUTCMinutes()}`.padStart(2, "0");
          return report(
            `METAR ENXX 04${hhmm}Z 20008KT 9999 FEW020 ${temperature} Q1012=`,
            at_ms,
            `r${index}`,
          );
        }),
      },
    });
    const codes = (story: Story, temperatures: readonly string[]) =>
      assessFrost(story.sheet, story.state, story.situation(), over(story, temperatures)).map(
        ({ code }) => code,
      );
    const story = walked();
    expect(codes(story, ["03/M02", "01/M02"])).toEqual([]);
    expect(codes(story, ["03/M02", "M00/M02"])).toEqual(["walk.froze"]);
    expect(codes(story, ["M03/M05", "M05/M06"])).toEqual([]);
    expect(codes(walked(frosty, 4, { parkedOutside: false }), ["03/M02", "M01/M02"])).toEqual([]);
    expect(assessFrost(story.sheet, story.state, story.situation(), null)).toEqual([]);
  });

  test("a word that it froze or stormed, with its cause", () => {
    const story = walked();
    story.tell("walk.voided", { walk, cause: "storm", words: "", at: story.at });
    expect(validityOf(story)).toMatchObject({ status: "void", voided: { by: "storm" } });
  });

  test("a sheet that asks for more: its new items are blank, and the change is told", () => {
    const story = walked(smallSheet);
    const stricter: Sheet = {
      ...smallSheet,
      items: [...smallSheet.items, { ...smallSheet.items.find(({ id }) => id === "tail")!, id: "tailLight" }],
    };
    story.tell("sheet.adopted", {
      sheet: "c".repeat(64),
      holdsFrom: story.at,
      replaces: story.state.sheets.map(({ entry }) => entry),
    });
    const { status, sheetChanged, progress } = walkValidity(
      stricter,
      story.state,
      story.state.walks[walk]!,
      story.situation(),
    );
    expect([status, sheetChanged]).toEqual(["incomplete", true]);
    expect(progress.blank.map(({ row }) => row.item.id)).toEqual(["tailLight"]);
    // A sheet that asks for nothing more leaves it standing.
    expect(validityOf(story)).toMatchObject({ status: "valid", sheetChanged: true });
  });

  test("says what would end it before its time", () => {
    expect(validityOf(walked()).endsBy).toEqual(["maintenance", "frostAfterFreezing", "storm"]);
  });
});

describe("weather that changed between the beginning and the end", () => {
  const asks: Sheet = {
    ...smallSheet,
    items: smallSheet.items.map((item) =>
      item.id === "tail"
        ? { ...item, applies: { condition: "rain" } }
        : item.id === "leftBlank"
          ? { ...item, applies: { not: { condition: "rain" } } }
          : item,
    ),
  };

  test("brings what applies after it and keeps what applied before it", () => {
    const story = begun(asks, { rain: false });
    expect(blankOf(story)).not.toContain("tail");
    story.tell("walk.weather", { walk, conditions: { rain: true }, at: story.at });
    expect(blankOf(story)).toContain("tail");
  });

  test("said as it was changes nothing, and no word makes the plan shorter", () => {
    const said = fc.constantFrom(true, false, null);
    fc.assert(
      fc.property(said, fc.array(said, { maxLength: 4 }), (first, later) => {
        const story = begun(asks, { rain: first });
        const before = progressOf(story).plan.rows.map(({ item }) => item.id);
        for (const rain of later) story.tell("walk.weather", { walk, conditions: { rain }, at: story.at });
        const after = progressOf(story).plan.rows.map(({ item }) => item.id);
        expect(after).toEqual(expect.arrayContaining(before));
        if (later.every((rain) => rain === first)) expect(after).toEqual(before);
      }),
      { numRuns: 60 },
    );
  });
});

describe("taking a mark back after its page is sealed", () => {
  const closes = (item: string) => smallSheet.items.find(({ id }) => id === item)?.closes ?? [];
  const takeBack = (story: Story, page: string, items: readonly string[], by = "p-one") =>
    story.tell(
      "walk.takenBack",
      takenBackBody(story.state, story.state.walks[walk]!, page, items, closes, story.now_ms),
      by,
    );

  test("makes the item blank again, opens what it had closed, and keeps the correction on record", () => {
    const story = begun();
    const page = story.page(walk, "nose", { pitot: good });
    expect(story.state.closures["pitotCover"]!.at(-1)!.state).toBe("closed");
    story.pass(1);
    takeBack(story, page, ["pitot"]);
    expect(blankOf(story)).toContain("pitot");
    expect(progressOf(story).progress.open).toEqual(["pitotCover"]);
    const [kept] = story.state.walks[walk]!.takenBack;
    expect(kept).toMatchObject({ page, items: ["pitot"], by: "p-one" });
  });

  test("leaves another person's mark on the same item, and is nobody else's to do", () => {
    const story = begun();
    const page = story.page(walk, "tail", { tail: good });
    story.page(walk, "tail", { tail: notReached }, { by: "p-two", replaceNothing: true });
    takeBack(story, page, ["tail"]);
    expect(countingMark(story.state.walks[walk]!, "tail")?.mark).toBe("notReached");
    expect(() => takeBack(story, page, ["tail"], "p-two")).toThrow(/pageOfAnother/u);
    expect(() => takeBack(story, "f".repeat(64), ["tail"])).toThrow(/pageNotHeld/u);
  });
});

describe("the rest of a stop at once", () => {
  const at = (story: Story, stop: string) => {
    const { progress, facts } = progressOf(story);
    const here = progress.items.filter(({ row }) => row.item.stop === stop);
    return { here, facts, swept: sweepable(here, facts, story.state) };
  };

  test("leaves out gauges, closures, and what the sheet wants singly", () => {
    const { here, facts, swept } = at(begun(), "left");
    expect(swept).toEqual(["leftFloat"]);
    const why = here.map((item) => [item.row.item.id, singlyBecause(item, facts, begun().state)]);
    expect(why).toEqual([
      ["cowlOpen", "closure"],
      ["oil", "gauge"],
      ["cowlShut", "closure"],
      ["leftFloat", null],
    ]);
  });

  test("leaves out what has an open finding, what is asked again, and what is marked already", () => {
    const story = begun();
    const raised = {
      finding: "finding-0001",
      kind: "wear",
      stop: "tail",
      item: "tail",
      walk,
      measure: null,
      words: "",
    };
    story.tell("finding.raised", { ...raised, at: story.at });
    expect(at(story, "tail").swept).toEqual([]);
    const other = begun();
    other.tell("walk.interrupted", { walk, cause: "phone", stop: "right", words: "", at: other.at });
    const interruption = standingInterruption(other.state.walks[walk]!)!.entry;
    other.tell("walk.resumed", { walk, interruption, reopened: ["rightFloat"], at: other.at });
    expect(at(other, "right").swept).toEqual([]);
    const marked = begun();
    marked.page(walk, "tail", { tail: good });
    expect(at(marked, "tail").swept).toEqual([]);
  });
});

describe("how long the rest takes", () => {
  const { rows } = progressOf(begun()).plan;

  test("is by the sheet's model where the stops have no history, and nothing for nothing", () => {
    const story = begun();
    expect(secondsLeft(smallSheet, story.state, "full", rows)).toBe(secondsFor(smallSheet, rows));
    expect(secondsLeft(smallSheet, story.state, "full", [])).toBe(0);
  });

  test("is by what the stop took before, once three walks have passed it", () => {
    const story = new Story(smallSheet, fitted);
    for (const [index, seconds] of [90, 60, 120].entries()) {
      const id = `walk-h-${index}00`;
      story.begin(id);
      const arrivedAt = story.at;
      story.now_ms += seconds * 1000;
      const body = {
        walk: id,
        stop: "tail",
        arrivedAt,
        leftAt: story.at,
        sealedBy: "left",
        closures: [],
        readings: [],
      };
      story.tell("walk.page", { ...body, replaces: [], marks: [{ item: "tail", ...good }] });
      const left = secondsLeft(
        smallSheet,
        story.state,
        "full",
        rows.filter(({ item }) => item.stop === "tail"),
      );
      story.finish(id);
      story.pass(600);
      // The walk under way is no history yet, and two are too few.
      expect(left).toBe(
        secondsFor(
          smallSheet,
          rows.filter(({ item }) => item.stop === "tail"),
        ),
      );
    }
    expect(
      secondsLeft(
        smallSheet,
        story.state,
        "full",
        rows.filter(({ item }) => item.stop === "tail"),
      ),
    ).toBe(90);
  });
});

describe("marks faster than hands", () => {
  const taps = (gap_ms: number) => rowsOf().map((item, index) => ({ item, at_ms: index * gap_ms }));
  const rowsOf = () => progressOf(begun()).plan.rows.map(({ item }) => item.id);

  test("are hinted at when they came in less than a quarter of the reckoned time, and else not", () => {
    expect(fasterThanHands(smallSheet, taps(500))).toMatchObject({ marks: rowsOf().length });
    expect(fasterThanHands(smallSheet, taps(6_000))).toBeNull();
    expect(fasterThanHands(smallSheet, taps(500).slice(0, 4))).toBeNull();
    expect(fasterThanHands(smallSheet, taps(-500))).toBeNull();
  });

  test("stand in no entry: a page says only when the stop was reached and left", () => {
    const story = begun();
    story.page(walk, "tail", { tail: good });
    const [mark] = story.state.walks[walk]!.marks["tail"]!;
    const [visit] = story.state.walks[walk]!.visits;
    expect(mark!.at_ms).toBe(visit!.left_ms);
  });
});

describe("input that makes no sense", () => {
  test("a page of a walk that was begun in no or another machine's record is refused", () => {
    expect(() => begun().tell("walk.finished", { walk: "walk-other-1", at: begun().at })).toThrow(
      /walkNotBegun/u,
    );
  });

  test("a mark on an item that does not apply, and a stop outside the plan, are kept, told and count for nothing", () => {
    const story = begun();
    const body = {
      walk,
      arrivedAt: story.at,
      leftAt: story.at,
      sealedBy: "left",
      closures: [],
      readings: [],
      replaces: [],
    };
    story.tell("walk.page", { ...body, stop: "left", marks: [{ item: "leftBlank", ...good }] });
    story.tell("walk.page", { ...body, stop: "hangar", marks: [] });
    const { plan, facts, progress } = progressOf(story);
    expect(outsidePlan(plan, facts)).toEqual({ items: ["leftBlank"], stops: ["hangar"] });
    expect(progress.items.every(({ mark }) => mark === null)).toBe(true);
  });

  test("a closure closed twice, or never opened, ends closed", () => {
    const story = begun();
    for (const by of ["p-one", "p-two"])
      story.tell("closure.set", { closure: "cowl", state: "closed", replaces: [], at: story.at }, by);
    expect(progressOf(story).progress.open).toEqual([]);
  });

  test("only who walks round a machine may write of its walks", () => {
    const walks = craftLedger.types.filter(({ type }) => type.startsWith("walk."));
    expect(walks.length).toBeGreaterThan(6);
    for (const { roles } of walks) expect(roles).toEqual(["pilot", "crewMember", "engineer"]);
  });
});

describe("a walk on paper", () => {
  const typed = (story: Story, more: Readonly<Record<string, unknown>> = {}) => {
    const ended_ms = story.now_ms - 30 * minute_ms;
    const begun_ms = ended_ms - 20 * minute_ms;
    const at = (at_ms: number) => new Date(at_ms).toISOString();
    const items = progressOf(begun()).plan.rows.map(({ item }) => item);
    const stops = smallSheet.order.full.map((stop) => {
      const here = items.filter((item) => item.stop === stop);
      const oil = { value: 2.5, unit: "L", typed: "2.5", conditions: {}, hours_h: null };
      return {
        stop,
        marks: Object.fromEntries(here.map(({ id }) => [id, good])),
        readings: here.some(({ reads }) => reads === "oil") ? { oil } : {},
      };
    });
    const pages = paperPages(stops, items, story.state);
    const body = { walk, kind: "full", sheet: "a".repeat(64), plan: "b".repeat(64), conditions: {}, pages };
    story.tell("walk.typed", { ...body, begunAt: at(begun_ms), endedAt: at(ended_ms), ...more });
    return { begun_ms, ended_ms };
  };
  const fresh = () => {
    const story = new Story(smallSheet, fitted);
    story.pass(120);
    return story;
  };

  test("holds like any other, from the times of the paper, and is marked as paper", () => {
    const story = fresh();
    const { begun_ms, ended_ms } = typed(story);
    const facts = story.state.walks[walk]!;
    expect([facts.paper, facts.begun.at_ms]).toEqual([true, begun_ms]);
    expect(validityOf(story)).toMatchObject({ status: "valid", finished_ms: ended_ms });
    expect(
      facts.visits.every(({ arrived_ms, left_ms }) => arrived_ms === begun_ms && left_ms === ended_ms),
    ).toBe(true);
    // What was opened on the way was closed again by a later item of the same paper.
    expect(progressOf(story).progress.open).toEqual([]);
  });

  test("is one entry: with one page that cannot be, nothing of it is there", () => {
    const story = fresh();
    const pages = [
      {
        stop: "nose",
        marks: [{ item: "pitot", mark: "well", why: null, finding: null }],
        closures: [],
        readings: [],
      },
    ];
    expect(() => typed(story, { pages })).toThrow(/schema/u);
    expect(story.state.walks[walk]).toBeUndefined();
  });

  test("ends after it began, and not after it was typed in", () => {
    expect(() => typed(fresh(), { endedAt: "2026-02-04T06:30:00.000Z" })).toThrow(/endedBeforeBeginning/u);
    expect(() => typed(fresh(), { endedAt: "2026-02-04T09:00:00.000Z" })).toThrow(/typedBeforeWalked/u);
  });

  test("of yesterday no longer holds today", () => {
    const story = fresh();
    typed(story);
    story.pass(24 * 60);
    expect(validityOf(story).status).toBe("lapsed");
  });
});
