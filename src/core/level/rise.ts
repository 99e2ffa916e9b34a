// Whether a level rose without an uplift, and stayed up: something was filled and not written, or something leaks in.
//
// Levels with uplifts taken off, one per hour, with the normal consumption added back, so that they stand level. A reading
// rose when it lies above the middle of the three before it by more than four standard deviations of a difference of two
// readings; that stands while the middle of the last three lies above by more than half of it. One reading that was far
// too low makes no rise of the next, and one far too high is forgotten after two more.

import { byHour, type LevelPoint } from "./rate.ts";

const least_sd = 4;

export type Rise = { readonly hours_h: number; readonly by: number };

/** The last rise that stands; null where there is none. */
export function standingRise(points: readonly LevelPoint[], scatter: number, perHour: number): Rise | null {
  const levels = byHour(points).map(({ hours_h, level }) => ({ hours_h, level: level + perHour * hours_h }));
  const least = least_sd * Math.SQRT2 * scatter;
  const before = (at: number): number => middle(levels.slice(at - 3, at));
  const rose = (at: number): boolean => at >= 3 && levels[at]!.level - before(at) > least;
  let at = levels.length - 1;
  while (at >= 3 && !rose(at)) at -= 1;
  // The two after a rise lie above what was before it too.
  while (rose(at - 1)) at -= 1;
  if (at < 3) return null;
  const now = middle(levels.slice(Math.max(at, levels.length - 3)));
  const by = now - before(at);
  return by > least / 2 ? { hours_h: levels[at]!.hours_h, by } : null;
}

/** The middle of up to three levels; of two, the lower one. */
function middle(points: readonly LevelPoint[]): number {
  const sorted = points.map(({ level }) => level).toSorted((a, b) => a - b);
  return sorted[(sorted.length - 1) >> 1]!;
}
