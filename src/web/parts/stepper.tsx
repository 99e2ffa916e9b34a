// A number by big minus and plus, or typed. What is entered is what was read: never prefilled, snapped, rounded or
// clamped; what is wrong with it is said in words, and the number stays as it stands.
//
// No part for numbers from the library here: it moves a typed value into range when the field is left.
import { useId } from "react";
import type { ReactNode } from "react";
import { displayNumber } from "../../core/quantity/display.ts";
import { readTypedNumber, stepped, typedText } from "../../present/typed-number.ts";
import type { Scale, TypedIssue } from "../../present/typed-number.ts";
import type { Locale } from "../../present/words/language.ts";
import type { Words } from "../../present/words/words.ts";
import { FieldIssue } from "./field.tsx";
import { useRepeat } from "./use-repeat.ts";
import { useLocale, useWords } from "./words.tsx";

type StepperProps = {
  readonly label: string;
  /** Letter for letter what stands in the field; kept by the caller, so that it can be recorded beside the number. */
  readonly typed: string;
  readonly onTyped: (typed: string) => void;
  readonly scale: Scale;
  readonly step: number;
  /** Where the first press of plus or minus on an empty field begins: an end or the middle of the scale, never the last reading. */
  readonly startAt: number;
  readonly unit: string;
  /** Shown under the field: the band, or, once something is entered, the last reading. */
  readonly hint?: ReactNode;
  /** What else is wrong with the number, as the caller judges it. */
  readonly issue?: string | null;
};

export function Stepper(props: StepperProps) {
  const { label, typed, onTyped, scale, step, startAt, unit, hint, issue = null } = props;
  const words = useWords();
  const locale = useLocale();
  const id = useId();
  const read = readTypedNumber(typed, scale, locale.language);
  const said = read.issue === null ? issue : issueWords(read.issue, unit, scale, words, locale);
  const stepName = `${displayNumber(step, scale.decimals, "both", locale.language)} ${unit}`;

  const move = (direction: 1 | -1) => {
    const next = read.value === null ? startAt : stepped(read.value, step, direction, scale.decimals);
    onTyped(typedText(next, scale.decimals, locale.language));
  };
  // A text that cannot be read is not stepped away: it stays until its writer has mended it.
  const stuck = read.value === null && typed.trim() !== "";

  return (
    <div className="stepper">
      <label className="field-label" htmlFor={id}>
        {label}
      </label>
      <div className="stepper-row">
        <StepButton
          name={words.entry.less(label, stepName)}
          path="M4 12H20"
          stuck={stuck}
          onPress={() => move(-1)}
        />
        <div className="stepper-middle">
          <input
            id={id}
            className="stepper-number"
            type="text"
            inputMode="decimal"
            autoComplete="off"
            spellCheck={false}
            value={typed}
            aria-invalid={said !== null || undefined}
            aria-describedby={`${id}-unit ${id}-hint ${id}-issue`}
            onChange={(event) => onTyped(event.target.value)}
            onKeyDown={(event) => {
              if (event.key !== "ArrowUp" && event.key !== "ArrowDown") return;
              event.preventDefault();
              if (!stuck) move(event.key === "ArrowUp" ? 1 : -1);
            }}
          />
          <span id={`${id}-unit`} className="unit">
            {unit}
          </span>
        </div>
        <StepButton
          name={words.entry.more(label, stepName)}
          path="M4 12H20M12 4V20"
          stuck={stuck}
          onPress={() => move(1)}
        />
      </div>
      <p id={`${id}-hint`} className="field-hint">
        {hint}
      </p>
      <FieldIssue id={`${id}-issue`} issue={said} />
    </div>
  );
}

type StepButtonProps = {
  readonly name: string;
  readonly path: string;
  readonly stuck: boolean;
  readonly onPress: () => void;
};

function StepButton({ name, path, stuck, onPress }: StepButtonProps) {
  const handlers = useRepeat(stuck ? () => undefined : onPress);
  return (
    <button
      type="button"
      className="button stepper-step"
      aria-label={name}
      aria-disabled={stuck || undefined}
      {...handlers}
    >
      <svg viewBox="0 0 24 24" aria-hidden="true">
        <path d={path} />
      </svg>
    </button>
  );
}

export function issueWords(
  issue: TypedIssue,
  unit: string,
  { decimals }: Scale,
  words: Words,
  locale: Locale,
): string {
  const { issue: say } = words.entry;
  const amount = (value: number) => `${displayNumber(value, decimals, "both", locale.language)} ${unit}`;
  switch (issue.kind) {
    case "notANumber":
      return say.notANumber(issue.typed);
    case "ambiguous":
      return say.ambiguous(issue.typed, ...issue.readings);
    case "tooManyDecimals":
      return say.tooManyDecimals(issue.decimals);
    case "below":
      return say.below(amount(issue.lowest));
    case "above":
      return say.above(amount(issue.highest));
    default:
      return issue satisfies never;
  }
}
