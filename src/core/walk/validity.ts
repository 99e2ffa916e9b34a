// Whether a walk holds, until when, and why not.
//
// A walk is closed when it was finished and every applicable item has a mark. It is valid when each mark is good or its
// finding is judged, and it has neither lapsed nor been voided. It is always judged by the sheet, the equipment and the
// variant of now: what came to apply since is blank, and a blank is never done; so a sheet that asks for more ends it.
// It lapses at the end of the calendar day (in the operator's zone) in which it was *begun*, finished or not, and so many
// hours after it was finished, whichever the sheet names.
// Voided by an entry that says so; by maintenance, whatever the sheet says (a release included); by whatever else the
// sheet's `voidedBy` names and the record can show: an event, a flight, an uplift, changed equipment, changed custody,
// frost after freezing. A launch walk is voided, too, by a closure that is touched after it.
// Frost after freezing: the air was read above zero at the latest reading up to the finish, and at or below zero after
// it. Below zero all along is what the walk itself has seen. Reports of the weather say the same in frost.ts.
import { endOfDayAt } from "../facts/calendar.ts";
import type { CraftState, WalkFacts, WalkKind } from "../facts/craft.ts";
import { hour_ms } from "../facts/instant.ts";
import { madeOnce } from "../facts/made-once.ts";
import { own } from "../facts/own.ts";
import type { Situation } from "../facts/situation.ts";
import { isClosed, judgementBy } from "../finding/judgement.ts";
import type { Sheet } from "../sheet/schema.ts";
import type { Voiding } from "../sheet/walk-blocks.ts";
import { sheetInForce } from "./craft-config.ts";
import { firstFrost } from "./first-frost.ts";
import type { AirTemperature } from "./first-frost.ts";
import { planOf } from "./plan.ts";
import { walkProgress } from "./progress.ts";
import type { ItemProgress, WalkProgress } from "./progress.ts";

export type Voided = {
  readonly by: Voiding | "entry" | "closure";
  readonly entry: string;
  readonly at_ms: number;
};

export type WalkValidity = {
  readonly walk: WalkFacts;
  readonly progress: WalkProgress;
  /** Marked as finding, and the finding is missing from the record or not judged. */
  readonly unjudged: readonly ItemProgress[];
  readonly finished_ms: number | null;
  readonly voided: Voided | null;
  /** Ends here at the latest, by the calendar day or the hours of the sheet; hours count from the finish. */
  readonly lapses_ms: number | null;
  readonly lapsesBy: "calendarDay" | "hours" | "never";
  /** What would end it before that. */
  readonly endsBy: readonly Voiding[];
  /** Another sheet holds now than the one it was begun under. */
  readonly sheetChanged: boolean;
  readonly status: "running" | "incomplete" | "void" | "lapsed" | "valid";
};

/** What voids a walk of this kind: maintenance always, the rest as the sheet says. */
function voidingsOf(sheet: Sheet, kind: WalkKind): readonly Voiding[] {
  return [...new Set<Voiding>(["maintenance", ...sheet.walkValidity[kind].voidedBy])];
}

/** Temperatures of the air as they were read at the craft, oldest first. */
function airRead(state: CraftState): readonly AirTemperature[] {
  return Object.values(state.readings)
    .flat()
    .flatMap(({ entry, at_ms, conditions: { oat_C } }) =>
      oat_C === undefined ? [] : [{ entry, at_ms, oat_C }],
    )
    .toSorted((a, b) => a.at_ms - b.at_ms);
}

function firstVoiding(sheet: Sheet, state: CraftState, facts: WalkFacts, finished_ms: number): Voided | null {
  const voidedBy = voidingsOf(sheet, facts.kind);
  const voids: Voided[] = facts.voided.map(({ entry, at_ms, cause }) => ({
    by: cause === "other" ? "entry" : cause,
    entry,
    at_ms,
  }));
  const add = (
    by: Voided["by"],
    said: readonly { readonly entry: string; readonly at_ms: number }[],
  ): void => {
    for (const { entry, at_ms } of said) if (at_ms >= finished_ms) voids.push({ by, entry, at_ms });
  };
  const addIf = (by: Voiding, said: Parameters<typeof add>[1]): void => {
    if (voidedBy.includes(by)) add(by, said);
  };
  addIf("maintenance", [
    ...state.handovers.filter(({ custody }) => custody === "maintenance"),
    ...state.releases,
  ]);
  const voiding = new Set(sheet.events.filter(({ voidsWalk }) => voidsWalk).map(({ id }) => id));
  addIf(
    "event",
    state.events.filter(({ event }) => voiding.has(event) || !sheet.events.some(({ id }) => id === event)),
  );
  addIf("flight", state.flights);
  addIf("uplift", [...state.uplifts, ...state.fuelFilled]);
  addIf("configurationChange", Object.values(state.equipment).flat());
  addIf("custodyChange", state.handovers);
  if (voidedBy.includes("frostAfterFreezing")) {
    const frost = firstFrost(airRead(state), finished_ms);
    if (frost !== null) add("frostAfterFreezing", [frost]);
  }
  if (facts.kind === "launch") {
    const touches = Object.values(state.closures).flat();
    add(
      "closure",
      touches.filter(({ walk, at_ms }) => walk !== facts.walk && at_ms > finished_ms),
    );
  }
  return voids.toSorted((a, b) => a.at_ms - b.at_ms)[0] ?? null;
}

