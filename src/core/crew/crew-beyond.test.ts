// Flight hours under the US rules (14 CFR 135.267), hoisting as the operator sets it, one person on two craft, and what
// flying over water asks.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { smallSheet } from "../../../demo/sheet/small-sheet.ts";
import { flight, said, situation } from "../due/due-cases.ts";
import { emptyCraft } from "../facts/craft.ts";
import type { FlightFact, WaterSaid } from "../facts/craft.ts";
import type { CrewKnown, Experience, Shift } from "../facts/crew.ts";
import { hour_ms } from "../facts/instant.ts";
import { assessCrew } from "./assess-crew.ts";
import { assessWater } from "./assess-water.ts";
import { recencyLastDay, recencyRulesOf } from "./recency.ts";
import { flightHourReasonsOf } from "./us-flight-hours.ts";

const noon_ms = Date.UTC(2026, 4, 20, 12);
const elsewhere = (on: string, flight_h: number | null): Experience => ({
  ...said(),
  person: "p-one",
  on,
  landings: 0,
  nightLandings: 0,
  nvisFlights: 0,
  instrument_min: 0,
  hoistCycles: 0,
  nightHoistCycles: 0,
  flight_h,
});
const hours = (
  flights: readonly FlightFact[],
  experience: readonly Experience[] = [elsewhere("2026-01-02", 0)],
  pilots = 1,
) => flightHourReasonsOf({ person: "p-one", flights, experience, pilots, zone: "UTC", now_ms: noon_ms });
const told = (...asked: Parameters<typeof hours>) =>
  hours(...asked).map(({ code, facts }) => [code, facts["window"], facts["left_h"]]);

describe("US flight hours", () => {
  test("in 24 hours are eight with one pilot, ten with two; the flight counts whole while any of it lies within", () => {
    const flown = [flight(noon_ms - 25 * hour_ms, 2), flight(noon_ms - 6 * hour_ms, 5)];
    expect(told(flown)).toEqual([["crew.hoursLeft", "in24h", 1]]);
    expect(told(flown, undefined, 2)).toEqual([["crew.hoursLeft", "in24h", 3]]);
    expect(told([flight(noon_ms - 27 * hour_ms, 2)])).toEqual([]);
  });

  test("that are used up come again when enough has left the window, not before", () => {
    const flown = [flight(noon_ms - 20 * hour_ms, 1), flight(noon_ms - 10 * hour_ms, 8)];
    const [reason] = hours(flown);
    expect(reason).toMatchObject({ code: "crew.hoursUsedUp", effect: "blocks" });
    // One hour leaves at 17:00, but eight are left then: only the second landing, 22 hours from now, lets hours go.
    expect(reason?.until_ms).toBe(noon_ms + 22 * hour_ms);
  });

  test.each([
    ["quarter", "2026-04-01", 500, "2026-07-01T00:00:00.000Z"],
    ["twoQuarters", "2026-01-02", 800, "2026-07-01T00:00:00.000Z"],
  ])("in the %s are counted from its first day", (window, on, most, again) => {
    const at = (flight_h: number) =>
      hours([], [elsewhere(on, flight_h)]).filter(({ facts }) => facts["window"] === window);
    expect(at(most - 30)).toEqual([]);
    expect(at(most - 4)).toMatchObject([{ code: "crew.hoursLeft", facts: { left_h: 4 } }]);
    expect(at(most)).toMatchObject([{ code: "crew.hoursUsedUp", until_ms: Date.parse(again) }]);
  });

  test("in the calendar year are 1400", () => {
    const now_ms = Date.UTC(2026, 11, 20);
    const asked = { person: "p-one", flights: [], pilots: 1, zone: "UTC", now_ms };
    const year = (flight_h: number) =>
      flightHourReasonsOf({ ...asked, experience: [elsewhere("2026-02-01", flight_h)] }).map(
        ({ code }) => code,
      );
    expect(year(1399)).toEqual(["crew.hoursLeft"]);
    expect(year(1400)).toEqual(["crew.hoursUsedUp"]);
  });

  test("are not known where nobody stated what was flown elsewhere, or a day was stated without hours", () => {
    expect(told([], [])).toMatchObject([["crew.hoursNotKnown", undefined, undefined]]);
    expect(told([], [elsewhere("2026-01-02", 3), elsewhere("2026-05-02", null)])).toHaveLength(1);
  });

  test("never grow by flying more", () => {
    const some = fc.array(
      fc.record({ back_h: fc.integer({ min: 1, max: 60 }), flight_h: fc.integer({ min: 1, max: 9 }) }),
      {
        maxLength: 6,
      },
    );
    const leftOf = (flights: readonly FlightFact[]) =>
      Math.min(
        8,
        ...hours(flights)
          .filter(({ facts }) => facts["window"] === "in24h")
          .map(({ facts }) => Number(facts["left_h"])),
      );
    fc.assert(
      fc.property(some, some, (one, more) => {
        const fly = (list: typeof one) =>
          list.map(({ back_h, flight_h }) => flight(noon_ms - (back_h + flight_h) * hour_ms, flight_h));
        expect(leftOf([...fly(one), ...fly(more)])).toBeLessThanOrEqual(leftOf(fly(one)));
      }),
      { numRuns: 100 },
    );
  });

  test("goggles count for the two calendar months after theirs (14 CFR 61.57(f), from memory)", () => {
    const rule = recencyRulesOf("us").nvis;
    expect(recencyLastDay([{ on: "2026-01-31", amount: 6 }], rule)).toBe("2026-03-31");
    expect(recencyLastDay([{ on: "2026-01-31", amount: 5 }], rule)).toBe(null);
  });
});

