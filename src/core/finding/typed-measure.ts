// Reads a measure as somebody writes it: a number and its unit, "0,4 mm", "3/4 in", "2 drops/min".
//
// Nothing is guessed. A number without a unit is asked about; words are no measure and are named as what they are; a
// size in a unit that does not belong to the part's limit is refused. What was typed goes into the record beside what is
// used. Numbers: core/quantity/parse-number.ts; a fraction of two whole numbers below 100 is read as one.
import type { Measure } from "../facts/craft.ts";
import type { Language } from "../quantity/display.ts";
import { parseNumber } from "../quantity/parse-number.ts";
import { measureIn, measureUnits, type MeasureUnit } from "./bands.ts";

export type MeasureIssue =
  /** "small", "as before": a word where a number and a unit are needed. */
  | { readonly kind: "vague"; readonly typed: string }
  /** It says that it is as it was: the matter that it speaks of is to be chosen. */
  | { readonly kind: "asBefore"; readonly typed: string }
  | { readonly kind: "noUnit"; readonly typed: string; readonly units: readonly MeasureUnit[] }
  | { readonly kind: "wrongUnit"; readonly unit: string; readonly units: readonly MeasureUnit[] }
  | { readonly kind: "notANumber"; readonly typed: string }
  | { readonly kind: "ambiguous"; readonly typed: string; readonly readings: readonly [number, number] }
  | { readonly kind: "negative"; readonly typed: string };

export type TypedMeasure =
  | { readonly kind: "empty" }
  | { readonly kind: "measure"; readonly measure: Measure }
  | { readonly kind: "issue"; readonly issue: MeasureIssue };

const allUnits: readonly MeasureUnit[] = Object.values(measureUnits).flat();

/** How people write the units, in both languages. */
const written: Readonly<Record<string, MeasureUnit>> = {
  mm: "mm",
  millimetre: "mm",
  millimetres: "mm",
  millimeter: "mm",
  cm: "cm",
  in: "in",
  inch: "in",
  inches: "in",
  zoll: "in",
  '"': "in",
  "″": "in",
  cm2: "cm2",
  "cm²": "cm2",
  mm2: "mm2",
  "mm²": "mm2",
  "drops/min": "drops/min",
  "drop/min": "drops/min",
  "tropfen/min": "drops/min",
  "tr/min": "drops/min",
  count: "count",
  "×": "count",
  x: "count",
  stück: "count",
};

const asBefore =
  /^(as before|same|same as before|unchanged|like before|wie vorher|wie zuvor|unverändert|gleich)$/iu;

function issue(said: MeasureIssue): TypedMeasure {
  return { kind: "issue", issue: said };
}

/**
 * `units`: those that may be given, the first being the one that is kept; empty for any unit that is known. `chosen`: the
 * unit that the person picked beside the number, null where they picked none.
 */
export function readMeasure(
  typed: string,
  language: Language,
  units: readonly MeasureUnit[] = [],
  chosen: MeasureUnit | null = null,
): TypedMeasure {
  const text = typed.trim();
  const allowed = units.length === 0 ? allUnits : units;
  if (text === "") return { kind: "empty" };
  if (asBefore.test(text)) return issue({ kind: "asBefore", typed: text });
  const [, digits = "", rest = ""] = /^([+\-\u2212]?[\d.,'’⁄/\u00A0\u2009\u202F]*)\s*(.*)$/u.exec(text) ?? [];
  if (digits === "") return issue({ kind: "vague", typed: text });
  const value = numberIn(digits, language);
  if (typeof value !== "number") return issue({ ...value, typed: text });
  if (value < 0) return issue({ kind: "negative", typed: text });
  const said = rest === "" ? chosen : (written[rest.toLowerCase()] ?? null);
  if (rest === "" && said === null) return issue({ kind: "noUnit", typed: text, units: allowed });
  if (said === null || !allowed.includes(said))
    return issue({ kind: "wrongUnit", unit: said ?? rest, units: allowed });
  const kept = units[0] ?? (said === "in" || said === "cm" ? "mm" : said === "mm2" ? "cm2" : said);
  const used = measureIn({ value, unit: said }, kept);
  if (used === null) return issue({ kind: "wrongUnit", unit: said, units: allowed });
  return {
    kind: "measure",
    measure: { value: used, unit: kept, typed: rest === "" ? `${text} ${said}` : text },
  };
}

type NoNumber =
  | { readonly kind: "notANumber" }
  | { readonly kind: "ambiguous"; readonly readings: readonly [number, number] };

function numberIn(digits: string, language: Language): number | NoNumber {
  const [, above, below] = /^(\d{1,2})[/⁄](\d{1,2})$/u.exec(digits) ?? [];
  if (below !== undefined && Number(below) > 0) return Number(above) / Number(below);
  const read = parseNumber(digits, language);
  if (read.kind === "number") return read.value;
  return read.kind === "ambiguous" ? { kind: "ambiguous", readings: read.readings } : { kind: "notANumber" };
}
