// A button with a label and, under it, a small line. A button that cannot be used now stays in its place and says why.
import type { ReactNode } from "react";

export type ButtonProps = {
  readonly children: ReactNode;
  /** The small line under the label. */
  readonly note?: ReactNode;
  readonly onPress: () => void;
  /** Filled: the usual next thing. Outlined: the rarer. Plain: a word to press. */
  readonly look?: "filled" | "outlined" | "plain";
  /** Why it cannot be used now; takes the place of the note. */
  readonly why?: string;
  readonly label?: string;
};

export function Button({ children, note, onPress, look = "outlined", why, label }: ButtonProps) {
  const blocked = why !== undefined;
  return (
    <button
      type="button"
      className="button"
      data-filled={look === "filled" || undefined}
      data-plain={look === "plain" || undefined}
      aria-disabled={blocked || undefined}
      aria-label={label}
      onClick={blocked ? undefined : onPress}
    >
      <span className="button-label">{children}</span>
      {(why ?? note) !== undefined && <span className="button-note">{why ?? note}</span>}
    </button>
  );
}
