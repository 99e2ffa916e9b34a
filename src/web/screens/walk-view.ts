// What the walk screen shows, computed from the record and the draft: which walk, where in it, what is left. Pure.
import { own } from "../../core/facts/own.ts";
import type { WalkFacts } from "../../core/facts/craft.ts";
import type { Sheet } from "../../core/sheet/schema.ts";
import { planOf } from "../../core/walk/plan.ts";
import type { PlannedStop, WalkPlan } from "../../core/walk/plan.ts";
import { walkProgress } from "../../core/walk/progress.ts";
import type { ItemProgress, WalkProgress } from "../../core/walk/progress.ts";
import { standingInterruption } from "../../core/walk/resume.ts";
import { walkers } from "../../ledger/craft/shapes.ts";
import { withDraft } from "../../ledger/craft/recorder.ts";
import type { CraftView, Person } from "../device/model.ts";

export type WalkView = {
  readonly facts: WalkFacts;
  readonly sheet: Sheet;
  readonly plan: WalkPlan;
  readonly progress: WalkProgress;
  readonly here: PlannedStop | null;
  readonly position: number;
  /** Stops with something blank, in walking order, the one at hand left out. */
  readonly ahead: readonly PlannedStop[];
  readonly interrupted: boolean;
};

/** The walk that is under way on this craft: the latest begun that nobody finished or voided. */
export function walkUnderWay({ state }: Pick<CraftView, "state">): WalkFacts | null {
  const open = Object.values(state.walks).filter(
    ({ finished, voided }) => finished.length === 0 && voided.length === 0,
  );
  return open.toSorted((a, b) => b.begun.at_ms - a.begun.at_ms)[0] ?? null;
}

/** The plan of the walk under way; no draft changes it. Null without its sheet. */
export function planUnderWay(
  { sheet, state }: Pick<CraftView, "sheet" | "state">,
  facts: WalkFacts,
): WalkPlan | null {
  return sheet === null ? null : planOf(sheet, state, facts);
}

export function walkView(
  craft: Pick<CraftView, "state" | "sheet" | "draft">,
  facts: WalkFacts,
  plan: WalkPlan,
  me: Person | null,
): WalkView | null {
  const { sheet, draft } = craft;
  if (sheet === null) return null;
  const drafted = draft !== null && draft.walk === facts.walk && me !== null ? draft : null;
  const state = drafted === null || me === null ? craft.state : withDraft(craft.state, drafted, me.id);
  const seen = own(state.walks, facts.walk) ?? facts;
  const progress = walkProgress(sheet, plan, seen, state);
  const blank = new Set(progress.blank.map(({ row }) => row.item.stop));
  const here = plan.stops.find(({ stop }) => stop.id === drafted?.stop) ?? null;
  const position = here === null ? -1 : plan.stops.indexOf(here);
  const after = [...plan.stops.slice(position + 1), ...plan.stops.slice(0, Math.max(0, position))];
  return {
    facts: seen,
    sheet,
    plan,
    progress,
    here,
    position,
    ahead: after.filter(({ stop }) => blank.has(stop.id)),
    interrupted: standingInterruption(seen) !== null,
  };
}

/** Whether somebody may walk round a craft; an entry of anybody else would be set aside. */
export function mayWalk(me: Person | null): boolean {
  return me !== null && walkers.some((role) => me.roles.includes(role));
}

export function itemsAt({ progress }: WalkView, stop: string): readonly ItemProgress[] {
  return progress.items.filter(({ row }) => row.item.stop === stop);
}

/**
 * Whether an item is this person's to mark now: blank, and not merely waiting for a second person beside them.
 */
export function asksMe({ mark, wants, row }: ItemProgress, { facts }: WalkView, me: Person | null): boolean {
  if (mark !== null) return false;
  const isMarkedByMe = (own(facts.marks, row.item.id) ?? []).some(({ by }) => by === me?.id);
  return wants !== "secondPerson" || !isMarkedByMe;
}
