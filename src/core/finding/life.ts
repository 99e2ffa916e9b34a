// The life of a finding: how far it has come, and every step with who said it, when, and in which words.
//
// seen → assessed → deferred or to be fixed → fixed → released → closed. Opened again, it begins after its first date:
// that stays, and so does everything that was said. A step counts towards where it stands only if it is not older than
// the last reopening. Steps of work and release: M.A.403, M.A.801, Reg. (EU) 1321/2014.
import type { FindingFacts } from "../facts/craft.ts";
import type { Sheet } from "../sheet/schema.ts";
import { isClosed, judgementBy } from "./judgement.ts";

export const stages = ["seen", "assessed", "deferred", "toBeFixed", "fixed", "released", "closed"] as const;
export type Stage = (typeof stages)[number];

export function stageOf(sheet: Sheet | null, finding: FindingFacts): Stage {
  if (isClosed(sheet, finding)) return "closed";
  const since_ms = Math.max(-Infinity, ...finding.reopened.map(({ at_ms }) => at_ms));
  const taken = new Set(finding.steps.filter(({ at_ms }) => at_ms >= since_ms).map(({ step }) => step));
  for (const step of ["released", "fixed", "toBeFixed"] as const) if (taken.has(step)) return step;
  const judgement = judgementBy(sheet, finding);
  if (judgement === null) return "seen";
  return judgement.outcome === "defer" ? "deferred" : "assessed";
}

export type LifeLine = {
  readonly entry: string;
  readonly by: string;
  readonly at_ms: number;
  /** The role in which it was said; null where the entry names none. */
  readonly role: string | null;
  readonly words: string;
} & (
  | { readonly what: "raised" | "seenAgain" | "reopened" | "closed" }
  | { readonly what: "measured"; readonly typed: string; readonly hours_h: number | null }
  | {
      readonly what: "judged";
      readonly outcome: FindingFacts["judgements"][number]["outcome"];
      readonly deferral: string | null;
    }
  | { readonly what: "toBeFixed" | "fixed" | "released"; readonly licence: string | null }
  | { readonly what: "referenced"; readonly kind: string; readonly number: string }
  | { readonly what: "confirmed" | "extended" | "reEntered" }
);

/** Everything that was said of a finding and stands, in the order in which it happened. */
export function lifeOf(finding: FindingFacts): readonly LifeLine[] {
  const { raised, judgements, deferralSteps, seenAgain, measured, steps, references, closed, reopened } =
    finding;
  const plain = ({ entry, by, at_ms }: LifeLine | { entry: string; by: string; at_ms: number }) => ({
    entry,
    by,
    at_ms,
  });
  const lines: readonly LifeLine[] = [
    { ...plain(raised), what: "raised", role: null, words: raised.words },
    ...seenAgain.map((said): LifeLine => ({
      ...plain(said),
      what: "seenAgain",
      role: null,
      words: said.words,
    })),
    ...measured.map((said): LifeLine => ({
      ...plain(said),
      what: "measured",
      role: null,
      typed: said.measure.typed,
      hours_h: said.hours_h,
      words: said.words,
    })),
    ...judgements.map(({ outcome, deferral, role, words, ...said }): LifeLine => ({
      ...plain(said),
      what: "judged",
      outcome,
      deferral,
      role,
      words,
    })),
    ...deferralSteps.map((said): LifeLine => ({
      ...plain(said),
      what: said.step,
      role: said.step === "extended" ? said.role : null,
      words:
        said.step === "confirmed"
          ? [said.logPage, said.workOrder].filter((part) => part !== "").join(", ")
          : said.words,
    })),
    ...steps.map(({ step, licence, words, ...said }): LifeLine => ({
      ...plain(said),
      what: step,
      licence,
      role: step === "toBeFixed" ? null : "engineer",
      words,
    })),
    ...references.map(({ kind, number, ...said }): LifeLine => ({
      ...plain(said),
      what: "referenced",
      kind,
      number,
      role: null,
      words: "",
    })),
    ...closed.map(({ role, words, ...said }): LifeLine => ({ ...plain(said), what: "closed", role, words })),
    ...reopened.map(({ words, ...said }): LifeLine => ({
      ...plain(said),
      what: "reopened",
      role: null,
      words,
    })),
  ];
  // The sort is stable: of one instant they stand in the order of a life.
  return lines.toSorted((a, b) => a.at_ms - b.at_ms);
}
