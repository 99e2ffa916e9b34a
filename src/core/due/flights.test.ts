// The flight log judged: flights not logged, what nobody was asked, the hour meter, the worksheet; what a planned call would
// use up; the draft of a flight. Rules: CAT.GEN.MPA.105, M.A.403(b), AMC M.A.301(a) 1(b), 14 CFR 135.617; the meter by common
// practice.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { smallSheet } from "../../../demo/sheet/small-sheet.ts";
import type { CraftState, FlightFact, ReadingFact } from "../facts/craft.ts";
import type { FlightRules } from "../facts/flight-rules.ts";
import { hour_ms, minute_ms } from "../facts/instant.ts";
import type { Sheet } from "../sheet/schema.ts";
import { assessFlights } from "./assess-flights.ts";
import { based, flight, morning_ms, said, situation } from "./due-cases.ts";
import { flightDraft } from "./flight-draft.ts";
import { meterRead } from "./hour-meter.ts";
import { assessPlannedUse, passedBy, referenceUse, usedUpBy } from "./planned-use.ts";

const gauge = smallSheet.gauges[0]!;
const meter = { ...gauge, id: "meter", kind: "counter", unit: "h", step: 0.1 } as const;
const sheet: Sheet = { ...smallSheet, gauges: [...smallSheet.gauges, meter], programme: [], components: [] };

const read = (at_ms: number, value: number): ReadingFact => ({
  ...said(at_ms),
  gauge: "meter",
  value,
  unit: "h",
  typed: String(value),
  walk: null,
  conditions: {},
  hours_h: null,
});
const craft = (flights: readonly FlightFact[], readings: readonly ReadingFact[] = []): CraftState => ({
  ...based(morning_ms, { flightHours_h: 100 }, flights),
  readings: { meter: readings },
});
const rules: FlightRules = {
  ...said(),
  meter: { tolerance_h: 0.2, cite: "A 8" },
  worksheet: null,
  overWater: null,
  lapseInFlight: "pointedOut",
};
const judge = (
  state: CraftState,
  more: Parameters<typeof situation>[1] = {},
  at_ms = morning_ms + 5 * hour_ms,
) =>
  assessFlights(sheet, state, situation(at_ms, { flightRules: [rules], ...more })).map(({ code, effect }) => [
    code,
    effect,
  ]);

describe("the hour meter", () => {
  const flown = [flight(morning_ms + hour_ms, 1)];

  test("agrees within half of its step and the operator's tolerance, on the limit as well", () => {
    const off = (value: number, tolerance_h: number) =>
      meterRead(sheet, craft(flown, [read(morning_ms + 3 * hour_ms, value)]), tolerance_h)!.latest!.differs;
    expect(off(101, 0)).toBe(false);
    expect(off(101.05, 0)).toBe(false);
    expect(off(101.06, 0)).toBe(true);
    expect(off(101.25, 0.2)).toBe(false);
    expect(off(100.74, 0.2)).toBe(true);
  });

  test("that differs from the record is not known until somebody gave the reason and signed a new base", () => {
    const state = craft(flown, [read(morning_ms + 3 * hour_ms, 101.5)]);
    expect(judge(state)).toContainEqual(["flight.meterDiffers", "unknown"]);
    const stepped = based(morning_ms + 4 * hour_ms, { flightHours_h: 101.5 }, flown);
    expect(judge({ ...stepped, readings: state.readings })).toEqual([]);
  });

  test("that runs backwards is not known, both readings named, until a new base", () => {
    const state = craft(flown, [read(morning_ms + 3 * hour_ms, 101), read(morning_ms + 4 * hour_ms, 100.9)]);
    expect(judge(state)).toContainEqual(["flight.meterFell", "unknown"]);
    const [reason] = assessFlights(sheet, state, situation(morning_ms + 5 * hour_ms)).filter(
      ({ code }) => code === "flight.meterFell",
    );
    expect(reason).toMatchObject({ facts: { counter: "flightHours_h", read: 100.9, before: 101 } });
    expect(reason?.evidence).toHaveLength(2);
    // An engineer's word on the mistyped one leaves it out, and nothing fell.
    const wrong = state.readings["meter"]![1]!.entry;
    const settled = {
      ...said(),
      gauge: "meter",
      settles: "questions",
      entries: [wrong],
      words: "typed",
    } as const;
    expect(judge({ ...state, levelsSettled: [settled] })).toEqual([]);
  });

  test("is missed once the day of the last flight is over, and advises", () => {
    expect(judge(craft(flown, []), {}, morning_ms + 30 * hour_ms)).toEqual([
      ["flight.notReconciled", "advises"],
    ]);
    expect(judge(craft(flown, [read(morning_ms + 3 * hour_ms, 101)]), {}, morning_ms + 30 * hour_ms)).toEqual(
      [],
    );
  });
});

