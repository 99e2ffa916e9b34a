// What somebody typed for a gauge: a number, or why it is none and what they may have meant.
//
// Nothing is turned into another number in silence. A share ("1/2", "full") is no reading: what it would come to is told,
// and the number asked for. A negative number, and one that the gauge cannot show, is refused by name; where it would fit
// in another unit (psi for bar, Fahrenheit for Celsius, …) that is asked. Above what it reads when full it is asked about,
// and stays as typed when the person says so.
import type { Language } from "../quantity/display.ts";
import { parseNumber } from "../quantity/parse-number.ts";
import { unitQuestion } from "../quantity/unit-question.ts";
import { convert, type Unit } from "../quantity/units.ts";
import type { Gauge } from "../sheet/gauge-blocks.ts";

export type OtherUnit = { readonly unit: string; readonly value: number };

export type TypedReading =
  | { readonly is: "empty" }
  | { readonly is: "number"; readonly value: number; readonly asked: "aboveCapacity" | null }
  | { readonly is: "refused"; readonly why: "notANumber" }
  | { readonly is: "refused"; readonly why: "ambiguous"; readonly readings: readonly [number, number] }
  /** `value`: what that share of a full gauge is; null where the sheet does not say what full is. */
  | { readonly is: "refused"; readonly why: "share"; readonly share: number; readonly value: number | null }
  | { readonly is: "refused"; readonly why: "negative" }
  | { readonly is: "refused"; readonly why: "implausible"; readonly meant: OtherUnit | null };

/** Units in which people type by mistake, by the unit of the gauge. */
const mistakenFor: Readonly<Record<string, readonly Unit[]>> = {
  bar: ["psi", "hPa"],
  L: ["usgal"],
  kg: ["lb"],
  mm: ["in"],
  C: ["F", "K"],
  h: ["min"],
};

const shareWords: Readonly<Record<string, number>> = {
  full: 1,
  voll: 1,
  max: 1,
  half: 0.5,
  halb: 0.5,
  empty: 0,
  leer: 0,
  "½": 0.5,
  "¼": 0.25,
  "¾": 0.75,
  "⅓": 1 / 3,
  "⅔": 2 / 3,
};

export function readTypedReading(
  gauge: Pick<Gauge, "unit" | "plausible" | "capacity">,
  typed: string,
  language: Language,
): TypedReading {
  const share = shareOf(typed);
  if (share !== null) {
    const value = gauge.capacity === undefined ? null : share * gauge.capacity;
    return { is: "refused", why: "share", share, value };
  }
  const { low, high } = gauge.plausible;
  const parsed = parseNumber(typed, language, { min: low, max: high });
  switch (parsed.kind) {
    case "empty":
      return { is: "empty" };
    case "notANumber":
      return { is: "refused", why: "notANumber" };
    case "ambiguous":
      return { is: "refused", why: "ambiguous", readings: parsed.readings };
    case "number":
      return judged(gauge, parsed.value);
    default:
      return parsed satisfies never;
  }
}

/** A number against what the gauge can show. */
function judged(
  { unit, plausible, capacity }: Pick<Gauge, "unit" | "plausible" | "capacity">,
  value: number,
): TypedReading {
  const range = { min: plausible.low, max: plausible.high };
  if (value >= range.min && value <= range.max) {
    return {
      is: "number",
      value,
      asked: capacity !== undefined && value > capacity ? "aboveCapacity" : null,
    };
  }
  if (value < 0 && plausible.low >= 0) return { is: "refused", why: "negative" };
  const others = (mistakenFor[unit] ?? []).map((other) => ({
    unit: other,
    value: convert(value as never, other as never, unit as never) as number,
  }));
  const answer = unitQuestion({ unit, value }, others, range);
  return { is: "refused", why: "implausible", meant: answer.kind === "question" ? answer.instead : null };
}

/** "1/2", "full", "¾": the share that was typed, or null. */
function shareOf(typed: string): number | null {
  const plain = typed.trim().toLowerCase();
  const word = Object.hasOwn(shareWords, plain) ? shareWords[plain] : undefined;
  if (word !== undefined) return word;
  const [, above, below] = /^(\d{1,2})\s*[/⁄]\s*(\d{1,2})$/u.exec(plain) ?? [];
  const share = Number(above) / Number(below);
  return share >= 0 && share <= 1 ? share : null;
}
