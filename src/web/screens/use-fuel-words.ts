// The words of the screen about fuel in the reader's language.
import { type FuelWords, fuelWordsIn } from "../../present/words/fuel-words.ts";
import { useLocale } from "../parts/words.tsx";

export function useFuelWords(): FuelWords {
  return fuelWordsIn(useLocale().language);
}
