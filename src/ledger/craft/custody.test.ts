// Custody over told records: who has the machine, what its work needs before it flies again, and what it does to walks.
import { describe, expect, test } from "vitest";
import { smallSheet } from "../../../demo/sheet/small-sheet.ts";
import type { Sheet } from "../../core/sheet/schema.ts";
import { assessCraft } from "../../core/standing/assess.ts";
import { standingAt } from "../../core/standing/combine.ts";
import { planOf, planWalk } from "../../core/walk/plan.ts";
import { singlyBecause } from "../../core/walk/sweep.ts";
import { walkProgress } from "../../core/walk/progress.ts";
import { walkValidity } from "../../core/walk/validity.ts";
import { craftLedger } from "./craft-ledger.ts";
import { Story } from "./arbitrary-story.ts";

const fitted = { floats: true, boards: false };
const walk = "walk-0001";
/** The tail is where controls are worked on. */
const sheet: Sheet = {
  ...smallSheet,
  stops: smallSheet.stops.map((stop) =>
    stop.id === "tail" ? { ...stop, independentInspection: true } : stop,
  ),
  // Nothing said about maintenance: that it ends a walk is no matter of the sheet.
  walkValidity: { ...smallSheet.walkValidity, full: { calendarDay: true, voidedBy: [] } },
};

function walked(id = walk, story = new Story(sheet, fitted)): Story {
  story.begin(id);
  story.walkAll(id);
  story.finish(id);
  story.pass(5);
  return story;
}

/** Reasons of custody, walks and closures; the rest is not what is told here. */
const codesOf = (story: Story) =>
  standingAt(assessCraft(story.sheet, story.state, story.situation()), "dayVfr", story.now_ms)
    .reasons.map(({ code }) => code)
    .filter((code) => /^(?:custody|walk|closure)\./u.test(code));

describe("maintenance", () => {
  test("ends the full walk, whatever the sheet says, and a walk under way as well", () => {
    const story = walked();
    story.begin("walk-0002");
    story.pass(1);
    story.hand("maintenance", "hydraulic line");
    for (const id of [walk, "walk-0002"]) {
      const { status, voided } = walkValidity(sheet, story.state, story.state.walks[id]!, story.situation());
      expect([id, status, voided?.by]).toEqual([id, "void", "maintenance"]);
    }
    expect(codesOf(story)).toEqual(expect.arrayContaining(["custody.maintenance", "walk.void"]));
  });

  test("gives back a machine that is not ready until the work is released, by an engineer", () => {
    const story = walked();
    story.hand("maintenance", "hydraulic line", "p-engineer");
    story.pass(60);
    story.hand("crew");
    walked("walk-0003", story);
    expect(codesOf(story)).toContain("custody.notReleased");
    story.release({ worked: ["left"] });
    walked("walk-0004", story);
    expect(codesOf(story)).toEqual([]);
    const kind = craftLedger.types.find(({ type }) => type === "release.signed");
    expect(kind?.roles).toEqual(["engineer"]);
  });

  test("is not released by a release from before it", () => {
    const story = new Story(sheet, fitted);
    story.release();
    story.pass(10);
    story.hand("maintenance", "hydraulic line");
    story.pass(10);
    story.hand("crew");
    walked("walk-0003", story);
    expect(codesOf(story)).toContain("custody.notReleased");
  });

  test("reopens what was worked on: its items are marked one by one, and its closures stand open", () => {
    const story = walked();
    story.hand("maintenance", "float valves");
    story.pass(60);
    const closures = [{ closure: "cowl", state: "open", replaces: [] }];
    story.release({ worked: ["right", "left"], closures });
    story.hand("crew");
    expect(codesOf(story)).toContain("closure.open");
    story.begin("walk-0003");
    const facts = story.state.walks["walk-0003"]!;
    const plan = planOf(sheet, story.state, facts);
    const { items } = walkProgress(sheet, plan, facts, story.state);
    const float = items.find(({ row }) => row.item.id === "rightFloat")!;
    expect(float.row.item.sweep).toBe(true);
    expect(singlyBecause(float, facts, story.state)).toBe("worked");
    expect(
      plan.rows.filter(({ because }) => because.some(({ kind }) => kind === "worked")).length,
    ).toBeGreaterThan(2);
  });

  test("makes the walk after it an after-maintenance one, whatever was said", () => {
    const asks: Sheet = {
      ...sheet,
      items: sheet.items.map((item) =>
        item.id === "tail" ? { ...item, applies: { condition: "afterMaintenance" } } : item,
      ),
    };
    const story = walked(walk, new Story(asks, fitted));
    const planned = () =>
      planWalk(asks, story.state, "full", { afterMaintenance: false }).rows.some(
        ({ item }) => item.id === "tail",
      );
    expect(planned()).toBe(false);
    story.release({ worked: ["nose"] });
    expect(planned()).toBe(true);
  });
});

