// An answer as it is kept, in the shape of its entry; and what has changed in it when the same is asked again.
import type { KeptAnswer } from "../../core/facts/call.ts";
import { msToInstant } from "../../core/facts/instant.ts";
import type { CallAnswer } from "../../core/reach/call.ts";
import type { CallDraft } from "./call-view.ts";
import type { ToldMargin } from "./margin-words.ts";

export type Decision = "accepted" | "declined" | "asked";

const instantOf = (at_ms: number | null): string | null =>
  at_ms === null ? null : msToInstant(Math.round(at_ms));

const short = (text: string): string => text.slice(0, 80);

/** The body of `call.kept`, but for its time. */
export function keptBody(call: string, draft: CallDraft, answer: CallAnswer, decision: Decision): object {
  const { call: asked, margins, stops, fuel, verdict } = answer;
  const place = (role: "scene" | "hospital") => asked.stops.find((stop) => stop.role === role)?.place ?? null;
  const [binding] = margins;
  const kept: KeptAnswer = {
    margins: margins.slice(0, 200).map(({ kind, stop, leg, met, room, unit, what }) => ({
      kind,
      stop,
      leg,
      met,
      room,
      unit,
      what: what === null ? null : short(what),
    })),
    stops: stops.map(({ name, arrive_ms, leave_ms, fuelAtArrival_kg, mass_kg }) => ({
      name: short(name),
      arrive: instantOf(arrive_ms),
      leave: instantOf(leave_ms),
      fuel_kg: fuelAtArrival_kg,
      mass_kg,
    })),
  };
  return {
    call,
    operation: asked.operation,
    typed: draft.place.trim().slice(0, 200),
    scene: place("scene"),
    hospital: place("hospital"),
    departAt: msToInstant(Math.round(asked.depart_ms)),
    inputs: { ...asked },
    verdict,
    binding: binding === undefined ? null : { kind: binding.kind, room: binding.room, unit: binding.unit },
    fuelRequired_kg: fuel?.required_kg ?? null,
    answer: kept,
    decision,
    words: "",
    replaces: [],
  };
}

/** A margin then and now; null where it was not asked then, or is not now. */
export type MarginChange = { readonly before: ToldMargin | null; readonly now: ToldMargin | null };

/** Margins whose words differ, in the order of now; those that are gone after them. */
export function marginChanges(
  earlier: readonly ToldMargin[],
  now: readonly ToldMargin[],
  say: (margin: ToldMargin) => string,
): readonly MarginChange[] {
  const keyed = (margins: readonly ToldMargin[]): ReadonlyMap<string, ToldMargin> => {
    const held = new Map<string, ToldMargin>();
    // Of several of one kind at one stop the first binds.
    for (const margin of margins) {
      const key = `${margin.kind} ${margin.stop} ${margin.leg} ${margin.what}`;
      if (!held.has(key)) held.set(key, margin);
    }
    return held;
  };
  const [before, after] = [keyed(earlier), keyed(now)];
  const changed = [...after].flatMap(([key, margin]): MarginChange[] => {
    const old = before.get(key) ?? null;
    return old !== null && say(old) === say(margin) ? [] : [{ before: old, now: margin }];
  });
  const gone = [...before].flatMap(([key, margin]): MarginChange[] =>
    after.has(key) ? [] : [{ before: margin, now: null }],
  );
  return [...changed, ...gone];
}
