// The words of the screen Handover, apart from the one catalogue: an app loads them with the screen.
import { handoverScreen as german } from "./de/handover-screen.ts";
import { handoverScreen as english } from "./en/handover-screen.ts";
import type { Language } from "./language.ts";

export type HandoverWords = typeof english;

export function handoverWordsIn(language: Language): HandoverWords {
  return { en: english, de: german }[language];
}
