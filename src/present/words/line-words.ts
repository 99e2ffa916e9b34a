// The words of the standing line in full, of what would help, and of a fall: apart from the one catalogue, loaded with them.
import { lineScreen as german } from "./de/line-screen.ts";
import { lineScreen as english } from "./en/line-screen.ts";
import type { Language } from "./language.ts";

export type LineWords = typeof english;

export function lineWordsIn(language: Language): LineWords {
  return { en: english, de: german }[language];
}
