// The words of the screen Loading in the reader's language.
import { type LoadingWords, loadingWordsIn } from "../../present/words/loading-words.ts";
import { useLocale } from "../parts/words.tsx";

export function useLoadingWords(): LoadingWords {
  return loadingWordsIn(useLocale().language);
}
