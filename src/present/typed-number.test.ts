import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { readTypedNumber, stepped, typedText } from "./typed-number.ts";
import { languages } from "./words/language.ts";

const litres = { decimals: 1, lowest: 0, highest: 9 };

describe("a number typed off a gauge", () => {
  test("nothing typed is nothing, without complaint", () => {
    expect(readTypedNumber("  ", litres, "en")).toEqual({ value: null, issue: null });
  });

  test("is refused when it is none", () => {
    for (const typed of ["full", "1/2", "4..5", "1e3", "NaN", "4.", "--3"]) {
      const read = readTypedNumber(typed, litres, "en");
      expect(read).toEqual({ value: null, issue: { kind: "notANumber", typed } });
    }
  });

  test("that can be read in two ways is asked about, with both readings", () => {
    expect(readTypedNumber("1,250", { decimals: 0 }, "en").issue).toEqual({
      kind: "ambiguous",
      typed: "1,250",
      readings: [1250, 1.25],
    });
  });

  test("outside the scale stays what it is, with the issue beside it", () => {
    expect(readTypedNumber("12", litres, "en")).toEqual({ value: 12, issue: { kind: "above", highest: 9 } });
    expect(readTypedNumber("-1", litres, "de")).toEqual({ value: -1, issue: { kind: "below", lowest: 0 } });
    expect(readTypedNumber("9", litres, "de")).toEqual({ value: 9, issue: null });
  });

  test("finer than can be read is refused, not rounded", () => {
    const { value, issue } = readTypedNumber("4,55", litres, "de");
    expect(value).toBeNull();
    expect(issue).toEqual({ kind: "tooManyDecimals", decimals: 1 });
  });

  test("comes back the same after it was written, in both languages", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -99_999, max: 99_999 }),
        fc.constantFrom(0, 1, 2, 3),
        fc.constantFrom(...languages),
        (whole, decimals, language) => {
          const value = whole / 10 ** decimals;
          const read = readTypedNumber(typedText(value, decimals, language), { decimals }, language);
          expect(read).toEqual({ value: value + 0, issue: null });
        },
      ),
      { numRuns: 300 },
    );
  });
});

describe("stepping", () => {
  test("ten steps of a tenth are one, and steps go past the end of the scale", () => {
    let value = 8.5;
    for (let index = 0; index < 10; index += 1) value = stepped(value, 0.1, 1, 1);
    expect(value).toBe(9.5);
    expect(stepped(0, 0.5, -1, 1)).toBe(-0.5);
  });
});
