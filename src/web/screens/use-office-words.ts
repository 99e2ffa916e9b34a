// The words of the flight log and the office in the reader's language.
import { type OfficeWords, officeWordsIn } from "../../present/words/office-words.ts";
import { useLocale } from "../parts/words.tsx";

export function useOfficeWords(): OfficeWords {
  return officeWordsIn(useLocale().language);
}
