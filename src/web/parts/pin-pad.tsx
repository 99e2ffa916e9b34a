// Ten big keys for a PIN. The digits of a keyboard work as well as soon as any key has the focus.
import { useId } from "react";
import type { KeyboardEvent } from "react";
import { FieldIssue } from "./field.tsx";
import { Glyph } from "./glyph.tsx";
import { useWords } from "./words.tsx";

type PinPadProps = {
  readonly pin: string;
  readonly onPin: (pin: string) => void;
  readonly onEnter: () => void;
  readonly longest: number;
  readonly issue?: string | null;
};

const digits = ["1", "2", "3", "4", "5", "6", "7", "8", "9"] as const;

export function PinPad({ pin, onPin, onEnter, longest, issue = null }: PinPadProps) {
  const { entry } = useWords();
  const id = useId();
  const add = (digit: string) => {
    if (pin.length < longest) onPin(pin + digit);
  };
  const drop = () => onPin(pin.slice(0, -1));
  const onKeyDown = (event: KeyboardEvent) => {
    if (/^\d$/u.test(event.key)) add(event.key);
    else if (event.key === "Backspace") drop();
    else return;
    event.preventDefault();
  };
  const key = (digit: string) => (
    <button key={digit} type="button" className="button" onClick={() => add(digit)} onKeyDown={onKeyDown}>
      <span className="mono">{digit}</span>
    </button>
  );
  return (
    <fieldset className="pin">
      <legend className="field-label">{entry.pin.name}</legend>
      <div className="pin-shown">
        {Array.from({ length: pin.length }, (_, index) => (
          <Glyph key={index} name="good" />
        ))}
        <output className="hidden-but-said">{entry.pin.entered(pin.length)}</output>
      </div>
      <FieldIssue id={`${id}-issue`} issue={issue} />
      <div className="pin-keys">
        {digits.map(key)}
        <button
          type="button"
          className="button"
          aria-label={entry.pin.delete}
          onClick={drop}
          onKeyDown={onKeyDown}
        >
          <span className="small">{entry.pin.deleteShort}</span>
        </button>
        {key("0")}
        <button type="button" className="button" data-filled="" onClick={onEnter} onKeyDown={onKeyDown}>
          <span className="small">{entry.pin.enter}</span>
        </button>
      </div>
    </fieldset>
  );
}
