// Where a text stands decides its first letter: at the beginning of a line it is a capital, inside a sentence it is not.
//
// A sheet writes its names as they stand inside a sentence (`day VFR`, `linke Kabinentür`). Only the first letter is ever
// touched, and only where the word is an ordinary one: an abbreviation, a unit or a name that mixes letters keeps its
// form (`IFR`, `kHz`). German nouns keep their capital inside a sentence; only an article or the like goes small.
import type { Language } from "./words/language.ts";
import type { Phrase } from "./words/phrase.ts";

const germanSmallWords = new Set(
  "der die das den dem des ein eine einen einem einer eines kein keine jemand niemand seit noch letzter letzte letztes voller volle es sie er alle nach vor auf in an bei mit ohne".split(
    " ",
  ),
);

const tags: Readonly<Record<Language, string>> = { en: "en-GB", de: "de-DE" };

/** The first word where it is an ordinary one: letters, no capital but perhaps the first. */
function ordinaryWord(text: string): string | null {
  const [word] = /^\p{L}+/u.exec(text) ?? [];
  return word === undefined || /\p{Lu}/u.test(word.slice(1)) ? null : word;
}

/** The text as the beginning of a line or a title. */
export function asTitle(text: string, language: Language): string {
  if (ordinaryWord(text) === null) return text;
  return text.charAt(0).toLocaleUpperCase(tags[language]) + text.slice(1);
}

/** The text as it continues a sentence. */
export function insideSentence(text: string, language: Language): string {
  const word = ordinaryWord(text);
  if (word === null) return text;
  const small = word.toLocaleLowerCase(tags[language]);
  if (language === "de" && !germanSmallWords.has(small)) return text;
  return small + text.slice(word.length);
}

/** The phrase with its first letter as at the beginning of a line. */
export function titled(pieces: Phrase, language: Language): Phrase {
  const [first, ...rest] = pieces;
  if (first === undefined) return pieces;
  return typeof first === "string"
    ? [asTitle(first, language), ...rest]
    : [{ subject: asTitle(first.subject, language) }, ...rest];
}
