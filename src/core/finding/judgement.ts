// Where a finding stands: who may judge it how, which outcome counts, whether it is closed.
//
// The sheet's bands come first: nobody judges milder than the band, and only who the band names may apply it. Stricter
// is open to anybody who judges, and "ground" to everybody. Where no band covers a finding, certifying staff decide, or a
// pilot by the operator's list (M.A.403(b), Reg. (EU) 1321/2014). Of several judgements that stand the worst counts
// (law 3); looser than what stands takes an engineer or the airworthiness office (law 8), and so does closing what
// grounds or what nobody has judged. A judgement that its writer might not give is kept and counts for nothing; so does
// one that has not seen that the finding was opened again.
import { outcomes } from "../facts/craft.ts";
import type { FindingFacts, Judgement, Outcome } from "../facts/craft.ts";
import type { Sheet } from "../sheet/schema.ts";
import { bandOf } from "./bands.ts";

export type JudgingRole = "pilot" | "crewMember" | "engineer" | "airworthiness";

const certifying: readonly string[] = ["engineer", "airworthiness"];

/** How much each may apply, by what a sheet's band asks for. */
const rank = { technicalCrew: 0, crewMember: 0, pilot: 1, engineer: 2, airworthiness: 2 } as const;

const worse = (a: Outcome, b: Outcome): number => outcomes.indexOf(a) - outcomes.indexOf(b);

/** Why a role may not give an outcome. */
export type WhyNot =
  | "milderThanBand"
  | "bandOfOthers"
  | "notMeasured"
  | "noBand"
  | "otherChapter"
  | "looserThanStands";

/** Whether a role may give this outcome by the sheet, whatever stands; null when it may. */
export function hindrance(
  sheet: Sheet | null,
  finding: FindingFacts,
  role: JudgingRole,
  outcome: Outcome,
  deferral: string | null = null,
): WhyNot | null {
  if (outcome === "ground") return null;
  const found = bandOf(sheet, finding);
  // A limit was named and cannot be looked up: as if nothing had been measured.
  if (found.kind === "notMeasured" || (sheet === null && finding.raised.damage !== null))
    return "notMeasured";
  if (found.kind === "none") {
    if (certifying.includes(role)) return null;
    return role === "pilot" && outcome === "defer" ? null : "noBand";
  }
  const { band, damage } = found;
  if (worse(outcome, band.outcome) < 0) return "milderThanBand";
  if (rank[role] < rank[band.by]) return "bandOfOthers";
  const listed = sheet?.deferrals.find(({ id }) => id === deferral);
  const isOther = listed !== undefined && listed.ata.slice(0, 2) !== damage.ata.slice(0, 2);
  return outcome === "defer" && isOther ? "otherChapter" : null;
}

/** The judgements that count: given by who may, having seen every reopening. */
function validJudgements(sheet: Sheet | null, finding: FindingFacts): readonly Judgement[] {
  const reopened = standingReopenings(finding);
  return finding.judgements.filter(
    ({ role, outcome, deferral, seen }) =>
      reopened.every(({ entry }) => seen.includes(entry)) &&
      hindrance(sheet, finding, asJudgingRole(role), outcome, deferral) === null,
  );
}

/** The worst of these judgements; of two equals the later in the order of the fold. */
function worstOf(judgements: readonly Judgement[]): Judgement | null {
  let worst: Judgement | null = null;
  for (const judgement of judgements) {
    if (worst === null || worse(judgement.outcome, worst.outcome) >= 0) worst = judgement;
  }
  return worst;
}

/** The worst judgement that stands, whether or not its writer might give it; null while nobody has judged. */
export function countingJudgement(finding: FindingFacts): Judgement | null {
  return worstOf(finding.judgements);
}

/**
 * The judgement that a finding stands under by this sheet; null where none counts. Any judgement that does not count
 * while others do is milder than the sheet allows, and so cannot be the worse one.
 */
export function judgementBy(sheet: Sheet | null, finding: FindingFacts): Judgement | null {
  return worstOf(validJudgements(sheet, finding));
}

/** Why a person of this role may not give this outcome as the finding stands; null when they may. */
export function whyNotJudge(
  sheet: Sheet | null,
  finding: FindingFacts,
  role: JudgingRole,
  outcome: Outcome,
  deferral: string | null = null,
): WhyNot | null {
  const by = hindrance(sheet, finding, role, outcome, deferral);
  if (by !== null || certifying.includes(role)) return by;
  const standing = countingJudgement(finding);
  return standing !== null && worse(outcome, standing.outcome) < 0 ? "looserThanStands" : null;
}

/** Whether a judgement takes the place of one that its writer saw: stricter always, looser by authority. */
export function mayReplace(
  held: Pick<Judgement, "outcome">,
  by: Pick<Judgement, "outcome" | "role">,
): boolean {
  return worse(by.outcome, held.outcome) >= 0 || certifying.includes(by.role);
}

/** Work that was done and that nobody has released since. */
export function isUnreleased({ steps }: Pick<FindingFacts, "steps">): boolean {
  return steps.some(
    ({ step, at_ms }) =>
      step === "fixed" && !steps.some((other) => other.step === "released" && other.at_ms >= at_ms),
  );
}

/** Whether a person of this role may close the finding, as it stands. */
export function mayClose(sheet: Sheet | null, finding: FindingFacts, role: JudgingRole): boolean {
  if (isUnreleased(finding)) return false;
  if (certifying.includes(role)) return true;
  const standing = judgementBy(sheet, finding);
  return (
    role === "pilot" && standing !== null && (standing.outcome === "accept" || standing.outcome === "watch")
  );
}

/** Reopenings that no closing which counts has named. An engineer's closing always counts here; a pilot's never. */
export function standingReopenings({ reopened, closed }: FindingFacts): FindingFacts["reopened"] {
  return reopened.filter(
    ({ entry }) =>
      !closed.some(({ role, replaces }) => certifying.includes(role) && replaces.includes(entry)),
  );
}

/**
 * Closed by somebody whose role may close it as it stands, and not opened again since; another's closing is kept, and
 * counts for nothing. What was opened again apart from a closing stays open: the worse of the two. The sheet is null
 * where it is not at hand: then a pilot's closing of what falls under a limit does not count.
 */
export function isClosed(sheet: Sheet | null, finding: FindingFacts): boolean {
  return (
    standingReopenings(finding).length === 0 &&
    finding.closed.some(({ role }) => mayClose(sheet, finding, asJudgingRole(role)))
  );
}

/** A role that this program does not know may nothing. */
function asJudgingRole(role: string): JudgingRole {
  return role === "pilot" || role === "engineer" || role === "airworthiness" ? role : "crewMember";
}
