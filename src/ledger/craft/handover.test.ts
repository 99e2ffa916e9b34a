import { describe, expect, test } from "vitest";
import { smallSheet } from "../../../demo/sheet/small-sheet.ts";
import { hour_ms, msToInstant } from "../../core/facts/instant.ts";
import { handoverPage, lastShiftEnd } from "../../core/standing/handover.ts";
import type { HandoverPage } from "../../core/standing/handover.ts";
import { assessRecorded, Story } from "./arbitrary-story.ts";

/** One flies and writes; two comes back after a day. */
function told(): Story {
  const story = new Story(smallSheet, { floats: true, boards: false });
  const replaces = () => story.state.custody.map(({ entry }) => entry);
  const take = (person: string) =>
    story.tell(
      "custody.taken",
      { custody: "crew", people: [person], words: "", expectedEnd: null, at: story.at, replaces: replaces() },
      person,
    );
  story.pass(10);
  take("p-two");
  story.pass(30);
  const raised = { kind: "leak", stop: "left", item: null, walk: null, measure: null, words: "wet" };
  story.tell("finding.raised", { finding: "finding-0001", ...raised, at: story.at }, "p-two");
  story.pass(200);
  take("p-one");
  story.pass(60);
  story.tell("flight.logged", {
    flight: "flight-0001",
    offAt: msToInstant(story.now_ms - 40 * 60_000),
    onAt: story.at,
    flight_h: 0.6,
    landings: 2,
    hoistCycles: 0,
    operation: smallSheet.operations[0]!.id,
    crew: ["p-one"],
  });
  story.pass(5);
  return story;
}

function pageFor(story: Story, person: string, shift_h = 12): HandoverPage {
  const reasons = assessRecorded(story.sheet, story.state, story.situation());
  return handoverPage(story.state, reasons, person, story.now_ms, story.now_ms + shift_h * hour_ms);
}

const given = (story: Story, more: Readonly<Record<string, unknown>> = {}) => ({
  handover: "handover-0001",
  to: "p-two",
  since: null,
  shiftEnds: msToInstant(story.now_ms + 12 * hour_ms),
  changed: ["a flight"],
  ending: [],
  open: [],
  flightsOpen: "",
  words: "",
  at: story.at,
  ...more,
});

describe("the page of a handover", () => {
  test("tells what came after the last thing that its reader did, and nothing before", () => {
    const story = told();
    const since_ms = story.state.findings["finding-0001"]!.raised.at_ms;
    expect(lastShiftEnd(story.state, "p-two", story.now_ms)).toBe(since_ms);
    expect(pageFor(story, "p-two").changed.map(({ code }) => code)).toEqual(["custody", "flight"]);
  });

  test("tells whoever never had the machine the last seven days", () => {
    const story = told();
    const page = pageFor(story, "p-three");
    expect(page.since_ms).toBeNull();
    expect(page.changed.map(({ code }) => code)).toContain("finding");
    story.pass(8 * 24 * 60);
    expect(pageFor(story, "p-three").changed).toEqual([]);
  });

  test("asks what is open, and says what begins within the shift and not after it", () => {
    const story = told();
    const page = pageFor(story, "p-two");
    expect(page.asked.map(({ code }) => code)).toContain("finding.unjudged");
    expect(page.ending.length).toBeGreaterThan(0);
    for (const { from_ms } of page.ending) expect(from_ms).toBeLessThanOrEqual(story.now_ms + 12 * hour_ms);
    const none = pageFor(story, "p-two", 0.01).ending.filter(({ from_ms }) => from_ms !== null);
    expect(none).toEqual([]);
  });

  test("names a walk that was begun and not finished, and what was recorded apart", () => {
    const story = told();
    story.begin("walk-0001");
    story.tell("custody.taken", {
      custody: "crew",
      people: ["p-two"],
      words: "",
      expectedEnd: null,
      at: story.at,
      replaces: [],
    });
    expect(pageFor(story, "p-two").structure.map(({ code }) => code)).toEqual([
      "walkRunning",
      "custodyApart",
    ]);
  });
});

describe("a handover", () => {
  test("is signed by both, the second naming the very page of the first", () => {
    const story = told();
    const entry = story.tell("handover.given", given(story));
    expect(story.state.pagesHanded).toMatchObject([{ entry, by: "p-one", to: "p-two", taken: [] }]);
    story.pass(3);
    story.tell("handover.taken", { given: entry, words: "read", at: story.at }, "p-two");
    expect(story.state.pagesHanded[0]!.taken).toMatchObject([{ by: "p-two", words: "read" }]);
    expect(story.state.pagesHanded[0]!.changed).toEqual(["a flight"]);
  });

  test("is not handed to oneself, not signed by another, not given twice, and not of a page that nobody gave", () => {
    const story = told();
    expect(() => story.tell("handover.given", given(story, { to: "p-one" }))).toThrow(/handedToOneself/u);
    expect(() => story.tell("handover.given", given(story, { shiftEnds: story.at }))).toThrow(
      /endsBeforeItBegins/u,
    );
    const entry = story.tell("handover.given", given(story));
    expect(() => story.tell("handover.given", given(story))).toThrow(/handoverAlreadyGiven/u);
    const taken = { given: entry, words: "", at: story.at };
    expect(() => story.tell("handover.taken", taken, "p-three")).toThrow(/handedToAnother/u);
    expect(() => story.tell("handover.taken", { ...taken, given: "f".repeat(64) }, "p-two")).toThrow(
      /handoverNotHeld/u,
    );
  });
});
