// Where one set of reasons stands better than another: over every operation, and every instant at which either changes.
import type { Reason } from "../../src/core/facts/reason.ts";
import type { Situation } from "../../src/core/facts/situation.ts";
import { breakpoints, compareVerdicts, standingAt } from "../../src/core/standing/combine.ts";

/** One line for each operation and instant at which `is` stands better than `was`; empty where it does nowhere. */
export function betterThan(
  was: readonly Reason[],
  is: readonly Reason[],
  operations: readonly string[],
  { now_ms, horizon_ms }: Pick<Situation, "now_ms" | "horizon_ms">,
): readonly string[] {
  const better: string[] = [];
  for (const operation of operations) {
    const instants = new Set([
      now_ms,
      ...breakpoints(was, operation, now_ms, horizon_ms),
      ...breakpoints(is, operation, now_ms, horizon_ms),
    ]);
    for (const at of instants) {
      const [a, b] = [standingAt(was, operation, at).verdict, standingAt(is, operation, at).verdict];
      if (compareVerdicts(b, a) < 0) better.push(`${operation} at ${at}: ${a} became ${b}`);
    }
  }
  return better;
}
