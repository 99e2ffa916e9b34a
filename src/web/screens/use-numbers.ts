// The numbers of a form that each have a scale: kept letter for letter, by name, and read as numbers where they can be.
import { useState } from "react";
import { readTypedNumber, type Scale } from "../../present/typed-number.ts";
import { useLocale } from "../parts/words.tsx";

export type Numbers<Name extends string> = {
  readonly text: (name: Name) => string;
  readonly set: (name: Name) => (typed: string) => void;
  readonly scale: (name: Name) => Scale;
  /** Null while nothing is typed, or what is typed cannot be read or lies off the scale. */
  readonly value: (name: Name) => number | null;
};

export function useNumbers<Name extends string>(
  scales: Readonly<Record<Name, Scale>>,
  first?: Readonly<Partial<Record<Name, string>>>,
): Numbers<Name> {
  const { language } = useLocale();
  const [held, setHeld] = useState<Readonly<Partial<Record<Name, string>>> | undefined>(first);
  const text = (name: Name): string => held?.[name] ?? "";
  return {
    text,
    set: (name) => (typed) => setHeld((before) => ({ ...before, [name]: typed }) as typeof before),
    scale: (name) => scales[name],
    value: (name) => {
      const { value, issue } = readTypedNumber(text(name), scales[name], language);
      return issue === null ? value : null;
    },
  };
}
