// Calendar days in the operator's declared zone: a day is a date, not 24 hours, and lasts 23 or 25 h when clocks change.
// Zone rules come from the runtime's own data through temporal-polyfill (native where present); the edition of that
// data is told by whoever runs the program. Refuses an unknown zone with a RangeError.
import { Temporal } from "temporal-polyfill";

/** An IANA zone name, or `UTC`. */
export type ZoneId = string;

/** True when the runtime knows the zone. */
export function isZone(zone: string): boolean {
  try {
    Temporal.Instant.fromEpochMilliseconds(0).toZonedDateTimeISO(zone);
    return true;
  } catch {
    return false;
  }
}

/** The calendar date (YYYY-MM-DD) in the zone at an instant. */
export function dateAt(at_ms: number, zone: ZoneId): string {
  return Temporal.Instant.fromEpochMilliseconds(at_ms).toZonedDateTimeISO(zone).toPlainDate().toString();
}

/** The instant at which the calendar date begins in the zone (the first instant of it, where a clock change skips midnight). */
export function startOfDate(date: string, zone: ZoneId): number {
  return Temporal.PlainDate.from(date).toZonedDateTime(zone).epochMilliseconds;
}

/** The instant at which the calendar day that holds `at_ms` ends in the zone: the beginning of the next date. */
export function endOfDayAt(at_ms: number, zone: ZoneId): number {
  const next = Temporal.PlainDate.from(dateAt(at_ms, zone)).add({ days: 1 });
  return next.toZonedDateTime(zone).epochMilliseconds;
}

/** True for a date of the calendar in the form YYYY-MM-DD; 29 February only where there is one. */
export function isCalendarDate(text: string): boolean {
  if (!/^\d{4}-\d\d-\d\d$/u.test(text)) return false;
  try {
    return Temporal.PlainDate.from(text, { overflow: "reject" }).toString() === text;
  } catch {
    return false;
  }
}

/** The date some calendar months and days later: months first, clamped to the last day of a shorter month, then days. */
export function dateLater(
  date: string,
  { months = 0, days = 0 }: { months?: number; days?: number },
): string {
  return Temporal.PlainDate.from(date).add({ months }).add({ days }).toString();
}

/** The last day of the month that holds the date. */
export function endOfMonth(date: string): string {
  const day = Temporal.PlainDate.from(date);
  return day.with({ day: day.daysInMonth }).toString();
}

/** The instant at which a last day is over in the zone: the beginning of the date after it. */
export function endOfDate(date: string, zone: ZoneId): number {
  return startOfDate(dateLater(date, { days: 1 }), zone);
}
