// Which items of a stop may be marked good together, by one long press, and why the others are marked one by one.
//
// Together go only items that the sheet lets go (`sweep`), that are blank, and that nothing particular is the matter with:
// no gauge, no closure, no second person, no open finding at it, no work done there, and not asked again after an
// interruption. A stop at which a finding was raised in this walk still has its other items swept.
import type { CraftState, WalkFacts } from "../facts/craft.ts";
import { isClosed } from "../finding/judgement.ts";
import type { ItemProgress } from "./progress.ts";

export type SinglyBecause =
  | "sheet"
  | "gauge"
  | "closure"
  | "secondPerson"
  | "finding"
  | "worked"
  | "askedAgain";

/** Why an item is marked singly; null where it may be swept. */
export function singlyBecause(
  { row: { item, because } }: ItemProgress,
  facts: WalkFacts,
  state: CraftState,
): SinglyBecause | null {
  if (item.reads !== undefined) return "gauge";
  if ((item.opens ?? []).length > 0 || (item.closes ?? []).length > 0) return "closure";
  if ((item.marksNeeded ?? 1) > 1) return "secondPerson";
  if (because.some(({ kind }) => kind === "worked")) return "worked";
  const isFound = Object.values(state.findings).some(
    (finding) => finding.raised.item === item.id && !isClosed(null, finding),
  );
  if (isFound || because.some(({ kind }) => kind === "finding")) return "finding";
  if (facts.interruptions.some(({ resumed }) => resumed?.reopened.includes(item.id) === true))
    return "askedAgain";
  return item.sweep ? null : "sheet";
}

/** Ids of the items here that one long press marks good. */
export function sweepable(
  items: readonly ItemProgress[],
  facts: WalkFacts,
  state: CraftState,
): readonly string[] {
  return items
    .filter((item) => item.mark === null && item.fact === null && singlyBecause(item, facts, state) === null)
    .map(({ row }) => row.item.id);
}
