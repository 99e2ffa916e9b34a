// Entries about flights, deferrals, maintenance and crew that cannot be: refused by path with what was found and wanted,
// and kept aside by the fold; nothing of them is taken over in silence.
import { describe, expect, test } from "vitest";
import { smallSheet } from "../../../demo/sheet/small-sheet.ts";
import { hour_ms, minute_ms, msToInstant } from "../../core/facts/instant.ts";
import { crewEntriesFor, nobodyKnown } from "../operator/crew-entries.ts";
import { isRefusal } from "../entry-type.ts";
import { Story } from "./arbitrary-story.ts";
import { freshBalance, zeroCounters } from "./fresh-balance.ts";

type Refused = {
  readonly code: string;
  readonly path: string;
  readonly found: string;
  readonly wanted: string;
};

function refusal(type: string, body: (story: Story) => object): Refused | null {
  const story = new Story(smallSheet, { floats: true, boards: false });
  story.pass(600);
  try {
    story.tell(type, body(story));
    return null;
  } catch (error) {
    return JSON.parse((error as Error).message) as Refused;
  }
}

const flight =
  (more: object = {}) =>
  (story: Story) => ({
    flight: "flight-0001",
    offAt: msToInstant(story.now_ms - hour_ms),
    onAt: story.at,
    flight_h: 0.9,
    landings: 3,
    hoistCycles: 0,
    operation: "dayVfr",
    crew: ["p-one"],
    ...more,
  });

describe("a flight", () => {
  test("that can be is taken, with what nobody stated left open", () => {
    expect(refusal("flight.logged", flight())).toBe(null);
    expect(refusal("flight.logged", flight({ starts: 1, nightLandings: 3, nvis: false }))).toBe(null);
  });

  test.each([
    ["landedBeforeTakeOff", { onAt: "2026-02-04T01:00:00.000Z" }, "onAt"],
    ["moreLandingsThanMinutes", { landings: 61 }, "landings"],
    ["moreThanAllLandings", { nightLandings: 4 }, "nightLandings"],
    ["longerThanItLasted", { flight_h: 1.1 }, "flight_h"],
    ["moreThanAllCycles", { hoistCycles: 2, nightHoistCycles: 3 }, "nightHoistCycles"],
    ["moreLegsThanLandings", { legs: 4 }, "legs"],
    ["landedInFuture", { onAt: "2026-02-05T06:00:00.000Z" }, "onAt"],
    ["schema", { landings: 0 }, "landings"],
    ["schema", { offAt: "2026-02-04T24:00:00.000Z" }, "offAt"],
  ])("is refused as %s", (code, more, path) => {
    expect(refusal("flight.logged", flight(more))).toMatchObject({ code, path });
  });
});

describe("a deferral", () => {
  test("cannot be lengthened by a date ahead of its entry", () => {
    const raised = (ahead_ms: number) => (story: Story) => ({
      finding: "finding-0001",
      kind: "other",
      stop: "nose",
      item: null,
      walk: null,
      measure: null,
      words: "",
      at: msToInstant(story.now_ms + ahead_ms),
    });
    expect(refusal("finding.raised", raised(0))).toBe(null);
    expect(refusal("finding.raised", raised(6 * minute_ms))).toMatchObject({
      code: "recordedInFuture",
      path: "at",
    });
  });

  test("steps belong to a finding of this ledger", () => {
    const body = { operational: true, maintenance: null, logPage: "", workOrder: "" };
    expect(
      refusal("deferral.confirmed", ({ at }) => ({ finding: "finding-0009", ...body, at })),
    ).toMatchObject({ code: "findingNotRaised", found: "finding-0009" });
  });
});

