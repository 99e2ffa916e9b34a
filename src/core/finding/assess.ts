// Assesses findings: what is open blocks until somebody who may has judged it, and then by its outcome.
//
// Unjudged blocks, and so does what was judged by nobody who may, or milder than the sheet's band; `ground` blocks; work
// that nobody released blocks (M.A.801); `defer` follows the operator's list (what it takes away, its limits, its last
// day) and is not known where it names no entry of the list; `watch` advises (more: core/watched); `accept` says nothing. Source of the
// deferral rules: ORO.MLR.105(e)(3), Reg. (EU) 965/2012.
import type { CraftState, FindingFacts, Judgement } from "../facts/craft.ts";
import { deferralCite } from "../due/deferral-deadline.ts";
import { deferralTerm } from "../due/deferral-term.ts";
import { above } from "../quantity/compare.ts";
import type { Reason } from "../facts/reason.ts";
import { keptByRecord } from "../facts/kept.ts";
import type { OperatorSettings, Situation } from "../facts/situation.ts";
import type { Deferral } from "../sheet/finding-blocks.ts";
import type { Sheet } from "../sheet/schema.ts";
import { byEngineer, type Parts, reasonOf } from "./finding-reason.ts";
import { countingJudgement, isClosed, isUnreleased, judgementBy } from "./judgement.ts";

type Deferred = {
  readonly finding: FindingFacts;
  readonly judgement: Judgement;
  readonly deferral: Deferral;
  readonly index: number;
};

/** Every open finding that is deferred by an entry of the operator's list, by the time of its first record. */
export function deferredFindings(sheet: Sheet, state: CraftState): Deferred[] {
  return Object.values(state.findings)
    .flatMap((finding): Deferred[] => {
      const judgement = isClosed(sheet, finding) ? null : judgementBy(sheet, finding);
      const index = sheet.deferrals.findIndex(({ id }) => id === judgement?.deferral);
      const deferral = sheet.deferrals[index];
      return judgement?.outcome === "defer" && deferral !== undefined
        ? [{ finding, judgement, deferral, index }]
        : [];
    })
    .toSorted(
      (a, b) =>
        a.finding.raised.at_ms - b.finding.raised.at_ms ||
        (a.finding.raised.entry < b.finding.raised.entry ? -1 : 1),
    );
}

/** When it lapses: by days, by flying, or not known where the list does not say how long. */
function termReasons(
  { finding, judgement }: Deferred,
  deferral: Deferral,
  state: CraftState,
  settings: OperatorSettings,
  say: (parts: Parts) => Reason,
): Reason[] {
  const judged_ms = finding.judgements
    .filter(({ outcome }) => outcome === "defer")
    .reduce((first, { at_ms }) => Math.min(first, at_ms), judgement.at_ms);
  const term = deferralTerm(
    deferral,
    {
      recorded_ms: finding.raised.at_ms,
      deferred_ms: judged_ms,
      steps: finding.deferralSteps,
      flights: state.flights,
    },
    settings,
  );
  const { expires_ms, lastDay } = term;
  const facts = { lastDay, extended: term.extended };
  const reasons = [say({ code: "finding.deferred", effect: "advises", until_ms: expires_ms, facts })];
  if (!term.counted) reasons.push(say({ code: "finding.deferralNotCounted", effect: "unknown" }));
  if (expires_ms !== null)
    reasons.push(say({ code: "finding.deferralLapsed", effect: "blocks", from_ms: expires_ms, facts }));
  for (const { of, left } of term.left) {
    const isOver = of === "flightHours_h" ? !above(left, 0) : left < 1;
    const limit = { quantity: of, value: left, stricter: "lower" } as const;
    const told = { ...facts, quantity: of, value: left };
    reasons.push(
      isOver
        ? say({ code: "finding.deferralLapsed", effect: "blocks", facts: told })
        : say({ code: "finding.deferralLimits", effect: "limits", limit, facts: told }),
    );
  }
  if (term.invalidExtensions.length > 0)
    reasons.push(
      say({ code: "finding.extensionInvalid", effect: "advises", evidence: term.invalidExtensions }),
    );
  return reasons;
}

/** The list is written item by item; what several deferrals do together is judged here, as a set. */
function togetherReasons(
  { finding, deferral }: Deferred,
  all: readonly Deferred[],
  say: (parts: Parts) => Reason,
): Reason[] {
  const reasons: Reason[] = [];
  let deferred = 0;
  for (const other of all) if (other.deferral.id === deferral.id) deferred += 1;
  if (deferred > deferral.installed - deferral.required)
    reasons.push(
      say({
        code: "finding.deferralTooMany",
        effect: "blocks",
        facts: { deferred, installed: deferral.installed, required: deferral.required },
      }),
    );
  const system = deferral.ata.slice(0, 2);
  for (const other of all) {
    if (other.finding === finding) continue;
    const forbidden =
      deferral.notWith?.includes(other.deferral.id) === true ||
      other.deferral.notWith?.includes(deferral.id) === true;
    const isSameSystem = other.deferral.ata.startsWith(system);
    if (!forbidden && !isSameSystem) continue;
    reasons.push(
      say({
        code: forbidden ? "finding.deferralNotTogether" : "finding.deferralSameSystem",
        effect: forbidden ? "blocks" : "advises",
        facts: { other: other.deferral.id },
      }),
    );
  }
  return reasons;
}

