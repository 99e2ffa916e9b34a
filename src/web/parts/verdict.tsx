// The verdict in large words, and under it until when and what then.
import type { ReactNode } from "react";
import type { Verdict as VerdictName } from "../../core/standing/combine.ts";
import { useWords } from "./words.tsx";

type VerdictProps = {
  readonly verdict: VerdictName;
  /** `day VFR, until 15:12, then the day ends` */
  readonly then: ReactNode;
};

export function Verdict({ verdict, then }: VerdictProps) {
  const { standing } = useWords();
  return (
    <div className="verdict" data-verdict={verdict}>
      <h1 className="verdict-words">{standing.verdict[verdict]}</h1>
      <p className="verdict-then">{then}</p>
    </div>
  );
}
