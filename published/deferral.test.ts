// The last days of deferrals against the printed example and the computed tables in deferral.json.
import { describe, expect, test } from "vitest";
import { smallSheet } from "../demo/sheet/small-sheet.ts";
import { deferralTerm } from "../src/core/due/deferral-term.ts";
import { deferralDeadline } from "../src/core/due/deferral-deadline.ts";
import { dateAt, startOfDate } from "../src/core/facts/calendar.ts";
import { hour_ms, instantToMs, msToInstant } from "../src/core/facts/instant.ts";
import data from "./deferral.json" with { type: "json" };

const zones = [
  "UTC",
  "Europe/Oslo",
  "America/St_Johns",
  "Australia/Lord_Howe",
  "Pacific/Chatham",
  "Asia/Kathmandu",
];

describe("the last day of a deferral", () => {
  test("is the printed one for an entry of 26 January 10:00, in any year and zone", () => {
    for (const zone of zones) {
      for (const year of [2023, 2024, 2026]) {
        const recorded_ms = startOfDate(`${year}-01-26`, zone) + 10 * hour_ms;
        for (const category of ["B", "C"] as const) {
          const { firstDay, lastDay } = deferralDeadline(recorded_ms, zone, category);
          expect(lastDay).toBe(`${year}-${data.printed.lastDay[category]}`);
          expect(firstDay).toBe(`${year}-01-27`);
        }
      }
    }
  });

  test("equals every computed row, whatever the hour of recording", () => {
    let rows = 0;
    for (const [day, B, C, D] of data.days.rows) {
      for (const zone of zones) {
        const start_ms = startOfDate(day!, zone);
        for (const recorded_ms of [start_ms, start_ms + 9 * hour_ms, start_ms + 22 * hour_ms]) {
          const last = { B, C, D };
          for (const category of ["B", "C", "D"] as const) {
            expect(deferralDeadline(recorded_ms, zone, category).lastDay).toBe(last[category]);
          }
        }
      }
      rows += 1;
    }
    expect(rows).toBe(data.days.rows.length);
  });

  test("extended once ends on the computed day, under the US rules for B and C only", () => {
    const deferral = smallSheet.deferrals[0]!;
    for (const [day, ...last] of data.extended.rows) {
      const recorded_ms = startOfDate(day!, "Europe/Oslo") + 10 * hour_ms;
      const extended = {
        entry: "e",
        by: "p-office",
        at_ms: recorded_ms,
        step: "extended",
        role: "airworthiness",
        beyondControl: true,
        authorityNotified: true,
        planMade: true,
        words: "part on its way",
      } as const;
      for (const [index, category] of (["B", "C", "D"] as const).entries()) {
        const term = (ruleSet: "eu" | "us", times = 1) =>
          deferralTerm(
            { ...deferral, category },
            {
              recorded_ms,
              deferred_ms: recorded_ms,
              steps: Array.from({ length: times }, (_, n) => ({ ...extended, entry: `e${n}` })),
              flights: [],
            },
            { zone: "Europe/Oslo", exchangeLimit_min: 60, ruleSet },
          );
        expect(term("eu").lastDay).toBe(last[index]);
        expect(term("eu", 2).lastDay).toBe(last[index]);
        expect(term("us").extended).toBe(category !== "D");
      }
    }
  });

  test("follows the zone that the operator selected", () => {
    for (const [recorded, zone, lastDay] of data.zones.rows) {
      expect(deferralDeadline(instantToMs(recorded!), zone!, "B").lastDay).toBe(lastDay);
    }
  });

  test("lapses when the day after the last one begins, also where the clocks change in between", () => {
    // Europe/Oslo goes from UTC+2 to UTC+1 on 25 October 2026: that calendar day lasts 25 h.
    const { lastDay, expires_ms } = deferralDeadline(
      instantToMs("2026-10-22T20:00:00.000Z"),
      "Europe/Oslo",
      "B",
    );
    expect(lastDay).toBe("2026-10-25");
    expect(msToInstant(expires_ms)).toBe("2026-10-25T23:00:00.000Z");
    expect(dateAt(expires_ms, "Europe/Oslo")).toBe("2026-10-26");
  });

  test("takes the days of the operator's list for category A, and refuses A without them", () => {
    const recorded_ms = instantToMs("2026-02-27T12:00:00.000Z");
    expect(deferralDeadline(recorded_ms, "UTC", "A", 2).lastDay).toBe("2026-03-01");
    expect(() => deferralDeadline(recorded_ms, "UTC", "A")).toThrow(RangeError);
    expect(() => deferralDeadline(recorded_ms, "UTC", "A", 1.5)).toThrow(RangeError);
  });
});
