// Days and hours of weather reports carry no month: they are fixed by an instant nearby.
//
// Hour 24 is the midnight that ends its day (WMO-No. 306 FM 51; the FAA's TAF key prints 0918/1024 for it). All times
// are UTC. Each function returns null where the figures name no instant, never the nearest one that exists.

import { hour_ms, minute_ms } from "../facts/instant.ts";

/** A trend forecast covers the two hours after the report (ICAO Annex 3, 6.3). */
export const trendLength_ms = 2 * hour_ms;
/** No TAF is longer than 30 h (ICAO Annex 3, 6.2.6, from memory); six hours more are taken for a State's own practice. */
const longestForecast_ms = 36 * hour_ms;
/** How far behind its report a trend's clock time may lie before it is no plausible trend: a generous reading of 2 h. */
const trendLag_ms = 6 * hour_ms;

function isClock(hour: number, minute: number): boolean {
  return minute < 60 && (hour < 24 || (hour === 24 && minute === 0));
}

/** The instant with this day of the month and clock time that lies nearest to `near_ms`. */
export function nearestInstant(day: number, hour: number, minute: number, near_ms: number): number | null {
  if (day < 1 || day > 31 || !isClock(hour, minute)) return null;
  const near = new Date(near_ms);
  const year = near.getUTCFullYear();
  const month = near.getUTCMonth();
  let nearest: number | null = null;
  // Two months either way, since the nearest 31st can lie on the far side of a month without one.
  for (let offset = -2; offset <= 2; offset += 1) {
    const midnight_ms = Date.UTC(year, month + offset, day);
    if (new Date(midnight_ms).getUTCDate() !== day) continue;
    const candidate_ms = midnight_ms + hour * hour_ms + minute * minute_ms;
    if (nearest === null || Math.abs(candidate_ms - near_ms) < Math.abs(nearest - near_ms)) {
      nearest = candidate_ms;
    }
  }
  return nearest;
}

/** The time of issue, DDHHMM; hour 24 is not written there. */
export function issueInstant(digits: string, near_ms: number): number | null {
  const hour = Number(digits.slice(2, 4));
  if (hour > 23) return null;
  return nearestInstant(Number(digits.slice(0, 2)), hour, Number(digits.slice(4, 6)), near_ms);
}

export type Span = { readonly from_ms: number; readonly to_ms: number };

/** A span DDHH/DDHH near an instant; null also where it does not go forward or is longer than any forecast. */
export function hourSpan(from: string, to: string, near_ms: number): Span | null {
  const from_ms = nearestInstant(Number(from.slice(0, 2)), Number(from.slice(2, 4)), 0, near_ms);
  if (from_ms === null) return null;
  const to_ms = nearestInstant(Number(to.slice(0, 2)), Number(to.slice(2, 4)), 0, from_ms);
  if (to_ms === null || to_ms <= from_ms || to_ms - from_ms > longestForecast_ms) return null;
  return { from_ms, to_ms };
}

/** The clock time HHMM of a trend, not before the report it belongs to. */
export function trendInstant(digits: string, issued_ms: number): number | null {
  const hour = Number(digits.slice(0, 2));
  const minute = Number(digits.slice(2, 4));
  if (!isClock(hour, minute)) return null;
  const day_ms = 24 * hour_ms;
  const midnight_ms = Math.floor(issued_ms / day_ms) * day_ms;
  const clock_ms = hour * hour_ms + minute * minute_ms;
  for (const at_ms of [midnight_ms + clock_ms, midnight_ms + day_ms + clock_ms]) {
    if (at_ms >= issued_ms && at_ms <= issued_ms + trendLag_ms) return at_ms;
  }
  return null;
}