const wholeCrew: CrewKnown = {
  papers: [],
  born: [],
  experience: [],
  rests: [],
  commands: [],
  rules: [
    {
      ...said(),
      ruleSet: "eu",
      duty: { duty_h: 24, rest_h: 8, cite: "A 7" },
      hoist: null,
      usDuty: "267",
      singlePilotNight: null,
      stricter: [],
      asks: [],
    },
  ],
};
const shift: Shift = {
  ...said(),
  from_ms: noon_ms - hour_ms,
  until_ms: noon_ms + 10 * hour_ms,
  people: [
    { person: "p-one", roles: ["pilot"], lastDutyEnd_ms: noon_ms - 20 * hour_ms },
    { person: "p-two", roles: ["hoistOperator"], lastDutyEnd_ms: noon_ms - 20 * hour_ms },
  ],
};

describe("hoisting", () => {
  const [rules] = wholeCrew.rules;
  const asks = [
    { operation: smallSheet.operations[0]!.id, recency: ["hoist", "nightHoist"], papers: [] },
  ] as const;
  const figures = { day: { need: 3, days: 5 }, night: { need: 2, days: 6 }, cite: "A 7" };
  const judge = (flights: readonly FlightFact[], hoist: typeof figures | null) => {
    const crew: CrewKnown = { ...wholeCrew, experience: [], rules: [{ ...rules!, hoist, asks }] };
    return assessCrew(
      smallSheet,
      { ...emptyCraft, shifts: [shift], flights },
      situation(noon_ms, { crew }),
    ).filter(({ facts }) => facts["recency"] === "hoist" || facts["recency"] === "nightHoist");
  };

  test("is asked of pilot and hoist operator, by day and night, by the operator's own figures", () => {
    expect(judge([], figures).map(({ code, facts }) => [code, facts["person"]])).toEqual([
      ["crew.notRecent", "p-one"],
      ["crew.notRecent", "p-one"],
      ["crew.notRecent", "p-two"],
      ["crew.notRecent", "p-two"],
    ]);
    const both = { crew: ["p-one", "p-two"], hoistCycles: 5, nightHoistCycles: 2 };
    const lapses = judge([flight(noon_ms - 100 * hour_ms, 1, both)], figures);
    expect(new Set(lapses.map(({ code }) => code))).toEqual(new Set(["crew.recencyLapses"]));
    // 16 May and 5 days: the 21st; by night 6 days.
    expect(new Set(lapses.map(({ facts }) => facts["lastDay"]))).toEqual(
      new Set(["2026-05-21", "2026-05-22"]),
    );
  });

  test("without figures of the operator is not known", () => {
    expect(judge([], null).map(({ code, effect }) => `${code} ${effect}`)[0]).toBe(
      "crew.noHoistFigures unknown",
    );
  });
});

describe("one person on duty with two craft", () => {
  test("is pointed out on either, as long as both duties last", () => {
    const others = [{ name: "Other", shifts: [{ ...shift, people: [shift.people[0]!] }], flights: [] }];
    const at = (now_ms: number) =>
      assessCrew(
        smallSheet,
        { ...emptyCraft, shifts: [shift] },
        { ...situation(now_ms, { crew: wholeCrew }), others },
      )
        .filter(({ code }) => code === "crew.onTwoCraft")
        .map(({ facts, effect }) => [facts["person"], facts["craft"], effect]);
    expect(at(noon_ms)).toEqual([["p-one", "Other", "advises"]]);
    expect(at(noon_ms + 11 * hour_ms)).toEqual([]);
  });
});

describe("over water", () => {
  const overWater = {
    operations: ["overWater"],
    seaStateAtMost: 4,
    suitsBelow_C: 10,
    raftPlaces: 2,
    stands_min: 120,
    cite: "A 8",
  };
  const rules = { ...said(), meter: null, worksheet: null, overWater, lapseInFlight: "pointedOut" } as const;
  const word = (more: Partial<WaterSaid> = {}): WaterSaid => ({
    ...said(noon_ms - hour_ms),
    seaState: 4,
    water_C: 5,
    suits: 2,
    ...more,
  });
  const judge = (water: readonly WaterSaid[], now_ms = noon_ms, more: Partial<typeof overWater> = {}) =>
    assessWater(
      { ...emptyCraft, shifts: [shift], water },
      situation(now_ms, { flightRules: [{ ...rules, overWater: { ...overWater, ...more } }] }),
    )
      .filter(({ from_ms }) => (from_ms ?? now_ms) <= now_ms)
      .map(({ code, effect }) => `${code} ${effect}`);

  test("is not known while nobody has said sea and suits, or when the word has aged", () => {
    expect(judge([])).toEqual(["water.notSaid unknown"]);
    expect(judge([word()])).toEqual([]);
    expect(judge([word()], noon_ms + hour_ms)).toEqual(["water.notSaid unknown"]);
  });

  test("forbids a sea above the floats' limit, on the limit not", () => {
    expect(judge([word({ seaState: 5 })])).toEqual(["water.seaAbove blocks"]);
    // Said apart by two people: the worse.
    expect(judge([word(), word({ by: "p-two", seaState: 6 })])).toEqual(["water.seaAbove blocks"]);
  });

  test("asks a suit for everybody in cold water, and a place in the rafts", () => {
    expect(judge([word({ suits: 1 })])).toEqual(["water.suitsFew blocks"]);
    expect(judge([word({ suits: 1, water_C: 10 })])).toEqual([]);
    expect(judge([word()], noon_ms, { raftPlaces: 1 })).toEqual(["water.raftsFew blocks"]);
  });
});
