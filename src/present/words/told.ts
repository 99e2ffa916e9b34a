// What the words of a reason may draw on. A fact that is missing is said as `?`, never guessed.
import type { Reason } from "../../core/facts/reason.ts";
import type { Names } from "../names.ts";
import { dateLong } from "./formats.ts";
import type { Locale } from "./language.ts";
import type { Phrase } from "./phrase.ts";

export type Told = {
  readonly reason: Reason;
  readonly names: Names;
  readonly locale: Locale;
  readonly now_ms: number;
};

/** A title with its subject marked, and a line of detail that may be empty. */
export type Said = { readonly title: Phrase; readonly detail: string };

export function said(title: Phrase, detail = ""): Said {
  return { title, detail };
}

export function textOf({ reason }: Told, name: string): string {
  const value = reason.facts[name];
  return value === null || value === undefined ? "?" : String(value);
}

export function numberOf({ reason }: Told, name: string): number | null {
  const value = reason.facts[name];
  return typeof value === "number" && Number.isFinite(value) ? value : null;
}

/** A date in words; what ends by flying alone has none. */
export function dateOf(told: Told, name: string): string {
  const value = told.reason.facts[name];
  return typeof value === "string" ? dateLong(value, told.locale) : "?";
}
