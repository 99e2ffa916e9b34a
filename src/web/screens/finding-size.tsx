// A size with its unit, typed in one line: what it is read as stands beside what was typed, what is missing is asked for, a
// word is refused by name. For a leak the published names by size stand below; they accept nothing.
import { unitsOf } from "../../core/finding/bands.ts";
import type { MeasureUnit } from "../../core/finding/bands.ts";
import { readMeasure } from "../../core/finding/typed-measure.ts";
import type { TypedMeasure } from "../../core/finding/typed-measure.ts";
import type { Damage } from "../../core/sheet/finding-blocks.ts";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Field } from "../parts/field.tsx";
import { useLocale } from "../parts/words.tsx";
import { LeakNames } from "./finding-leak.tsx";
import { issueText, measureText } from "./findings-view.ts";
import { useFindingsWords } from "./use-findings-words.ts";

type SizeFieldProps = {
  readonly typed: string;
  /** Picked beside a number without a unit. */
  readonly unit: MeasureUnit | null;
  readonly limit: Damage | null;
  readonly isLeak: boolean;
  readonly onTyped: (text: string) => void;
  readonly onUnit: (unit: MeasureUnit) => void;
};

export function SizeField({ typed, unit, limit, isLeak, onTyped, onUnit }: SizeFieldProps) {
  const words = useFindingsWords();
  const { language } = useLocale();
  const units = limit === null ? [] : unitsOf(limit.measure);
  const read: TypedMeasure = readMeasure(typed, language, units, unit);
  const named = units.map((name) => words.unitName[name]).join(", ");
  const example = language === "de" ? "0,4 mm, 3/4 in, 2 Tropfen/min" : "0.4 mm, 3/4 in, 2 drops/min";
  const hint =
    limit === null || units.length === 0
      ? words.capture.sizeHint(example)
      : words.capture.sizeWanted(words.measure[limit.measure], named);
  const isAsked = unit !== null || (read.kind === "issue" && read.issue.kind === "noUnit");
  const choices = read.kind === "issue" && read.issue.kind === "noUnit" ? read.issue.units : units;
  return (
    <section className="stack">
      <Field
        label={words.capture.sizeLabel}
        value={typed}
        onChange={onTyped}
        hint={read.kind === "measure" ? measureText(read.measure, words, language) : hint}
        issue={read.kind === "issue" ? issueText(read.issue, words, language) : null}
      />
      {isAsked && choices.length > 0 && (
        <ChoiceRow
          name={words.capture.unit}
          choices={choices.map((value) => ({ value, label: words.unitName[value] }))}
          value={unit}
          onChoose={onUnit}
        />
      )}
      {isLeak && <LeakNames measure={read.kind === "measure" ? read.measure : null} />}
    </section>
  );
}
