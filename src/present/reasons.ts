// A reason in words: what it says, a line of detail, and what clears it. The words themselves stand in the catalogues
// (words/en/reasons.ts and its like), keyed by the reason's code, so that a code without words does not compile.
import { titled } from "./sentence-case.ts";
import type { Phrase } from "./words/phrase.ts";
import type { Told } from "./words/told.ts";
import { wordsOfReasonsIn } from "./words/words.ts";

export type ReasonWords = { readonly title: Phrase; readonly detail: string; readonly remedy: string };

export function reasonWords(told: Told): ReasonWords {
  const { language } = told.locale;
  const { reasons, remedies } = wordsOfReasonsIn(language);
  const { title, detail } = reasons[told.reason.code](told);
  return { title: titled(title, language), detail, remedy: remedies[told.reason.remedy.code] };
}
