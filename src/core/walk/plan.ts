// The plan of a walk: the items that apply today, stop by stop, in the operator's published order, and why each item
// is there or is not. Computed from the sheet, the craft and the conditions that were said; nothing unknown shortens it.
import type { CraftState, WalkKind, Conditions as SaidConditions } from "../facts/craft.ts";
import { itemsFor } from "../sheet/applicability.ts";
import type { PlanRow } from "../sheet/applicability.ts";
import type { Sheet } from "../sheet/schema.ts";
import type { Closure, Stop } from "../sheet/walk-blocks.ts";
import { evaluateApplicability } from "../sheet/applicability.ts";
import { conditionsOf, craftConfigOf } from "./craft-config.ts";

export type PlannedStop = { readonly stop: Stop; readonly rows: readonly PlanRow[] };

export type WalkPlan = {
  readonly kind: WalkKind;
  /** Stops with at least one item to walk, in order; their rows all apply. */
  readonly stops: readonly PlannedStop[];
  /** Every row that applies, in walking order. */
  readonly rows: readonly PlanRow[];
  /** Rows that do not apply, each with its state and why. */
  readonly left: readonly PlanRow[];
  /** Closures that this craft has. */
  readonly closures: readonly Closure[];
};

/** The plan of a walk of this kind on this craft under these conditions. */
export function planWalk(sheet: Sheet, state: CraftState, kind: WalkKind, said: SaidConditions): WalkPlan {
  const craft = craftConfigOf(state);
  const conditions = conditionsOf(said);
  const all = itemsFor(sheet, craft, conditions, kind);
  const rows = all.filter((row) => row.state === "applies");
  const stops: PlannedStop[] = [];
  for (const id of sheet.order[kind]) {
    const stop = sheet.stops.find((candidate) => candidate.id === id);
    const here = rows.filter(({ item }) => item.stop === id);
    if (stop !== undefined && here.length > 0) stops.push({ stop, rows: here });
  }
  return {
    kind,
    stops,
    rows: stops.flatMap((stop) => stop.rows),
    left: all.filter((row) => row.state !== "applies"),
    closures: sheet.closures.filter(
      ({ applies }) => evaluateApplicability(applies, craft, conditions).value !== false,
    ),
  };
}

/**
 * What the plan's hash is taken over: the kind, the conditions as said, and each item in order with whether it applies
 * and why. The hash goes on paper and into the entry that begins the walk; the hash function itself is the caller's.
 */
export function planToHash(plan: WalkPlan, said: SaidConditions): unknown {
  const brief = ({ item, state, provision }: PlanRow) => [item.id, item.stop, state, provision];
  return { kind: plan.kind, conditions: said, rows: plan.rows.map(brief), left: plan.left.map(brief) };
}
