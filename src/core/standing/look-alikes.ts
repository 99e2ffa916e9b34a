// Points out uplifts that look alike: one filling written twice, or two. Flights that look alike make *not known*, since
// every counter hangs on them (due/assess-due.ts); uplifts only bend a trend, which counts them at the worse end meanwhile.
import type { CraftState } from "../facts/craft.ts";
import { lookAlikes } from "../facts/look-alikes.ts";
import type { Reason } from "../facts/reason.ts";

export function assessLookAlikes(state: CraftState): Reason[] {
  return lookAlikes(state).flatMap((pair): Reason[] => {
    if (pair.matter !== "uplift") return [];
    const { one, other } = pair;
    return [
      {
        code: "record.upliftsAlike",
        effect: "advises",
        operations: "all",
        from_ms: null,
        until_ms: null,
        source: { kind: "law", law: "mergingIsPessimistic" },
        evidence: [one.entry, other.entry],
        remedy: { code: "lookAlike.decide", clearance: "minute" },
        facts: {
          fluid: one.fluid,
          gauge: one.gauge,
          amount: one.amount,
          unit: one.unit,
          at_ms: one.at_ms,
          other_ms: other.at_ms,
        },
      },
    ];
  });
}
