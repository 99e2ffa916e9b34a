// Each language by its own name, so that it is found by who cannot read the other.
import { languages } from "../../present/words/language.ts";
import type { Language } from "../../present/words/language.ts";
import { ChoiceRow } from "./choice-row.tsx";
import { useWords } from "./words.tsx";

type LanguageSwitchProps = { readonly language: Language; readonly onLanguage: (language: Language) => void };

export function LanguageSwitch({ language, onLanguage }: LanguageSwitchProps) {
  const { language: words } = useWords().app;
  return (
    <ChoiceRow
      name={words.name}
      choices={languages.map((value) => ({ value, label: words[value] }))}
      value={language}
      onChoose={onLanguage}
    />
  );
}
