// The reader's locale, and through it the words, for every part below.
import { createContext, useContext } from "react";
import type { ReactNode } from "react";
import type { Locale } from "../../present/words/language.ts";
import { wordsIn } from "../../present/words/words.ts";
import type { Words } from "../../present/words/words.ts";

const LocaleContext = createContext<Locale | null>(null);

export function LocaleProvider({
  locale,
  children,
}: {
  readonly locale: Locale;
  readonly children: ReactNode;
}) {
  return <LocaleContext value={locale}>{children}</LocaleContext>;
}

export function useLocale(): Locale {
  const locale = useContext(LocaleContext);
  if (locale === null) throw new Error("a part stands outside LocaleProvider");
  return locale;
}

export function useWords(): Words {
  return wordsIn(useLocale().language);
}
