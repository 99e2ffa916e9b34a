// The language that the screen is set to: kept on this device, set on <html lang> for screen readers and hyphenation.
// /light.js sets the same attribute before the first paint, from the same key.
import { isLanguage } from "../../present/words/language.ts";
import type { Language } from "../../present/words/language.ts";

const key = "preen.language";

export function currentLanguage(): Language {
  const set = document.documentElement.lang;
  return isLanguage(set) ? set : "en";
}

export function setLanguage(language: Language): void {
  document.documentElement.lang = language;
  try {
    localStorage.setItem(key, language);
  } catch {
    // Private windows refuse storage: the language holds until the page is left.
  }
}
