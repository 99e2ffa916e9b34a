// The words of the flight log and of what an office signs, apart from the one catalogue: an app loads them with the screens.
import { office as german } from "./de/office.ts";
import { office as english } from "./en/office.ts";
import type { Language } from "./language.ts";

export type OfficeWords = typeof english;

export function officeWordsIn(language: Language): OfficeWords {
  return { en: english, de: german }[language];
}
