// Assesses what flying over water asks beyond the equipment: the sea against the floats, suits in cold water, places in the
// rafts. In: the operator's figures with their citation, the latest word on sea and suits, the people on duty.
//
// The state of the sea counts by the WMO scale of 0 to 9 (code table 3700); the floats' own limit is type data that the
// operator copied from its manual. A word stands as long as the operator says and counts at its worse where people said it
// apart. The people on duty are those that the rafts and suits have to do for; a patient comes on top in a call.
// Rules: CAT.IDE.H.300, CAT.IDE.H.310, CAT.IDE.H.320 (headings from memory); the figures are the operator's.
import type { CraftState } from "../facts/craft.ts";
import type { OverWaterRules } from "../facts/flight-rules.ts";
import { minute_ms } from "../facts/instant.ts";
import type { Reason } from "../facts/reason.ts";
import type { Situation } from "../facts/situation.ts";
import { above, below } from "../quantity/compare.ts";

function reasonsUnder(rules: OverWaterRules, state: CraftState, { now_ms, horizon_ms }: Situation): Reason[] {
  const { operations, cite, stands_min } = rules;
  const say = (parts: Pick<Reason, "code" | "effect"> & Partial<Reason>): Reason => ({
    operations,
    from_ms: null,
    until_ms: null,
    source: { kind: "rule", rule: "CAT.IDE.H.300", edition: cite, cite },
    evidence: [],
    remedy: { code: "water.say", clearance: "minute" },
    facts: {},
    ...parts,
  });
  const stands_ms = stands_min * minute_ms;
  const standing = state.water.filter(({ at_ms }) => at_ms <= now_ms && now_ms < at_ms + stands_ms);
  const aboard = Math.max(
    0,
    ...state.shifts
      .filter(({ from_ms, until_ms }) => from_ms <= now_ms && now_ms < until_ms)
      .map(({ people }) => people.length),
  );
  const rafts = above(aboard, rules.raftPlaces)
    ? [say({ code: "water.raftsFew", effect: "blocks", facts: { aboard, places: rules.raftPlaces } })]
    : [];
  const latest_ms = Math.max(...standing.map(({ at_ms }) => at_ms));
  const said = standing.filter(
    ({ at_ms, by }) => !standing.some((other) => other.by === by && other.at_ms > at_ms),
  );
  if (said.length === 0) return [...rafts, say({ code: "water.notSaid", effect: "unknown" })];
  const evidence = said.map(({ entry }) => entry).toSorted();
  const until_ms = latest_ms + stands_ms;
  const ends =
    until_ms < horizon_ms
      ? [say({ code: "water.notSaid", effect: "unknown", from_ms: until_ms, evidence })]
      : [];
  const seaState = Math.max(...said.map((one) => one.seaState));
  const water_C = Math.min(...said.map((one) => one.water_C));
  const suits = Math.min(...said.map((one) => one.suits));
  return [
    ...rafts,
    ...ends,
    ...(above(seaState, rules.seaStateAtMost)
      ? [
          say({
            code: "water.seaAbove",
            effect: "blocks",
            until_ms,
            evidence,
            facts: { seaState, most: rules.seaStateAtMost },
            remedy: { code: "weather.wait", clearance: "time" },
          }),
        ]
      : []),
    ...(below(water_C, rules.suitsBelow_C) && suits < aboard
      ? [
          say({
            code: "water.suitsFew",
            effect: "blocks",
            until_ms,
            evidence,
            facts: { suits, aboard, water_C },
            remedy: { code: "water.suits", clearance: "ten" },
          }),
        ]
      : []),
  ];
}

export function assessWater(state: CraftState, situation: Situation): Reason[] {
  return (situation.settings.flightRules ?? []).flatMap(({ overWater }) =>
    overWater === null ? [] : reasonsUnder(overWater, state, situation),
  );
}
