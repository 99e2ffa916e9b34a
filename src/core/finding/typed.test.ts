// What people type of sizes and times: read where it can be meant in one way, asked about or refused by name otherwise.
import { describe, expect, test } from "vitest";
import { readMeasure } from "./typed-measure.ts";
import { readWhen } from "./typed-when.ts";

describe("a size as it is typed", () => {
  const length = ["mm", "cm", "in"] as const;
  const read = (typed: string, units: readonly ("mm" | "cm" | "in")[] = length) =>
    readMeasure(typed, "en", units);

  test("with its unit is read, and kept as typed beside what is used", () => {
    expect(read("0.4 mm")).toEqual({
      kind: "measure",
      measure: { value: 0.4, unit: "mm", typed: "0.4 mm" },
    });
    expect(readMeasure("0,4mm", "de", length)).toMatchObject({ measure: { value: 0.4, typed: "0,4mm" } });
    expect(read("3/4 in")).toMatchObject({ measure: { unit: "mm", typed: "3/4 in" } });
    expect(read("3/4 in")).toMatchObject({ measure: { value: expect.closeTo(19.05, 10) as number } });
    expect(readMeasure("2 drops/min", "en")).toMatchObject({ measure: { value: 2, unit: "drops/min" } });
    expect(readMeasure("1,5 cm²", "de")).toMatchObject({ measure: { value: 1.5, unit: "cm2" } });
  });

  test("without a unit is asked about, with the units that there are; a unit picked beside it will do", () => {
    expect(read("0.4")).toMatchObject({ issue: { kind: "noUnit", units: length } });
    expect(readMeasure("0.4", "en", length, "mm")).toMatchObject({
      measure: { value: 0.4, typed: "0.4 mm" },
    });
  });

  test("in words is refused by name", () => {
    expect(read("small")).toMatchObject({ issue: { kind: "vague", typed: "small" } });
    expect(read("about a thumb")).toMatchObject({ issue: { kind: "vague" } });
    expect(read("as before")).toMatchObject({ issue: { kind: "asBefore", typed: "as before" } });
    expect(readMeasure("wie vorher", "de")).toMatchObject({ issue: { kind: "asBefore" } });
  });

  test("in a unit that does not belong, negative, or of two meanings is refused", () => {
    expect(read("2 L")).toMatchObject({ issue: { kind: "wrongUnit", unit: "L" } });
    expect(read("2 drops/min")).toMatchObject({ issue: { kind: "wrongUnit", unit: "drops/min" } });
    expect(read("-1 mm")).toMatchObject({ issue: { kind: "negative" } });
    expect(read("1,250 mm")).toMatchObject({ issue: { kind: "ambiguous", readings: [1250, 1.25] } });
    expect(read("1/0 mm")).toMatchObject({ issue: { kind: "notANumber" } });
  });

  test("left empty is no size", () => {
    expect(read("  ")).toEqual({ kind: "empty" });
  });
});

describe("when it was seen, as it is typed", () => {
  const now_ms = Date.UTC(2026, 10, 25, 8, 40);
  const read = (typed: string) => readWhen(typed, now_ms, "Europe/Oslo");

  test("nothing is now, and a time of day is today's", () => {
    expect(read("")).toEqual({ kind: "now" });
    expect(read("9:10")).toMatchObject({ kind: "at", isToday: true, at_ms: Date.UTC(2026, 10, 25, 8, 10) });
  });

  test("yesterday and dates are read as another day, so that they are asked about", () => {
    const yesterday = { kind: "at", isToday: false, date: "2026-11-24" };
    for (const typed of ["yesterday", "gestern", "24.11.", "24.11.2026", "2026-11-24"])
      expect(read(typed)).toMatchObject({ ...yesterday, at_ms: Date.UTC(2026, 10, 23, 23), typed });
    expect(read("yesterday 16:05")).toMatchObject({ ...yesterday, at_ms: Date.UTC(2026, 10, 24, 15, 5) });
    expect(read("26.12.")).toMatchObject({ date: "2025-12-26" });
  });

  test("what lies ahead or cannot be read is refused", () => {
    expect(read("10:00")).toMatchObject({ kind: "ahead" });
    expect(read("2026-11-26")).toMatchObject({ kind: "ahead" });
    for (const typed of ["last week", "25:00", "31.02.2026"])
      expect(read(typed)).toMatchObject({ kind: "unread" });
  });
});
