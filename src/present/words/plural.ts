// Picks the form of a counted noun by the language's own plural rules (Unicode CLDR, through Intl.PluralRules).
import type { Language } from "./language.ts";

/** The forms that English and German need; a language with more gets its own type. */
export type Forms = { readonly one: string; readonly other: string };

const rules = new Map<Language, Intl.PluralRules>();

/** The form for a count. Refuses (RangeError) what is not a finite number: a count that is not known has other words. */
export function plural(language: Language, count: number, forms: Forms): string {
  if (!Number.isFinite(count)) throw new RangeError(`not a count: ${count}`);
  let rule = rules.get(language);
  if (rule === undefined) rules.set(language, (rule = new Intl.PluralRules(language)));
  return rule.select(count) === "one" ? forms.one : forms.other;
}
