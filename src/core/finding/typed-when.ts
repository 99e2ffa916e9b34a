// Reads when something was seen, as somebody writes it: nothing (now), a time of day, "yesterday", a date.
//
// A time of day means today's. A time that lies ahead is refused. Any day but today is asked about before it is used:
// what was found yesterday and is written today is one thing, what was written yesterday is another, and the days of a
// deferral count from the day on which it was recorded (CS MMEL.105(d); FAA Policy Letter 25). Days are those of the
// operator's zone. Dates: 2026-11-24, 24.11.2026, 24.11., each with or without a time after it; a day without a time
// counts from its first instant, the earlier being the stricter.
import { dateAt, dateLater, instantOfTime, isCalendarDate, startOfDate } from "../facts/calendar.ts";
import type { ZoneId } from "../facts/calendar.ts";

export type TypedWhen =
  | { readonly kind: "now" }
  | {
      readonly kind: "at";
      readonly at_ms: number;
      readonly typed: string;
      readonly date: string;
      readonly isToday: boolean;
    }
  | { readonly kind: "ahead"; readonly typed: string }
  | { readonly kind: "unread"; readonly typed: string };

const days: Readonly<Record<string, number>> = {
  today: 0,
  heute: 0,
  yesterday: 1,
  gestern: 1,
  "the day before yesterday": 2,
  vorgestern: 2,
};

export function readWhen(text: string, now_ms: number, zone: ZoneId): TypedWhen {
  const typed = text.trim();
  if (typed === "") return { kind: "now" };
  const [, day = "", time] = /^(.*?)\s*(?:\b(\d{1,2}:\d{2}))?$/u.exec(typed) ?? [];
  const today = dateAt(now_ms, zone);
  const date = day === "" ? today : dateIn(day.trim().toLowerCase(), today);
  if (date === null) return { kind: "unread", typed };
  const at_ms =
    time === undefined ? startOfDate(date, zone) : instantOfTime(date, time.padStart(5, "0"), zone);
  if (at_ms === null) return { kind: "unread", typed };
  if (at_ms > now_ms) return { kind: "ahead", typed };
  return { kind: "at", at_ms, typed, date, isToday: date === today };
}

function dateIn(day: string, today: string): string | null {
  const back = Object.hasOwn(days, day) ? days[day] : undefined;
  if (back !== undefined) return dateLater(today, { days: -back });
  if (isCalendarDate(day)) return day;
  const [, of, month, year] = /^(\d{1,2})\.\s?(\d{1,2})\.(\d{4})?$/u.exec(day) ?? [];
  if (of === undefined || month === undefined) return null;
  const written = `${year ?? today.slice(0, 4)}-${month.padStart(2, "0")}-${of.padStart(2, "0")}`;
  if (!isCalendarDate(written)) return null;
  // Without a year, a day that lies ahead is last year's.
  return year === undefined &&
    written > today &&
    isCalendarDate(`${Number(today.slice(0, 4)) - 1}${written.slice(4)}`)
    ? `${Number(today.slice(0, 4)) - 1}${written.slice(4)}`
    : written;
}