describe("work at controls", () => {
  const released = (worked: readonly string[]) => {
    const story = walked();
    story.hand("maintenance", "tail rotor", "p-engineer");
    story.pass(60);
    const release = story.release({ worked });
    story.hand("crew");
    walked("walk-0003", story);
    return { story, release };
  };
  const inspect = (story: Story, release: string, by: string) =>
    story.tell("inspection.signed", { release, licence: "66-2", words: "", at: story.at }, by);

  test("needs another engineer's inspection where the sheet says so, and only there", () => {
    const { story, release } = released(["nose", "tail"]);
    expect(codesOf(story)).toContain("custody.notInspected");
    inspect(story, release, "p-second");
    expect(codesOf(story)).not.toContain("custody.notInspected");
    expect(codesOf(released(["nose"]).story)).not.toContain("custody.notInspected");
  });

  test("is not inspected by who released it, nor by a signature on nothing", () => {
    const { story, release } = released(["tail"]);
    expect(() => inspect(story, release, "p-engineer")).toThrow(/inspectedByWhoReleased/u);
    expect(() => inspect(story, "f".repeat(64), "p-second")).toThrow(/releaseNotHeld/u);
    expect(codesOf(story)).toContain("custody.notInspected");
  });
});

describe("a release with limitations", () => {
  const limited = (takesAway: readonly string[]) => {
    const story = new Story(sheet, fitted);
    const release = story.release({ limitations: "no winch until the cable is new", takesAway });
    walked("walk-0003", story);
    return { story, release };
  };

  test("is told, and takes away the kinds of flying that it names", () => {
    expect(codesOf(limited([]).story)).toEqual(["custody.limitation"]);
    expect(codesOf(limited(["dayVfr"]).story)).toEqual(["custody.takenAway"]);
    expect(codesOf(limited(["hoist"]).story)).toEqual([]);
  });

  test("stands through later releases until one lifts it by name", () => {
    const { story, release } = limited(["dayVfr"]);
    story.release({ words: "something else" });
    walked("walk-0004", story);
    expect(codesOf(story)).toEqual(["custody.takenAway"]);
    story.release({ lifts: [release] });
    walked("walk-0005", story);
    expect(codesOf(story)).toEqual([]);
  });

  test("is refused where it takes away without words, or lifts what nobody signed", () => {
    const story = new Story(sheet, fitted);
    expect(() => story.release({ takesAway: ["dayVfr"] })).toThrow(/limitWithoutWords/u);
    expect(() => story.release({ lifts: ["f".repeat(64)] })).toThrow(/releaseNotHeld/u);
  });
});

test("out of service and maintenance need a reason, and an expected end makes nothing ready", () => {
  const story = walked();
  expect(() => story.hand("outOfService", " ")).toThrow(/custodyWithoutReason/u);
  const replaces = story.state.custody.map(({ entry }) => entry);
  const body = { custody: "outOfService", people: [], words: "cleaning", at: story.at, replaces };
  story.tell("custody.taken", { ...body, expectedEnd: story.at });
  story.pass(600);
  expect(codesOf(story)).toContain("custody.outOfService");
});
