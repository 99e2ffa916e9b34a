// The languages that the program speaks, and what a reader's place decides about words: language, form of dates, zone.

export const languages = ["en", "de"] as const;
export type Language = (typeof languages)[number];

/** `tag` (BCP 47) decides how dates and numbers are written; it is of the same language. `zone` is always said, never the device's own. */
export type Locale = {
  readonly language: Language;
  readonly tag: string;
  readonly zone: string;
};

const tags: Readonly<Record<Language, string>> = { en: "en-GB", de: "de-DE" };

/** The usual locale of a language in a zone. */
export function localeOf(language: Language, zone: string): Locale {
  return { language, tag: tags[language], zone };
}

export function isLanguage(value: unknown): value is Language {
  return (languages as readonly unknown[]).includes(value);
}
