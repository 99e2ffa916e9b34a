// The topic trend as a caller meets it: keys, units, what is refused and under which path.

import { describe, expect, test } from "vitest";
import { answer } from "./answer.ts";
import topic from "./trend.ts";

type Trend = {
  readonly perHour: number;
  readonly low: number;
  readonly high: number;
  readonly hoursToMin: { readonly expected: number | null; readonly pessimistic: number | null };
  readonly alarm: { readonly since_h: number; readonly reason: string } | null;
};

const usual = {
  readings: [
    { hours_h: 100, level: 5 },
    { hours_h: 104, level: 4.8 },
    { hours_h: 112, level: 4.4 },
    { hours_h: 120, level: 5.0 },
  ],
  added: [{ hours_h: 115, amount: 1 }],
  min: 4,
  confidence: 0.95,
};
const ask = (change: object = {}): Trend & { readonly error?: { path: string; message: string } } =>
  JSON.parse(answer(topic, JSON.stringify({ ...usual, ...change })).text) as Trend;

describe("trend", () => {
  test("gives consumption as positive, and the hours to the mark from the last reading", () => {
    const { perHour, low, high, hoursToMin, alarm } = ask();
    expect(perHour).toBeCloseTo(0.05, 12);
    expect(low).toBeLessThanOrEqual(perHour);
    expect(high).toBeGreaterThanOrEqual(perHour);
    expect(hoursToMin.expected).toBeCloseTo(20, 9);
    expect(hoursToMin.pessimistic).toBeCloseTo(20, 9);
    expect(alarm).toBeNull();
  });

  test("says null where the mark is never reached, and 0 where it is already", () => {
    const flat = usual.readings.map(({ hours_h }) => ({ hours_h, level: 5 }));
    expect(ask({ readings: flat, added: [] }).hoursToMin).toEqual({ expected: null, pessimistic: null });
    expect(ask({ min: 6 }).hoursToMin).toEqual({ expected: 0, pessimistic: 0 });
  });

  test("takes hours in any unit of time", () => {
    const inMinutes = usual.readings.map(({ hours_h, level }) => ({ hours_min: hours_h * 60, level }));
    expect(ask({ readings: inMinutes }).perHour).toBeCloseTo(0.05, 12);
  });

  test("alarms since the hour at which it began", () => {
    const readings = Array.from({ length: 24 }, (_, index) => ({
      hours_h: 200 + index,
      level: 9 - 0.03 * index - 0.09 * Math.max(0, index - 14),
    }));
    expect(ask({ readings, added: [] }).alarm).toEqual({ since_h: 214, reason: "faster" });
  });

  test.each([
    [
      "a level below 0",
      { readings: [...usual.readings, { hours_h: 130, level: -0.1 }] },
      "readings[4].level",
    ],
    [
      "an hour meter that goes back",
      { readings: [...usual.readings, { hours_h: 119, level: 5 }] },
      "readings[4].hours_h",
    ],
    ["two readings", { readings: usual.readings.slice(0, 2) }, "readings"],
    [
      "zero hours between readings",
      { readings: usual.readings.map((one) => ({ ...one, hours_h: 100 })), added: [] },
      "readings",
    ],
    [
      "a level typed as text",
      { readings: [{ hours_h: 100, level: "full" }, ...usual.readings] },
      "readings[0].level",
    ],
    ["an uplift after the last reading", { added: [{ hours_h: 121, amount: 1 }] }, "added[0].hours_h"],
    ["an uplift of nothing", { added: [{ hours_h: 115, amount: 0 }] }, "added[0].amount"],
    [
      "an uplift between two readings of one hour",
      { readings: [...usual.readings, { hours_h: 120, level: 4 }], added: [{ hours_h: 120, amount: 1 }] },
      "added[0].hours_h",
    ],
    ["a confidence in per cent", { confidence: 95 }, "confidence"],
    ["no mark", { min: undefined }, "min"],
    ["no uplifts at all", { added: undefined }, "added"],
    ["a key that it does not know", { unit: "L" }, "unit"],
  ])("refuses %s", (_, change, path) => {
    expect(ask(change).error?.path).toBe(path);
  });
});