describe("maintenance", () => {
  const done = (on: string) => (story: Story) => ({
    task: "h100",
    counters: zeroCounters,
    on,
    licence: "66-1",
    at: story.at,
  });

  test("is not done in the future, nor on a day that there is not", () => {
    expect(refusal("task.done", done("2026-02-04"))).toBe(null);
    expect(refusal("task.done", done("2026-03-04"))).toMatchObject({ code: "doneInFuture", path: "on" });
    expect(refusal("task.done", done("2026-02-29"))).toMatchObject({ code: "schema", path: "on" });
  });

  test("has one opening balance, and a step of the counters has its reason", () => {
    expect(refusal("balance.signed", ({ now_ms }) => freshBalance(smallSheet, now_ms))).toMatchObject({
      code: "balanceAlreadyHeld",
    });
    const step = (why: string) => (story: Story) => ({
      counters: zeroCounters,
      why,
      at: story.at,
      replaces: [],
    });
    expect(refusal("counters.stepped", step(""))).toMatchObject({ code: "schema", path: "why" });
    expect(refusal("counters.stepped", step("meter changed"))).toBe(null);
  });
});

describe("a shift", () => {
  const shift = (hours: number, rested_h: number) => (story: Story) => ({
    from: story.at,
    until: msToInstant(story.now_ms + hours * hour_ms),
    people: [
      { person: "p-one", roles: ["pilot"], lastDutyEnd: msToInstant(story.now_ms - rested_h * hour_ms) },
    ],
    replaces: [],
  });

  test("ends after it begins, and rest ends before it", () => {
    expect(refusal("shift.declared", shift(12, 10))).toBe(null);
    expect(refusal("shift.declared", shift(0, 10))).toMatchObject({ code: "endsBeforeItBegins" });
    expect(refusal("shift.declared", shift(12, -1))).toMatchObject({ code: "restEndsAfterDutyBegins" });
  });
});

describe("a paper", () => {
  const paper = crewEntriesFor<{
    crew: typeof nobodyKnown;
    minima: readonly never[];
    minimaUses: readonly never[];
    flightRules: readonly never[];
  }>().find(({ type }) => type === "paper.recorded")!;
  const at_ms = Date.UTC(2026, 1, 4);
  const record = (issuedOn: string, lastDay: string | null) => {
    const at = msToInstant(at_ms);
    const meta = { id: "a".repeat(64), ledger: "operator:x", type: paper.type, key: "k", by: "p", at, at_ms };
    const body = { person: "p-one", paper: "licence", issuedOn, lastDay, at, replaces: [] };
    const folded = paper.fold({ crew: nobodyKnown, minima: [], minimaUses: [], flightRules: [] }, body, {
      ...meta,
      seq: 1,
      basis: {},
    });
    return isRefusal(folded) ? folded.refused.code : null;
  };

  test("does not expire before it was issued, and is not issued in the future", () => {
    expect(record("2026-01-01", "2027-01-01")).toBe(null);
    expect(record("2026-01-01", "2025-12-31")).toBe("expiresBeforeIssued");
    expect(record("2026-02-06", null)).toBe("issuedInFuture");
  });
});

describe("taking a reading back", () => {
  const conditions = { oat_C: 5 };
  const taken = { gauge: "engineOil", value: 4.2, unit: "L", typed: "4.2", conditions, hours_h: null };

  test("keeps what was typed, names who took it back, and is refused for a reading that nobody took", () => {
    const story = new Story(smallSheet, { floats: true, boards: false });
    story.pass(600);
    story.tell("reading.taken", { ...taken, at: story.at });
    const { entry } = story.state.readings["engineOil"]!.at(-1)!;
    const slip = { gauge: "engineOil", reading: entry, words: "slip", at: story.at };
    story.tell("reading.withdrawn", slip);
    expect(story.state.readings["engineOil"]!.at(-1)).toMatchObject({
      typed: "4.2",
      withdrawn: { words: "slip" },
    });
    const other = { ...slip, reading: "0".repeat(64) };
    expect(() => story.tell("reading.withdrawn", other)).toThrow(/readingNotHeld/u);
    expect(() => story.tell("reading.withdrawn", { ...slip, gauge: "oilCap" })).toThrow(/readingNotHeld/u);
  });
});
