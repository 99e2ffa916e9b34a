// Every word that the program shows, one typed catalogue per language, in files by area (en/…, de/…).
//
// English gives the type. Another language's areas are annotated with it, so a key that is missing, or one too many, does
// not compile. Words with parameters are functions. To add words: write them in en/<area>.ts, then where tsc points.
// To add a language: a folder like de/, a line in each catalogue below and in the app's (web/browser-words.ts), its tag in
// language.ts, its forms in plural.ts.
//
// What reasons say is a catalogue of its own: it is half of all words, and nobody needs it to say who they are.
import { german } from "./de/german.ts";
import * as germanReasons from "./de/reasons.ts";
import { english } from "./en/english.ts";
import * as englishReasons from "./en/reasons.ts";
import type { Language } from "./language.ts";

export type Words = typeof english;
export type WordsOfReasons = Pick<typeof englishReasons, "reasons" | "remedies">;

const catalogues: Readonly<Record<Language, Words>> = { en: english, de: german };
const reasonCatalogues: Readonly<Record<Language, WordsOfReasons>> = {
  en: englishReasons,
  de: germanReasons,
};

export function wordsIn(language: Language): Words {
  return catalogues[language];
}

export function wordsOfReasonsIn(language: Language): WordsOfReasons {
  return reasonCatalogues[language];
}

/** Resolves when the words of a language are at hand. Here all are; the app in a browser brings one language at a time. */
export async function bringWords(language: Language): Promise<void> {
  await Promise.resolve(catalogues[language]);
}

export async function bringWordsOfReasons(language: Language): Promise<void> {
  await Promise.resolve(reasonCatalogues[language]);
}
