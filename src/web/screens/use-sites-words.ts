// The words of the screen about sites in the reader's language.
import { type SitesWords, sitesWordsIn } from "../../present/words/sites-words.ts";
import { useLocale } from "../parts/words.tsx";

export function useSitesWords(): SitesWords {
  return sitesWordsIn(useLocale().language);
}
