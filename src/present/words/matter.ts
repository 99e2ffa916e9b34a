// What a reason about deferrals or maintenance is about, by the sheet's own names: the same in every language.
import { phrase, subject } from "./phrase.ts";
import type { Phrase } from "./phrase.ts";
import { textOf } from "./told.ts";
import type { Told } from "./told.ts";

export const deferral = (told: Told, key = "deferral"): string =>
  told.names.of("deferral", textOf(told, key));
export const listNumber = (told: Told): string => textOf(told, "number");

/** What is due: a task, a part with its serial number, or an obligation in its own words. */
function thing(told: Told): string {
  const { task, component, words, serial } = told.reason.facts;
  if (typeof task === "string") return told.names.of("task", task);
  if (typeof component === "string") {
    const part = told.names.of("component", component);
    return typeof serial === "string" ? `${part} ${serial}` : part;
  }
  return typeof words === "string" ? words : "?";
}

export const matter = (told: Told, rest: string): Phrase => phrase`${subject(thing(told))}${rest}`;
