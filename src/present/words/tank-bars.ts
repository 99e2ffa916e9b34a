// What stands against a tank of the base, in words, for the screen about fuel and for reasons alike.
import type { TankBarCode } from "../../core/fuel/tank-at.ts";
import { tankBars as german } from "./de/reference.ts";
import { tankBars as english } from "./en/reference.ts";
import type { Language } from "./language.ts";

export function barWords(code: TankBarCode, language: Language): string {
  return { en: english, de: german }[language][code];
}
