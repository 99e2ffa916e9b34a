// When something is due: the interval from where it counts, on every axis that the interval names, whichever first.
//
// Tolerance is what the approved programme gives, on the axes that it names, and never stacks: the next point counts
// from the planned one when the work came late, from the work itself when it came early (common practice of approved
// programmes). Months are calendar months, clamped to the last day of a shorter one; the due date itself still holds.
import { dateLater } from "../facts/calendar.ts";
import { counterNames } from "../facts/due.ts";
import type { CounterName, Counters } from "../facts/due.ts";
import type { Interval } from "../sheet/due-blocks.ts";

/** A point from which something counts, or at which it is due; what is left out does not bind. */
export type DuePoint = { readonly counters: Partial<Counters>; readonly lastDay: string | null };

/** The point an interval after another one. Days and months both: whichever day comes first. */
export function pointAfter(from: { counters: Counters; on: string }, interval: Interval): DuePoint {
  const counters: Partial<Record<CounterName, number>> = {};
  for (const name of counterNames) {
    const step = interval[name];
    if (step !== undefined) counters[name] = from.counters[name] + step;
  }
  const { calendar_months: months, calendar_days: days } = interval;
  const dates = [
    ...(months === undefined ? [] : [dateLater(from.on, { months })]),
    ...(days === undefined ? [] : [dateLater(from.on, { days })]),
  ].toSorted();
  return { counters, lastDay: dates[0] ?? null };
}

/** The planned point moved by the tolerance, on the axes that it names; the others stay. */
export function withTolerance(planned: DuePoint, tolerance: Interval | undefined): DuePoint {
  if (tolerance === undefined) return planned;
  const counters: Partial<Record<CounterName, number>> = { ...planned.counters };
  for (const name of counterNames) {
    const at = planned.counters[name];
    if (at !== undefined) counters[name] = at + (tolerance[name] ?? 0);
  }
  const { calendar_months: months = 0, calendar_days: days = 0 } = tolerance;
  return {
    counters,
    lastDay: planned.lastDay === null ? null : dateLater(planned.lastDay, { months, days }),
  };
}

type Done = { readonly counters: Counters; readonly on: string };

/** The next planned point after a history of work, in any order; null when nothing was ever done. */
export function plannedPoint(history: readonly Done[], interval: Interval): DuePoint | null {
  const sorted = history.toSorted(
    (a, b) =>
      (a.on < b.on ? -1 : a.on > b.on ? 1 : 0) ||
      a.counters.flightHours_h - b.counters.flightHours_h ||
      counterNames.reduce((sum, name) => sum + a.counters[name] - b.counters[name], 0),
  );
  let planned: DuePoint | null = null;
  for (const work of sorted) {
    const counters = Object.fromEntries(
      counterNames.map((name) => [
        name,
        Math.min(work.counters[name], planned?.counters[name] ?? Number.POSITIVE_INFINITY),
      ]),
    ) as Counters;
    const lastDay: string | null = planned === null ? null : planned.lastDay;
    planned = pointAfter(
      { counters, on: lastDay !== null && lastDay < work.on ? lastDay : work.on },
      interval,
    );
  }
  return planned;
}
