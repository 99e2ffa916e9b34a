// The words of the page on charts, apart from the one catalogue: an app loads them with the page.
import { chartsScreen as german } from "./de/charts-screen.ts";
import { chartsScreen as english } from "./en/charts-screen.ts";
import type { Language } from "./language.ts";

export type ChartsWords = typeof english;

export function chartsWordsIn(language: Language): ChartsWords {
  return { en: english, de: german }[language];
}
