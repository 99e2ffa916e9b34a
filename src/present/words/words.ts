// Every word that the program shows, one typed catalogue per language, in files by area (en/…, de/…).
//
// English gives the type. Another language's areas are annotated with it, so a key that is missing, or one too many, does
// not compile. Words with parameters are functions. To add words: write them in en/<area>.ts, then where tsc points.
// To add a language: a folder like de/, one line below, its tag in language.ts, its forms in plural.ts.
import { german } from "./de/german.ts";
import { english } from "./en/english.ts";
import type { Language } from "./language.ts";

export type Words = typeof english;

const catalogues: Readonly<Record<Language, Words>> = { en: english, de: german };

export function wordsIn(language: Language): Words {
  return catalogues[language];
}
