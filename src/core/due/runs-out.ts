// Everything that runs out on a craft in one list, what ends first on top: by date, or by when the craft's own use will
// have flown what is left (forecast-use.ts). What is not known comes before everything that is.
import { dateAt, dateLater, endOfDate } from "../facts/calendar.ts";
import type { ZoneId } from "../facts/calendar.ts";
import type { CraftState, FlightFact } from "../facts/craft.ts";
import type { CounterName } from "../facts/due.ts";
import type { Reason } from "../facts/reason.ts";
import type { Sheet } from "../sheet/schema.ts";
import { dueItems, leftOf } from "./assess-due.ts";
import { countersNow } from "./counters.ts";
import { forecastUse } from "./forecast-use.ts";
import type { UseForecast } from "./forecast-use.ts";

export type RunsOut = {
  readonly key: string;
  /** The facts by which reasons name the matter: task, component and serial, words, or deferral and number. */
  readonly facts: Reason["facts"];
  readonly known: boolean;
  readonly lastDay: string | null;
  /** When the last day is over. */
  readonly over_ms: number | null;
  readonly left: readonly { readonly name: CounterName; readonly left: number | null }[];
  /** Days until the hours left will have been flown; null where nothing can be said. */
  readonly forecast: UseForecast | null;
  /** By which the list is sorted: the earlier of date and expected use, in ms; null: not known. */
  readonly ends_ms: number | null;
};

const day_ms = 86_400_000;
const lookBack_d = 90;

/** Hours flown on each of the last days, zeros included, from the first flight in the record on. */
export function dailyHours(flights: readonly FlightFact[], now_ms: number, zone: ZoneId): readonly number[] {
  const first_ms = Math.min(...flights.map(({ off_ms }) => off_ms));
  if (!Number.isFinite(first_ms)) return [];
  const today = dateAt(now_ms, zone);
  const hours = new Map<string, number>();
  for (const { off_ms, flight_h } of flights) {
    const day = dateAt(off_ms, zone);
    hours.set(day, (hours.get(day) ?? 0) + flight_h);
  }
  const from = dateAt(first_ms, zone);
  const days: number[] = [];
  for (let back = 1; back <= lookBack_d; back += 1) {
    const day = dateLater(today, { days: -back });
    if (day < from) break;
    days.push(hours.get(day) ?? 0);
  }
  return days;
}

export function runsOut(sheet: Sheet, state: CraftState, now_ms: number, zone: ZoneId): readonly RunsOut[] {
  const now = countersNow(state);
  const daily = dailyHours(state.flights, now_ms, zone);
  const rows = dueItems(sheet, state).map(({ key, facts, ...item }): RunsOut => {
    if (!item.known || now === null)
      return {
        key,
        facts,
        known: false,
        lastDay: null,
        over_ms: null,
        left: [],
        forecast: null,
        ends_ms: null,
      };
    const { lastDay } = item.limit;
    const over_ms = lastDay === null ? null : endOfDate(lastDay, zone);
    const left = leftOf(item.limit, now);
    const hours = left.find(({ name }) => name === "flightHours_h")?.left ?? null;
    const forecast = hours === null ? null : forecastUse(daily, hours);
    const known = left.every((one) => one.left !== null);
    const isOver = left.some((one) => one.left !== null && one.left <= 0);
    const ends = [
      ...(over_ms === null ? [] : [over_ms]),
      ...(forecast === null ? [] : [now_ms + forecast.expected_d * day_ms]),
      ...(isOver ? [now_ms] : []),
    ];
    return {
      key,
      facts,
      known,
      lastDay,
      over_ms,
      left,
      forecast,
      ends_ms: known ? (ends.length === 0 ? Number.POSITIVE_INFINITY : Math.min(...ends)) : null,
    };
  });
  return rows.toSorted(
    (a, b) =>
      compareEnds(a, b) || leastHours(a) - leastHours(b) || (a.key < b.key ? -1 : a.key > b.key ? 1 : 0),
  );
}

function compareEnds(a: RunsOut, b: RunsOut): number {
  const [one, other] = [a.ends_ms ?? -Infinity, b.ends_ms ?? -Infinity];
  // Of two that end nobody knows when neither is the earlier.
  return one === other ? 0 : one - other;
}

/** Of those whose end in days nothing forecasts, the one with the fewest hours left first. */
const leastHours = ({ left }: RunsOut): number =>
  left.find(({ name }) => name === "flightHours_h")?.left ?? Number.MAX_VALUE;
