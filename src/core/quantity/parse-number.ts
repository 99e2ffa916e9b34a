// Reads a number that somebody typed, where the decimal mark depends on the language and habits cross languages.
//
// English writes 1,250.5 and German 1.250,5; a German keyboard and an English manual lie side by side in the cockpit. So
// a mark is never dropped because the language calls it a grouping mark; the rules are:
//   1. Digits, one sign in front, and at most the marks "." "," and grouping spaces or apostrophes. Anything else
//      (units, exponents, two signs, a mark without digits around it) is no number.
//   2. A shape that can be read in one way only is read so, in either language: 12,5 and 12.5 are twelve and a half;
//      1.250,5 and 1,250.5 have their decimal mark last; 1.250.000 can only be grouped.
//   3. One mark with exactly three digits after it, and one to three before it that do not start with 0, has two
//      readings, 1250 and 1.25. When it is the language's own decimal mark it is that: 1,250 in German is 1.25. When it
//      is the other mark, it is ambiguous: 1.250 in German and 1,250 in English ask, since people who type a grouping
//      mark are fewer than people who type the mark of another language.
//   4. Where the caller knows what the quantity can be, a reading outside that is not a reading. If one is left, it is
//      the number; a range never turns a clear number into another.
// The answer to an ambiguous text is both readings, for the person to choose; never one of them in silence.

import type { Language } from "./display.ts";

export type Typed =
  | { readonly kind: "number"; readonly value: number }
  | { readonly kind: "ambiguous"; readonly readings: readonly [number, number] }
  | { readonly kind: "empty" }
  | { readonly kind: "notANumber" };

export type Range = { readonly min: number; readonly max: number };

const decimalMark: Readonly<Record<Language, "." | ",">> = { en: ".", de: "," };

/** Longer than any number of the trade; keeps every digit exact. */
const mostDigits = 15;

/** What a typed text means in a language. `possible` are the values that the quantity can have at all. */
export function parseNumber(text: string, language: Language, possible?: Range): Typed {
  const trimmed = text.trim();
  if (trimmed === "") return { kind: "empty" };
  const shape = /^([+\-\u2212]?)([\d.,'’ \u00A0\u2009\u202F]+)$/.exec(trimmed);
  const sign = shape?.[1] === "-" || shape?.[1] === "\u2212" ? -1 : 1;
  const body = shape === null ? null : withoutSpaces(shape[2] as string);
  const readings = body === null ? [] : readingsOf(body, decimalMark[language]);
  // `+ 0` turns −0 into 0.
  const values = readings.map((reading) => sign * reading + 0);
  const [first, second] = values;
  if (first === undefined) return { kind: "notANumber" };
  if (second === undefined) return { kind: "number", value: first };
  const left = possible === undefined ? values : values.filter((v) => v >= possible.min && v <= possible.max);
  const only = left.length === 1 ? left[0] : undefined;
  return only === undefined
    ? { kind: "ambiguous", readings: [first, second] }
    : { kind: "number", value: only };
}

/** Takes grouping spaces and apostrophes out where they stand before groups of three; null where they stand elsewhere. */
function withoutSpaces(body: string): string | null {
  if (!/['’ \u00A0\u2009\u202F]/.test(body)) return body;
  const grouped = /^\d{1,3}(?:(['’ \u00A0\u2009\u202F])\d{3})(?:\1\d{3})*(?:[.,]\d+)?$/.test(body);
  // A space has said how the number is grouped, so a mark after it can only be decimal: 1 250,125.
  return grouped ? body.replaceAll(/['’ \u00A0\u2009\u202F]/g, "").replace(/[.,]/, "d") : null;
}

/** All readings of digits and marks: none, one, or two (grouped first). "d" is a mark already known to be decimal. */
function readingsOf(body: string, ownDecimal: "." | ","): number[] {
  if (body.replaceAll(/\D/g, "").length > mostDigits) return [];
  if (/^\d+(?:d\d+)?$/.test(body)) return [Number(body.replace("d", "."))];
  const grouped = /^[1-9]\d{0,2}(?:\.\d{3})+(?:,\d+)?$|^[1-9]\d{0,2}(?:,\d{3})+(?:\.\d+)?$/.test(body);
  const single = /^(\d*)([.,])(\d+)$/.exec(body);
  if (single === null) return grouped ? [groupedValue(body)] : [];
  const decimal = Number(`${single[1] || "0"}.${single[3]}`);
  if (!grouped || single[2] === ownDecimal) return [decimal];
  return [groupedValue(body), decimal];
}

/** The value where every mark but a differing last one groups. */
function groupedValue(body: string): number {
  const first = /[.,]/.exec(body)?.[0] as string;
  return Number(body.replaceAll(first, "").replace(",", "."));
}
