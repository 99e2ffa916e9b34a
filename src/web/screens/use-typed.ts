// What stands in the fields of a form, letter for letter, by the name of the field.
import { useState } from "react";
import { readTypedNumber } from "../../present/typed-number.ts";
import { useLocale } from "../parts/words.tsx";
import { dateOf } from "./date-field.tsx";

export type Typed = {
  readonly text: (name: string) => string;
  readonly set: (name: string) => (value: string) => void;
  /** The number that was typed; null while there is none, or it cannot be read. */
  readonly number: (name: string) => number | null;
  readonly date: (name: string) => string | null;
};

export const counterScale = { decimals: 2, lowest: 0, highest: 1_000_000 } as const;

export function useTyped(): Typed {
  const { language } = useLocale();
  const [held, setHeld] = useState<Readonly<Record<string, string>>>({});
  const text = (name: string): string => held[name] ?? "";
  return {
    text,
    set: (name) => (value) => setHeld((before) => ({ ...before, [name]: value })),
    number: (name) => {
      const { value, issue } = readTypedNumber(text(name), counterScale, language);
      return issue === null ? value : null;
    },
    date: (name) => dateOf(text(name)),
  };
}
