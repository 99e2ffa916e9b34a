// A word to the reader between other things: beside a heavy stroke. `problem` is said aloud at once.
import type { ReactNode } from "react";
import { Glyph } from "./glyph.tsx";

type NoticeProps = {
  readonly title: string;
  readonly children?: ReactNode;
  readonly kind?: "note" | "problem";
};

export function Notice({ title, children, kind = "note" }: NoticeProps) {
  return (
    <div className="notice" role={kind === "problem" ? "alert" : "status"}>
      {kind === "problem" && <Glyph name="finding" />}
      <div className="notice-words">
        <p>
          <b>{title}</b>
        </p>
        {children}
      </div>
    </div>
  );
}
