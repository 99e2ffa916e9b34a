// Any of a few, all in sight: native check boxes under the faces of ChoiceRow.
import type { Choice } from "./choice-row.tsx";

type ChoiceManyProps<Value extends string> = {
  readonly name: string;
  readonly choices: readonly Choice<Value>[];
  readonly chosen: readonly Value[];
  readonly onChoose: (chosen: readonly Value[]) => void;
};

export function ChoiceMany<Value extends string>({
  name,
  choices,
  chosen,
  onChoose,
}: ChoiceManyProps<Value>) {
  return (
    <fieldset className="choice" style={{ "--choice-least": "9rem" } as React.CSSProperties}>
      <legend className="choice-name">{name}</legend>
      <div className="choice-list">
        {choices.map((choice) => (
          <label key={choice.value} className="choice-one">
            <input
              type="checkbox"
              checked={chosen.includes(choice.value)}
              onChange={({ currentTarget: { checked } }) =>
                onChoose(checked ? [...chosen, choice.value] : chosen.filter((one) => one !== choice.value))
              }
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
