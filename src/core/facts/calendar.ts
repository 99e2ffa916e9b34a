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
