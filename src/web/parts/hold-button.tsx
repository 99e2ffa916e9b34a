// A button whose long press does what a tap must not: a line grows along its foot while it is held.
//
// Keyboard: holding Enter or space does the same; where a tap has a meaning of its own, a second button for the long
// press appears as soon as the keyboard reaches it. A screen reader's click, which cannot last, asks once more instead.
import { useState } from "react";
import type { ReactNode } from "react";
import { hold_ms, useHold } from "./use-hold.ts";
import type { PressEnd } from "./use-hold.ts";
import { useWords } from "./words.tsx";

export type HoldButtonProps = {
  readonly children: ReactNode;
  /** What the long press does, in few words; stands in the small line. */
  readonly holdFor: string;
  /** The same as a whole sentence, for who does not see the button. */
  readonly holdForLong?: string;
  readonly onHeld: () => void;
  /** What a tap does; without it a tap only says to keep holding. */
  readonly onTap?: () => void;
  readonly look?: "filled" | "outlined";
};

export function HoldButton({
  children,
  holdFor,
  holdForLong,
  onHeld,
  onTap,
  look = "outlined",
}: HoldButtonProps) {
  const { app } = useWords();
  const [said, setSaid] = useState("");
  const [asked, setAsked] = useState(false);
  const what = holdForLong ?? holdFor;

  const held = () => {
    setAsked(false);
    setSaid(app.hold.done);
    navigator.vibrate?.(40);
    onHeld();
  };
  const onEnd = (end: PressEnd) => {
    if (end === "held" || (end === "assisted" && asked && onTap === undefined)) held();
    else if (onTap !== undefined) onTap();
    else if (end === "assisted") {
      setAsked(true);
      setSaid(app.hold.askAgain(what));
    } else setSaid(app.hold.keepHolding);
  };
  const { holding, handlers } = useHold(onEnd);

  return (
    <span className="hold-cell">
      <button
        type="button"
        className="button"
        data-filled={look === "filled" || undefined}
        data-holding={holding || undefined}
        style={{ "--hold": `${hold_ms}ms` } as React.CSSProperties}
        {...handlers}
      >
        <span className="button-label">{children}</span>
        <span className="button-note">{onTap === undefined ? app.hold.only : app.hold.holdFor(holdFor)}</span>
        <span className="hold-line" aria-hidden="true" />
      </button>
      {onTap !== undefined && (
        <button type="button" className="button hold-instead" onClick={held}>
          <span className="button-label">{what}</span>
        </button>
      )}
      <output className="hidden-but-said">{said}</output>
    </span>
  );
}
