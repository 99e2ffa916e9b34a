// For tests: small facts to judge what runs out by.
import type { CraftState, FindingFacts, FlightFact } from "../facts/craft.ts";
import { emptyCraft } from "../facts/craft.ts";
import { counterNames } from "../facts/due.ts";
import type { Counters } from "../facts/due.ts";
import { hour_ms } from "../facts/instant.ts";
import type { Situation } from "../facts/situation.ts";

export const morning_ms = Date.UTC(2026, 1, 4, 6);

let made = 0;
export function said(at_ms: number = morning_ms) {
  made += 1;
  return { entry: made.toString(16).padStart(64, "0"), by: "p-one", at_ms };
}

export function counters(some: Partial<Counters> = {}): Counters {
  return { ...(Object.fromEntries(counterNames.map((name) => [name, 0])) as Counters), ...some };
}

export function flight(off_ms: number, flight_h: number, more: Partial<FlightFact> = {}): FlightFact {
  const on_ms = off_ms + flight_h * hour_ms;
  return {
    ...said(on_ms),
    flight: `flight-${made}`,
    off_ms,
    on_ms,
    flight_h,
    landings: 1,
    hoistCycles: 0,
    starts: 1,
    nightLandings: 0,
    nvis: false,
    instrument_min: 0,
    nightHoistCycles: 0,
    legs: 1,
    exceedance: "none",
    operation: "dayVfr",
    crew: ["p-one"],
    ...more,
  };
}

export function based(
  at_ms: number,
  some: Partial<Counters>,
  flights: readonly FlightFact[] = [],
): CraftState {
  const base = { ...said(at_ms), counters: counters(some), why: "opening balance" };
  const release = {
    ...said(at_ms),
    licence: "66-1",
    dataRevision: "revision 1",
    limitations: "",
    takesAway: [],
    lifts: [],
    worked: [],
    words: "",
  };
  return { ...emptyCraft, flights, releases: [release], due: { ...emptyCraft.due, bases: [base] } };
}

export function situation(now_ms: number, more: Partial<Situation["settings"]> = {}): Situation {
  return {
    now_ms,
    horizon_ms: now_ms + 72 * hour_ms,
    settings: { zone: "Europe/Oslo", exchangeLimit_min: 240, ruleSet: "eu", ...more },
    record: { newest_ms: now_ms, aside: [], exchanged_ms: now_ms, unsent: 0 },
  };
}

export function deferred(
  deferral: string,
  recorded_ms: number,
  steps: FindingFacts["deferralSteps"] = [],
): FindingFacts {
  const raised = {
    ...said(recorded_ms),
    kind: "other",
    stop: "nose",
    item: null,
    walk: null,
    measure: null,
    words: "",
    damage: null,
    photos: [],
    seenOn: null,
  } as const;
  return {
    finding: `finding-${made}`,
    raised,
    judgements: [
      { ...said(recorded_ms), outcome: "defer", role: "pilot", words: "", deferral, again: null, seen: [] },
    ],
    deferralSteps: steps,
    seenAgain: [],
    measured: [],
    steps: [],
    references: [],
    closed: [],
    reopened: [],
  };
}
