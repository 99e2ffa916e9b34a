// A date as YYYY-MM-DD, kept letter for letter; what is no date is said and stays.
import { isCalendarDate } from "../../core/facts/calendar.ts";
import { Field } from "../parts/field.tsx";
import { useOfficeWords } from "./use-office-words.ts";

type DateFieldProps = {
  readonly label: string;
  readonly value: string;
  readonly onChange: (value: string) => void;
};

/** The date that was typed; null while it is none. */
export function dateOf(typed: string): string | null {
  const text = typed.trim();
  return isCalendarDate(text) ? text : null;
}

export function DateField({ label, value, onChange }: DateFieldProps) {
  const { office: words } = useOfficeWords();
  const isWrong = value.trim().length >= 10 && dateOf(value) === null;
  return (
    <Field
      label={label}
      value={value}
      onChange={onChange}
      hint={words.dateHint}
      issue={isWrong ? words.noDate(value) : null}
    />
  );
}
