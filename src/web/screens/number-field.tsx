// A number of a form, kept letter for letter; what cannot be read is said and stays.
import { readTypedNumber } from "../../present/typed-number.ts";
import { Field } from "../parts/field.tsx";
import { issueWords } from "../parts/stepper.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { counterScale } from "./use-typed.ts";
import type { Typed } from "./use-typed.ts";

type NumberFieldProps = {
  readonly label: string;
  /** The field's name in what was typed. */
  readonly name: string;
  readonly typed: Typed;
};

export function NumberField({ label, name, typed }: NumberFieldProps) {
  const words = useWords();
  const locale = useLocale();
  const { issue } = readTypedNumber(typed.text(name), counterScale, locale.language);
  return (
    <Field
      label={label}
      value={typed.text(name)}
      onChange={typed.set(name)}
      inputMode="decimal"
      issue={issue === null ? null : issueWords(issue, "", counterScale, words, locale)}
    />
  );
}
