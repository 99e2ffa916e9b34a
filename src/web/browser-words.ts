// The words of one language at a time, and what reasons say only when there are reasons to say. The build puts this in the
// place of the whole catalogue (vite.config.ts), so that nobody loads words that they do not read. Words that have not been
// brought are a mistake of the program: they are refused, never shown as something else.
import type { Language } from "../present/words/language.ts";
import type * as Whole from "../present/words/words.ts";

export type { Words, WordsOfReasons } from "../present/words/words.ts";

type Catalogue<Words> = {
  readonly bring: (language: Language) => Promise<void>;
  readonly wordsIn: (language: Language) => Words;
};

function oneLanguage<Words>(from: Readonly<Record<Language, () => Promise<Words>>>): Catalogue<Words> {
  const held = new Map<Language, Words>();
  return {
    async bring(language) {
      if (!held.has(language)) held.set(language, await from[language]());
    },
    wordsIn(language) {
      const words = held.get(language);
      if (words === undefined) throw new Error(`the words of ${language} have not been brought`);
      return words;
    },
  };
}

const words = oneLanguage<Whole.Words>({
  en: async () => (await import("../present/words/en/english.ts")).english,
  de: async () => (await import("../present/words/de/german.ts")).german,
});

const wordsOfReasons = oneLanguage<Whole.WordsOfReasons>({
  en: () => import("../present/words/en/reasons.ts"),
  de: () => import("../present/words/de/reasons.ts"),
});

export const wordsIn: typeof Whole.wordsIn = words.wordsIn;
export const wordsOfReasonsIn: typeof Whole.wordsOfReasonsIn = wordsOfReasons.wordsIn;
export const bringWords: typeof Whole.bringWords = words.bring;
export const bringWordsOfReasons: typeof Whole.bringWordsOfReasons = wordsOfReasons.bring;
