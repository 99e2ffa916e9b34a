// The words of the screen Ledger in the reader's language.
import { type LedgerWords, ledgerWordsIn } from "../../present/words/ledger-words.ts";
import { useLocale } from "../parts/words.tsx";

export function useLedgerWords(): LedgerWords {
  return ledgerWordsIn(useLocale().language);
}
