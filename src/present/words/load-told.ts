// What the words of mass and balance say in every language alike: a mass, the place that is meant, a date.
import { displayNumber, type Worse } from "../../core/quantity/display.ts";
import { dateLong } from "./formats.ts";
import { numberOf, textOf } from "./told.ts";
import type { Told } from "./told.ts";

/** A mass of the reason in whole kilograms, rounded against the reader. */
export function kgOf(told: Told, name: string, worse: Worse): string {
  const value = numberOf(told, name);
  return value === null ? "? kg" : `${displayNumber(value, 0, worse, told.locale.language)} kg`;
}

const kinds = { seats: "seat", stretchers: "stretcher", compartments: "compartment" } as const;

/** The place that a reason is about, by the sheet's own name. */
export function placeOf(told: Told): string {
  const [block = "", id = "?"] = textOf(told, "place").split(".");
  return block in kinds ? told.names.of(kinds[block as keyof typeof kinds], id) : textOf(told, "place");
}

export function dueDateOf(told: Told): string {
  const { due } = told.reason.facts;
  return typeof due === "string" ? dateLong(due, told.locale) : "?";
}

/** How far outside, in whole millimetres; null where the mass itself is beyond. */
export function outsideBy(told: Told): string | null {
  const margin_m = numberOf(told, "margin_m");
  return margin_m === null
    ? null
    : `${displayNumber(-margin_m * 1000, 0, "higher", told.locale.language)} mm`;
}

/** How kit differs from its list: only what there is of each. */
export function kitDifferences(
  told: Told,
  words: Readonly<Record<"missing" | "twice" | "different", string>>,
): string {
  return (["missing", "twice", "different"] as const)
    .filter((how) => numberOf(told, how) !== 0)
    .map((how) => `${numberOf(told, how) ?? "?"} ${words[how]}`)
    .join(", ");
}
