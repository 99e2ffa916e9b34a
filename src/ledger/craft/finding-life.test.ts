// A finding through its whole life by real entries: who may write what, two people apart, opened again, events cleared.
import { describe, expect, test } from "vitest";
import { smallSheet } from "../../../demo/sheet/small-sheet.ts";
import { assessEvents } from "../../core/finding/assess-events.ts";
import { isClosed, judgementBy } from "../../core/finding/judgement.ts";
import { lifeOf, stageOf } from "../../core/finding/life.ts";
import { begun_ms, Device, keys, trust } from "../../../sim/ledger/world.ts";
import { foldLedger } from "../fold.ts";
import { Story } from "./arbitrary-story.ts";
import { craftLedger } from "./craft-ledger.ts";

const id = "finding-0001";

function raised(story: Story, more: Readonly<Record<string, unknown>> = {}): void {
  const body = { finding: id, kind: "dent", stop: "tail", item: null, walk: null, measure: null, words: "" };
  story.tell("finding.raised", { ...body, at: story.at, ...more });
}
const judge = (
  story: Story,
  by: string,
  role: string,
  outcome: string,
  replaces: readonly string[],
  more = {},
) => {
  story.pass(1);
  const body = { finding: id, outcome, role, words: "", deferral: null, at: story.at, replaces };
  return story.tell("finding.judged", { ...body, ...more }, by);
};
const facts = (story: Story) => story.state.findings[id]!;
const standing = (story: Story) => judgementBy(story.sheet, facts(story))?.outcome ?? null;

describe("two people who judge apart", () => {
  test("the worse stands until one who saw both decides", () => {
    const story = new Story(smallSheet);
    raised(story);
    const milder = judge(story, "p-engineer", "engineer", "watch", []);
    const worse = judge(story, "p-other", "engineer", "ground", []);
    expect(standing(story)).toBe("ground");
    // Somebody who saw only the milder one changes nothing of the worse.
    const third = judge(story, "p-engineer", "engineer", "accept", [milder]);
    expect(standing(story)).toBe("ground");
    judge(story, "p-engineer", "engineer", "accept", [third, worse]);
    expect(standing(story)).toBe("accept");
  });

  test("a pilot who saw both cannot take the worse one away", () => {
    const story = new Story(smallSheet);
    raised(story);
    const worse = judge(story, "p-engineer", "engineer", "ground", []);
    judge(story, "p-one", "pilot", "defer", [worse]);
    expect(facts(story).judgements).toHaveLength(2);
    expect(standing(story)).toBe("ground");
  });
});

