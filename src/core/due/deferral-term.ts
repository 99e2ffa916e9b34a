// How long a deferral holds: by calendar days, and for category A by what the list says besides (flights, flight cycles,
// hours, flight days), whichever is over first; with the one extension that the rule set allows.
//
// Days count from the day of recording, excluded; re-entry keeps the first date (AMC M.A.403(d)). Flights, cycles and
// hours count from the deferral itself; flight days are days, other than that of recording, on which a flight starts.
// Source: FAA Policy Letter 25 Rev 24, pp. 5 and 7; ORO.MLR.105(e)(f). Extension: deferral-rules.ts.
// Where nothing says how long it may last, `counted` is false: nothing is known of its end.
import type { DeferralStep, FlightFact } from "../facts/craft.ts";
import { dateAt, endOfDate } from "../facts/calendar.ts";
import type { OperatorSettings } from "../facts/situation.ts";
import { deferralRulesOf } from "../rules/deferral-rules.ts";
import type { DeferralCategory } from "../rules/deferral-rules.ts";
import type { Deferral } from "../sheet/finding-blocks.ts";
import { deferralDeadline } from "./deferral-deadline.ts";

export type DeferralTerm = {
  /** Whether anything says how long it may last. */
  readonly counted: boolean;
  readonly recorded_ms: number;
  /** The last day on which it holds, where days decide. */
  readonly lastDay: string | null;
  /** From here on it no longer holds; null where only flying ends it and has not yet. */
  readonly expires_ms: number | null;
  /** What is left of flights, cycles and hours; none means none may begin. */
  readonly left: readonly { readonly of: "flights" | "cycles" | "flightHours_h"; readonly left: number }[];
  readonly extended: boolean;
  /** Extensions that the rule set does not allow: they count for nothing. */
  readonly invalidExtensions: readonly string[];
};

export type DeferralRecord = {
  readonly recorded_ms: number;
  readonly deferred_ms: number;
  readonly steps: readonly DeferralStep[];
  readonly flights: readonly FlightFact[];
};

/** When the defect was recorded first: a re-entry brings an earlier date, never a later one. */
export function firstRecorded(raised_ms: number, steps: readonly DeferralStep[]): number {
  return steps.reduce(
    (first, step) => (step.step === "reEntered" ? Math.min(first, step.firstRecorded_ms) : first),
    raised_ms,
  );
}

type Extended = Extract<DeferralStep, { step: "extended" }>;

function mayExtend(extension: Extended, category: DeferralCategory, { ruleSet }: OperatorSettings): boolean {
  if (ruleSet === undefined || ruleSet === null || extension.role !== "airworthiness") return false;
  const { categories, conditions } = deferralRulesOf(ruleSet).extension;
  return categories.includes(category) && conditions.every((condition) => extension[condition]);
}

/** The first allowed extension by time; every other one, allowed or not, counts for nothing. */
function extensionOf(
  steps: readonly DeferralStep[],
  category: DeferralCategory,
  settings: OperatorSettings,
): { valid: Extended | null; invalid: string[] } {
  const all = steps
    .filter((step) => step.step === "extended")
    .toSorted((a, b) => a.at_ms - b.at_ms || (a.entry < b.entry ? -1 : 1));
  const valid = all.find((one) => mayExtend(one, category, settings)) ?? null;
  return { valid, invalid: all.filter((one) => one !== valid).map(({ entry }) => entry) };
}

const intervalDays = { B: 3, C: 10, D: 120 } as const;

/** Calendar days that a deferral of the list holds; null where days do not decide. */
export function intervalDaysOf({ category, interval_days }: Deferral): number | null {
  return category === "A" ? (interval_days ?? null) : intervalDays[category];
}

/** The end of the last allowed flight day; null while flight days are left. */
function flightDaysOver(
  allowed: number,
  { recorded_ms, flights }: DeferralRecord,
  { zone }: OperatorSettings,
): number | null {
  const first = dateAt(recorded_ms, zone);
  const days = [...new Set(flights.map(({ off_ms }) => dateAt(off_ms, zone)))]
    .filter((day) => day > first)
    .toSorted();
  const last = days[allowed - 1];
  return last === undefined ? null : endOfDate(last, zone);
}

export function deferralTerm(
  deferral: Deferral,
  record: DeferralRecord,
  settings: OperatorSettings,
): DeferralTerm {
  const { zone } = settings;
  const { category } = deferral;
  const recorded_ms = firstRecorded(record.recorded_ms, record.steps);
  const days = intervalDaysOf(deferral);
  const { valid, invalid } = extensionOf(record.steps, category, settings);
  const byDays =
    days === null ? null : deferralDeadline(recorded_ms, zone, "A", valid === null ? days : 2 * days);
  const since = record.flights.filter(({ on_ms }) => on_ms > record.deferred_ms);
  const used = {
    flights: since.reduce((sum, { legs }) => sum + legs, 0),
    cycles: since.reduce((sum, { landings }) => sum + landings, 0),
    flightHours_h: since
      .map(({ flight_h }) => flight_h)
      .toSorted((a, b) => a - b)
      .reduce((sum, hours) => sum + hours, 0),
  };
  const allowed = {
    flights: deferral.interval_flights,
    cycles: deferral.interval_cycles,
    flightHours_h: deferral.interval_h,
  };
  const left = (["flights", "cycles", "flightHours_h"] as const).flatMap((of) => {
    const most = allowed[of];
    return most === undefined ? [] : [{ of, left: most - used[of] }];
  });
  const byFlightDays =
    deferral.interval_flightDays === undefined
      ? null
      : flightDaysOver(deferral.interval_flightDays, { ...record, recorded_ms }, settings);
  const ends = [byDays?.expires_ms ?? null, byFlightDays].filter((end) => end !== null);
  return {
    counted: byDays !== null || left.length > 0 || deferral.interval_flightDays !== undefined,
    recorded_ms,
    lastDay: byDays?.lastDay ?? null,
    expires_ms: ends.length === 0 ? null : Math.min(...ends),
    left,
    extended: valid !== null,
    invalidExtensions: invalid,
  };
}
