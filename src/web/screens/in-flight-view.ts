// What the screen In flight holds while the app is open: which kept call is flown, where in it the craft is, and what was
// typed. Times are worked out from the plan until somebody says otherwise. Where it is, and masses that were said, outlive the
// page; fuel and minutes to go do not: of a while ago they would pass for now.
import type { CallKept } from "../../core/facts/call.ts";
import { minute_ms } from "../../core/facts/instant.ts";
import type { Call, CallAnswer } from "../../core/reach/call.ts";
import { fromHere, placeOnLeg } from "../../core/reach/in-flight.ts";
import { keptCall } from "../../core/reach/kept-call.ts";

/** On the way to the stop, or standing at it. */
export type Phase = { readonly stop: number; readonly isThere: boolean };

export type FlightSaid = {
  /** Null: as the plan has it by the clock. */
  readonly phase: Phase | null;
  readonly toGo: string | null;
  readonly fuel: string;
  readonly second: string | null;
  /** Masses that are known, by seat or stretcher. */
  readonly known: Readonly<Record<string, string>>;
};

const nothingSaid: FlightSaid = { phase: null, toGo: null, fuel: "", second: null, known: {} };

const flown = new Map<string, string>();
const said = new Map<string, FlightSaid>();

/** The call that is flown with a craft from now on; all that was said of another one is another one's. */
export function chooseFlown(ledger: string, call: string): void {
  flown.set(ledger, call);
}

const keptAs = "preen.flight";

export function heldFlight(call: string): FlightSaid {
  return said.get(call) ?? storedFlight(call) ?? nothingSaid;
}

export function holdFlight(call: string, held: FlightSaid): void {
  said.set(call, held);
  const { phase, second, known } = held;
  localStorage.setItem(keptAs, JSON.stringify({ call, phase, second, known }));
}

/** Of the call that was flown last; null for another one. */
function storedFlight(call: string): FlightSaid | null {
  try {
    const stored = JSON.parse(localStorage.getItem(keptAs) ?? "null") as
      | (Pick<FlightSaid, "phase" | "second" | "known"> & { readonly call: string })
      | null;
    if (stored === null || stored.call !== call) return null;
    const { phase, second, known } = stored;
    return { ...nothingSaid, phase, second, known };
  } catch {
    // What cannot be read was not said.
    return null;
  }
}

/** The call that was chosen, or else the newest that was accepted and can be read. */
export function flownCall(
  ledger: string,
  calls: readonly CallKept[],
): { readonly kept: CallKept; readonly call: Call } | null {
  const chosen = calls.filter(({ call }) => call === flown.get(ledger));
  const accepted = calls.filter(({ decision }) => decision === "accepted");
  const newest = [...(chosen.length > 0 ? chosen : accepted)].toSorted((a, b) => b.at_ms - a.at_ms);
  for (const kept of newest) {
    const call = keptCall(kept.inputs);
    if (call !== null) return { kept, call };
  }
  return null;
}

/** Where the plan has the craft at an instant; before its start on the way to its first stop. */
export function phaseAt({ stops }: CallAnswer, at_ms: number): Phase {
  const last = stops.length - 2;
  for (let stop = 0; stop <= last; stop += 1) {
    const { arrive_ms, leave_ms } = stops[stop + 1]!;
    if (arrive_ms === null || at_ms < arrive_ms) return { stop, isThere: false };
    if (stop < last && leave_ms !== null && at_ms < leave_ms) return { stop, isThere: true };
  }
  return { stop: last, isThere: true };
}

export function nextPhase({ stop, isThere }: Phase, { call }: CallAnswer): Phase | null {
  if (!isThere) return { stop, isThere: true };
  return stop < call.stops.length - 1 ? { stop: stop + 1, isThere: false } : null;
}

/** Minutes to the next stop by the plan: from the clock while it is on time, the whole leg at most. */
export function plannedToGo(plan: CallAnswer, { stop, isThere }: Phase, at_ms: number): number {
  if (isThere) return 0;
  const arrive_ms = plan.stops[stop + 1]?.arrive_ms ?? null;
  const whole = plan.legs[stop]?.time_min ?? 0;
  if (arrive_ms === null) return Math.ceil(whole);
  return Math.max(1, Math.min(Math.ceil(whole), Math.ceil((arrive_ms - at_ms) / minute_ms)));
}

/** The instant of the plan at which it has as far to go. */
export function planInstant(plan: CallAnswer, { stop }: Phase, toGo_min: number): number | null {
  const arrive_ms = plan.stops[stop + 1]?.arrive_ms ?? null;
  return arrive_ms === null ? null : arrive_ms - toGo_min * minute_ms;
}

/** What is left of the call from where the craft is, with so much fuel; null where its place on the leg is not known. */
export function restOf(
  plan: CallAnswer,
  { stop }: Phase,
  toGo_min: number,
  fuel_kg: number,
  at_ms: number,
): Call | null {
  const position = placeOnLeg(plan, stop, toGo_min);
  return position === null ? null : fromHere(plan.call, { nextStop: stop, at_ms, position, fuel_kg });
}
