// Times of a walk on paper: its day is said, its end follows its beginning, and neither lies ahead.
import { describe, expect, test } from "vitest";
import { paperTimes } from "./paper-times.ts";

const zone = "Europe/Oslo";
const now_ms = Date.UTC(2026, 10, 25, 8, 40);
const at = (day: number, hour: number, minute: number) => Date.UTC(2026, 10, day, hour, minute);

describe("the times of a walk on paper", () => {
  test("are of the day that was said", () => {
    const times = { begun: "06:40", ended: " 07:05 " };
    expect(paperTimes({ day: "today", ...times }, now_ms, zone)).toEqual({
      begun_ms: at(25, 5, 40),
      ended_ms: at(25, 6, 5),
    });
    expect(paperTimes({ day: "yesterday", ...times }, now_ms, zone)).toEqual({
      begun_ms: at(24, 5, 40),
      ended_ms: at(24, 6, 5),
    });
  });

  test("may cross midnight", () => {
    expect(paperTimes({ day: "yesterday", begun: "23:50", ended: "00:20" }, now_ms, zone)).toEqual({
      begun_ms: at(24, 22, 50),
      ended_ms: at(24, 23, 20),
    });
  });

  test("are none where they cannot be: an end ahead, half a time, a time that there is not", () => {
    for (const [begun, ended] of [
      ["09:00", "09:41"],
      ["09:00", "08:00"],
      ["09", "09:20"],
      ["24:10", "09:20"],
      ["", ""],
    ] as const)
      expect(paperTimes({ day: "today", begun, ended }, now_ms, zone)).toBeNull();
    // The clocks of this zone skip from 02:00 to 03:00 on this day.
    const spring_ms = Date.UTC(2026, 2, 29, 10);
    expect(paperTimes({ day: "today", begun: "02:30", ended: "03:30" }, spring_ms, zone)).toBeNull();
  });
});
