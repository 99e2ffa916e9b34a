// The list of what runs out: what ends first on top, what is not known above it, a forecast by the craft's own use.
import { describe, expect, test } from "vitest";
import { smallSheet } from "../../../demo/sheet/small-sheet.ts";
import { hour_ms } from "../facts/instant.ts";
import type { CraftState } from "../facts/craft.ts";
import { based, counters, flight, morning_ms, said } from "./due-cases.ts";
import { dailyHours, runsOut } from "./runs-out.ts";

const day_ms = 24 * hour_ms;
const zone = "Europe/Oslo";

describe("what runs out", () => {
  const month = Array.from({ length: 30 }, (_, index) =>
    flight(morning_ms - (index + 1) * day_ms, 0.5 + (index % 2)),
  );
  const obligation = (id: string, lastDay: string | null) => ({
    ...said(),
    obligation: id,
    kind: "directive" as const,
    words: id,
    lastDay,
    dueAt: {},
    takesAway: "all" as const,
    settled: false,
  });
  const craft = based(morning_ms, { flightHours_h: 1000 }, month);
  const state: CraftState = {
    ...craft,
    due: {
      ...craft.due,
      done: {
        h100: [{ ...said(), task: "h100", counters: counters({ flightHours_h: 920 }), on: "2026-01-01" }],
      },
      obligations: {
        late: [obligation("late", "2026-03-30")],
        early: [obligation("early", "2026-02-05")],
        undated: [obligation("undated", null)],
      },
    },
  };
  const sheet = { ...smallSheet, components: [] };

  test("stands in the order of its ends, with hours as the days that the craft's own use will take", () => {
    const rows = runsOut(sheet, state, morning_ms, zone);
    expect(rows.map(({ key }) => key.split("#")[1])).toEqual(["undated", "early", "h100", "late"]);
    // 30 h left with the tolerance, one hour a day.
    expect(rows[2]).toMatchObject({ left: [{ name: "flightHours_h", left: 30 }] });
    expect(rows[2]?.forecast?.expected_d).toBeCloseTo(30, 9);
    expect(rows[1]).toMatchObject({ lastDay: "2026-02-05", over_ms: Date.UTC(2026, 1, 5, 23) });
    expect(rows[0]).toMatchObject({ known: false, ends_ms: null });
  });

  test("knows nothing without an opening balance", () => {
    const unbased = { ...state, due: { ...state.due, bases: [] } };
    expect(runsOut(sheet, unbased, morning_ms, zone).every(({ known }) => !known)).toBe(true);
  });

  test("counts days without a flight as days, from the first flight on, and not today", () => {
    const flights = [flight(morning_ms - 3 * day_ms, 1), flight(morning_ms - 3 * day_ms + 3 * hour_ms, 0.5)];
    expect(dailyHours(flights, morning_ms, zone)).toEqual([0, 0, 1.5]);
    expect(dailyHours([], morning_ms, zone)).toEqual([]);
  });
});
