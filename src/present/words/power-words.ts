// The words of the screen Power, apart from the one catalogue: an app loads them with the screen.
import { powerScreen as german } from "./de/power-screen.ts";
import { powerScreen as english } from "./en/power-screen.ts";
import type { Language } from "./language.ts";

export type PowerWords = typeof english;

export function powerWordsIn(language: Language): PowerWords {
  return { en: english, de: german }[language];
}
