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

type Day = { readonly date: string; readonly start_ms: number; readonly end_ms: number };

// A day's bounds are asked again and again, and zone arithmetic is dear. Kept per zone, by the UTC day in which asked.
const seen = new Map<ZoneId, Map<number, Day[]>>();
const seenMost = 4_000;
const utcDay_ms = 86_400_000;

/** The calendar day that holds an instant in the zone, with the instants between which it lies. */
function dayAt(at_ms: number, zone: ZoneId): Day {
  const ofZone = seen.get(zone) ?? new Map<number, Day[]>();
  const key = Math.floor(at_ms / utcDay_ms);
  const near = ofZone.get(key) ?? [];
  const held = near.find(({ start_ms, end_ms }) => start_ms <= at_ms && at_ms < end_ms);
  if (held !== undefined) return held;
  const plain = Temporal.Instant.fromEpochMilliseconds(at_ms).toZonedDateTimeISO(zone).toPlainDate();
  const day = {
    date: plain.toString(),
    start_ms: plain.toZonedDateTime(zone).epochMilliseconds,
    end_ms: plain.add({ days: 1 }).toZonedDateTime(zone).epochMilliseconds,
  };
  if (ofZone.size >= seenMost) ofZone.clear();
  ofZone.set(key, [...near, day]);
  seen.set(zone, ofZone);
  return day;
}

const starts = new Map<ZoneId, Map<string, number>>();

/** The calendar date (YYYY-MM-DD) in the zone at an instant. */
export function dateAt(at_ms: number, zone: ZoneId): string {
  return dayAt(at_ms, zone).date;
}

/** The instant at which the calendar date begins in the zone (the first instant of it, where a clock change skips midnight). */
export function startOfDate(date: string, zone: ZoneId): number {
  const ofZone = starts.get(zone) ?? new Map<string, number>();
  const held = ofZone.get(date);
  if (held !== undefined) return held;
  const start_ms = Temporal.PlainDate.from(date).toZonedDateTime(zone).epochMilliseconds;
  if (ofZone.size >= seenMost) ofZone.clear();
  ofZone.set(date, start_ms);
  starts.set(zone, ofZone);
  return start_ms;
}

/** The instant at which the calendar day that holds `at_ms` ends in the zone: the beginning of the next date. */
export function endOfDayAt(at_ms: number, zone: ZoneId): number {
  return dayAt(at_ms, zone).end_ms;
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

const later = new Map<string, string>();

/** The date some calendar months and days later: months first, clamped to the last day of a shorter month, then days. */
export function dateLater(
  date: string,
  { months = 0, days = 0 }: { months?: number; days?: number },
): string {
  const key = `${date} ${months} ${days}`;
  const held = later.get(key);
  if (held !== undefined) return held;
  const found = Temporal.PlainDate.from(date).add({ months }).add({ days }).toString();
  if (later.size >= seenMost) later.clear();
  later.set(key, found);
  return found;
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

/** The instant of a time of day (HH:MM, 00:00 to 23:59) on a date in the zone; null for a time that there is not. */
export function instantOfTime(date: string, time: string, zone: ZoneId): number | null {
  if (!/^([01]\d|2[0-3]):[0-5]\d$/u.test(time)) return null;
  try {
    const at = Temporal.PlainDateTime.from(`${date}T${time}`);
    // A time that the clocks skip does not exist; of one that comes twice the earlier is taken.
    const found = at.toZonedDateTime(zone, { disambiguation: "earlier" });
    return found.toPlainDateTime().equals(at) ? found.epochMilliseconds : null;
  } catch {
    return null;
  }
}

/** The latest instant at that time of day that is not after another one, on its day or the day before; null for none. */
export function latestInstantOfTime(time: string, end_ms: number, zone: ZoneId): number | null {
  const today = dateAt(end_ms, zone);
  for (const date of [today, dateLater(today, { days: -1 })]) {
    const at_ms = instantOfTime(date, time.trim(), zone);
    if (at_ms !== null && at_ms <= end_ms) return at_ms;
  }
  return null;
}
