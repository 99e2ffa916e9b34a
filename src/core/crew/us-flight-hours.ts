// Flight hours of a pilot under the US rules: what is left, and from when on there is some again. In: flights of the
// operator's craft, flying elsewhere as recorded. Out: reasons' own parts.
//
// 14 CFR 135.267 (text): 500 h in a calendar quarter, 800 h in two consecutive quarters, 1400 h in a calendar year; 8 h in
// any 24 consecutive hours with one pilot, 10 h with two. Days by the operator's zone. Flying elsewhere has to be stated in
// the calendar year, nought included, or the hours are not known; a day stated without hours makes them not known too.
// A flight counts in the 24 hours as long as any of it lies within them, and then whole: never too little.
import { dateAt, dateLater, endOfDate, startOfDate } from "../facts/calendar.ts";
import type { ZoneId } from "../facts/calendar.ts";
import type { FlightFact } from "../facts/craft.ts";
import type { Experience } from "../facts/crew.ts";
import { hour_ms } from "../facts/instant.ts";
import type { Reason } from "../facts/reason.ts";
import { above } from "../quantity/compare.ts";
import { usFlightHours } from "./duty.ts";

export type HoursAsked = {
  readonly person: string;
  readonly flights: readonly FlightFact[];
  readonly experience: readonly Experience[];
  /** On duty together. */
  readonly pilots: number;
  readonly zone: ZoneId;
  readonly now_ms: number;
};

type Parts = Pick<Reason, "code" | "effect" | "facts"> & Partial<Pick<Reason, "limit" | "until_ms">>;

const day_ms = 24 * hour_ms;

/** The first date of the quarter that holds a date, and of the one before. */
export function quarterStart(date: string, back = 0): string {
  const month = Math.floor((Number(date.slice(5, 7)) - 1) / 3) * 3 + 1;
  return dateLater(`${date.slice(0, 4)}-${String(month).padStart(2, "0")}-01`, { months: -3 * back });
}

type Window = {
  readonly of: "in24h" | "quarter" | "twoQuarters" | "year";
  readonly most_h: number;
  readonly used_h: number;
  /** When the window lets hours go. */
  readonly again_ms: number;
};

function windowsOf({ person, flights, experience, pilots, zone, now_ms }: HoursAsked): readonly Window[] {
  const mine = flights.filter(({ crew }) => crew.includes(person));
  const today = dateAt(now_ms, zone);
  const sumOf = (hours: readonly number[]): number =>
    hours.toSorted((a, b) => a - b).reduce((sum, one) => sum + one, 0);
  const since = (from: string): number =>
    sumOf([
      ...mine.filter(({ on_ms }) => on_ms > startOfDate(from, zone)).map(({ flight_h }) => flight_h),
      ...experience.filter(({ on }) => on >= from && on <= today).map(({ flight_h }) => flight_h ?? 0),
    ]);
  // Each with the instant from which it lies more than a day back; a day elsewhere only when the day after it is over.
  const recent = [
    ...mine.map(({ on_ms, flight_h }) => ({ until_ms: on_ms + day_ms, flight_h })),
    ...experience
      .filter(({ on }) => on <= today)
      .map(({ on, flight_h }) => ({
        until_ms: endOfDate(dateLater(on, { days: 1 }), zone),
        flight_h: flight_h ?? 0,
      })),
  ]
    .filter(({ until_ms }) => until_ms > now_ms)
    .toSorted((a, b) => a.until_ms - b.until_ms);
  const in24h_h = pilots >= 2 ? usFlightHours.twoPilotsIn24h : usFlightHours.onePilotIn24h;
  const usedFrom = (index: number): number => sumOf(recent.slice(index).map(({ flight_h }) => flight_h));
  const lets = recent.find((_, index) => above(in24h_h, usedFrom(index + 1)));
  const quarter = quarterStart(today);
  const quarterEnd_ms = startOfDate(dateLater(quarter, { months: 3 }), zone);
  const year = `${today.slice(0, 4)}-01-01`;
  return [
    {
      of: "in24h",
      most_h: in24h_h,
      used_h: usedFrom(0),
      again_ms: lets?.until_ms ?? now_ms,
    },
    { of: "quarter", most_h: usFlightHours.quarter, used_h: since(quarter), again_ms: quarterEnd_ms },
    {
      of: "twoQuarters",
      most_h: usFlightHours.twoQuarters,
      used_h: since(quarterStart(today, 1)),
      again_ms: quarterEnd_ms,
    },
    {
      of: "year",
      most_h: usFlightHours.year,
      used_h: since(year),
      again_ms: startOfDate(dateLater(year, { months: 12 }), zone),
    },
  ];
}

export function flightHourReasonsOf(asked: HoursAsked): readonly Parts[] {
  const { person, experience, zone, now_ms } = asked;
  const from = quarterStart(dateAt(now_ms, zone), 1);
  const year = `${dateAt(now_ms, zone).slice(0, 4)}-01-01`;
  const stated = experience.filter(({ on }) => on >= (from < year ? from : year));
  if (!stated.some(({ flight_h }) => flight_h !== null) || stated.some(({ flight_h }) => flight_h === null))
    return [{ code: "crew.hoursNotKnown", effect: "unknown", facts: { person } }];
  return windowsOf(asked).flatMap(({ of, most_h, used_h, again_ms }): Parts[] => {
    const left_h = most_h - used_h;
    const facts = { person, window: of, left_h, most_h };
    // A limit of the day is told once some of it is used up, one of months once a day could use it up.
    const isFar = of === "in24h" ? used_h === 0 : above(left_h, 24);
    if (isFar) return [];
    return [
      above(left_h, 0)
        ? {
            code: "crew.hoursLeft",
            effect: "limits",
            facts,
            limit: { quantity: "flightHours_h", value: left_h, stricter: "lower" },
          }
        : { code: "crew.hoursUsedUp", effect: "blocks", facts, until_ms: again_ms },
    ];
  });
}
