// A time of day as somebody types when something happened: of today, or of yesterday where today's is still to come.
import { dateAt, dateLater, instantOfTime } from "../../core/facts/calendar.ts";

/** The latest instant at that time of day that is not in the future; null for no time of day. */
export function latestAt(time: string, now_ms: number, zone: string): number | null {
  const today = dateAt(now_ms, zone);
  for (const date of [today, dateLater(today, { days: -1 })]) {
    const at_ms = instantOfTime(date, time, zone);
    if (at_ms !== null && at_ms <= now_ms) return at_ms;
  }
  return null;
}
