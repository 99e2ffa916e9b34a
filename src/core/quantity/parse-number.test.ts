import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { displayNumber, type Language } from "./display.ts";
import { parseNumber } from "./parse-number.ts";

const digitsAndMarks = Array.from("0123456789.,-+ '\u202F");

const number = (value: number): object => ({ kind: "number", value });
const ambiguous = (grouped: number, decimal: number): object => ({
  kind: "ambiguous",
  readings: [grouped, decimal],
});

describe("a typed number", () => {
  test.each([
    ["12,5", "de", number(12.5)],
    ["12.5", "de", number(12.5)],
    ["12,5", "en", number(12.5)],
    ["12.5", "en", number(12.5)],
    ["1,250", "de", number(1.25)],
    ["1.250", "en", number(1.25)],
    ["1.250", "de", ambiguous(1250, 1.25)],
    ["1,250", "en", ambiguous(1250, 1.25)],
    ["-2.500", "de", ambiguous(-2500, -2.5)],
    ["0.250", "de", number(0.25)],
    ["0,250", "en", number(0.25)],
    ["1.2500", "de", number(1.25)],
    ["1250.500", "de", number(1250.5)],
    ["1.250,5", "de", number(1250.5)],
    ["1.250,5", "en", number(1250.5)],
    ["1,250.5", "en", number(1250.5)],
    ["1,250.5", "de", number(1250.5)],
    ["1.250.000", "de", number(1_250_000)],
    ["1,250,000", "de", number(1_250_000)],
    ["1 250", "de", number(1250)],
    ["1\u202F250,5", "de", number(1250.5)],
    ["1\u00A0250.125", "en", number(1250.125)],
    ["1'250.5", "de", number(1250.5)],
    ["1250", "en", number(1250)],
    ["007", "en", number(7)],
    [",5", "de", number(0.5)],
    ["\u22123", "en", number(-3)],
    ["+3", "en", number(3)],
    ["-0", "en", number(0)],
    ["  42 ", "en", number(42)],
    ["", "en", { kind: "empty" }],
    ["  ", "de", { kind: "empty" }],
  ] as const)("%j in %s", (text, language, expected) => {
    expect(parseNumber(text, language)).toEqual(expected);
  });

  test.each([
    "12 kg",
    "1e3",
    "0x10",
    "--3",
    "1,2,3",
    "1.25.000",
    "1,250,00",
    "12.",
    "12,",
    ".",
    "1 25",
    "1 250 00",
    "1.250 000",
    "1'250 000",
    "٤٢",
    "½",
    "NaN",
    "Infinity",
    "1234567890123456",
  ])("%j is none, in either language", (text) => {
    expect(parseNumber(text, "en")).toEqual({ kind: "notANumber" });
    expect(parseNumber(text, "de")).toEqual({ kind: "notANumber" });
  });

  test("what the quantity can be decides between two readings, and only between them", () => {
    expect(parseNumber("1.250", "de", { min: 0, max: 20 })).toEqual(number(1.25));
    expect(parseNumber("1.250", "de", { min: 100, max: 3000 })).toEqual(number(1250));
    expect(parseNumber("1.250", "de", { min: 0, max: 3000 })).toEqual(ambiguous(1250, 1.25));
    expect(parseNumber("1.250", "de", { min: 5, max: 6 })).toEqual(ambiguous(1250, 1.25));
    expect(parseNumber("12,5", "de", { min: 100, max: 300 })).toEqual(number(12.5));
  });

  test("as the language writes it is read as what it was, or asked about: never as another number", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -9e6, max: 9e6, noNaN: true }),
        fc.constantFrom(0, 1, 2, 3, 4),
        fc.constantFrom<Language>("en", "de"),
        (value, decimals, language) => {
          const text = displayNumber(value, decimals, "both", language);
          const shown = Number(value.toFixed(decimals));
          const typed = parseNumber(text, language);
          const readings =
            typed.kind === "number" ? [typed.value] : typed.kind === "ambiguous" ? typed.readings : [];
          expect(readings.some((reading) => Math.abs(reading - shown) <= 1.01 * 10 ** -decimals)).toBe(true);
          if (typed.kind === "ambiguous") expect(text).toMatch(/^\u2212?\d{1,3}[.,]\d{3}$/);
        },
      ),
      { numRuns: 1000 },
    );
  });

  test("of digits and marks is never NaN, whatever their order", () => {
    fc.assert(
      fc.property(
        fc.string({ unit: fc.constantFrom(...digitsAndMarks), maxLength: 14 }),
        fc.constantFrom<Language>("en", "de"),
        (text, language) => {
          const typed = parseNumber(text, language);
          if (typed.kind === "number") expect(Number.isFinite(typed.value)).toBe(true);
          if (typed.kind === "ambiguous")
            for (const reading of typed.readings) expect(Number.isFinite(reading)).toBe(true);
          // Digits are never dropped: the number has the digits that were typed.
          if (typed.kind === "number" && /^\d+$/.test(text)) expect(typed.value).toBe(Number(text));
        },
      ),
      { numRuns: 2000 },
    );
  });
});
