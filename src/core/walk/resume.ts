// What is looked at again after an interruption.
//
// The interrupted stop starts again; at least the last three items marked before it come again, whatever their stop; and so
// does every item that closes a closure touched since. Where two people share the walk, this holds for each who was called
// away: the one who said so, and whoever's page the interruption sealed.
// Source of the three: US Air Force AETC safety article on interrupted maintenance tasks ("at least three steps back").
import type { CraftState, Interruption, StopVisit, WalkFacts } from "../facts/craft.ts";
import { minute_ms } from "../facts/instant.ts";
import type { WalkPlan } from "./plan.ts";

export const itemsBack = 3;

/** Ours, since the source gives no figure: nobody stands at one item for so long without leaving it. */
const walkAway_min = 10;

/**
 * When a walk counts as left: so long after the last tap of the person who stood at a stop. Null while it does not. A clock
 * that was set back says nothing.
 */
export function walkedAway(lastTap_ms: number, now_ms: number): { readonly at_ms: number } | null {
  return now_ms - lastTap_ms >= walkAway_min * minute_ms ? { at_ms: lastTap_ms } : null;
}

/** The interruption that has not been resumed, if the walk stands still; the latest of several. */
export function standingInterruption(facts: WalkFacts): Interruption | null {
  return facts.interruptions.findLast(({ resumed }) => resumed === null) ?? null;
}

/** Items in the order in which their marks were sealed: by page, and within a page in walking order. */
function markedInOrder(
  plan: WalkPlan,
  facts: WalkFacts,
  visits: readonly StopVisit[] = facts.visits,
): readonly string[] {
  return visits.flatMap((visit) =>
    plan.rows
      .filter(({ item }) => facts.marks[item.id]?.some(({ entry }) => entry === visit.entry))
      .map(({ item }) => item.id),
  );
}

/** Pages that an interruption sealed and that no resumption has followed. */
function calledAway({ visits, interruptions }: WalkFacts, { at_ms }: Interruption): readonly StopVisit[] {
  const resumed = interruptions.flatMap(({ resumed: back }) => (back === null ? [] : [back.at_ms]));
  return visits.filter(
    ({ sealedBy, left_ms }) =>
      sealedBy === "interrupted" && (left_ms >= at_ms || resumed.every((resumed_ms) => resumed_ms < left_ms)),
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
  const away = calledAway(facts, interruption);
  const stops = new Set([interruption.stop, ...away.map(({ stop }) => stop)]);
  const people = new Set([interruption.by, ...away.map(({ by }) => by)]);
  const back = new Set([
    ...markedInOrder(plan, facts).slice(-itemsBack),
    ...[...people].flatMap((person) => {
      const theirs = facts.visits.filter(({ by }) => by === person);
      return markedInOrder(plan, facts, theirs).slice(-itemsBack);
    }),
  ]);
  return plan.rows
    .filter(
      ({ item }) =>
        stops.has(item.stop) ||
        back.has(item.id) ||
        (item.closes ?? []).some((closure) => touched.has(closure)),
    )
    .map(({ item }) => item.id);
}
