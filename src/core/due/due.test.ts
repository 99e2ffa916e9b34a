// What runs out, by example and by property. The rule of tolerances is common practice of approved programmes: the next
// point counts from the planned one.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { smallSheet } from "../../../demo/sheet/small-sheet.ts";
import type { CraftState } from "../facts/craft.ts";
import { positionKey } from "../facts/due.ts";
import { hour_ms } from "../facts/instant.ts";
import type { Reason } from "../facts/reason.ts";
import type { Sheet } from "../sheet/schema.ts";
import { assessDue } from "./assess-due.ts";
import { overlappingFlights } from "../facts/look-alikes.ts";
import { countersNow } from "./counters.ts";
import { based, counters, flight, morning_ms, said, situation } from "./due-cases.ts";
import { forecastUse } from "./forecast-use.ts";
import { plannedPoint, withTolerance } from "./next-due.ts";

const day_ms = 24 * hour_ms;
const sheet: Sheet = { ...smallSheet, components: [] };

function craft(used_h: number, doneAt_h: number, on = "2026-01-01"): CraftState {
  const state = based(morning_ms, { flightHours_h: used_h });
  const done = { h100: [{ ...said(), task: "h100", counters: counters({ flightHours_h: doneAt_h }), on }] };
  return { ...state, due: { ...state.due, done } };
}
const codes = (reasons: readonly Reason[]): string[] => reasons.map(({ code }) => code);
const judge = (state: CraftState, from: Sheet = sheet): Reason[] =>
  assessDue(from, state, situation(morning_ms));

describe("the maintenance programme", () => {
  test("says nothing while there is more than a day's flying left, tells the hours left, then blocks", () => {
    expect(codes(judge(craft(1000, 950)))).toEqual([]);
    const [left] = judge(craft(1000, 900.5));
    expect(left).toMatchObject({ code: "due.left", effect: "limits", limit: { quantity: "flightHours_h" } });
    expect(left?.limit?.value).toBeCloseTo(10.5, 9);
    expect(codes(judge(craft(1000, 895)))).toEqual(["due.left", "due.inTolerance"]);
    // 100 h and 10 h of tolerance: at 110 h no further minute may be flown.
    expect(codes(judge(craft(1000, 890)))).toEqual(["due.over"]);
    expect(codes(judge(craft(1000.1, 890)))).toContain("due.over");
  });

  test("knows nothing without an opening balance, and nothing of a task that was never recorded", () => {
    const unbased = { ...craft(1000, 950), due: { ...craft(1000, 950).due, bases: [] } };
    expect(judge(unbased)).toMatchObject([{ code: "due.noBalance", effect: "unknown", operations: "all" }]);
    expect(judge(based(morning_ms, {}))).toMatchObject([{ code: "due.neverRecorded", effect: "unknown" }]);
  });

  test("holds on the last day and not after it, in the operator's zone", () => {
    const dated: Sheet = {
      ...sheet,
      programme: [
        { ...sheet.programme[0]!, interval: { calendar_months: 1 }, tolerance: { calendar_days: 1 } },
      ],
    };
    const reasons = judge(craft(0, 0, "2026-01-04"), dated);
    expect(reasons).toMatchObject([
      { code: "due.dateOver", from_ms: Date.UTC(2026, 1, 5, 23), facts: { lastDay: "2026-02-05" } },
      { code: "due.inTolerance", from_ms: Date.UTC(2026, 1, 4, 23), until_ms: Date.UTC(2026, 1, 5, 23) },
    ]);
  });

  test("never stacks tolerance: late work counts from the planned point, early work from itself", () => {
    const at = (hours: number, on: string) => ({ counters: counters({ flightHours_h: hours }), on });
    const interval = { flightHours_h: 100, calendar_months: 12 };
    const history = [at(0, "2024-01-31"), at(108, "2025-02-10"), at(205, "2026-01-10")];
    // Planned 100 h and 31 January 2025; done at 108 h and 10 February: next 200 h and 31 January 2026; done late in
    // hours, early by date: next 300 h and 10 January 2027.
    expect(plannedPoint(history.slice(0, 2), interval)).toMatchObject({
      counters: { flightHours_h: 200 },
      lastDay: "2026-01-31",
    });
    expect(plannedPoint(history, interval)).toMatchObject({
      counters: { flightHours_h: 300 },
      lastDay: "2027-01-10",
    });
    expect(withTolerance(plannedPoint(history, interval)!, { flightHours_h: 10 })).toMatchObject({
      counters: { flightHours_h: 310 },
      lastDay: "2027-01-10",
    });
  });
});

