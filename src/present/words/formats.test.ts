import { describe, expect, test } from "vitest";
import { dateLong, dayOfMonth, timeBoth, timeLeft, timeOfDay, timePassed, timeSeenFrom } from "./formats.ts";
import { localeOf } from "./language.ts";

const english = localeOf("en", "Europe/Oslo");
const german = localeOf("de", "Europe/Oslo");
const at = (text: string) => Date.parse(text);

describe("times", () => {
  test("are told in the zone that is passed in, whatever the machine's own zone is", () => {
    expect(timeOfDay(at("2025-12-05T05:52:00Z"), english)).toBe("06:52");
    expect(timeOfDay(at("2025-07-05T05:52:00Z"), english)).toBe("07:52");
    expect(timeOfDay(at("2025-12-05T05:52:00Z"), localeOf("en", "Asia/Kolkata"))).toBe("11:22");
    expect(timeBoth(at("2025-12-05T05:52:00Z"), english)).toBe("06:52 (05:52 UTC)");
  });

  test("midnight is 00:00, never 24:00", () => {
    expect(timeOfDay(at("2025-12-04T23:00:00Z"), english)).toBe("00:00");
    expect(timeOfDay(at("2025-12-04T23:00:00Z"), german)).toBe("00:00");
  });

  test("carry their day as soon as it is another calendar day", () => {
    const now = at("2025-12-05T22:50:00Z");
    expect(timeSeenFrom(now, at("2025-12-05T22:59:00Z"), english)).toBe("23:59");
    expect(timeSeenFrom(now, at("2025-12-05T23:01:00Z"), english)).toBe("tomorrow 00:01");
    expect(timeSeenFrom(now, at("2025-12-04T17:40:00Z"), german)).toBe("gestern 18:40");
    expect(timeSeenFrom(now, at("2025-12-08T06:10:00Z"), english)).toBe("Mon 8 Dec 07:10");
  });

  test("a day of 23 hours is still one day", () => {
    expect(timeSeenFrom(at("2026-03-28T12:00:00Z"), at("2026-03-29T12:00:00Z"), english)).toBe(
      "tomorrow 14:00",
    );
  });

  test("a calendar date has no zone", () => {
    expect(dateLong("2025-12-05", english)).toBe("5 December 2025");
    expect(dateLong("2025-12-05", localeOf("de", "Pacific/Auckland"))).toBe("5. Dezember 2025");
    expect(() => dateLong("5.12.2025", german)).toThrow(RangeError);
  });

  test("an instant that is not known is refused", () => {
    expect(() => timeOfDay(Number.NaN, english)).toThrow(RangeError);
    expect(() => dayOfMonth(Number.POSITIVE_INFINITY, english)).toThrow(RangeError);
  });
});

describe("spans of time", () => {
  const minutes = (count: number) => count * 60_000;

  test("what is left is rounded down, what has passed is rounded up", () => {
    expect(timeLeft(minutes(10) - 1, english)).toBe("9 min");
    expect(timePassed(minutes(9) + 1, english)).toBe("10 min");
    expect(timeLeft(minutes(185), english)).toBe("3 h 5 min");
    expect(timeLeft(minutes(96), english)).toBe("96 min");
    expect(timeLeft(minutes(2 * 1440 + 1439), german)).toBe("2 Tage");
    expect(timePassed(minutes(2 * 1440 + 1), german)).toBe("3 Tage");
    expect(timeLeft(-1, english)).toBe("0 min");
  });
});
