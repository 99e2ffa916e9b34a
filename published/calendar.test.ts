// Calendar days and months against calendar.json, and against a second calendar library (@js-temporal/polyfill 0.5.1) in
// seven zones over both clock changes.
import { Temporal as Other } from "@js-temporal/polyfill";
import fc from "fast-check";
import { Temporal } from "temporal-polyfill";
import { describe, expect, test } from "vitest";
import { deferralDeadline } from "../src/core/due/deferral-deadline.ts";
import {
  dateAt,
  dateLater,
  endOfDate,
  instantOfTime,
  isCalendarDate,
  startOfDate,
} from "../src/core/facts/calendar.ts";
import { hour_ms, isInstantText } from "../src/core/facts/instant.ts";
import data from "./calendar.json" with { type: "json" };

const zones = [
  "UTC",
  "Europe/Oslo",
  "America/New_York",
  "America/St_Johns",
  "Australia/Lord_Howe",
  "Asia/Kathmandu",
  "Pacific/Apia",
];

describe("calendar arithmetic", () => {
  test("adds months and days as published, months first and clamped", () => {
    for (const [from, months, days, to] of data.add as [string, number, number, string][])
      expect(dateLater(from, { months, days })).toBe(to);
  });

  test("knows a date from what is none", () => {
    for (const text of data.notDates) expect(isCalendarDate(text)).toBe(false);
    for (const text of data.dates) expect(isCalendarDate(text)).toBe(true);
  });

  test("gives a day its hours where the clocks change", () => {
    for (const [zone, date, hours] of data.hoursInDay as [string, string, number][])
      expect((endOfDate(date, zone) - startOfDate(date, zone)) / hour_ms).toBe(hours);
  });

  test("clamps at every step: one month twice is not two months", () => {
    for (const [from, steps, to] of data.notAssociative as [string, number[], string][])
      expect(steps.reduce((date, months) => dateLater(date, { months }), from)).toBe(to);
  });

  test("knows leap years", () => {
    for (const [year, isLeap] of Object.entries(data.leapYears))
      expect(isCalendarDate(`${year}-02-29`)).toBe(isLeap);
  });

  test("begins and ends days at the right instants round every clock change, as the other library does", () => {
    for (const [zone, ...instants] of data.changes as [string, ...string[]][]) {
      for (const instant of instants) {
        const change_ms = Date.parse(instant);
        const offsetAt = (at_ms: number) =>
          Other.Instant.fromEpochMilliseconds(at_ms).toZonedDateTimeISO(zone).offsetNanoseconds;
        // The clock does change there, at that instant and not before.
        expect(offsetAt(change_ms - 1)).not.toBe(offsetAt(change_ms));
        for (const hours of [-30, -1, 0, 1, 30]) {
          const at_ms = change_ms + hours * hour_ms;
          const day = Other.Instant.fromEpochMilliseconds(at_ms).toZonedDateTimeISO(zone).toPlainDate();
          expect(dateAt(at_ms, zone)).toBe(day.toString());
          expect(startOfDate(day.toString(), zone)).toBe(day.toZonedDateTime(zone).epochMilliseconds);
          expect(endOfDate(day.toString(), zone)).toBe(
            day.add({ days: 1 }).toZonedDateTime(zone).epochMilliseconds,
          );
        }
      }
    }
  });

  test("steps over a day that a zone left out, and takes the earlier of a time that comes twice", () => {
    const { zone, before, skipped, after } = data.skippedDay;
    expect(endOfDate(before, zone)).toBe(startOfDate(after, zone));
    expect(dateAt(endOfDate(before, zone), zone)).toBe(after);
    // A deferral of three days recorded on the 28th lapses with the day after its last date, left out or not.
    const recorded_ms = startOfDate("2011-12-28", zone) + 10 * hour_ms;
    expect(deferralDeadline(recorded_ms, zone, "B")).toMatchObject({
      lastDay: after,
      expires_ms: startOfDate("2012-01-01", zone),
    });
    expect(skipped).toBe("2011-12-30");
    const [gapDate, gapTime] = data.oslo.gap as [string, string];
    expect(instantOfTime(gapDate, gapTime, "Europe/Oslo")).toBe(null);
    const [foldDate, foldTime, instant] = data.oslo.fold as [string, string, string];
    expect(instantOfTime(foldDate, foldTime, "Europe/Oslo")).toBe(Date.parse(instant));
  });

  test("agrees with the other library on last days and instants of lapse, in every zone", () => {
    const span = { min: Date.UTC(2011, 0, 1), max: Date.UTC(2026, 11, 31) };
    fc.assert(
      fc.property(
        fc.integer(span),
        fc.constantFrom(...zones),
        fc.constantFrom("B" as const, "C" as const, "D" as const),
        (at_ms, zone, category) => {
          const { firstDay, lastDay, expires_ms } = deferralDeadline(at_ms, zone, category);
          const day = Other.Instant.fromEpochMilliseconds(at_ms).toZonedDateTimeISO(zone).toPlainDate();
          const last = day.add({ days: { B: 3, C: 10, D: 120 }[category] });
          expect(dateAt(at_ms, zone)).toBe(day.toString());
          expect(firstDay).toBe(day.add({ days: 1 }).toString());
          expect(lastDay).toBe(last.toString());
          expect(expires_ms).toBe(last.add({ days: 1 }).toZonedDateTime(zone).epochMilliseconds);
        },
      ),
      { numRuns: 400 },
    );
  });

  test("a clock that does not change all year counts days of 24 hours from its own midnight", () => {
    for (const [zone, offset] of data.offsetsAllYear2025 as [string, string][]) {
      for (let month = 1; month <= 12; month += 1) {
        const date = `2025-${String(month).padStart(2, "0")}-01`;
        expect(startOfDate(date, zone)).toBe(Date.parse(`${date}T00:00:00${offset}`));
        expect(endOfDate(date, zone) - startOfDate(date, zone)).toBe(24 * hour_ms);
      }
    }
  });

  test("a day later is the same time of day, 24 hours later is not where the clocks change", () => {
    const { zone, from, aDayLater, "24HoursLater": dayOfHours } = data.aDayAndADaysHours;
    const [date, time] = from.split("T") as [string, string];
    const at_ms = instantOfTime(date, time, zone)!;
    expect(instantOfTime(dateLater(date, { days: 1 }), time, zone)).toBe(Date.parse(aDayLater));
    expect(at_ms + 24 * hour_ms).toBe(Date.parse(dayOfHours));
  });

  test("both libraries give the published weeks and months between, of which no rule here makes use", () => {
    for (const [date, year, week, day] of data.isoWeeks.of as [string, number, number, number][])
      for (const found of [Temporal.PlainDate.from(date), Other.PlainDate.from(date)])
        expect([found.yearOfWeek, found.weekOfYear, found.dayOfWeek]).toEqual([year, week, day]);
    for (const [from, to, between] of data.untilInMonths as [string, string, string][]) {
      const largestUnit = "month";
      expect(Temporal.PlainDate.from(from).until(to, { largestUnit }).toString()).toBe(between);
      expect(Other.PlainDate.from(from).until(to, { largestUnit }).toString()).toBe(between);
    }
  });

  test("a leap second is no instant that an entry can claim, and no 29 February is made up", () => {
    const [said, read] = data.leapSecond as [string, string];
    for (const library of [Temporal, Other])
      expect(library.Instant.from(said).epochMilliseconds).toBe(Date.parse(read));
    expect(isInstantText(said.replace("Z", ".000Z"))).toBe(false);
    expect(isInstantText(read.replace("Z", ".000Z"))).toBe(true);
    // A year after a leap day clamps where it is counted, and is refused where somebody types it.
    expect(dateLater("2024-02-29", { months: 12 })).toBe("2025-02-28");
    expect(isCalendarDate("2025-02-29")).toBe(false);
    expect(() => Other.PlainDate.from("2024-02-29").add({ years: 1 }, { overflow: "reject" })).toThrow(
      RangeError,
    );
  });

  test("knows a time of day from what is none, 24:00 and a skipped one included", () => {
    expect(instantOfTime("2025-03-29", "23:30", "Europe/Oslo")).toBe(Date.UTC(2025, 2, 29, 22, 30));
    expect(instantOfTime("2025-10-26", "02:30", "Europe/Oslo")).toBe(Date.UTC(2025, 9, 26, 0, 30));
    for (const time of ["24:00", "7:30", "12:60", "noon", ""])
      expect(instantOfTime("2025-03-29", time, "UTC")).toBe(null);
    expect(instantOfTime("2025-03-30", "02:30", "Europe/Oslo")).toBe(null);
  });

  test("agrees with the other library on months and days later", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 40_000 }),
        fc.integer({ min: 0, max: 360 }),
        fc.integer({ min: 0, max: 400 }),
        (offset, months, days) => {
          const from = Other.PlainDate.from("1990-01-01").add({ days: offset });
          expect(dateLater(from.toString(), { months, days })).toBe(
            from.add({ months }).add({ days }).toString(),
          );
        },
      ),
      { numRuns: 300 },
    );
  });
});
