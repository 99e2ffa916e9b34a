// The words of the screen Loading, apart from the one catalogue: an app loads them with the screen.
import { loading as german } from "./de/loading.ts";
import { loading as english } from "./en/loading.ts";
import type { Language } from "./language.ts";

export type LoadingWords = typeof english;

export function loadingWordsIn(language: Language): LoadingWords {
  return { en: english, de: german }[language];
}
