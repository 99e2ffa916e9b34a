// What the record knows of a flight that is to be logged: a draft with what is known, by whom it is known, and what has to
// be asked. In: the sheet, the record, the operator's settings and the time. Out: each figure or null. Nothing is guessed:
// a figure that only usually holds (one start, no night landing) is asked.
//
// From a flight begun: take-off, kind of flying, crew. From the shift: the crew. From the hour meter, read before and after:
// the hours between. From a hoist that is not installed: no cycles. Of goggles: none where no operation asks for them.
import type { CraftState, FlightBegun } from "../facts/craft.ts";
import type { Sheet } from "../sheet/schema.ts";
import { own } from "../facts/own.ts";
import { meterRead } from "./hour-meter.ts";

/** Where a figure is from. */
export type DraftSource = "begun" | "shift" | "meter" | "notInstalled";
export type Drafted<Value> = { readonly value: Value; readonly from: DraftSource } | null;

export type FlightDraft = {
  /** The flight that was begun; null for one that nobody announced. */
  readonly begun: FlightBegun | null;
  readonly off_ms: Drafted<number>;
  readonly operation: Drafted<string>;
  readonly crew: Drafted<readonly string[]>;
  readonly hoistCycles: Drafted<number>;
  /** Hours that the meter moved since the record last agreed with it; a second opinion beside the times, never their place. */
  readonly meter_h: Drafted<number>;
};

function onDuty({ shifts }: CraftState, at_ms: number): readonly string[] {
  const people = shifts
    .filter(({ from_ms, until_ms }) => from_ms <= at_ms && at_ms < until_ms)
    .flatMap(({ people: of }) => of.map(({ person }) => person));
  return [...new Set(people)];
}

/** The draft of the flight begun first and not logged, or of one that nobody announced. */
export function flightDraft(sheet: Sheet, state: CraftState, now_ms: number): FlightDraft {
  const [begun = null] = state.underway.toSorted(
    (a, b) => a.off_ms - b.off_ms || (a.entry < b.entry ? -1 : 1),
  );
  const crew = begun?.crew ?? onDuty(state, now_ms);
  const from = begun === null ? "shift" : "begun";
  const hoists = sheet.hoist === undefined ? [] : [sheet.hoist.equipment];
  const hasNone = hoists.every((equipment) => {
    const facts = own(state.equipment, equipment) ?? [];
    return facts.length > 0 && facts.every(({ installed }) => !installed);
  });
  const latest = meterRead(sheet, state, 0)?.latest;
  const moved_h = latest?.counted == null ? null : latest.reading.value - latest.counted;
  return {
    begun,
    off_ms: begun === null ? null : { value: begun.off_ms, from },
    operation: begun === null ? null : { value: begun.operation, from },
    crew: crew.length === 0 ? null : { value: crew, from },
    hoistCycles: hasNone ? { value: 0, from: "notInstalled" } : null,
    meter_h:
      moved_h !== null && moved_h > 0 && (begun === null || latest!.reading.at_ms > begun.off_ms)
        ? { value: Number(moved_h.toFixed(2)), from: "meter" }
        : null,
  };
}
