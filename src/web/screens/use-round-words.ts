// The words of the walk's own screens in the reader's language.
import { type RoundWords, roundWordsIn } from "../../present/words/round-words.ts";
import { useLocale } from "../parts/words.tsx";

export function useRoundWords(): RoundWords {
  return roundWordsIn(useLocale().language);
}