describe("a meter of what is counted one by one", () => {
  const [hours] = sheet.gauges.filter(({ id }) => id === "meter");
  const counting = {
    ...sheet,
    gauges: [
      ...sheet.gauges,
      { ...hours!, id: "starts", unit: "count" as const, step: 1, counter: "starts" as const },
    ],
  };
  const flown = [flight(morning_ms + hour_ms, 1, { starts: 2 })];
  const starts = (value: number, hour: number): ReadingFact => ({
    ...read(morning_ms + hour * hour_ms, value),
    gauge: "starts",
    unit: "count",
  });
  const told = (readings: readonly ReadingFact[], at_ms = morning_ms + 5 * hour_ms) => {
    const state: CraftState = {
      ...based(morning_ms, { flightHours_h: 100, starts: 40 }, flown),
      readings: { meter: [read(morning_ms + 3 * hour_ms, 101)], starts: readings },
    };
    return assessFlights(counting, state, situation(at_ms, { flightRules: [rules] })).map(
      ({ code, facts }) => [code, facts["counter"]],
    );
  };

  test("agrees only when it shows what was counted: the operator's tolerance is one of hours", () => {
    expect(told([starts(42, 3)])).toEqual([]);
    expect(told([starts(41, 3)])).toEqual([["flight.meterDiffers", "starts"]]);
    expect(told([starts(43, 3)])).toEqual([["flight.meterDiffers", "starts"]]);
  });

  test("that runs backwards is not known, and one not read after a flight that added to it is missed", () => {
    expect(told([starts(42, 3), starts(40, 4)])).toContainEqual(["flight.meterFell", "starts"]);
    expect(told([], morning_ms + 30 * hour_ms)).toEqual([["flight.notReconciled", "starts"]]);
  });
});

describe("a flight", () => {
  test("that took off and is not logged blocks", () => {
    const begun = { ...said(), flight: "flight-1", off_ms: morning_ms, operation: "dayVfr", crew: ["p-one"] };
    expect(judge({ ...craft([]), underway: [begun] })).toEqual([["flight.underway", "blocks"]]);
  });

  test("of which nobody was asked whether a limit was exceeded is not known; before the base it is the base's affair", () => {
    const unasked = flight(morning_ms + hour_ms, 0.1, { exceedance: null });
    const rest = [read(morning_ms + 3 * hour_ms, 100.1)];
    expect(judge(craft([unasked], rest))).toEqual([["flight.exceedanceNotSaid", "unknown"]]);
    expect(judge(craft([{ ...unasked, exceedance: "none" }], rest))).toEqual([]);
    const before = flight(morning_ms - 3 * hour_ms, 1, { exceedance: null });
    expect(judge(craft([before]))).toEqual([]);
  });
});

