// Rest under the US rules beyond the one before a duty: 13 rest periods in the quarter, rest inside an assignment, and the
// longer rest after hours that were exceeded and after an assignment. In: rest as it was recorded, flights, shifts. Out:
// reasons' own parts, each with the instant from which it binds, so that the last hour of a shift is judged as the first.
//
// 14 CFR 135.267(g), 135.271(i) (text): 13 rest periods of at least 24 consecutive hours in each calendar quarter. What was
// recorded counts, one period for each record of that length inside the quarter; records that overlap are one. Flying may
// go on as long as what is missing still fits in what is left of the quarter in whole days, and not an instant longer.
// 14 CFR 135.271(d) (text): 8 consecutive hours of rest in any 24 of an assignment, else relieved: 16 h after the last one.
// 14 CFR 135.267(f) (text): 11, 12 or 16 h after 8 h (two pilots: 10 h) in 24 were exceeded by up to 30, 60, more minutes.
// 14 CFR 135.271(h) (text): 12 h after an assignment under 48 h, else 16. Of one of unknown length the longer is asked.
import { dateAt, dateLater, startOfDate } from "../facts/calendar.ts";
import type { ZoneId } from "../facts/calendar.ts";
import type { FlightFact } from "../facts/craft.ts";
import type { RestPeriod, Shift } from "../facts/crew.ts";
import { hour_ms } from "../facts/instant.ts";
import type { Reason } from "../facts/reason.ts";
import { atLeast } from "../quantity/compare.ts";
import { usAssignment, usFlightHours, usRestAfterAssignment, usRestAfterExceeding } from "./duty.ts";
import { quarterStart } from "./us-flight-hours.ts";

type Parts = Pick<Reason, "code" | "effect" | "facts"> & Partial<Pick<Reason, "from_ms" | "until_ms">>;

const day_ms = 24 * hour_ms;

export type RestAsked = {
  readonly person: string;
  readonly rests: readonly RestPeriod[];
  readonly zone: ZoneId;
  readonly shift: Pick<Shift, "from_ms" | "until_ms">;
};

/** Records that overlap are one rest; one that only follows on another is a period of its own. */
function apart(rests: readonly RestPeriod[]): { readonly from_ms: number; readonly until_ms: number }[] {
  const found: { from_ms: number; until_ms: number }[] = [];
  for (const { from_ms, until_ms } of rests.toSorted(
    (a, b) => a.from_ms - b.from_ms || a.until_ms - b.until_ms,
  )) {
    const last = found.at(-1);
    if (last !== undefined && from_ms < last.until_ms) last.until_ms = Math.max(last.until_ms, until_ms);
    else found.push({ from_ms, until_ms });
  }
  return found;
}

const mine = ({ person, rests }: RestAsked): readonly RestPeriod[] =>
  rests.filter((rest) => rest.person === person);

/** From when on too few of the quarter's rest periods can still be had. */
export function quarterRestReasons(asked: RestAsked): readonly Parts[] {
  const { person, zone, shift } = asked;
  const first = quarterStart(dateAt(shift.from_ms, zone));
  const ends = dateLater(first, { months: 3 });
  const [begins_ms, ends_ms] = [startOfDate(first, zone), startOfDate(ends, zone)];
  const taken = apart(mine(asked)).filter(({ from_ms, until_ms }) => {
    const inside_ms = Math.min(until_ms, ends_ms, shift.from_ms) - Math.max(from_ms, begins_ms);
    return inside_ms >= day_ms;
  }).length;
  const missing = usFlightHours.quarterRestPeriods - taken;
  if (missing <= 0) return [];
  const facts = { person, taken, needed: usFlightHours.quarterRestPeriods, quarterEnds: ends };
  return [
    {
      code: "crew.restPeriodsFew",
      effect: "blocks",
      from_ms: ends_ms - missing * day_ms,
      until_ms: ends_ms,
      facts,
    },
  ];
}

/** From when on 24 hours of the assignment lie behind without 8 consecutive hours of rest. */
export function assignmentRestReasons(
  asked: RestAsked,
  lastDutyEnd_ms: number,
  now_ms: number,
): readonly Parts[] {
  const { person, shift } = asked;
  const rest_ms = usAssignment.restInAny24_h * hour_ms;
  const before = { from_ms: lastDutyEnd_ms, until_ms: shift.from_ms };
  const rested = [before, ...mine(asked).filter(({ until_ms }) => until_ms <= now_ms)].filter(
    ({ from_ms, until_ms }) => until_ms - from_ms >= rest_ms && until_ms >= shift.from_ms,
  );
  const last_ms = Math.max(...rested.map(({ until_ms }) => until_ms));
  const relieved_ms = (rested.length === 0 ? shift.from_ms : last_ms) + day_ms - rest_ms;
  if (relieved_ms >= shift.until_ms) return [];
  const facts = { person, rest_h: usAssignment.restInAny24_h };
  return [{ code: "crew.restInAssignment", effect: "blocks", from_ms: relieved_ms, facts }];
}

/** Hours of rest that flying too much in 24 h asks before the next duty; 0 where nothing was exceeded. */
export function restAfterFlying(
  person: string,
  flights: readonly FlightFact[],
  licensed: ReadonlySet<string>,
  { from_ms, lastDutyEnd_ms }: { readonly from_ms: number; readonly lastDutyEnd_ms: number },
): number {
  const own = flights.filter(({ crew, on_ms }) => crew.includes(person) && on_ms <= from_ms);
  return own
    .filter(({ on_ms }) => on_ms > lastDutyEnd_ms - day_ms)
    .reduce((most, { on_ms, crew }) => {
      const flown_h = own
        .filter((one) => one.on_ms > on_ms - day_ms && one.on_ms <= on_ms)
        .map(({ flight_h }) => flight_h)
        .toSorted((a, b) => a - b)
        .reduce((sum, hours) => sum + hours, 0);
      const pilots = crew.filter((one) => licensed.has(one)).length;
      const limit_h = pilots >= 2 ? usFlightHours.twoPilotsIn24h : usFlightHours.onePilotIn24h;
      if (atLeast(limit_h, flown_h)) return most;
      return Math.max(most, usRestAfterExceeding((flown_h - limit_h) * 60) ?? 0);
    }, 0);
}

/** Hours of rest after the assignment before; the longer where nobody recorded how long it was. */
export function restAfterAssignment(person: string, shifts: readonly Shift[], from_ms: number): number {
  const before = shifts
    .filter(({ until_ms, people }) => until_ms <= from_ms && people.some((one) => one.person === person))
    .toSorted((a, b) => b.until_ms - a.until_ms)[0];
  const assigned_h = before === undefined ? Infinity : (before.until_ms - before.from_ms) / hour_ms;
  return usRestAfterAssignment(assigned_h);
}