describe("counters", () => {
  test("add every flight begun since the base, and are not known where a flight does not state them", () => {
    const flights = [
      flight(morning_ms - day_ms, 1),
      flight(morning_ms + hour_ms, 0.7, { landings: 3 }),
      flight(morning_ms + 3 * hour_ms, 0.3, { landings: 2, starts: null }),
    ];
    expect(countersNow(based(morning_ms, { flightHours_h: 10, landings: 4 }, flights))).toEqual({
      flightHours_h: 11,
      landings: 9,
      starts: null,
      hoistCycles: 0,
    });
  });

  test("count a flight that was under way at the base whole", () => {
    const flights = [flight(morning_ms - 0.5 * hour_ms, 1)];
    expect(countersNow(based(morning_ms, { flightHours_h: 10 }, flights))?.flightHours_h).toBe(11);
  });

  test("take the larger of two bases recorded apart", () => {
    const one = based(morning_ms, { flightHours_h: 10, landings: 40 });
    const other = based(morning_ms, { flightHours_h: 12, landings: 30 });
    const both = { ...one, due: { ...one.due, bases: [...one.due.bases, ...other.due.bases] } };
    expect(countersNow(both)).toMatchObject({ flightHours_h: 12, landings: 40 });
  });

  test("name flights that overlap in time: nobody knows which holds", () => {
    const flights = [
      flight(morning_ms, 1),
      flight(morning_ms + 0.5 * hour_ms, 1),
      flight(morning_ms + day_ms, 1),
    ];
    expect(overlappingFlights(flights)).toHaveLength(1);
    const state = { ...craft(0, 0), flights };
    expect(judge(state)).toMatchObject([{ code: "due.flightsOverlap", effect: "unknown" }]);
  });
});

describe("a component", () => {
  const parts: Sheet = {
    ...sheet,
    programme: [],
    components: [{ ...smallSheet.components[0]!, dated: true, overhaul: { landings: 500 } }],
  };
  const key = positionKey("blade", 0);
  const fitted = {
    ...said(),
    component: "blade",
    position: 0,
    serial: "B 7",
    sinceNew: counters({ flightHours_h: 3000 }),
    sinceOverhaul: counters({ landings: 100 }),
    craftCounters: counters({ flightHours_h: 500, landings: 2000 }),
    newOn: "2020-01-01",
    overhauledOn: null,
    expiresOn: "2026-02-05",
  };
  const withPart = (hours: number, landings: number, held: CraftState["due"]["components"][string]) => {
    const state = based(morning_ms, { flightHours_h: hours, landings });
    return { ...state, due: { ...state.due, components: { [key]: held } } };
  };

  test("carries its own hours to the craft that it is fitted to", () => {
    // Life 4000 h: 1000 h left when fitted at 500 h, so it ends at 1500 h; overhaul 500 landings: ends at 2400.
    expect(codes(judge(withPart(1400, 2100, [fitted]), parts))).toEqual(["due.dateOver"]);
    expect(codes(judge(withPart(1490, 2100, [fitted]), parts))).toEqual(["due.left", "due.dateOver"]);
    expect(codes(judge(withPart(1500, 2400, [fitted]), parts))).toEqual([
      "due.over",
      "due.over",
      "due.dateOver",
    ]);
  });

  test("is not known without a record or a date, missing once removed, doubted when recorded twice", () => {
    expect(codes(judge(withPart(0, 0, []), parts))).toEqual(["due.neverRecorded"]);
    expect(codes(judge(withPart(600, 2000, [{ ...fitted, expiresOn: null }]), parts))).toEqual([
      "due.dateMissing",
    ]);
    const removed = { ...said(), component: "blade", position: 0 };
    expect(judge(withPart(600, 2000, [removed]), parts)).toMatchObject([
      { code: "due.removed", effect: "blocks" },
    ]);
    expect(codes(judge(withPart(600, 2000, [fitted, { ...fitted, ...said() }]), parts))).toContain(
      "due.twice",
    );
  });
});

describe("an obligation", () => {
  const held = (more: object) => {
    const state = craft(0, 0);
    const one = {
      ...said(),
      obligation: "directive-7",
      kind: "directive",
      words: "inspect the hinge",
      lastDay: null,
      dueAt: {},
      takesAway: ["dayVfr"],
      settled: false,
      ...more,
    } as const;
    return { ...state, due: { ...state.due, obligations: { "directive-7": [one] } } };
  };

  test("blocks what it takes away by counter or date, is not known without either, and ends when settled", () => {
    expect(judge(held({ dueAt: { landings: 0 } }))).toMatchObject([
      { code: "due.over", effect: "blocks", operations: ["dayVfr"] },
    ]);
    expect(codes(judge(held({ lastDay: "2026-02-03" })))).toEqual(["due.dateOver"]);
    expect(codes(judge(held({})))).toEqual(["due.dateMissing"]);
    expect(codes(judge(held({ settled: true })))).toEqual([]);
  });
});