describe("the worksheet of risk", () => {
  const factor = (id: string, group: "flight" | "human" | "weather") => ({ id, group, words: id, most: 5 });
  const worksheet = {
    factors: [factor("terrain", "flight"), factor("fatigue", "human"), factor("cloud", "weather")],
    releaseAbove: 6,
    cite: "A 9",
  };
  const us = { ruleSet: "us" as const, flightRules: [{ ...rules, worksheet }] };
  const signed = {
    ...said(morning_ms + 2 * hour_ms),
    scores: { terrain: 2, fatigue: 1, cloud: 3 },
    refusedElsewhere: false,
    mitigation: "",
    released: null,
  };
  const with_ = (more: Partial<typeof signed>, flights: readonly FlightFact[] = []) =>
    judge({ ...craft(flights), worksheets: [{ ...signed, ...more }] }, us).filter(([code]) =>
      code?.startsWith("flight.worksheet"),
    );

  test("is due before the flight under the US rules only", () => {
    expect(judge(craft([]), us)).toEqual([["flight.worksheetDue", "advises"]]);
    expect(judge(craft([]))).toEqual([]);
    expect(with_({})).toEqual([]);
  });

  test("counts for one flight: after a landing another one is due", () => {
    expect(with_({}, [flight(morning_ms + 3 * hour_ms, 1)])).toEqual([["flight.worksheetDue", "advises"]]);
  });

  test("with a factor unscored or the refusal unanswered is not known, above the level it needs a release", () => {
    expect(with_({ scores: { terrain: 2, fatigue: 1 } as never })).toEqual([
      ["flight.worksheetLacks", "unknown"],
    ]);
    expect(with_({ refusedElsewhere: null as never })).toEqual([["flight.worksheetLacks", "unknown"]]);
    const risky = { scores: { terrain: 3, fatigue: 2, cloud: 3 } };
    expect(with_(risky)).toEqual([["flight.worksheetLacks", "blocks"]]);
    expect(with_({ ...risky, released: { ...said(), words: "by phone" } as never })).toEqual([]);
  });

  test("without the operator's own factors is not known", () => {
    expect(judge(craft([]), { ruleSet: "us" })).toEqual([["flight.worksheetLacks", "unknown"]]);
  });
});

