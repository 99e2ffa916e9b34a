// What one crew tells the next about a machine, on one page: what changed since the other's last shift, what ends in the one
// that begins, and what is open.
//
// In: the folded record, the reasons of the standing, who takes over and until when. Out: lines by code, with their facts
// and entries; words come later. The last shift of a person ends with the last thing that the record says they did while
// they had the machine: what came after that they have not seen. Whoever never had it is told the last seven days.
// Common practice; nothing here is judged anew.
import { isActive, compareReasons } from "./combine.ts";
import type { CraftState } from "../facts/craft.ts";
import { hour_ms } from "../facts/instant.ts";
import type { Reason } from "../facts/reason.ts";
import type { RemedyCode } from "../facts/reason-codes.ts";

export const changeCodes = [
  "custody",
  "flight",
  "walk",
  "walkVoided",
  "finding",
  "judged",
  "closed",
  "uplift",
  "event",
  "release",
  "task",
  "fitted",
  "equipment",
  "weighed",
  "loaded",
  "kit",
  "sheet",
] as const;
export type ChangeCode = (typeof changeCodes)[number];

export type HandoverChange = {
  readonly code: ChangeCode;
  readonly entry: string;
  readonly by: string;
  readonly at_ms: number;
  readonly facts: Reason["facts"];
};

export const structureCodes = ["walkRunning", "custodyApart", "shiftsApart", "loadingsApart"] as const;
export type StructureCode = (typeof structureCodes)[number];

export type HandoverPage = {
  /** The end of the last shift of whoever takes over; null where they never had the machine. */
  readonly since_ms: number | null;
  /** Oldest first. */
  readonly changed: readonly HandoverChange[];
  /** Reasons that begin in the shift to come, and what may be flown out in it; in time. */
  readonly ending: readonly Reason[];
  /** Reasons that ask somebody something now. */
  readonly asked: readonly Reason[];
  /** What else is open by the shape of the record. */
  readonly structure: readonly { readonly code: StructureCode; readonly facts: Reason["facts"] }[];
};

const unseen_ms = 7 * 24 * hour_ms;

type Said = { readonly entry: string; readonly by: string; readonly at_ms: number };

/** Everything that the record says somebody did, and when. */
function* deeds(state: CraftState): Generator<{ readonly by: string; readonly at_ms: number }> {
  for (const { crew, on_ms } of state.flights) for (const by of crew) yield { by, at_ms: on_ms };
  for (const { begun, visits, finished } of Object.values(state.walks))
    yield* [begun, ...visits, ...finished];
  for (const list of Object.values(state.readings)) yield* list;
  for (const { raised, judgements } of Object.values(state.findings)) yield* [raised, ...judgements];
  yield* state.uplifts;
  yield* state.handovers;
}

/** When a person last did something with the machine in a custody of theirs that another has followed; null for never. */
export function lastShiftEnd(state: CraftState, person: string, now_ms: number): number | null {
  const taken = state.handovers.toSorted((a, b) => a.at_ms - b.at_ms);
  const spans = taken.flatMap(({ at_ms, custody, people }, index) => {
    const until_ms = taken[index + 1]?.at_ms;
    const isTheirs = custody === "crew" && people.includes(person);
    return isTheirs && until_ms !== undefined && until_ms <= now_ms ? [{ at_ms, until_ms }] : [];
  });
  const last = spans.at(-1);
  if (last === undefined) return null;
  let seen_ms = last.at_ms;
  for (const { by, at_ms } of deeds(state))
    if (by === person && at_ms < last.until_ms && at_ms > seen_ms) seen_ms = at_ms;
  return seen_ms;
}

