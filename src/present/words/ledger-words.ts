// The words of the screen Ledger, apart from the one catalogue: an app loads them with the screen.
import { ledgerScreen as german } from "./de/ledger-screen.ts";
import { ledgerScreen as english } from "./en/ledger-screen.ts";
import type { Language } from "./language.ts";

export type LedgerWords = typeof english;

export function ledgerWordsIn(language: Language): LedgerWords {
  return { en: english, de: german }[language];
}
