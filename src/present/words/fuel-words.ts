// The words of the screen about fuel, apart from the one catalogue: an app loads them with the screen.
import { fuelScreen as german } from "./de/fuel-screen.ts";
import { fuelScreen as english } from "./en/fuel-screen.ts";
import type { Language } from "./language.ts";

export type FuelWords = typeof english;

export function fuelWordsIn(language: Language): FuelWords {
  return { en: english, de: german }[language];
}
