// Rest under the US rules beyond the one before a duty, and hours in command of HEMS flights. Sources: 14 CFR 135.267(f)(g),
// 135.271(d)(h)(i) (text); SPA.HEMS.130(b) (memory).
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { smallSheet } from "../../../demo/sheet/small-sheet.ts";
import { wholeCrew } from "./whole-crew.ts";
import { flight, said, situation } from "../due/due-cases.ts";
import { emptyCraft } from "../facts/craft.ts";
import type { FlightFact } from "../facts/craft.ts";
import type { CommandStated, CrewKnown, CrewRules, RestPeriod, Shift } from "../facts/crew.ts";
import { hour_ms, msToInstant } from "../facts/instant.ts";
import type { OperatorSettings } from "../facts/situation.ts";
import { assessCrew } from "./assess-crew.ts";

const day_ms = 24 * hour_ms;
const from_ms = Date.UTC(2026, 4, 20, 6);
const rest = (from: number, hours: number): RestPeriod => ({
  ...said(),
  person: "p-one",
  from_ms: from,
  until_ms: from + hours * hour_ms,
});
const shift = (hours: number, lastDutyEnd_ms = from_ms - 30 * hour_ms): Shift => ({
  ...said(from_ms),
  from_ms,
  until_ms: from_ms + hours * hour_ms,
  people: [{ person: "p-one", roles: ["pilot"], lastDutyEnd_ms }],
});
type More = {
  readonly rules?: Partial<CrewRules>;
  readonly crew?: Partial<CrewKnown>;
  readonly shifts?: readonly Shift[];
  readonly flights?: readonly FlightFact[];
  readonly now_ms?: number;
  readonly settings?: Partial<OperatorSettings>;
};
function judge(
  codes: RegExp,
  { rules, crew, shifts = [shift(12)], flights = [], now_ms = from_ms, settings }: More,
) {
  const known: CrewKnown = { ...wholeCrew, ...crew, rules: [{ ...wholeCrew.rules[0]!, ...rules }] };
  return assessCrew(
    smallSheet,
    { ...emptyCraft, shifts, flights },
    situation(now_ms, { zone: "UTC", crew: known, ...settings }),
  ).filter(({ code }) => codes.test(code));
}

describe("13 rest periods of a quarter", () => {
  const us = { ruleSet: "us" } as const;
  const ends_ms = Date.UTC(2026, 6, 1);
  const few = (rests: readonly RestPeriod[], more: More = {}) =>
    judge(/^crew\.restPeriodsFew$/u, {
      rules: us,
      crew: { rests },
      ...more,
      now_ms: more.now_ms ?? ends_ms - 2 * day_ms,
      shifts: [{ ...shift(12), from_ms: ends_ms - 2 * day_ms, until_ms: ends_ms - 1.5 * day_ms }],
    });
  const taken = (count: number, hours = 24) =>
    Array.from({ length: count }, (_, index) => rest(Date.UTC(2026, 3, 2 + 4 * index), hours));

  test("bind from the instant at which those missing no longer fit into what is left of it", () => {
    expect(few(taken(13))).toEqual([]);
    expect(few(taken(12)).map((one) => msToInstant(one.from_ms!))).toEqual(["2026-06-30T00:00:00.000Z"]);
    const [eleven] = few(taken(11));
    expect(eleven).toMatchObject({ effect: "blocks", facts: { taken: 11, needed: 13 } });
    expect(msToInstant(eleven!.from_ms!)).toBe("2026-06-29T00:00:00.000Z");
    expect(few([]).map((one) => msToInstant(one.from_ms!))).toEqual(["2026-06-18T00:00:00.000Z"]);
  });

  test("count with 24 hours on end inside the quarter, once where records overlap", () => {
    expect(few([...taken(12), rest(Date.UTC(2026, 5, 25), 23.9)])[0]!.facts["taken"]).toBe(12);
    expect(few([...taken(12), rest(Date.UTC(2026, 3, 2, 6), 24)])[0]!.facts["taken"]).toBe(12);
    const before = rest(Date.UTC(2026, 2, 31, 12), 24);
    expect(few([...taken(12), before])[0]!.facts["taken"]).toBe(12);
    // One right after the other, each recorded as a rest of its own.
    expect(few([...taken(12), rest(Date.UTC(2026, 3, 3), 24)])).toEqual([]);
  });

  test("more rest never binds earlier, and the EU rules ask none", () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 0, max: 80 }), fc.integer({ min: 20, max: 30 })), {
          maxLength: 15,
        }),
        (list) => {
          const rests = list.map(([day, hours]) => rest(Date.UTC(2026, 3, 1) + day * day_ms, hours));
          const binds = (some: readonly RestPeriod[]) => few(some)[0]?.from_ms ?? Infinity;
          expect(binds(rests)).toBeGreaterThanOrEqual(binds([]));
        },
      ),
      { numRuns: 60 },
    );
    expect(judge(/restPeriods/u, { rules: { ruleSet: "eu" } })).toEqual([]);
  });
});

describe("rest inside an assignment", () => {
  const assigned = { ruleSet: "us", usDuty: "271" } as const;
  const relieved = (more: More) =>
    judge(/^crew\.restInAssignment$/u, { rules: assigned, shifts: [shift(48)], ...more }).map(
      (one) => (one.from_ms! - from_ms) / hour_ms,
    );

  test("of 8 hours on end in any 24: relieved 16 hours after the last one", () => {
    expect(relieved({})).toEqual([16]);
    expect(relieved({ shifts: [shift(16)] })).toEqual([]);
    const slept = [rest(from_ms + 8 * hour_ms, 8)];
    expect(relieved({ crew: { rests: slept }, now_ms: from_ms + 17 * hour_ms })).toEqual([32]);
    // Seven hours are none, and rest to come is none yet.
    expect(
      relieved({ crew: { rests: [rest(from_ms + 8 * hour_ms, 7.9)] }, now_ms: from_ms + 17 * hour_ms }),
    ).toEqual([16]);
    expect(relieved({ crew: { rests: slept }, now_ms: from_ms + 15 * hour_ms })).toEqual([16]);
  });
});

