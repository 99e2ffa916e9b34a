// What a standing would be as long as its crew keeps up what they keep up every day: a new report before the old one is too
// old, an exchange with the server, the next shift declared, the day's load said.
//
// The line itself takes none of this for granted: it falls at each of those instants (law 1). Beside it, for planning, it
// is worth knowing what ends the standing even then: dusk, a lapsing deferral, weather that is forecast.
import type { Reason } from "../facts/reason.ts";

/** Begins later, is not known by itself, and whoever is at the craft has it cleared within ten minutes. */
function isKeptUp({ effect, from_ms, remedy }: Reason, now_ms: number): boolean {
  const { clearance } = remedy;
  return (
    effect === "unknown" &&
    from_ms !== null &&
    from_ms > now_ms &&
    (clearance === "minute" || clearance === "ten")
  );
}

/** The reasons that stand even if everything that falls due for renewal is renewed in time. */
export function keptUp(reasons: readonly Reason[], now_ms: number): readonly Reason[] {
  return reasons.filter((reason) => !isKeptUp(reason, now_ms));
}
