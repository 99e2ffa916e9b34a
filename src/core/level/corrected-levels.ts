// Levels with every uplift before them taken off, where only airframe hours say what came first.
//
// A reading later than an uplift is after it, an earlier one before it. A single reading at an uplift's very hour may be
// either: it is taken on the side on which it lies nearer the robust line through the readings of which it is known
// (theil-sen.ts), before the uplift where that is the same; where fewer than two are known, all such readings on the one
// side that leaves them nearest a line. In the record of a craft instants say it, and nothing is inferred.
// Refuses by name, each with its path: hours that go back, negative levels, amounts that are none, an uplift after the
// last reading, an uplift at an hour with two readings or more (nothing says which of them came first).

import { atIndex, atKey, describe, Refusal } from "../quantity/refusal.ts";
import type { Issue } from "../quantity/refusal.ts";
import type { LevelPoint } from "./rate.ts";
import { senLine } from "./theil-sen.ts";

export type HourReading = { readonly hours_h: number; readonly level: number };
export type HourUplift = { readonly hours_h: number; readonly amount: number };

/** The points, in the readings' order, and the sum of all uplifts. Throws a Refusal with every issue found. */
export function correctedLevels(
  readings: readonly HourReading[],
  added: readonly HourUplift[],
): { readonly points: readonly LevelPoint[]; readonly added: number } {
  const issues = [...readingIssues(readings), ...upliftIssues(readings, added)];
  const [first, ...others] = issues;
  if (first !== undefined) throw new Refusal([first, ...others]);
  const uplifts = added.toSorted((a, b) => a.hours_h - b.hours_h || a.amount - b.amount);
  const sum = (until: (uplift: HourUplift) => boolean): number =>
    uplifts.filter(until).reduce((total, { amount }) => total + amount, 0);
  const sides = readings.map(({ hours_h, level }) => ({
    hours_h,
    ifBefore: level - sum((uplift) => uplift.hours_h < hours_h),
    ifAfter: level - sum((uplift) => uplift.hours_h <= hours_h),
  }));
  return { points: chooseSides(sides), added: sum(() => true) };
}

type Sides = { readonly hours_h: number; readonly ifBefore: number; readonly ifAfter: number };

function chooseSides(sides: readonly Sides[]): readonly LevelPoint[] {
  const known = sides.filter(({ ifBefore, ifAfter }) => ifBefore === ifAfter);
  const point = (level: (side: Sides) => number) => (side: Sides) => ({
    hours_h: side.hours_h,
    level: level(side),
  });
  const line = lineThrough(known.map(point(({ ifBefore }) => ifBefore)));
  if (line !== null) {
    return sides.map(
      point(({ hours_h, ifBefore, ifAfter }) => {
        const there = line.intercept + line.slope * hours_h;
        return Math.abs(ifAfter - there) < Math.abs(ifBefore - there) ? ifAfter : ifBefore;
      }),
    );
  }
  const [before, after] = [sides.map(point(({ ifBefore }) => ifBefore)), sides.map(point((s) => s.ifAfter))];
  return distanceFromLine(after) < distanceFromLine(before) ? after : before;
}

function lineThrough(points: readonly LevelPoint[]): ReturnType<typeof senLine> | null {
  const hours = points.map(({ hours_h }) => hours_h);
  return new Set(hours).size < 2
    ? null
    : senLine(
        hours,
        points.map(({ level }) => level),
      );
}

function distanceFromLine(points: readonly LevelPoint[]): number {
  const line = lineThrough(points);
  if (line === null) return 0;
  return points.reduce(
    (sum, { hours_h, level }) => sum + Math.abs(level - line.intercept - line.slope * hours_h),
    0,
  );
}

function readingIssues(readings: readonly HourReading[]): Issue[] {
  return readings.flatMap(({ hours_h, level }, index) => {
    const path = atIndex("readings", index);
    const issues: Issue[] = [];
    const before = readings[index - 1]?.hours_h;
    if (before !== undefined && hours_h < before) {
      issues.push({
        path: atKey(path, "hours_h"),
        code: "contradiction",
        found: `${describe(hours_h)} h after ${describe(before)} h`,
        wanted: "an hour meter that never goes back",
      });
    }
    if (level < 0) {
      issues.push({
        path: atKey(path, "level"),
        code: "outsideDomain",
        found: describe(level),
        wanted: "a level of at least 0",
      });
    }
    return issues;
  });
}

function upliftIssues(readings: readonly HourReading[], added: readonly HourUplift[]): Issue[] {
  const last_h = readings.at(-1)?.hours_h ?? Number.NEGATIVE_INFINITY;
  return added.flatMap(({ hours_h, amount }, index) => {
    const path = atIndex("added", index);
    const issues: Issue[] = [];
    const complain = (key: string, code: Issue["code"], found: string, wanted: string): void => {
      issues.push({ path: atKey(path, key), code, found, wanted });
    };
    if (!(amount > 0)) complain("amount", "outsideDomain", describe(amount), "an amount above 0");
    if (hours_h > last_h) {
      complain(
        "hours_h",
        "contradiction",
        `${describe(hours_h)} h, in the future of the last reading at ${describe(last_h)} h`,
        "an uplift no later than the last reading",
      );
    }
    const sameHour = readings.filter((reading) => reading.hours_h === hours_h).length;
    if (sameHour > 1) {
      complain(
        "hours_h",
        "contradiction",
        `an uplift at ${describe(hours_h)} h, where ${sameHour} readings of the same hour stand`,
        "one reading at most at the hour of an uplift: nothing says which of them came before it",
      );
    }
    return issues;
  });
}
