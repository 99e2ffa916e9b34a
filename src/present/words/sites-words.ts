// The words of the screen about sites and notices, apart from the one catalogue: an app loads them with the screen.
import { sitesScreen as german } from "./de/sites-screen.ts";
import { sitesScreen as english } from "./en/sites-screen.ts";
import type { Language } from "./language.ts";

export type SitesWords = typeof english;

export function sitesWordsIn(language: Language): SitesWords {
  return { en: english, de: german }[language];
}
