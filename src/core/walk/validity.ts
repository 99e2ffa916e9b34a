// Whether a walk holds, until when, and why not.
//
// A walk is closed when it was finished and every applicable item has a mark. It is valid when each mark is good or its
// finding is judged, and it has neither lapsed nor been voided. It is always judged by the sheet, the equipment and the
// variant of now: what came to apply since is blank, and a blank is never done. It lapses at the end of the calendar day
// (in the operator's zone) in which it was *begun*, and so many hours after it was finished, whichever the sheet names.
// Voided by: an entry that says so, and whatever the sheet's `voidedBy` names and the record can show (maintenance,
// an event, a flight, an uplift, changed equipment, changed custody). Frost after freezing and storm come as an entry.
import { endOfDayAt } from "../facts/calendar.ts";
import type { CraftState, WalkFacts, WalkKind } from "../facts/craft.ts";
import { hour_ms } from "../facts/instant.ts";
import { own } from "../facts/own.ts";
import type { Situation } from "../facts/situation.ts";
import { countingJudgement, isClosed } from "../finding/judgement.ts";
import type { Sheet } from "../sheet/schema.ts";
import type { Voiding } from "../sheet/walk-blocks.ts";
import { planWalk } from "./plan.ts";
import { walkProgress } from "./progress.ts";
import type { ItemProgress, WalkProgress } from "./progress.ts";

export type Voided = { readonly by: Voiding | "entry"; readonly entry: string; readonly at_ms: number };

export type WalkValidity = {
  readonly walk: WalkFacts;
  readonly progress: WalkProgress;
  /** Marked as finding, and the finding is missing from the record or not judged. */
  readonly unjudged: readonly ItemProgress[];
  readonly finished_ms: number | null;
  readonly voided: Voided | null;
  /** Holds from its finish until here, by the calendar day or the hours of the sheet; null before it is finished. */
  readonly lapses_ms: number | null;
  readonly lapsesBy: "calendarDay" | "hours" | "never";
  readonly status: "running" | "incomplete" | "void" | "lapsed" | "valid";
};

function firstVoiding(sheet: Sheet, state: CraftState, facts: WalkFacts, finished_ms: number): Voided | null {
  const { voidedBy } = sheet.walkValidity[facts.kind];
  const voids: Voided[] = facts.voided.map(({ entry, at_ms }) => ({ by: "entry", entry, at_ms }));
  const add = (by: Voiding, said: readonly { readonly entry: string; readonly at_ms: number }[]): void => {
    if (!voidedBy.includes(by)) return;
    for (const { entry, at_ms } of said) if (at_ms >= finished_ms) voids.push({ by, entry, at_ms });
  };
  add("maintenance", [
    ...state.custody.filter(({ custody }) => custody === "maintenance"),
    ...state.releases,
  ]);
  const voiding = new Set(sheet.events.filter(({ voidsWalk }) => voidsWalk).map(({ id }) => id));
  add(
    "event",
    state.events.filter(({ event }) => voiding.has(event) || !sheet.events.some(({ id }) => id === event)),
  );
  add("flight", state.flights);
  add("uplift", state.uplifts);
  add("configurationChange", Object.values(state.equipment).flat());
  add("custodyChange", state.custody);
  return voids.toSorted((a, b) => a.at_ms - b.at_ms)[0] ?? null;
}

function lapse(
  sheet: Sheet,
  facts: WalkFacts,
  finished_ms: number,
  zone: string,
): Pick<WalkValidity, "lapses_ms" | "lapsesBy"> {
  const { calendarDay, hours_h } = sheet.walkValidity[facts.kind];
  const day_ms = calendarDay ? endOfDayAt(facts.begun.at_ms, zone) : Infinity;
  const hours_ms = hours_h === undefined ? Infinity : finished_ms + hours_h * hour_ms;
  if (day_ms === Infinity && hours_ms === Infinity) return { lapses_ms: null, lapsesBy: "never" };
  return day_ms <= hours_ms
    ? { lapses_ms: day_ms, lapsesBy: "calendarDay" }
    : { lapses_ms: hours_ms, lapsesBy: "hours" };
}

/** How one walk stands now. */
export function walkValidity(
  sheet: Sheet,
  state: CraftState,
  facts: WalkFacts,
  { now_ms, settings }: Pick<Situation, "now_ms" | "settings">,
): WalkValidity {
  const plan = planWalk(sheet, state, facts.kind, facts.begun.conditions);
  const progress = walkProgress(sheet, plan, facts, state);
  const unjudged = progress.withFinding.filter(({ fact }) => {
    const finding = fact?.finding == null ? undefined : own(state.findings, fact.finding);
    return finding === undefined || (countingJudgement(finding) === null && !isClosed(finding));
  });
  const finished_ms =
    facts.finished.length === 0 ? null : Math.max(...facts.finished.map(({ at_ms }) => at_ms));
  if (finished_ms === null) {
    const voided = facts.voided[0];
    return {
      walk: facts,
      progress,
      unjudged,
      finished_ms,
      voided: voided === undefined ? null : { by: "entry", entry: voided.entry, at_ms: voided.at_ms },
      lapses_ms: null,
      lapsesBy: "never",
      status: voided === undefined ? "running" : "void",
    };
  }
  const voided = firstVoiding(sheet, state, facts, finished_ms);
  const { lapses_ms, lapsesBy } = lapse(sheet, facts, finished_ms, settings.zone);
  const complete = progress.blank.length === 0 && progress.notReached.length === 0 && unjudged.length === 0;
  const status =
    voided !== null
      ? "void"
      : lapses_ms !== null && lapses_ms <= now_ms
        ? "lapsed"
        : complete && finished_ms <= now_ms
          ? "valid"
          : "incomplete";
  return { walk: facts, progress, unjudged, finished_ms, voided, lapses_ms, lapsesBy, status };
}

/** Walks of a kind, the latest begun first. */
export function walksOfKind(state: CraftState, kind: WalkKind): readonly WalkFacts[] {
  return Object.values(state.walks)
    .filter((walk) => walk.kind === kind)
    .toSorted((a, b) => b.begun.at_ms - a.begun.at_ms || (a.walk < b.walk ? -1 : 1));
}
