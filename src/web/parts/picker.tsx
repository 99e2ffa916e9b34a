// One of many, from a list that opens in a sheet: rows as large as every other target.
//
// Not the browser's own list: that one is painted by the system, in its own light, and would shine white into a red cockpit.
import { useId, useState } from "react";
import { Glyph } from "./glyph.tsx";
import { Sheet } from "./sheet.tsx";
import { useWords } from "./words.tsx";

type PickerProps = {
  readonly label: string;
  readonly choices: readonly { readonly id: string; readonly name: string }[];
  readonly value: string | null;
  readonly onChoose: (id: string) => void;
};

export function Picker({ label, choices, value, onChoose }: PickerProps) {
  const { app } = useWords();
  const id = useId();
  const [open, setOpen] = useState(false);
  const chosen = choices.find((choice) => choice.id === value);
  return (
    <div>
      <span id={`${id}-label`} className="field-label">
        {label}
      </span>
      <button
        type="button"
        id={`${id}-button`}
        className="button picker"
        aria-labelledby={`${id}-label ${id}-button`}
        aria-haspopup="dialog"
        onClick={() => setOpen(true)}
      >
        <span>{chosen?.name ?? app.doing.choose}</span>
        <svg width="14" height="14" viewBox="0 0 14 14" aria-hidden="true">
          <path d="M1.5 4.5L7 10L12.5 4.5" fill="none" stroke="currentColor" strokeWidth="2" />
        </svg>
      </button>
      <Sheet title={label} open={open} onClose={() => setOpen(false)}>
        <ul className="rows">
          {choices.map((choice) => (
            <li key={choice.id}>
              <button
                type="button"
                className="picker-one"
                aria-pressed={choice.id === value}
                onClick={() => {
                  setOpen(false);
                  onChoose(choice.id);
                }}
              >
                <span>{choice.name}</span>
                {choice.id === value && <Glyph name="good" />}
              </button>
            </li>
          ))}
        </ul>
      </Sheet>
    </div>
  );
}
