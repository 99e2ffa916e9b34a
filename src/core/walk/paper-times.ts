// When a walk on paper was begun and ended: a day and two times of day as they stand on it.
//
// The day is the one on which the walk was begun, and is said, not guessed: half past six of yesterday must not become half
// past six of today. The end is the first such time after the beginning, across midnight where need be. Null for times that
// there are not, and for an end that lies ahead of now.
import { dateAt, dateLater, instantOfTime } from "../facts/calendar.ts";

export const paperDays = ["today", "yesterday"] as const;
export type PaperDay = (typeof paperDays)[number];

type Written = { readonly day: PaperDay; readonly begun: string; readonly ended: string };

export function paperTimes(
  { day, begun, ended }: Written,
  now_ms: number,
  zone: string,
): { readonly begun_ms: number; readonly ended_ms: number } | null {
  const today = dateAt(now_ms, zone);
  const date = day === "today" ? today : dateLater(today, { days: -1 });
  const begun_ms = instantOfTime(date, begun.trim(), zone);
  if (begun_ms === null) return null;
  for (const on of [date, dateLater(date, { days: 1 })]) {
    const ended_ms = instantOfTime(on, ended.trim(), zone);
    if (ended_ms !== null && ended_ms >= begun_ms) return ended_ms <= now_ms ? { begun_ms, ended_ms } : null;
  }
  return null;
}
