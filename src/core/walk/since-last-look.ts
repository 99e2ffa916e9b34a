// What happened to a craft since somebody last looked, as its record shows it.
//
// A closure was looked at when an item that closes it was marked good on the page that set it. Anything else that stands
// for it since is a touch: opened for a sample, shut by hand, set by somebody who released work. For a walk under way its
// own pages count as touches, so that an item stays in the plan that it was added to.
import { own } from "../facts/own.ts";
import type { FuelFilled } from "../facts/call.ts";
import type {
  ClosureFact,
  Conditions,
  CraftState,
  ReleaseFact,
  UpliftFact,
  WalkFacts,
} from "../facts/craft.ts";
import type { Conditions as Told } from "../sheet/applicability.ts";
import type { Sheet } from "../sheet/schema.ts";

/** True when the fact was set on a page that marks an item good which closes the closure. */
function lookedAt(sheet: Sheet, state: CraftState, closure: string, fact: ClosureFact): boolean {
  const walk = fact.walk === null ? undefined : own(state.walks, fact.walk);
  if (walk === undefined || fact.state === "open") return false;
  return sheet.items.some(
    ({ id, closes }) =>
      closes?.includes(closure) === true &&
      (own(walk.marks, id) ?? []).some(({ entry, mark }) => entry === fact.entry && mark === "good"),
  );
}

/** The latest touch of a closure that no look followed; null when everything that stands for it was a look. */
export function touchedSinceLook(
  sheet: Sheet,
  state: CraftState,
  closure: string,
  walk: Pick<WalkFacts, "walk"> | null,
): ClosureFact | null {
  let latest: ClosureFact | null = null;
  for (const fact of own(state.closures, closure) ?? []) {
    if (fact.walk !== walk?.walk && lookedAt(sheet, state, closure, fact)) continue;
    if (latest === null || fact.at_ms >= latest.at_ms) latest = fact;
  }
  return latest;
}

/** When the last walk before a flight, other than this one, was finished; −∞ where none was. */
function lastWalk_ms(state: CraftState, facts: WalkFacts | null): number {
  let last = -Infinity;
  for (const walk of Object.values(state.walks)) {
    if (walk.kind === "parking" || walk.walk === facts?.walk) continue;
    for (const { at_ms } of walk.finished) if (at_ms <= beginOf(facts) && at_ms > last) last = at_ms;
  }
  return last;
}

function beginOf(facts: WalkFacts | null): number {
  return facts?.begun.at_ms ?? Infinity;
}

export type WorkSince = {
  readonly uplifts: readonly UpliftFact[];
  /** Fillings of fuel. */
  readonly fuelled: readonly FuelFilled[];
  readonly equipment: readonly { readonly id: string; readonly at_ms: number }[];
  readonly releases: readonly ReleaseFact[];
};

/** What was filled, installed, taken out or worked on after the last walk and before this one was begun. */
export function workSince(state: CraftState, facts: WalkFacts | null): WorkSince {
  const from_ms = lastWalk_ms(state, facts);
  const until_ms = beginOf(facts);
  const since = ({ at_ms }: { readonly at_ms: number }): boolean => at_ms > from_ms && at_ms <= until_ms;
  // The record's own opening installs everything at once and is no work.
  const opened_ms = state.opened?.at_ms ?? -Infinity;
  return {
    uplifts: state.uplifts.filter(since),
    fuelled: state.fuelFilled.filter(since),
    equipment: Object.entries(state.equipment).flatMap(([id, standing]) =>
      standing.filter((fact) => since(fact) && fact.at_ms > opened_ms).map(({ at_ms }) => ({ id, at_ms })),
    ),
    releases: state.releases.filter(since),
  };
}

/** Conditions that the record itself shows to hold, whatever was said. None is ever shown not to hold. */
export function recordedConditions(state: CraftState, facts: WalkFacts | null): Told {
  const { uplifts, fuelled, releases } = workSince(state, facts);
  return {
    ...(uplifts.length + fuelled.length > 0 ? { afterUplift: true } : {}),
    ...(releases.length > 0 ? { afterMaintenance: true } : {}),
  };
}

/**
 * Conditions as they were said when the walk began, and not known where somebody said otherwise since: so an item stays
 * that applied before the change, and one comes that applies after it.
 */
export function weatherSaid({ begun, weather }: WalkFacts): Conditions {
  const said: Record<string, boolean | null> = { ...begun.conditions };
  for (const { conditions } of weather) {
    for (const [name, value] of Object.entries(conditions)) if (said[name] !== value) said[name] = null;
  }
  return said;
}
