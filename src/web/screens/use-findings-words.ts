// The words of the screens of findings in the reader's language.
import { type FindingsWords, findingsWordsIn } from "../../present/words/findings-words.ts";
import { useLocale } from "../parts/words.tsx";

export function useFindingsWords(): FindingsWords {
  return findingsWordsIn(useLocale().language);
}
