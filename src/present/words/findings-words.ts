// The words of the screens of findings, apart from the one catalogue: an app loads them with the screens.
import { findingsScreen as german } from "./de/findings-screen.ts";
import { findingsScreen as english } from "./en/findings-screen.ts";
import type { Language } from "./language.ts";

export type FindingsWords = typeof english;

export function findingsWordsIn(language: Language): FindingsWords {
  return { en: english, de: german }[language];
}
