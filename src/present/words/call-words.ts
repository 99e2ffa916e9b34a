// The words of the screens Call and Reach, apart from the one catalogue: an app loads them with the screens.
import { callScreen as german } from "./de/call-screen.ts";
import { callScreen as english } from "./en/call-screen.ts";
import type { Language } from "./language.ts";

export type CallWords = typeof english;

export function callWordsIn(language: Language): CallWords {
  return { en: english, de: german }[language];
}