/** When a walk lapses by the sheet, and by what of it. */
export function lapseOf(
  sheet: Sheet,
  { kind, begun_ms, finished_ms }: { kind: WalkKind; begun_ms: number; finished_ms: number | null },
  zone: string,
): Pick<WalkValidity, "lapses_ms" | "lapsesBy"> {
  const { calendarDay, hours_h } = sheet.walkValidity[kind];
  const day_ms = calendarDay ? endOfDayAt(begun_ms, zone) : Infinity;
  const hours_ms = hours_h === undefined || finished_ms === null ? Infinity : finished_ms + hours_h * hour_ms;
  if (day_ms === Infinity && hours_ms === Infinity) return { lapses_ms: null, lapsesBy: "never" };
  return day_ms <= hours_ms
    ? { lapses_ms: day_ms, lapsesBy: "calendarDay" }
    : { lapses_ms: hours_ms, lapsesBy: "hours" };
}

type Timeless = Pick<WalkValidity, "progress" | "unjudged" | "finished_ms" | "voided">;

/** What the record says of each walk, whatever the time: by far the most work, and the same until the record grows. */
const timelessOf = madeOnce((_sheet: Sheet, _state: CraftState) => new Map<WalkFacts, Timeless>());

function timeless(sheet: Sheet, state: CraftState, facts: WalkFacts): Timeless {
  const kept = timelessOf(sheet, state);
  let held = kept.get(facts);
  if (held === undefined) kept.set(facts, (held = readTimeless(sheet, state, facts)));
  return held;
}

function readTimeless(sheet: Sheet, state: CraftState, facts: WalkFacts): Timeless {
  const progress = walkProgress(sheet, planOf(sheet, state, facts), facts, state);
  const unjudged = progress.withFinding.filter(({ fact }) => {
    const finding = fact?.finding == null ? undefined : own(state.findings, fact.finding);
    return finding === undefined || (judgementBy(sheet, finding) === null && !isClosed(sheet, finding));
  });
  const finished_ms =
    facts.finished.length === 0 ? null : Math.max(...facts.finished.map(({ at_ms }) => at_ms));
  // Before it is finished only maintenance and what was said of this walk voids it: the rest is looked at on the way.
  const voided =
    finished_ms === null
      ? firstVoidingUnderWay(state, facts)
      : firstVoiding(sheet, state, facts, finished_ms);
  return { progress, unjudged, finished_ms, voided };
}

/** How one walk stands now. */
export function walkValidity(
  sheet: Sheet,
  state: CraftState,
  facts: WalkFacts,
  { now_ms, settings }: Pick<Situation, "now_ms" | "settings">,
): WalkValidity {
  const { progress, unjudged, finished_ms, voided } = timeless(sheet, state, facts);
  const { kind, begun } = facts;
  const { lapses_ms, lapsesBy } = lapseOf(sheet, { kind, begun_ms: begun.at_ms, finished_ms }, settings.zone);
  const isLapsed = lapses_ms !== null && lapses_ms <= now_ms;
  const complete = progress.blank.length === 0 && progress.notReached.length === 0 && unjudged.length === 0;
  return {
    walk: facts,
    progress,
    unjudged,
    finished_ms,
    voided,
    lapses_ms,
    lapsesBy,
    endsBy: voidingsOf(sheet, facts.kind),
    sheetChanged: sheetInForce(state, now_ms) !== facts.begun.sheet,
    // What came first ended it.
    status:
      voided !== null && !(isLapsed && lapses_ms <= voided.at_ms)
        ? "void"
        : isLapsed
          ? "lapsed"
          : finished_ms === null
            ? "running"
            : complete && finished_ms <= now_ms
              ? "valid"
              : "incomplete",
  };
}

function firstVoidingUnderWay(state: CraftState, { voided, begun }: WalkFacts): Voided | null {
  const said = voided.map(({ entry, at_ms, cause }): Voided => ({
    by: cause === "other" ? "entry" : cause,
    entry,
    at_ms,
  }));
  const worked = [...state.handovers.filter(({ custody }) => custody === "maintenance"), ...state.releases]
    .filter(({ at_ms }) => at_ms > begun.at_ms)
    .map(({ entry, at_ms }): Voided => ({ by: "maintenance", entry, at_ms }));
  return [...said, ...worked].toSorted((a, b) => a.at_ms - b.at_ms)[0] ?? null;
}

/** Walks of a kind, the latest begun first. */
export function walksOfKind(state: CraftState, kind: WalkKind): readonly WalkFacts[] {
  return Object.values(state.walks)
    .filter((walk) => walk.kind === kind)
    .toSorted((a, b) => b.begun.at_ms - a.begun.at_ms || (a.walk < b.walk ? -1 : 1));
}
