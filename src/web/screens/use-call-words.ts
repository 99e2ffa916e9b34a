// The words of the screens Call and Reach in the reader's language.
import { type CallWords, callWordsIn } from "../../present/words/call-words.ts";
import { useLocale } from "../parts/words.tsx";

export function useCallWords(): CallWords {
  return callWordsIn(useLocale().language);
}
