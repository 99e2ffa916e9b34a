// The words of the standing line in the reader's language.
import { type LineWords, lineWordsIn } from "../../present/words/line-words.ts";
import { useLocale } from "../parts/words.tsx";

export function useLineWords(): LineWords {
  return lineWordsIn(useLocale().language);
}