describe("the life of a finding", () => {
  test("goes from seen to closed, each step with who, when and in which words, and keeps its first date when opened again", () => {
    const story = new Story(smallSheet);
    raised(story);
    const first_ms = story.now_ms;
    const stages = [stageOf(story.sheet, facts(story))];
    const step = (type: string, more: object, by = "p-engineer") => {
      story.pass(10);
      story.tell(type, { finding: id, at: story.at, ...more }, by);
      stages.push(stageOf(story.sheet, facts(story)));
    };
    judge(story, "p-engineer", "engineer", "ground", []);
    stages.push(stageOf(story.sheet, facts(story)));
    step("finding.planned", { words: "skin to be dressed", licence: null });
    step("finding.referenced", { kind: "workOrder", number: "WO 4711" });
    step("finding.fixed", { words: "dressed", licence: null });
    step("finding.released", { words: "by the manual", licence: "66-1" });
    step("finding.closed", { words: "no trace left", role: "engineer" });
    step("finding.reopened", { words: "there again" }, "p-one");
    expect(stages).toEqual([
      "seen",
      "assessed",
      "toBeFixed",
      "toBeFixed",
      "fixed",
      "released",
      "closed",
      "seen",
    ]);
    expect(facts(story).raised.at_ms).toBe(first_ms);
    const life = lifeOf(facts(story));
    expect(life.map(({ what }) => what)).toEqual([
      "raised",
      "judged",
      "toBeFixed",
      "referenced",
      "fixed",
      "released",
      "closed",
      "reopened",
    ]);
    for (const { by, at_ms } of life) expect([typeof by, Number.isFinite(at_ms)]).toEqual(["string", true]);
    const [again] = facts(story).reopened;
    judge(story, "p-engineer", "engineer", "watch", [facts(story).judgements[0]!.entry], {
      seen: [again!.entry],
    });
    expect(standing(story)).toBe("watch");
    step("finding.closed", { words: "gone", role: "engineer", replaces: [again!.entry] });
    expect(isClosed(story.sheet, facts(story))).toBe(true);
  });

  test("a finding that nobody raised, a size without a unit, a photo of another kind are refused", () => {
    const story = new Story(smallSheet);
    const at = story.at;
    expect(() => story.tell("finding.reopened", { finding: "finding-9999", words: "x", at })).toThrow(
      "findingNotRaised",
    );
    expect(() => raised(story, { measure: { value: 1, unit: "", typed: "1" } })).toThrow("schema");
    const photo = { hash: "f".repeat(64), mime: "image/gif", bytes: 10, width_px: 1, height_px: 1 };
    expect(() => raised(story, { photos: [photo] })).toThrow("schema");
    expect(() => raised(story, { seenOn: { at: "2026-03-01T00:00:00.000Z", typed: "1.3." } })).toThrow(
      "seenAfterRecord",
    );
  });
});

describe("an event of the register", () => {
  test("blocks until the role that the sheet names has written, whoever else writes", () => {
    const story = new Story(smallSheet);
    const noted = story.tell("event.noted", { event: "hardLanding", words: "firm", at: story.at });
    const codes = () => assessEvents(story.sheet, story.state).map(({ code, effect }) => `${code} ${effect}`);
    expect(codes()).toEqual(["event.grounds blocks"]);
    const clear = (role: string) =>
      story.tell("event.cleared", { noted, role, words: "looked at", at: story.at });
    clear("pilot");
    clear("airworthiness");
    expect(codes()).toEqual(["event.grounds blocks"]);
    clear("engineer");
    expect(codes()).toEqual([]);
  });
});

describe("the role in which somebody writes", () => {
  test("counts only where their key is certified for it: a pilot who signs as an engineer is set aside", async () => {
    const at = new Date(begun_ms).toISOString();
    const raise = {
      finding: id,
      kind: "dent",
      stop: "tail",
      item: null,
      walk: null,
      measure: null,
      words: "",
      at,
    };
    const judged = (role: string) => ({
      finding: id,
      outcome: "accept",
      role,
      words: "",
      deferral: null,
      at,
      replaces: [],
    });
    const statusOf = async (person: "p-one" | "p-two", type: string, body: (entry: string) => object) => {
      const device = new Device(keys[person], person);
      const first = await device.write("finding.raised", raise, begun_ms);
      const second = await device.write(type, body(first.id), begun_ms);
      return foldLedger(craftLedger, [first, second], trust).statuses.get(second.id);
    };
    expect(await statusOf("p-one", "finding.judged", () => judged("pilot"))).toBe("pending");
    expect(await statusOf("p-one", "finding.judged", () => judged("engineer"))).toBe("roleMissing");
    expect(await statusOf("p-two", "finding.judged", () => judged("engineer"))).toBe("pending");
    const closed = { finding: id, role: "engineer", words: "done", at };
    expect(await statusOf("p-one", "finding.closed", () => closed)).toBe("roleMissing");
    const fixed = { finding: id, words: "dressed", licence: null, at };
    expect(await statusOf("p-one", "finding.fixed", () => fixed)).toBe("roleMissing");
    expect(await statusOf("p-two", "finding.fixed", () => fixed)).toBe("pending");
    const cleared = (noted: string) => ({ noted, role: "engineer", words: "looked at", at });
    expect(await statusOf("p-one", "event.cleared", cleared)).toBe("roleMissing");
  });
});
