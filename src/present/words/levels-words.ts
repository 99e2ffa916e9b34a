// The words of the screen Levels and of readings, apart from the one catalogue: an app loads them with the screen.
import { levelsScreen as german } from "./de/levels-screen.ts";
import { levelsScreen as english } from "./en/levels-screen.ts";
import type { Language } from "./language.ts";

export type LevelsWords = typeof english;

export function levelsWordsIn(language: Language): LevelsWords {
  return { en: english, de: german }[language];
}
