// What it is like outside: one row for each condition that decides which items apply. Nothing is prefilled: what nobody
// says is not known and keeps its items in the walk. What was said at the last walk stands there as a hint only.
//
// Radio buttons under three faces: the words of the row are the third, so that pressing them takes an answer back.
import { useId } from "react";
import type { Conditions } from "../../core/facts/craft.ts";
import type { Condition } from "../../core/sheet/applicability-schema.ts";
import { HoldButton } from "../parts/hold-button.tsx";
import { useWords } from "../parts/words.tsx";

export type Answer = "yes" | "no" | "notKnown";

type ConditionRowsProps = {
  readonly asked: readonly Condition[];
  readonly answers: Readonly<Record<string, Answer>>;
  /** As said at the last walk of this machine. */
  readonly before: Conditions;
  readonly onAnswers: (answers: Readonly<Record<string, Answer>>) => void;
};

export function ConditionRows({ asked, answers, before, onAnswers }: ConditionRowsProps) {
  const { screens } = useWords();
  const answerOf = (condition: string) => answers[condition] ?? "notKnown";
  const restNo = () =>
    onAnswers(
      Object.fromEntries(asked.map((name) => [name, answerOf(name) === "notKnown" ? "no" : answerOf(name)])),
    );
  return (
    <>
      <div className="condition-rows">
        {asked.map((condition) => (
          <ConditionRow
            key={condition}
            condition={condition}
            answer={answerOf(condition)}
            before={before[condition] ?? null}
            onAnswer={(answer) => onAnswers({ ...answers, [condition]: answer })}
          />
        ))}
      </div>
      {asked.some((condition) => answerOf(condition) === "notKnown") && (
        <HoldButton holdFor={screens.walk.restNote} holdForLong={screens.walk.rest} onHeld={restNo}>
          {screens.walk.rest}
        </HoldButton>
      )}
    </>
  );
}

type ConditionRowProps = {
  readonly condition: Condition;
  readonly answer: Answer;
  readonly before: boolean | null;
  readonly onAnswer: (answer: Answer) => void;
};

function ConditionRow({ condition, answer, before, onAnswer }: ConditionRowProps) {
  const { screens } = useWords();
  const group = useId();
  const { walk } = screens;
  const hint = before === null ? null : walk.lastTime(before ? walk.yes : walk.no);
  const radio = (value: Answer) => (
    <input
      type="radio"
      name={group}
      checked={answer === value}
      aria-label={walk[value]}
      onChange={() => onAnswer(value)}
    />
  );
  return (
    <fieldset className="condition">
      <legend className="hidden-but-said">{walk.condition[condition]}</legend>
      <label className="condition-words">
        {radio("notKnown")}
        <span>
          <b>{walk.condition[condition]}</b>
          <span className="small quiet">
            {[answer === "notKnown" ? walk.notKnown : null, hint].filter((part) => part !== null).join("; ")}
          </span>
        </span>
      </label>
      {(["yes", "no"] as const).map((value) => (
        <label key={value} className="choice-one">
          {radio(value)}
          <span className="choice-face" aria-hidden="true">
            {walk[value]}
          </span>
        </label>
      ))}
    </fieldset>
  );
}
