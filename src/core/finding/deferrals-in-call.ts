// What a planned call does to the deferrals of a craft: which lapse before its last landing, and which have too few flights,
// cycles or hours left for it.
//
// Source: ORO.MLR.105(e)(3): no flight after it has lapsed. Whether one by days may lapse between take-off and landing is
// settled by no source seen: the operator's manual says (`lapseInFlight`), and where nothing is said it is pointed out. One
// that is counted by flights, cycles or hours forbids. Where nothing says how long it holds, it is not known.
import { deferralTerm, lapsesBeforeLanding } from "../due/deferral-term.ts";
import type { PlannedUse } from "../due/planned-use.ts";
import type { CraftState } from "../facts/craft.ts";
import type { OperatorSettings } from "../facts/situation.ts";
import { above } from "../quantity/compare.ts";
import type { Sheet } from "../sheet/schema.ts";
import { deferredFindings } from "./assess.ts";

export type DeferralInCall = {
  readonly finding: string;
  readonly deferral: string;
  readonly by: "date" | "flights" | "cycles" | "flightHours_h";
  readonly answer: "fits" | "lapses" | "forbidden" | "notKnown";
};

export function deferralsInCall(
  sheet: Sheet,
  state: CraftState,
  use: PlannedUse,
  settings: OperatorSettings,
): readonly DeferralInCall[] {
  const isForbidden = (settings.flightRules ?? []).some(({ lapseInFlight }) => lapseInFlight === "forbidden");
  const taken = { flights: use.flights, cycles: use.landings, flightHours_h: use.flightHours_h };
  return deferredFindings(sheet, state).flatMap(({ finding, judgement, deferral }): DeferralInCall[] => {
    const of = { finding: finding.finding, deferral: deferral.id };
    const term = deferralTerm(
      deferral,
      {
        recorded_ms: finding.raised.at_ms,
        deferred_ms: judgement.at_ms,
        steps: finding.deferralSteps,
        flights: state.flights,
      },
      settings,
    );
    if (!term.counted) return [{ ...of, by: "date", answer: "notKnown" }];
    const lapses = lapsesBeforeLanding(term, use.on_ms);
    return [
      ...term.left.map(({ of: by, left }) => ({
        ...of,
        by,
        answer: above(taken[by], left) ? ("forbidden" as const) : ("fits" as const),
      })),
      ...(term.expires_ms === null
        ? []
        : [
            {
              ...of,
              by: "date" as const,
              answer: lapses
                ? isForbidden
                  ? ("forbidden" as const)
                  : ("lapses" as const)
                : ("fits" as const),
            },
          ]),
    ];
  });
}