describe("what runs out, as a law", () => {
  const worst = (reasons: readonly Reason[], at_ms: number): number =>
    Math.max(
      0,
      ...reasons
        .filter(({ from_ms, until_ms }) => (from_ms ?? at_ms) <= at_ms && at_ms < (until_ms ?? at_ms + 1))
        .map(({ effect }) => ["advises", "limits", "unknown", "blocks"].indexOf(effect)),
    );
  const whole: Sheet = {
    ...smallSheet,
    programme: [
      {
        ...smallSheet.programme[0]!,
        interval: { flightHours_h: 100, calendar_days: 20, landings: 90 },
        tolerance: { flightHours_h: 10, calendar_days: 2 },
      },
    ],
    components: [],
  };
  const story = fc.record({
    base_h: fc.integer({ min: 0, max: 60 }),
    lasts: fc.array(fc.integer({ min: 1, max: 20 }), { maxLength: 8 }),
    done: fc.integer({ min: 1, max: 28 }),
  });
  const told = ({ base_h, lasts, done }: { base_h: number; lasts: readonly number[]; done: number }) => {
    const state = based(morning_ms, { flightHours_h: base_h });
    const on = `2026-01-${String(done).padStart(2, "0")}`;
    return {
      ...state,
      flights: lasts.map((tenths, index) => flight(morning_ms + index * 3 * hour_ms, tenths / 10)),
      due: { ...state.due, done: { h100: [{ ...said(), task: "h100", counters: counters(), on }] } },
    };
  };

  test("a later time never revives what lapsed", () => {
    fc.assert(
      fc.property(story, fc.integer({ min: 0, max: 700 }), (what, hours) => {
        const state = told(what);
        const now_ms = morning_ms + 30 * hour_ms;
        const later_ms = now_ms + hours * hour_ms;
        const now = worst(assessDue(whole, state, situation(now_ms)), now_ms);
        if (now >= 2)
          expect(worst(assessDue(whole, state, situation(later_ms)), later_ms)).toBeGreaterThanOrEqual(now);
      }),
      { numRuns: 150 },
    );
  });

  test("one more flight never improves anything", () => {
    fc.assert(
      fc.property(story, (what) => {
        const state = told(what);
        const now_ms = morning_ms + 40 * hour_ms;
        const more = { ...state, flights: [...state.flights, flight(morning_ms + 30 * hour_ms, 1)] };
        expect(worst(assessDue(whole, more, situation(now_ms)), now_ms)).toBeGreaterThanOrEqual(
          worst(assessDue(whole, state, situation(now_ms)), now_ms),
        );
      }),
      { numRuns: 150 },
    );
  });

  test("the order in which flights were entered changes nothing, to the last bit", () => {
    fc.assert(
      fc.property(story, (what) => {
        const state = told(what);
        const turned = { ...state, flights: state.flights.toReversed() };
        const judged = (one: CraftState) => assessDue(whole, one, situation(morning_ms + 30 * hour_ms));
        expect(judged(turned)).toEqual(judged(state));
      }),
      { numRuns: 100 },
    );
  });
});

describe("the forecast of use", () => {
  test("is left over mean, with bounds that the same days give back", () => {
    const daily = Array.from({ length: 30 }, (_, index) => (index % 3) * 0.6);
    const forecast = forecastUse(daily, 24)!;
    expect(forecast.expected_d).toBeCloseTo(24 / 0.6, 9);
    const spread = Math.sqrt(daily.reduce((sum, hours) => sum + (hours - 0.6) ** 2, 0) / 29);
    for (const [days, sign] of [
      [forecast.early_d, 1],
      [forecast.late_d, -1],
    ] as const)
      expect(0.6 * days + sign * 1.645 * spread * Math.sqrt(days)).toBeCloseTo(24, 9);
    expect(forecast.early_d).toBeLessThan(forecast.expected_d);
  });

  test("is refused over too few days or without use, and is nothing once nothing is left", () => {
    expect(forecastUse([1, 2, 3], 24)).toBe(null);
    expect(
      forecastUse(
        Array.from({ length: 30 }, () => 0),
        24,
      ),
    ).toBe(null);
    expect(
      forecastUse(
        Array.from({ length: 30 }, () => 1),
        0,
      )?.late_d,
    ).toBe(0);
  });
});

describe("what was recorded and is not in the sheet", () => {
  test("is said: a place that the machine does not have, a task that the programme does not list", () => {
    const state = craft(0, 0);
    const work = { ...said(), task: "nowhere", counters: counters(), on: "2026-02-01" };
    const there = { ...said(), component: "blade", position: 19 };
    const due = {
      ...state.due,
      done: { ...state.due.done, nowhere: [work] },
      components: { ...state.due.components, [positionKey("blade", 19)]: [there] },
    };
    const told = judge({ ...state, due }).filter(({ code }) => code === "due.notInSheet");
    expect(told.map(({ effect, facts }) => [effect, facts["what"]])).toEqual([
      ["advises", positionKey("blade", 19)],
      ["advises", "nowhere"],
    ]);
    expect(judge(state).map(({ code }) => code)).not.toContain("due.notInSheet");
  });
});
