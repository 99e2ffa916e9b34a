// One of a few, all in sight: native radio buttons under faces of our own, so that arrow keys and screen readers work as
// everywhere and nothing of the system's own colours shows.
import { useId } from "react";
import type { ReactNode } from "react";

export type Choice<Value extends string> = {
  readonly value: Value;
  readonly label: string;
  readonly note?: ReactNode;
  readonly disabled?: boolean;
};

type ChoiceRowProps<Value extends string> = {
  readonly name: string;
  readonly nameHidden?: boolean;
  readonly choices: readonly Choice<Value>[];
  readonly value: Value | null;
  readonly onChoose: (value: Value) => void;
  /** Short words side by side, many of them in an even grid, or sentences below each other. */
  readonly width?: "short" | "even" | "long";
};

export function ChoiceRow<Value extends string>(props: ChoiceRowProps<Value>) {
  const { name, nameHidden = false, choices, value, onChoose, width = "short" } = props;
  const group = useId();
  return (
    <fieldset
      className="choice"
      data-short={width !== "long" || undefined}
      data-even={width === "even" || undefined}
      style={{ "--choice-least": width === "long" ? "16rem" : "4.75rem" } as React.CSSProperties}
    >
      <legend className={nameHidden ? "hidden-but-said" : "choice-name"}>{name}</legend>
      <div className="choice-list">
        {choices.map((choice) => (
          <label key={choice.value} className="choice-one">
            <input
              type="radio"
              name={group}
              checked={choice.value === value}
              disabled={choice.disabled ?? false}
              onChange={() => onChoose(choice.value)}
            />
            <span className="choice-face">
              <span>{choice.label}</span>
              {choice.note !== undefined && <span className="small">{choice.note}</span>}
            </span>
          </label>
        ))}
      </div>
    </fieldset>
  );
}
