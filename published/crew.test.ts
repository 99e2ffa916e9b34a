// Crew rules against crew.json: month ends, early renewals, the age rule, windows, the US figures.
import { describe, expect, test } from "vitest";
import { judgeDuty, usAssignment, usDuty, usFlightHours } from "../src/core/crew/duty.ts";
import { usRestAfterAssignment, usRestAfterExceeding } from "../src/core/crew/duty.ts";
import { recencyLastDay, recencyRulesOf } from "../src/core/crew/recency.ts";
import { checkLastDay, medicalLastDay } from "../src/core/crew/validity.ts";
import { commandFigures } from "../src/core/crew/command-experience.ts";
import { quarterRestReasons } from "../src/core/crew/us-rest.ts";
import { dateLater, startOfDate } from "../src/core/facts/calendar.ts";
import { hour_ms, msToInstant } from "../src/core/facts/instant.ts";
import data from "./crew.json" with { type: "json" };

describe("how long papers hold", () => {
  test("checks run from the end of the month, and from the old expiry when renewed in its last three months", () => {
    for (const { months, passed, lastDay } of data.validity.checks) {
      expect(checkLastDay(passed, months)).toBe(lastDay);
      expect(checkLastDay(passed.toReversed(), months)).toBe(lastDay);
    }
    expect(checkLastDay([], 6)).toBe(null);
  });

  test("a medical runs to the day of the same number, or the last of a shorter month", () => {
    for (const [from, months, lastDay] of data.validity.dayNumber as [string, number, string][]) {
      expect(dateLater(from, { months })).toBe(lastDay);
      const bornOn = months === 6 ? "1960-01-01" : "1995-01-01";
      expect(medicalLastDay(from, bornOn, true)).toBe(lastDay);
    }
  });

  test("a medical holds half as long from 60, and alone with passengers from 40", () => {
    const at = (bornOn: string, single: boolean) => medicalLastDay("2026-01-10", bornOn, single);
    expect(at("1986-01-11", false)).toBe("2027-01-10");
    expect(at("1986-01-10", true)).toBe("2026-07-10");
    expect(at("1966-01-10", false)).toBe("2026-07-10");
    expect(at("1966-01-10", true)).toBe("2026-07-10");
    // Forty on 1 October: the shorter validity is over by then, so the day before is the last.
    expect(at("1986-10-01", true)).toBe("2026-09-30");
    expect(at("1986-03-01", true)).toBe("2026-07-10");
  });

  test("what was done on a day counts for the 90 days after it", () => {
    const rule = recencyRulesOf("eu").landings;
    const { done, lastDay } = data.validity.in90Days;
    expect(recencyLastDay([{ on: done, amount: 3 }], rule)).toBe(lastDay);
    const spread = ["2025-01-01", "2025-02-01", "2025-03-01", "2025-03-02"].map((on) => ({ on, amount: 1 }));
    expect(recencyLastDay(spread, rule)).toBe(dateLater("2025-02-01", { days: 90 }));
    expect(recencyLastDay(spread.slice(0, 2), rule)).toBe(null);
  });

  test("the windows and amounts are the published ones", () => {
    for (const kind of ["landings", "night", "nvis"] as const) {
      const [need, days] = data.recency.eu[kind] as [number, number];
      expect(recencyRulesOf("eu")[kind]).toMatchObject({ need, window: { days } });
    }
    const { minutes, months } = data.recency.euInstrument;
    expect(recencyRulesOf("eu").instrument).toMatchObject({ need: minutes, window: { months } });
    expect(recencyRulesOf("us").night).toMatchObject({ need: 3, window: { days: 90 } });
    const { need, monthsBefore, example } = data.recency.usGoggles;
    expect(recencyRulesOf("us").nvis).toMatchObject({ need, window: { monthsBefore } });
    const [on, lastDay] = example as [string, string];
    expect(recencyLastDay([{ on, amount: need }], recencyRulesOf("us").nvis)).toBe(lastDay);
  });
});

describe("the US duty rules", () => {
  test("carry the published figures", () => {
    const { duty_h, rest_h, source: _s, status: _t, restAfterExceeding, ...hours } = data.us267;
    expect(usDuty).toMatchObject({ duty_h, rest_h });
    expect(usFlightHours).toEqual(hours);
    for (const [over_min, rest] of restAfterExceeding) expect(usRestAfterExceeding(over_min!)).toBe(rest);
    expect(usAssignment).toMatchObject({
      restInAny24_h: data.us271.restInAny24_h,
      atMost_h: data.us271.atMost_h,
    });
    for (const [assigned_h, rest] of data.us271.restAfter)
      expect(usRestAfterAssignment(assigned_h!)).toBe(rest);
  });

  test("judge rest and the latest end, both on the limit and beyond", () => {
    const from_ms = Date.UTC(2026, 1, 4, 6);
    const rested = (h: number) => judgeDuty({ from_ms, lastDutyEnd_ms: from_ms - h * 3_600_000 }, usDuty);
    expect(rested(10)).toMatchObject({ isRested: true, latest_ms: from_ms + 14 * 3_600_000 });
    expect(rested(9.99).isRested).toBe(false);
  });

  test("let flying go on as long as the rest periods that are missing fit into the quarter", () => {
    const { needed, hours, examples } = data.restPeriods;
    expect(usFlightHours.quarterRestPeriods).toBe(needed);
    for (const { zone, day, taken, bindsFrom } of examples) {
      const from_ms = startOfDate(day, zone);
      const rests = Array.from({ length: taken }, (_, index) => {
        const begins_ms = startOfDate("2026-04-02", zone) + index * 72 * hour_ms;
        const until_ms = begins_ms + hours * hour_ms;
        return { entry: "r", by: "p", at_ms: until_ms, person: "p-one", from_ms: begins_ms, until_ms };
      });
      const shift = { from_ms, until_ms: from_ms + 12 * hour_ms };
      const found = quarterRestReasons({ person: "p-one", rests, zone, shift });
      expect(found.map((one) => msToInstant(one.from_ms!))).toEqual(bindsFrom === null ? [] : [bindsFrom]);
    }
  });
});

test("the hours of a commander of HEMS flights are the published ones", () => {
  const { source: _source, status: _status, ...hours } = data.command;
  expect(commandFigures).toEqual(hours);
});