describe("rest after exceeding", () => {
  const short = (more: More) =>
    judge(/^crew\.restedShort$/u, more).map(({ facts, source }) => [
      facts["rest_h"],
      source.kind === "rule" ? source.cite : "",
    ]);
  const flown = (hours: number) => [flight(from_ms - 11 * hour_ms, hours)];
  const rested = (hours: number) => [shift(12, from_ms - hours * hour_ms)];
  const us = { ruleSet: "us" } as const;

  test.each([
    [8, []],
    [8.5, [[11, "14 CFR 135.267(f)"]]],
    [9, [[12, "14 CFR 135.267(f)"]]],
    [9.1, [[16, "14 CFR 135.267(f)"]]],
  ])("8 hours in 24 with one pilot by flying %d hours", (hours, expected) => {
    expect(short({ rules: us, flights: flown(hours), shifts: rested(10.5) })).toEqual(expected);
  });

  test("is over when it was had", () => {
    expect(short({ rules: us, flights: flown(8.5), shifts: rested(11) })).toEqual([]);
  });

  test("an assignment: 12 hours after less than 48, 16 after more, and after one that nobody recorded", () => {
    const assigned = { ruleSet: "us", usDuty: "271" } as const;
    const after = (assigned_h: number, rested_h: number) => {
      const ended_ms = from_ms - rested_h * hour_ms;
      const before = { ...shift(1), from_ms: ended_ms - assigned_h * hour_ms, until_ms: ended_ms };
      return short({ rules: assigned, shifts: [before, ...rested(rested_h)] });
    };
    expect(after(24, 12)).toEqual([]);
    expect(after(24, 11.9)).toEqual([[12, "14 CFR 135.271(h)"]]);
    expect(after(48, 15)).toEqual([[16, "14 CFR 135.271(h)"]]);
    expect(short({ rules: assigned, shifts: rested(15) })).toEqual([[16, "14 CFR 135.271(h)"]]);
  });
});

describe("hours in command of a HEMS flight", () => {
  const stated: CommandStated = {
    ...said(),
    person: "p-one",
    on: "2026-01-01",
    pic_h: 1000,
    helicopterPic_h: 500,
    similar_h: 500,
    nightPic_h: 20,
    asCoPilot: false,
  };
  const settings = {
    minimaUses: [
      { ruleSet: "eu", operation: "dayVfr", cite: "A 8", performanceClass: 2, airspaceVisibility_m: 1_500 },
    ],
  } as const satisfies Partial<OperatorSettings>;
  const command = (commands: readonly CommandStated[], more: More = {}) =>
    judge(/^crew\.command/u, { crew: { commands }, settings, ...more }).map(({ code, effect, facts }) => [
      code,
      effect,
      facts["figure"],
    ]);
  const byNight = { asks: [{ operation: "dayVfr", recency: ["night"], papers: [] }] } as const;

  test("exactly what is asked is met; less blocks, and what nobody stated is not known", () => {
    expect(command([stated])).toEqual([]);
    expect(command([{ ...stated, helicopterPic_h: 499 }])).toEqual([
      ["crew.commandShort", "blocks", "helicopterPic_h"],
    ]);
    expect(command([{ ...stated, pic_h: 200, helicopterPic_h: 200, asCoPilot: true }])).toEqual([]);
    expect(command([])).toEqual([["crew.commandNotKnown", "unknown", undefined]]);
  });

  test("by night 20 hours more, and none of it where no table of minima binds the operation", () => {
    const short = [{ ...stated, nightPic_h: 19 }];
    expect(command(short)).toEqual([]);
    expect(command(short, { rules: byNight })).toEqual([["crew.commandShort", "blocks", "nightPic_h"]]);
    expect(command([], { settings: {} })).toEqual([]);
  });

  test("of two pilots one suffices; statements that stand beside each other all have to", () => {
    const people = ["p-one", "p-two"].map((person) => ({
      person,
      roles: ["pilot"] as const,
      lastDutyEnd_ms: from_ms - 30 * hour_ms,
    }));
    const shifts = [{ ...shift(12), people }];
    expect(command([{ ...stated, person: "p-two" }], { shifts })).toEqual([]);
    expect(command([stated, { ...stated, similar_h: 100 }])).toEqual([
      ["crew.commandShort", "blocks", "similar_h"],
    ]);
  });
});

test("recency that the operator asks beside the rule set's holds with it, and never loosens it", () => {
  const recent = (need: number, days: number) =>
    judge(/^crew\.(?:notRecent|recencyLapses)$/u, {
      rules: { stricter: [{ recency: "landings", need, days, cite: "A 5" }] },
    }).map(({ code, facts, source }) => [code, facts["lastDay"], source.kind === "rule" ? source.cite : ""]);
  // Nine landings on 1 February; the rule set's own lapse on 2 May, before the shift.
  const own = ["crew.recencyLapses", "2026-05-02", "FCL.060(b)(1)"];
  expect(recent(9, 30)).toEqual([own, ["crew.recencyLapses", "2026-03-03", "A 5"]]);
  expect(recent(10, 700)).toEqual([own, ["crew.notRecent", undefined, "A 5"]]);
  expect(recent(1, 700)).toContainEqual(own);
});
