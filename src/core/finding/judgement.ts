// Where a finding stands: who may judge it how, which outcome counts, whether it is closed.
//
// The worst of the judgements that stand is the one that counts (law 3). Stricter is open to anybody who judges;
// looser than what stands takes an engineer or the airworthiness office (law 8), and so does closing what grounds
// or what nobody has judged. Rule behind it: M.A.403(b), Reg. (EU) 1321/2014: certifying staff decide, except where the
// pilot uses the operator's list.
import { outcomes } from "../facts/craft.ts";
import type { FindingFacts, Judgement, Outcome } from "../facts/craft.ts";

export type JudgingRole = "pilot" | "crewMember" | "engineer" | "airworthiness";

const certifying: readonly string[] = ["engineer", "airworthiness"];

/** The worst judgement that stands; null while nobody has judged. Of two equals the later in the order of the fold. */
export function countingJudgement(finding: FindingFacts): Judgement | null {
  let worst: Judgement | null = null;
  for (const judgement of finding.judgements) {
    if (worst === null || outcomes.indexOf(judgement.outcome) >= outcomes.indexOf(worst.outcome))
      worst = judgement;
  }
  return worst;
}

/** Whether a person of this role may give this outcome, as the finding stands. */
export function mayJudge(finding: FindingFacts, role: JudgingRole, outcome: Outcome): boolean {
  if (certifying.includes(role)) return true;
  const standing = countingJudgement(finding);
  if (standing === null) return role === "pilot" || outcome === "ground";
  return outcomes.indexOf(outcome) >= outcomes.indexOf(standing.outcome);
}

/** Whether a person of this role may close the finding, as it stands. */
export function mayClose(finding: FindingFacts, role: JudgingRole): boolean {
  if (certifying.includes(role)) return true;
  const standing = countingJudgement(finding);
  return (
    role === "pilot" && standing !== null && (standing.outcome === "accept" || standing.outcome === "watch")
  );
}

/** Closed by somebody whose role may close it as it stands; another's closing is kept, and counts for nothing. */
export function isClosed(finding: FindingFacts): boolean {
  return finding.closed.some(({ role }) => mayClose(finding, asJudgingRole(role)));
}

/** A role that this program does not know may nothing. */
function asJudgingRole(role: string): JudgingRole {
  return role === "pilot" || role === "engineer" || role === "airworthiness" ? role : "crewMember";
}
