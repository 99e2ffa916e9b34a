// One reason that a finding gives: its source, its evidence and the facts that its words are filled with.
import type { FindingFacts } from "../facts/craft.ts";
import type { Reason } from "../facts/reason.ts";

export type Parts = Pick<Reason, "code" | "effect"> & Partial<Reason>;

export function reasonOf(
  { raised, judgements, finding }: FindingFacts,
  parts: Parts & Pick<Reason, "remedy">,
): Reason {
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

export const byEngineer = { code: "finding.toEngineer", clearance: "someone" } as const;
export const measureIt = { code: "finding.measure", clearance: "minute" } as const;