/** Procedures that belong to the deferral and that nobody has confirmed since it was deferred (ORO.MLR.105(g)). */
function procedureReasons({ finding, deferral }: Deferred, say: (parts: Parts) => Reason): Reason[] {
  const confirmed = finding.deferralSteps.filter((step) => step.step === "confirmed");
  const missing = [
    ...(deferral.operational !== undefined && !confirmed.some(({ operational }) => operational) ? ["O"] : []),
    ...(deferral.maintenance !== undefined && !confirmed.some(({ maintenance }) => maintenance !== null)
      ? ["M"]
      : []),
  ];
  return missing.map((procedure) =>
    say({ code: "finding.deferralUnconfirmed", effect: "blocks", facts: { procedure } }),
  );
}

function deferredReasons(
  deferred: Deferred,
  all: readonly Deferred[],
  state: CraftState,
  settings: OperatorSettings,
): Reason[] {
  const { finding, deferral, index } = deferred;
  const source = {
    kind: "sheet",
    path: `deferrals[${index}]`,
    cite: deferral.source?.page ?? deferralCite,
  } as const;
  const say = (parts: Parts): Reason =>
    reasonOf(finding, {
      source,
      remedy: byEngineer,
      ...parts,
      facts: { deferral: deferral.id, number: deferral.number, ...parts.facts },
    });
  const reasons = [
    ...termReasons(deferred, deferral, state, settings, say),
    ...procedureReasons(deferred, say),
    ...togetherReasons(deferred, all, say),
  ];
  if (deferral.takesAway !== undefined && deferral.takesAway.length > 0)
    reasons.push(say({ code: "finding.deferralForbids", effect: "blocks", operations: deferral.takesAway }));
  for (const limit of deferral.limits ?? [])
    reasons.push(
      say({
        code: "finding.deferralLimits",
        effect: "limits",
        limit,
        facts: { quantity: limit.quantity, value: limit.value },
      }),
    );
  return reasons;
}

/** Nobody has judged it, or nobody who might: as the sheet stands, and as it was last measured. */
function unjudgedReason(finding: FindingFacts): Reason {
  const said = countingJudgement(finding);
  return reasonOf(finding, {
    code: said === null ? "finding.unjudged" : "finding.notCovered",
    effect: "blocks",
    remedy: said === null ? { code: "finding.judge", clearance: "minute" } : byEngineer,
    facts: said === null ? {} : { outcome: said.outcome, role: said.role },
  });
}

function openReasons(sheet: Sheet, finding: FindingFacts): readonly Reason[] {
  const judgement = judgementBy(sheet, finding);
  if (judgement === null) return [unjudgedReason(finding)];
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
    case "defer":
      return sheet.deferrals.some(({ id }) => id === judgement.deferral)
        ? []
        : [reasonOf(finding, { code: "finding.deferredToNothing", effect: "unknown", remedy: byEngineer })];
    default:
      return judgement.outcome satisfies never;
  }
}

/** Reasons from every finding that is not closed. */
export function assessFindings(sheet: Sheet, state: CraftState, { settings }: Situation): Reason[] {
  return [...keptReasons(sheet, state, settings)];
}

// The zone and the rule set are all of the settings that a deferral's term depends on; no reason depends on the time.
const keptReasons = keptByRecord<Sheet, OperatorSettings, readonly Reason[]>(
  reasonsOfFindings,
  ({ zone, ruleSet }) => `${zone} ${String(ruleSet)}`,
);

function reasonsOfFindings(sheet: Sheet, state: CraftState, settings: OperatorSettings): readonly Reason[] {
  const deferred = deferredFindings(sheet, state);
  const ofDeferrals = deferred.flatMap((one) => deferredReasons(one, deferred, state, settings));
  const open = Object.values(state.findings).filter((finding) => !isClosed(sheet, finding));
  const unreleased = open.filter(isUnreleased).map((finding) =>
    reasonOf(finding, {
      code: "finding.notReleased",
      effect: "blocks",
      source: { kind: "rule", rule: "M.A.801", edition: "Reg. (EU) 1321/2014", cite: "M.A.801" },
      remedy: { code: "finding.release", clearance: "someone" },
    }),
  );
  const ofOthers = open.flatMap((finding) => openReasons(sheet, finding));
  return [...ofOthers, ...unreleased, ...ofDeferrals];
}
