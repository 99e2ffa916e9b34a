// Reads a number as a person typed it off a gauge, and steps it without rounding it.
//
// What the text means is decided in core/quantity/parse-number; here it is held against what can be read off the gauge.
// Nothing is snapped, rounded or clamped: a value outside the scale comes back as it was typed, with the issue beside it.
import { parseNumber } from "../core/quantity/parse-number.ts";
import type { Language } from "./words/language.ts";

export type TypedIssue =
  | { readonly kind: "notANumber"; readonly typed: string }
  | { readonly kind: "ambiguous"; readonly typed: string; readonly readings: readonly [number, number] }
  | { readonly kind: "tooManyDecimals"; readonly decimals: number }
  | { readonly kind: "below"; readonly lowest: number }
  | { readonly kind: "above"; readonly highest: number };

export type TypedNumber = {
  /** The number; null when nothing was typed or it cannot be read. Present beside `below` and `above`. */
  readonly value: number | null;
  readonly issue: TypedIssue | null;
};

/** What can be read off a gauge: `decimals` places at most, from `lowest` to `highest` (both may be read). */
export type Scale = {
  readonly decimals: number;
  readonly lowest?: number;
  readonly highest?: number;
};

export function readTypedNumber(typed: string, scale: Scale, language: Language): TypedNumber {
  const read = parseNumber(typed, language);
  switch (read.kind) {
    case "empty":
      return { value: null, issue: null };
    case "notANumber":
      return { value: null, issue: { kind: "notANumber", typed: typed.trim() } };
    case "ambiguous":
      return { value: null, issue: { kind: "ambiguous", typed: typed.trim(), readings: read.readings } };
    case "number":
      return onScale(read.value, scale);
    default:
      return read satisfies never;
  }
}

function onScale(value: number, { decimals, lowest, highest }: Scale): TypedNumber {
  if (Number(value.toFixed(decimals)) !== value)
    return { value: null, issue: { kind: "tooManyDecimals", decimals } };
  if (lowest !== undefined && value < lowest) return { value, issue: { kind: "below", lowest } };
  if (highest !== undefined && value > highest) return { value, issue: { kind: "above", highest } };
  return { value, issue: null };
}

/** A number as it would be typed: no grouping, the language's decimal mark, exactly so many decimals. */
export function typedText(value: number, decimals: number, language: Language): string {
  if (!Number.isFinite(value)) throw new RangeError(`not a number to type: ${value}`);
  return value.toFixed(decimals).replace(".", language === "de" ? "," : ".");
}

/**
 * The next value, one step up (+1) or down (−1), in whole parts of the last decimal, so that ten steps of 0.1 are 1.
 * Goes past the ends of the scale: what is read is what is entered. `step` has at most `decimals` places.
 */
export function stepped(value: number, step: number, direction: 1 | -1, decimals: number): number {
  const parts = 10 ** decimals;
  return (Math.round(value * parts) + direction * Math.round(step * parts)) / parts;
}
