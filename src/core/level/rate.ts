// How fast a level falls: the line through corrected levels, turned into consumption per hour.
//
// Source: least squares (regression.ts). Consumption is positive where the level falls. The interval is Student's, for
// the slope; where the caller knows the scatter of a reading (from the sheet), that takes the residuals' place.
// Valid for at least three points whose hours differ; refuses what fitLine refuses.

import { fitLine, type LineFit } from "./regression.ts";
import { studentInterval } from "./student-t.ts";

/** An airframe hour and a level from which every uplift before it has been taken off. */
export type LevelPoint = { readonly hours_h: number; readonly level: number };

export type Rate = {
  /** Consumption per hour; positive where the level falls. */
  readonly perHour: number;
  readonly low: number;
  readonly high: number;
};

const paths = { x: "readings", y: "readings" };

/** The line. Points of one hour may stand in any order: they are brought into one, so that not a bit depends on it. */
export function fitLevels(points: readonly LevelPoint[]): LineFit {
  const sorted = points.toSorted((a, b) => a.hours_h - b.hours_h || a.level - b.level);
  return fitLine(
    sorted.map(({ hours_h }) => hours_h),
    sorted.map(({ level }) => level),
    true,
    paths,
  );
}

/** Consumption with its interval; `scatter` is the standard deviation of one reading, the residuals' own if left out. */
export function rateOf(fit: LineFit, confidence: number, scatter = fit.residualSd): Rate {
  const { xScale, xSpread } = fit.moments;
  const half = (studentInterval(confidence, fit.degreesOfFreedom) * scatter) / (Math.sqrt(xSpread) * xScale);
  // `+ 0` turns −0 into 0.
  return { perHour: -fit.slope + 0, low: -fit.slope - half + 0, high: -fit.slope + half + 0 };
}

/** One point per hour: the mean of its levels, summed from the lowest so that their order does not matter. */
export function byHour(points: readonly LevelPoint[]): readonly LevelPoint[] {
  const groups: { hours_h: number; levels: number[] }[] = [];
  for (const { hours_h, level } of points.toSorted((a, b) => a.hours_h - b.hours_h || a.level - b.level)) {
    const last = groups.at(-1);
    if (last?.hours_h === hours_h) last.levels.push(level);
    else groups.push({ hours_h, levels: [level] });
  }
  return groups.map(({ hours_h, levels }) => ({
    hours_h,
    level: levels.length === 1 ? levels[0]! : levels.reduce((sum, level) => sum + level, 0) / levels.length,
  }));
}
