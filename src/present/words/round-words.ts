// The words of the walk's own screens and of custody, apart from the one catalogue: an app loads them with the screens.
import { round as german } from "./de/round.ts";
import { round as english } from "./en/round.ts";
import type { Language } from "./language.ts";

export type RoundWords = typeof english;

export function roundWordsIn(language: Language): RoundWords {
  return { en: english, de: german }[language];
}
