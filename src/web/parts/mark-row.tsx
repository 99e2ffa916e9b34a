// One thing to check: its mark, what to do, and at the right what belongs to it (a reading, a name).
import type { ReactNode } from "react";
import type { Mark } from "../../core/facts/craft.ts";
import { Glyph } from "./glyph.tsx";
import { useWords } from "./words.tsx";

type MarkRowProps = {
  /** Null: not yet. */
  readonly mark: Mark | null;
  readonly children: ReactNode;
  readonly detail?: ReactNode;
  readonly aside?: ReactNode;
};

export function MarkRow({ mark, children, detail, aside }: MarkRowProps) {
  const { walk } = useWords();
  const name = mark ?? "blank";
  return (
    <div className="mark-row">
      <Glyph name={name} />
      <span>
        <span className="hidden-but-said">{walk.mark[name]}: </span>
        {children}
        {detail !== undefined && <span className="reason-detail"> {detail}</span>}
      </span>
      {aside !== undefined && <span className="reason-clears">{aside}</span>}
    </div>
  );
}