function changesSince(state: CraftState, since_ms: number, now_ms: number): readonly HandoverChange[] {
  const changes: HandoverChange[] = [];
  const add = (code: ChangeCode, { entry, by, at_ms }: Said, facts: Reason["facts"] = {}): void => {
    if (at_ms > since_ms && at_ms <= now_ms) changes.push({ code, entry, by, at_ms, facts });
  };
  for (const fact of state.handovers) add("custody", fact, { custody: fact.custody, words: fact.words });
  for (const fact of state.flights) {
    const { flight_h, landings, hoistCycles, off_ms, on_ms } = fact;
    add("flight", fact, { flight_h, landings, hoistCycles, off_ms, on_ms });
  }
  for (const { kind, finished, voided } of Object.values(state.walks)) {
    for (const fact of finished) add("walk", fact, { kind });
    for (const fact of voided) add("walkVoided", fact, { kind, cause: fact.cause });
  }
  for (const { raised, judgements, closed } of Object.values(state.findings)) {
    const { kind, stop, words } = raised;
    add("finding", raised, { kind, stop, words });
    for (const fact of judgements)
      add("judged", fact, { kind, stop, outcome: fact.outcome, deferral: fact.deferral, words });
    for (const fact of closed) add("closed", fact, { kind, stop, words: fact.words });
  }
  for (const fact of state.uplifts)
    add("uplift", fact, { fluid: fact.fluid, typed: fact.typed, unit: fact.unit });
  for (const fact of state.events) add("event", fact, { event: fact.event, words: fact.words });
  for (const fact of state.releases)
    add("release", fact, { words: fact.words, limitations: fact.limitations });
  for (const fact of Object.values(state.due.done).flat()) add("task", fact, { task: fact.task });
  for (const fact of Object.values(state.due.components).flat())
    add("fitted", fact, { component: fact.component, serial: "serial" in fact ? fact.serial : null });
  for (const [equipment, facts] of Object.entries(state.equipment))
    for (const fact of facts) add("equipment", fact, { equipment, installed: fact.installed });
  for (const fact of state.load.weighings) add("weighed", fact, { mass_kg: fact.mass_kg });
  for (const fact of state.load.loadings) add("loaded", fact, { fuel_kg: fact.fuel_kg });
  for (const [kit, facts] of Object.entries(state.load.kit))
    for (const fact of facts) add("kit", fact, { kit, aboard: fact.aboard, words: fact.words });
  for (const fact of state.sheets) add("sheet", fact);
  return changes.toSorted(
    (a, b) => a.at_ms - b.at_ms || (a.entry < b.entry ? -1 : a.entry > b.entry ? 1 : 0),
  );
}

/** What a person has to answer, whatever its effect. */
const questions: ReadonlySet<RemedyCode> = new Set<RemedyCode>([
  "finding.judge",
  "finding.lookAgain",
  "finding.toEngineer",
  "finding.measure",
  "finding.release",
  "event.clear",
  "record.settleAside",
  "level.answer",
  "level.toEngineer",
  "level.tellEngineer",
  "load.kit",
  "lookAlike.decide",
  "closure.close",
  "custody.release",
  "custody.inspect",
  "custody.lift",
]);

function structureOf(state: CraftState): HandoverPage["structure"] {
  const running = Object.values(state.walks).filter(
    ({ finished, voided }) => finished.length === 0 && voided.length === 0,
  );
  const apart = (code: StructureCode, count: number) => (count > 1 ? [{ code, facts: { count } }] : []);
  return [
    ...running.map(({ kind, begun }) => ({
      code: "walkRunning" as const,
      facts: { kind, by: begun.by, at_ms: begun.at_ms },
    })),
    ...apart("custodyApart", state.custody.length),
    ...apart("shiftsApart", state.shifts.length),
    ...apart("loadingsApart", state.load.loadings.length),
  ];
}

/** The page for a person who takes over now, for a shift that ends then. */
export function handoverPage(
  state: CraftState,
  reasons: readonly Reason[],
  person: string,
  now_ms: number,
  shiftEnds_ms: number,
): HandoverPage {
  const since_ms = lastShiftEnd(state, person, now_ms);
  const begins = reasons.filter(
    ({ effect, from_ms }) =>
      effect !== "advises" && from_ms !== null && from_ms > now_ms && from_ms <= shiftEnds_ms,
  );
  const flownOut = reasons.filter(
    (reason) => reason.effect === "limits" && reason.code.startsWith("due.") && isActive(reason, now_ms),
  );
  return {
    since_ms,
    changed: changesSince(state, since_ms ?? now_ms - unseen_ms, now_ms),
    ending: [
      ...flownOut.toSorted(compareReasons),
      ...begins.toSorted((a, b) => (a.from_ms ?? 0) - (b.from_ms ?? 0) || compareReasons(a, b)),
    ],
    asked: reasons
      .filter((reason) => isActive(reason, now_ms) && questions.has(reason.remedy.code))
      .toSorted(compareReasons),
    structure: structureOf(state),
  };
}
