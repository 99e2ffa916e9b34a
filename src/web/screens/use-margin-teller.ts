// What tells margins of calls, for the screen that is open.
import type { CraftView } from "../device/model.ts";
import { useLocale } from "../parts/words.tsx";
import { useNames } from "./app-context.tsx";
import type { MarginTeller } from "./margin-words.ts";
import { useAmounts } from "./use-amounts.ts";
import { useCallWords } from "./use-call-words.ts";

export function useMarginTeller(craft: CraftView): MarginTeller {
  const words = useCallWords();
  const amounts = useAmounts();
  const names = useNames(craft);
  const locale = useLocale();
  return { words, amounts, names, locale };
}
