// Findings: raised, seen again, judged, closed. A judgement replaces only those that the writer had on the screen;
// judgements made apart stand side by side and the worse counts (src/core/finding).
import { z } from "zod";
import { findingKinds, outcomes } from "../../core/facts/craft.ts";
import type { CraftState, FindingFacts } from "../../core/facts/craft.ts";
import { instantToMs, minute_ms, msToInstant } from "../../core/facts/instant.ts";
import { own } from "../../core/facts/own.ts";
import { refuse } from "../entry-type.ts";
import type { Refusal } from "../entry-type.ts";
import { beside, craftEntry, instant, madeId, replaces, sheetId, typed, words } from "./shapes.ts";

export const judgingRoles = ["pilot", "crewMember", "engineer", "airworthiness"] as const;

const raised = z.strictObject({
  finding: madeId,
  kind: z.enum(findingKinds),
  stop: sheetId,
  item: sheetId.nullable(),
  walk: madeId.nullable(),
  measure: z.strictObject({ value: z.number(), unit: z.string().min(1).max(16), typed }).nullable(),
  words,
  at: instant,
});

const judged = z.strictObject({
  finding: madeId,
  outcome: z.enum(outcomes),
  role: z.enum(judgingRoles),
  words,
  deferral: sheetId.nullable(),
  at: instant,
  replaces,
});

const seen = z.strictObject({ finding: madeId, words, at: instant });
const closed = z.strictObject({
  finding: madeId,
  role: z.enum(judgingRoles),
  words: words.min(1),
  at: instant,
});

function withFinding(
  state: CraftState,
  finding: string,
  change: (facts: FindingFacts) => FindingFacts,
): CraftState | Refusal {
  const facts = own(state.findings, finding);
  if (facts === undefined)
    return refuse("findingNotRaised", "finding", finding, "a finding raised in this ledger");
  return { ...state, findings: { ...state.findings, [finding]: change(facts) } };
}

export const findingEntries = [
  craftEntry("finding.raised", raised, (state, { finding, at, ...body }, { id, by, at_ms }) => {
    // A date ahead of the entry would lengthen a deferral.
    if (instantToMs(at) > at_ms + 5 * minute_ms)
      return refuse("recordedInFuture", "at", at, `at most ${msToInstant(at_ms)}`);
    if (own(state.findings, finding) !== undefined) {
      return refuse("findingAlreadyRaised", "finding", finding, "an id that no finding has yet");
    }
    const facts: FindingFacts = {
      finding,
      raised: { entry: id, by, at_ms: instantToMs(at), ...body },
      judgements: [],
      deferralSteps: [],
      seenAgain: [],
      closed: [],
    };
    return { ...state, findings: { ...state.findings, [finding]: facts } };
  }),
  craftEntry("finding.judged", judged, (state, { finding, at, replaces: replaced, ...body }, { id, by }) =>
    withFinding(state, finding, (facts) => ({
      ...facts,
      judgements: beside(facts.judgements, replaced, { entry: id, by, at_ms: instantToMs(at), ...body }),
    })),
  ),
  craftEntry("finding.seenAgain", seen, (state, { finding, at, words: said }, { id, by }) =>
    withFinding(state, finding, (facts) => ({
      ...facts,
      seenAgain: [...facts.seenAgain, { entry: id, by, at_ms: instantToMs(at), words: said }],
    })),
  ),
  craftEntry("finding.closed", closed, (state, { finding, at, ...body }, { id, by }) =>
    withFinding(state, finding, (facts) => ({
      ...facts,
      closed: [
        ...facts.closed,
        { entry: id, by, at_ms: instantToMs(at), role: body.role, words: body.words },
      ],
    })),
  ),
] as const;
