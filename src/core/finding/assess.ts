// Assesses findings and events: what is open blocks until somebody who may has judged it, and then by its outcome.
//
// Unjudged blocks; `ground` blocks; `defer` follows the operator's list (what it takes away, its limits, its last day)
// and is not known where it names no entry of the list; `watch` advises; `accept` says nothing. Events of the sheet's
// register block or ask until cleared. Source of the deferral rules: ORO.MLR.105(e)(3), Reg. (EU) 965/2012.
import type { CraftState, EventFact, FindingFacts, Judgement } from "../facts/craft.ts";
import { deferralCite, deferralDeadline } from "../due/deferral-deadline.ts";
import type { Reason } from "../facts/reason.ts";
import type { Situation } from "../facts/situation.ts";
import type { Deferral } from "../sheet/finding-blocks.ts";
import type { Sheet } from "../sheet/schema.ts";
import { countingJudgement, isClosed } from "./judgement.ts";

type Parts = Pick<Reason, "code" | "effect" | "remedy"> & Partial<Reason>;

function reasonOf({ raised, judgements, finding }: FindingFacts, parts: Parts): Reason {
  return {
    operations: "all",
    from_ms: null,
    until_ms: null,
    source: { kind: "rule", rule: "M.A.403(b)", edition: "Reg. (EU) 1321/2014", cite: "M.A.403(b)" },
    evidence: [raised.entry, ...judgements.map(({ entry }) => entry)],
    ...parts,
    facts: { finding, kind: raised.kind, stop: raised.stop, words: raised.words, ...parts.facts },
  };
}

const byEngineer = { code: "finding.toEngineer", clearance: "someone" } as const;

/** The first time the matter was recorded: re-entry and reopening keep it (AMC M.A.403(d)). */
function deferredReasons(
  finding: FindingFacts,
  deferral: Deferral,
  index: number,
  { settings }: Situation,
): Reason[] {
  const source = {
    kind: "sheet",
    path: `deferrals[${index}]`,
    cite: deferral.source?.page ?? deferralCite,
  } as const;
  const facts = { deferral: deferral.id, number: deferral.number };
  const { expires_ms, lastDay } = deferralDeadline(
    finding.raised.at_ms,
    settings.zone,
    deferral.category,
    deferral.interval_days,
  );
  const base = { source, remedy: byEngineer };
  const reasons: Reason[] = [
    reasonOf(finding, {
      ...base,
      code: "finding.deferred",
      effect: "advises",
      until_ms: expires_ms,
      facts: { ...facts, lastDay },
    }),
    reasonOf(finding, {
      ...base,
      code: "finding.deferralLapsed",
      effect: "blocks",
      from_ms: expires_ms,
      facts: { ...facts, lastDay },
    }),
  ];
  if (deferral.takesAway !== undefined && deferral.takesAway.length > 0) {
    reasons.push(
      reasonOf(finding, {
        ...base,
        code: "finding.deferralForbids",
        effect: "blocks",
        operations: deferral.takesAway,
        facts,
      }),
    );
  }
  for (const limit of deferral.limits ?? []) {
    reasons.push(
      reasonOf(finding, {
        ...base,
        code: "finding.deferralLimits",
        effect: "limits",
        limit,
        facts: { ...facts, quantity: limit.quantity, value: limit.value },
      }),
    );
  }
  return reasons;
}

function judgedReasons(
  sheet: Sheet,
  finding: FindingFacts,
  judgement: Judgement,
  situation: Situation,
): Reason[] {
  switch (judgement.outcome) {
    case "accept":
      return [];
    case "watch":
      return [
        reasonOf(finding, {
          code: "finding.watched",
          effect: "advises",
          remedy: { code: "finding.lookAgain", clearance: "minute" },
        }),
      ];
    case "ground":
      return [reasonOf(finding, { code: "finding.grounds", effect: "blocks", remedy: byEngineer })];
    case "defer": {
      const index = sheet.deferrals.findIndex(({ id }) => id === judgement.deferral);
      const deferral = sheet.deferrals[index];
      return deferral === undefined
        ? [reasonOf(finding, { code: "finding.deferredToNothing", effect: "unknown", remedy: byEngineer })]
        : deferredReasons(finding, deferral, index, situation);
    }
    default:
      return judgement.outcome satisfies never;
  }
}

/** Reasons from every finding that is not closed. */
export function assessFindings(sheet: Sheet, state: CraftState, situation: Situation): Reason[] {
  return Object.values(state.findings).flatMap((finding) => {
    if (isClosed(finding)) return [];
    const judgement = countingJudgement(finding);
    if (judgement === null) {
      return [
        reasonOf(finding, {
          code: "finding.unjudged",
          effect: "blocks",
          remedy: { code: "finding.judge", clearance: "minute" },
        }),
      ];
    }
    return judgedReasons(sheet, finding, judgement, situation);
  });
}

function eventReason(sheet: Sheet, event: EventFact): Reason {
  const index = sheet.events.findIndex(({ id }) => id === event.event);
  const listed = sheet.events[index];
  return {
    code:
      listed === undefined ? "event.notListed" : listed.effect === "grounds" ? "event.grounds" : "event.asks",
    effect: listed?.effect === "grounds" ? "blocks" : "unknown",
    operations: "all",
    from_ms: null,
    until_ms: null,
    source: {
      kind: "sheet",
      path: listed === undefined ? "events" : `events[${index}]`,
      cite: listed?.source?.page ?? null,
    },
    evidence: [event.entry],
    remedy: { code: "event.clear", clearance: "someone" },
    facts: { event: event.event, words: event.words, at_ms: event.at_ms },
  };
}

/** Reasons from every event that nobody has cleared. */
export function assessEvents(sheet: Sheet, state: CraftState): Reason[] {
  return state.events.filter(({ cleared }) => cleared === null).map((event) => eventReason(sheet, event));
}
