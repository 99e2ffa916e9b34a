// When a standing becomes worse between two looks at it: at which instant, and by which reasons.
//
// In: the standing as it was last shown and as it is now, of the same craft. A fall that came by the line itself carries
// the line's own instant; one that came with the record (somebody wrote something) carries that of the later look.
import type { OperationId, Reason } from "../facts/reason.ts";
import type { CraftStanding } from "./assess.ts";
import { compareReasons, compareVerdicts } from "./combine.ts";
import type { Verdict } from "./combine.ts";

export type Fall = {
  readonly operation: OperationId;
  readonly at_ms: number;
  readonly from: Verdict;
  readonly to: Verdict;
  /** The clock alone made it: it stood on the line before. */
  readonly byLine: boolean;
  /** What made it: reasons of the new verdict's effect that did not stand before. */
  readonly reasons: readonly Reason[];
};

const effectOf = { ready: null, withinLimits: "limits", notKnown: "unknown", notReady: "blocks" } as const;

function same(a: Reason, b: Reason): boolean {
  return a.code === b.code && a.effect === b.effect && JSON.stringify(a.facts) === JSON.stringify(b.facts);
}

/** Operations that stand worse in `after` than in `before`. */
export function fallsBetween(before: CraftStanding, after: CraftStanding): readonly Fall[] {
  return after.operations.flatMap(({ operation, verdict, reasons }): readonly Fall[] => {
    const was = before.operations.find((other) => other.operation === operation);
    if (was === undefined || compareVerdicts(verdict, was.verdict) <= 0) return [];
    const made = reasons
      .filter(
        (reason) => reason.effect === effectOf[verdict] && !was.reasons.some((old) => same(old, reason)),
      )
      .toSorted(compareReasons);
    const begun = made.flatMap(({ from_ms }) =>
      from_ms !== null && from_ms > before.at_ms && from_ms <= after.at_ms ? [from_ms] : [],
    );
    const at_ms = begun.length === 0 ? after.at_ms : Math.min(...begun);
    const byLine = begun.length > 0;
    return [{ operation, at_ms, from: was.verdict, to: verdict, byLine, reasons: made }];
  });
}
