// What is typed of a call, in the units that were chosen when it was typed: reading it, stepping it, showing it, and saying
// the same in other units. Rounded against the reader.
import { displayNumber, roundForDisplay } from "../../core/quantity/display.ts";
import type { Worse } from "../../core/quantity/display.ts";
import { convert, inUnit } from "../../core/quantity/units.ts";
import { readTypedNumber, typedText } from "../../present/typed-number.ts";
import type { Scale } from "../../present/typed-number.ts";
import type { Language } from "../../present/words/language.ts";
import type { ChosenUnits, UnitMatter } from "./chosen-units.ts";

/** In kilograms, feet, nautical miles, minutes, degrees and knots. */
const scales = {
  elevation_ft: { decimals: 0, lowest: -1_500, highest: 20_000 },
  fuel_kg: { decimals: 0, lowest: 0, highest: 20_000 },
  patient_kg: { decimals: 0, lowest: 0, highest: 400 },
  stay_min: { decimals: 0, lowest: 0, highest: 600 },
  depart_min: { decimals: 0, lowest: 0, highest: 1_440 },
  toGo_min: { decimals: 0, lowest: 0, highest: 600 },
  bearing_deg: { decimals: 0, lowest: 0, highest: 360 },
  distance_nm: { decimals: 1, lowest: 0, highest: 500 },
  wind_deg: { decimals: 0, lowest: 0, highest: 360 },
  wind_kt: { decimals: 0, lowest: 0, highest: 100 },
  cruise_ft: { decimals: 0, lowest: -1_500, highest: 20_000 },
  obstacle_ft: { decimals: 0, lowest: -1_500, highest: 20_000 },
} as const satisfies Record<string, Scale>;
export type CallAsked = keyof typeof scales;

const steps: Readonly<Record<CallAsked, readonly [usual: number, other: number]>> = {
  elevation_ft: [100, 50],
  fuel_kg: [10, 20],
  patient_kg: [5, 10],
  stay_min: [5, 5],
  depart_min: [5, 5],
  toGo_min: [1, 1],
  bearing_deg: [5, 5],
  distance_nm: [1, 1],
  wind_deg: [10, 10],
  wind_kt: [5, 5],
  cruise_ft: [100, 50],
  obstacle_ft: [100, 50],
};

/** Which way a rounded figure would flatter: fuel rounds down, what has to be carried, climbed or waited for rounds up. */
const worse: Readonly<Record<CallAsked, Worse>> = {
  elevation_ft: "higher",
  fuel_kg: "lower",
  patient_kg: "higher",
  stay_min: "higher",
  depart_min: "higher",
  toGo_min: "higher",
  bearing_deg: "both",
  distance_nm: "higher",
  wind_deg: "both",
  wind_kt: "both",
  cruise_ft: "both",
  obstacle_ft: "higher",
};

export function matterOf(asked: CallAsked): UnitMatter | null {
  if (asked.endsWith("_kg")) return "mass";
  if (asked.endsWith("_ft")) return "height";
  return asked.endsWith("_nm") ? "distance" : null;
}

/** A mass in kg, a height in ft or a distance in nm, in the unit that was chosen. */
export function toChosen(value: number, matter: UnitMatter | null, units: ChosenUnits): number {
  if (matter === "mass") return units.mass === "kg" ? value : convert(inUnit(value, "kg"), "kg", "lb");
  if (matter === "height") return units.height === "ft" ? value : convert(inUnit(value, "ft"), "ft", "m");
  if (matter === "distance")
    return units.distance === "nm" ? value : convert(inUnit(value, "nm"), "nm", "km");
  return value;
}

function fromChosen(value: number, matter: UnitMatter | null, units: ChosenUnits): number {
  if (matter === "mass") return units.mass === "kg" ? value : convert(inUnit(value, "lb"), "lb", "kg");
  if (matter === "height") return units.height === "ft" ? value : convert(inUnit(value, "m"), "m", "ft");
  if (matter === "distance")
    return units.distance === "nm" ? value : convert(inUnit(value, "km"), "km", "nm");
  return value;
}

export function scaleOf(asked: CallAsked, units: ChosenUnits): Scale {
  const { decimals, lowest, highest } = scales[asked];
  const matter = matterOf(asked);
  return {
    decimals,
    lowest: Math.ceil(toChosen(lowest, matter, units)),
    highest: Math.floor(toChosen(highest, matter, units)),
  };
}

export function stepOf(asked: CallAsked, units: ChosenUnits): number {
  const matter = matterOf(asked);
  const isOther = matter !== null && units[matter] !== { mass: "kg", height: "ft", distance: "nm" }[matter];
  return steps[asked][isOther ? 1 : 0];
}

/** A quantity as somebody would type it. */
export function typedIn(asked: CallAsked, value: number, units: ChosenUnits, language: Language): string {
  const { decimals } = scales[asked];
  const shown = toChosen(value, matterOf(asked), units);
  return typedText(roundForDisplay(shown, decimals, worse[asked]), decimals, language);
}

/** What was typed, in kg, ft, nm; null while nothing was, or it cannot be read. */
export function readIn(
  asked: CallAsked,
  text: string,
  units: ChosenUnits,
  language: Language,
): number | null {
  const { value, issue } = readTypedNumber(text, scaleOf(asked, units), language);
  return value === null || issue !== null ? null : fromChosen(value, matterOf(asked), units);
}

export type TypedOfCall = Readonly<Partial<Record<CallAsked, string>>>;

/** The same in other units; a text that cannot be read stays as it was typed. */
export function saidIn(
  typed: TypedOfCall,
  before: ChosenUnits,
  after: ChosenUnits,
  language: Language,
): TypedOfCall {
  const said: Partial<Record<CallAsked, string>> = { ...typed };
  for (const asked of Object.keys(typed) as CallAsked[]) {
    const matter = matterOf(asked);
    if (matter === null || before[matter] === after[matter]) continue;
    const value = readIn(asked, typed[asked] ?? "", before, language);
    if (value !== null) said[asked] = typedIn(asked, value, after, language);
  }
  return said;
}

/** A quantity with its unit, rounded against the reader. */
export type Amounts = {
  readonly units: ChosenUnits;
  readonly mass: (mass_kg: number, worse: Worse) => string;
  readonly height: (height_ft: number, worse: Worse) => string;
  readonly distance: (distance_nm: number, worse: Worse) => string;
  /** A number alone, for a column that has its unit at its head. */
  readonly bare: (value: number, matter: UnitMatter, worse: Worse, decimals?: number) => string;
};

export function amountsIn(
  units: ChosenUnits,
  language: Language,
  names: Readonly<Record<string, string>>,
): Amounts {
  const bare: Amounts["bare"] = (value, matter, against, decimals = 0) =>
    displayNumber(toChosen(value, matter, units), decimals, against, language);
  const withUnit =
    (matter: UnitMatter) =>
    (value: number, against: Worse): string =>
      `${bare(value, matter, against)} ${names[units[matter]] ?? units[matter]}`;
  return {
    units,
    mass: withUnit("mass"),
    height: withUnit("height"),
    distance: withUnit("distance"),
    bare,
  };
}
