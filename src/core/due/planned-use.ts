// What a planned call would use up, and whether something is due during it: in hours, landings, starts, hoist cycles and
// days, on every task, part, obligation and deferral. In: the sheet, the record, what the call takes and when it lands.
// Out: one line for each matter that the call touches, with what is left before and after.
//
// Source: AMC M.A.301(a) 1(b): nothing becomes due during the flight. A limit reached exactly at landing is met (law 6);
// one passed in the air forbids. A deferral by days that lapses before landing is pointed out or forbidden as the
// operator's manual says (no source settles it); one by flights, cycles or hours forbids. What is not known is not known.
import { endOfDate } from "../facts/calendar.ts";
import type { CraftState } from "../facts/craft.ts";
import { counterNames } from "../facts/due.ts";
import type { CounterName, Counters } from "../facts/due.ts";
import type { Reason, Source } from "../facts/reason.ts";
import { keptByRecord } from "../facts/kept.ts";
import type { OperatorSettings, Situation } from "../facts/situation.ts";
import { above } from "../quantity/compare.ts";
import type { Operation, ReferenceCall } from "../sheet/flight-blocks.ts";
import type { Sheet } from "../sheet/schema.ts";
import { dueItems, leftOf } from "./assess-due.ts";
import { countersNow } from "./counters.ts";

/** What a call takes: its flights, what they add to the counters, and when it lands for the last time. */
export type PlannedUse = Counters & { readonly flights: number; readonly on_ms: number };

export type UsedUp = {
  readonly key: string;
  readonly facts: Reason["facts"];
  readonly takesAway: Reason["operations"];
  readonly source: Source;
  readonly evidence: readonly string[];
  /** On which counter, or by `date`. */
  readonly by: CounterName | "date";
  /** Before the call and after it; null where it is not known, or by date. */
  readonly left: number | null;
  readonly leaves: number | null;
  /** `inFlight`: due between take-off and landing; `fits`: after it; `notKnown`. */
  readonly answer: "fits" | "inFlight" | "notKnown";
};

/** Every matter that the call touches, in the order of sheet and record. */
export function usedUpBy(
  sheet: Sheet,
  state: CraftState,
  use: PlannedUse,
  { zone }: Pick<OperatorSettings, "zone">,
): readonly UsedUp[] {
  const now = countersNow(state);
  return dueItems(sheet, state).flatMap(({ key, facts, takesAway, source, evidence, ...item }): UsedUp[] => {
    const of = { key, facts, takesAway, source, evidence };
    if (!item.known || now === null)
      return [{ ...of, by: "date", left: null, leaves: null, answer: "notKnown" }];
    const counted = leftOf(item.limit, now).flatMap(({ name, left }): UsedUp[] => {
      if (use[name] === 0) return [];
      if (left === null) return [{ ...of, by: name, left, leaves: null, answer: "notKnown" }];
      const isPast = above(use[name], left) || !above(left, 0);
      return [{ ...of, by: name, left, leaves: left - use[name], answer: isPast ? "inFlight" : "fits" }];
    });
    const { lastDay } = item.limit;
    const isOver = lastDay !== null && above(use.on_ms, endOfDate(lastDay, zone));
    const dated: UsedUp[] =
      lastDay === null
        ? []
        : [{ ...of, by: "date", left: null, leaves: null, answer: isOver ? "inFlight" : "fits" }];
    return [...counted, ...dated];
  });
}

/** What a series of so much flying would pass: such a series has to be logged flight by flight. */
export function passedBy(sheet: Sheet, state: CraftState, used: Partial<Counters>): readonly UsedUp[] {
  const use = Object.fromEntries(counterNames.map((name) => [name, used[name] ?? 0])) as Counters;
  return usedUpBy(
    sheet,
    state,
    { ...use, flights: 1, on_ms: Number.NEGATIVE_INFINITY },
    { zone: "UTC" },
  ).filter(({ answer }) => answer === "inFlight");
}

/** What a sheet's reference call takes at cruise: airborne on scene as well, since a hover counts as flight. */
export function referenceUse(sheet: Sheet, call: ReferenceCall, now_ms: number): PlannedUse {
  const legs = [call.toScene_nm, call.toHospital_nm, call.toBase_nm].filter((distance) => distance > 0);
  const flown_h = legs.reduce((sum, distance) => sum + distance / sheet.speeds.cruise_kt, 0);
  const flightHours_h = flown_h + call.onScene_min / 60;
  return {
    flightHours_h,
    landings: legs.length,
    starts: 1,
    hoistCycles: call.hoistLoad_kg === undefined ? 0 : 1,
    flights: legs.length,
    on_ms: now_ms + flightHours_h * 3_600_000,
  };
}

function reasonOf(
  { facts, takesAway: _takesAway, source, evidence, by, left }: UsedUp,
  operation: Operation,
): Reason {
  return {
    code: "due.duringCall",
    effect: "blocks",
    operations: [operation.id],
    from_ms: null,
    until_ms: null,
    source,
    evidence,
    remedy: { code: "due.do", clearance: "someone" },
    facts: { ...facts, counter: by, left },
  };
}

/**
 * What each operation's reference call would pass in the air: it forbids that operation where it is not due already. By
 * date nothing is said here: the day's own reason begins when it is over.
 */
export function assessPlannedUse(sheet: Sheet, state: CraftState, { settings }: Situation): Reason[] {
  return [...keptReasons(sheet, state, settings)];
}

const keptReasons = keptByRecord<Sheet, Pick<OperatorSettings, "zone">, readonly Reason[]>(
  dueInFlight,
  ({ zone }) => zone,
);

function dueInFlight(
  sheet: Sheet,
  state: CraftState,
  settings: Pick<OperatorSettings, "zone">,
): readonly Reason[] {
  return sheet.operations.flatMap((operation) => {
    if (operation.referenceCall === undefined) return [];
    const use = referenceUse(sheet, operation.referenceCall, 0);
    return usedUpBy(sheet, state, use, settings)
      .filter(
        ({ answer, by, left, takesAway }) =>
          answer === "inFlight" &&
          by !== "date" &&
          left !== null &&
          above(left, 0) &&
          (takesAway === "all" || takesAway.includes(operation.id)),
      )
      .map((used) => reasonOf(used, operation));
  });
}