describe("what a planned call would use up", () => {
  const { tolerance: _tolerance, ...task } = smallSheet.programme[0]!;
  const planned: Sheet = {
    ...sheet,
    programme: [{ ...task, id: "h100", interval: { flightHours_h: 2, landings: 10 }, takesAway: "all" }],
  };
  const done = (flown: number): CraftState => {
    const state = based(morning_ms, { flightHours_h: 100 + flown });
    const work = {
      ...said(morning_ms - hour_ms),
      task: "h100",
      counters: { ...state.due.bases[0]!.counters, flightHours_h: 100 },
      on: "2026-02-01",
    };
    return { ...state, due: { ...state.due, done: { h100: [work] } } };
  };
  const use = { flightHours_h: 0.7, landings: 2, starts: 1, hoistCycles: 0, flights: 2, on_ms: morning_ms };
  const answers = (flown: number, more: Partial<typeof use> = {}) =>
    usedUpBy(planned, done(flown), { ...use, ...more }, { zone: "UTC" }).map(({ by, answer }) => [
      by,
      answer,
    ]);

  test("fits to the limit itself, and is due in flight beyond it", () => {
    expect(answers(1.3)).toEqual([
      ["flightHours_h", "fits"],
      ["landings", "fits"],
    ]);
    // 0.6 h left, 0.7 h planned.
    expect(answers(1.4)).toEqual([
      ["flightHours_h", "inFlight"],
      ["landings", "fits"],
    ]);
    expect(answers(0, { landings: 11 })).toContainEqual(["landings", "inFlight"]);
  });

  test("says what is left after it", () => {
    const [hours] = usedUpBy(planned, done(1), use, { zone: "UTC" });
    expect(hours).toMatchObject({ left: 1, facts: { task: "h100" } });
    expect(hours?.leaves).toBeCloseTo(0.3, 9);
  });

  test("is not known where a counter is not, or without a balance", () => {
    const unstated = flight(morning_ms + hour_ms, 0.1, { landings: 1, starts: null });
    const byStarts: Sheet = {
      ...planned,
      programme: [{ ...planned.programme[0]!, interval: { starts: 10 } }],
    };
    const state = { ...done(0), flights: [unstated] };
    expect(usedUpBy(byStarts, state, use, { zone: "UTC" })).toMatchObject([{ answer: "notKnown" }]);
    const { due } = done(0);
    expect(usedUpBy(planned, { ...done(0), due: { ...due, bases: [] } }, use, { zone: "UTC" })).toMatchObject(
      [{ answer: "notKnown" }],
    );
  });

  test("a date that is over before the last landing counts, one that ends with the day does not", () => {
    const dated: Sheet = {
      ...planned,
      programme: [{ ...planned.programme[0]!, interval: { calendar_days: 3 } }],
    };
    const midnight_ms = Date.UTC(2026, 1, 5);
    const at = (on_ms: number) => usedUpBy(dated, done(0), { ...use, on_ms }, { zone: "UTC" })[0]?.answer;
    expect(at(midnight_ms)).toBe("fits");
    expect(at(midnight_ms + 20 * minute_ms)).toBe("inFlight");
  });

  test("of the reference call forbids its operation in the standing", () => {
    const [operation] = smallSheet.operations;
    const call = {
      siteElevation_ft: 100,
      temperature_C: 5,
      toScene_nm: 50,
      toHospital_nm: 20,
      toBase_nm: 30,
      onScene_min: 12,
      patient_kg: 80,
      fuelAtStart_kg: 100,
    };
    const asked: Sheet = { ...planned, operations: [{ ...operation!, referenceCall: call }] };
    const hours_h = referenceUse(asked, call, morning_ms).flightHours_h;
    expect(hours_h).toBeCloseTo(100 / asked.speeds.cruise_kt + 0.2, 9);
    const at = (left_h: number) =>
      assessPlannedUse(asked, done(2 - left_h), situation(morning_ms)).map(({ code }) => code);
    expect(at(hours_h + 0.01)).toEqual([]);
    expect(at(hours_h - 0.01)).toEqual(["due.duringCall"]);
    // Due already: that is another reason's affair.
    expect(at(0)).toEqual([]);
  });

  test("never fits again when more is used, and a series that passes a limit is to be split", () => {
    expect(passedBy(planned, done(1.4), { flightHours_h: 0.7 })).toMatchObject([{ by: "flightHours_h" }]);
    expect(passedBy(planned, done(1.3), { flightHours_h: 0.7 })).toEqual([]);
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 3, noNaN: true }),
        fc.double({ min: 0, max: 3, noNaN: true }),
        (a, b) => {
          const few = answers(0, { flightHours_h: Math.min(a, b) });
          const many = answers(0, { flightHours_h: Math.max(a, b) });
          if (JSON.stringify(many).includes("inFlight")) return;
          expect(JSON.stringify(few)).not.toContain("inFlight");
        },
      ),
      { numRuns: 100 },
    );
  });
});

describe("the draft of a flight", () => {
  test("holds what the record knows and leaves the rest open", () => {
    const begun = { ...said(), flight: "flight-1", off_ms: morning_ms, operation: "dayVfr", crew: ["p-two"] };
    const state = { ...craft([], [read(morning_ms + hour_ms, 100.8)]), underway: [begun] };
    const draft = flightDraft(sheet, state, morning_ms + 2 * hour_ms);
    expect(draft).toMatchObject({
      begun: { flight: "flight-1" },
      off_ms: { value: morning_ms, from: "begun" },
      operation: { value: "dayVfr", from: "begun" },
      crew: { value: ["p-two"], from: "begun" },
      meter_h: { value: 0.8, from: "meter" },
    });
  });

  test("of a flight that nobody announced knows the people on duty and no time", () => {
    const shift = {
      ...said(),
      from_ms: morning_ms,
      until_ms: morning_ms + 12 * hour_ms,
      people: [{ person: "p-one", roles: ["pilot" as const], lastDutyEnd_ms: 0 }],
    };
    const draft = flightDraft(sheet, { ...craft([]), shifts: [shift] }, morning_ms + hour_ms);
    expect(draft).toMatchObject({ begun: null, off_ms: null, operation: null, meter_h: null });
    expect(draft.crew).toEqual({ value: ["p-one"], from: "shift" });
    expect(flightDraft(sheet, craft([]), morning_ms).crew).toBe(null);
  });
});
