// The trend of a level by airframe hours: consumption with its interval, hours to the mark, and whether it has changed.
//
// In: readings by rising hours, uplifts, the mark, a confidence. Out: the rate through all readings (rate.ts), the
// forecast from the last of them (forecast.ts), and an alarm (watch.ts, with usualWatch; the first half of the hours is
// the baseline, and the scatter of a reading is what it shows). Null for the alarm also where there is too little to
// judge by: fewer than five readings in the first half, or none after it.
// That a level *rose* by itself is told too (rise.ts).
// Valid for three readings or more at different hours; refuses what corrected-levels.ts and regression.ts refuse.

import type { Forecast } from "./forecast.ts";
import { forecastToMark } from "./forecast.ts";
import type { HourReading, HourUplift } from "./corrected-levels.ts";
import { correctedLevels } from "./corrected-levels.ts";
import { fitLevels, type LevelPoint, type Rate, rateOf } from "./rate.ts";
import { standingRise } from "./rise.ts";
import { usualWatch, type Watch, watchRate } from "./watch.ts";

export type TrendQuestion = {
  readonly readings: readonly HourReading[];
  readonly added: readonly HourUplift[];
  readonly mark: number;
  readonly confidence: number;
};

export type TrendAlarm = { readonly since_h: number; readonly reason: "faster" | "slower" | "rose" };

export type Trend = {
  readonly rate: Rate;
  readonly forecast: Forecast;
  readonly alarm: TrendAlarm | null;
};

export function trendOf({ readings, added, mark, confidence }: TrendQuestion): Trend {
  const corrected = correctedLevels(readings, added);
  const { points } = corrected;
  const fit = fitLevels(points);
  const last_h = points.at(-1)!.hours_h;
  const half_h = (last_h - points[0]!.hours_h) / 2;
  const watch = watchRate(points, { ...usualWatch, baseline_h: half_h, scatter: null }, confidence);
  return {
    rate: rateOf(fit, confidence),
    forecast: forecastToMark(fit, { from_h: last_h, mark: mark - corrected.added, confidence }),
    alarm: watch === null ? null : alarmOf(points, watch),
  };
}

function alarmOf(points: readonly LevelPoint[], watch: Watch): TrendAlarm | null {
  const { alarm, scatter, normal } = watch;
  if (alarm?.kind === "faster") return { since_h: alarm.since_h, reason: "faster" };
  const rise = standingRise(points, scatter, normal.perHour);
  if (rise !== null) return { since_h: rise.hours_h, reason: "rose" };
  return alarm === null ? null : { since_h: alarm.since_h, reason: "slower" };
}
