// What is looked at again after an interruption.
//
// The interrupted stop starts again; at least the last three items marked before it come again, whatever their stop;
// and so does every item that closes a closure touched since.
// Source of the three: US Air Force AETC safety article on interrupted maintenance tasks ("at least three steps back").
import type { CraftState, Interruption, WalkFacts } from "../facts/craft.ts";
import type { WalkPlan } from "./plan.ts";

export const itemsBack = 3;

/** The interruption that has not been resumed, if the walk stands still; the latest of several. */
export function standingInterruption(facts: WalkFacts): Interruption | null {
  return facts.interruptions.findLast(({ resumed }) => resumed === null) ?? null;
}

/** Items in the order in which their marks were sealed: by page, and within a page in walking order. */
function markedInOrder(plan: WalkPlan, facts: WalkFacts): readonly string[] {
  return facts.visits.flatMap((visit) =>
    plan.rows
      .filter(({ item }) => facts.marks[item.id]?.some(({ entry }) => entry === visit.entry))
      .map(({ item }) => item.id),
  );
}

/** Ids of the items that are blank again once the walk resumes, in walking order. */
export function reopenedOnResume(
  plan: WalkPlan,
  facts: WalkFacts,
  state: CraftState,
  interruption: Interruption,
): readonly string[] {
  const touched = new Set(
    Object.entries(state.closures)
      .filter(([, standing]) => standing.some(({ at_ms }) => at_ms >= interruption.at_ms))
      .map(([closure]) => closure),
  );
  const back = new Set(markedInOrder(plan, facts).slice(-itemsBack));
  return plan.rows
    .filter(
      ({ item }) =>
        item.stop === interruption.stop ||
        back.has(item.id) ||
        (item.closes ?? []).some((closure) => touched.has(closure)),
    )
    .map(({ item }) => item.id);
}
