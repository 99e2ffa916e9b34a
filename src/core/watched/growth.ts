// How fast a finding that was measured more than once grows, and when it would pass its limit.
//
// In: the measures of one finding in its limit's own unit, by airframe hours where all of them have such, else by days.
// Out: the rate, and hours (or days) from the last measure until the line reaches the value at which the sheet's outcome
// gets worse: expected where the line does, earliest and latest where the ends of the interval for a further measure do.
// Source: least squares with its prediction interval (core/level/regression.ts, rate.ts, forecast.ts), 90 %.
// Two measures give a line without an interval, and the interval is said to be not known. Measures of one hour count
// as their mean. Valid for growth that goes on as it went; no promise. Check values: by hand in growth.test.ts, and
// those of the regression in published/.
import type { CraftState, FindingFacts } from "../facts/craft.ts";
import { hour_ms } from "../facts/instant.ts";
import { airframeHours } from "../level/airframe-hours.ts";
import { forecastToMark } from "../level/forecast.ts";
import { byHour, fitLevels, type LevelPoint, rateOf } from "../level/rate.ts";
import { predictAt } from "../level/regression.ts";
import type { LineFit } from "../level/regression.ts";
import type { Sheet } from "../sheet/schema.ts";
import { damageOf, limitAbove, measureIn, measureOf, type MeasureUnit, unitsOf } from "../finding/bands.ts";

export const growthConfidence = 0.9;

export type GrowthPoint = {
  readonly at_ms: number;
  /** Airframe hours; null where not known. */
  readonly hours_h: number | null;
  readonly value: number;
};

export type Growth = {
  readonly unit: MeasureUnit;
  readonly by: "flight_h" | "days";
  readonly points: readonly GrowthPoint[];
  /** Per flight hour or per day; positive where it grows. `low` and `high` are null with two measures only. */
  readonly rate: { readonly value: number; readonly low: number | null; readonly high: number | null };
  /** Value at which the outcome gets worse; null where no worse one follows. */
  readonly limit: number | null;
  /** From the last measure, in hours or days; 0 at or beyond already, null where never or not known. */
  readonly expected: number | null;
  readonly earliest: number | null;
  readonly latest: number | null;
  readonly last: GrowthPoint;
};

/** The measures of a finding in the unit of its limit, oldest first; those in another unit are left out. */
export function growthPoints(sheet: Sheet, state: CraftState, finding: FindingFacts): readonly GrowthPoint[] {
  const damage = damageOf(sheet, finding);
  const unit = damage === null ? undefined : unitsOf(damage.measure)[0];
  if (unit === undefined) return [];
  const clock = airframeHours(sheet, state);
  const { raised, measured } = finding;
  const taken = [
    ...(raised.measure === null ? [] : [{ at_ms: raised.at_ms, hours_h: null, measure: raised.measure }]),
    ...measured,
  ];
  return taken
    .flatMap(({ at_ms, hours_h, measure }): GrowthPoint[] => {
      const value = measureIn(measure, unit);
      return value === null ? [] : [{ at_ms, hours_h: hours_h ?? clock(at_ms), value }];
    })
    .toSorted((a, b) => a.at_ms - b.at_ms || a.value - b.value);
}

/** Null where fewer than two measures lie apart, or where the sheet has no limit for it. */
export function growthOf(sheet: Sheet, state: CraftState, finding: FindingFacts): Growth | null {
  const damage = damageOf(sheet, finding);
  const points = growthPoints(sheet, state, finding);
  const last = points.at(-1);
  const unit = damage === null ? undefined : unitsOf(damage.measure)[0];
  if (damage === null || last === undefined || unit === undefined) return null;
  const hours = points.map(({ hours_h }) => hours_h);
  const known = hours.every((hours_h) => hours_h !== null) && new Set(hours).size > 1;
  const by = known ? "flight_h" : "days";
  const x = ({ at_ms, hours_h }: GrowthPoint): number => (known ? hours_h! : at_ms / (24 * hour_ms));
  // Turned, so that growing is falling, as levels do.
  const line = byHour(points.map((point): LevelPoint => ({ hours_h: x(point), level: -point.value })));
  if (line.length < 2) return null;
  const largest = measureOf(damage, finding);
  const limit = largest === null ? null : limitAbove(damage, largest);
  const from = Math.max(...points.map(x));
  const told = line.length === 2 ? throughTwo(line, limit, from) : throughMany(line, limit, from);
  return { unit, by, points, limit, last, ...told };
}

type Told = Pick<Growth, "rate" | "expected" | "earliest" | "latest">;

function throughTwo([a, b]: readonly LevelPoint[], limit: number | null, from: number): Told {
  const value = (a!.level - b!.level) / (b!.hours_h - a!.hours_h) + 0;
  const left = limit === null ? null : limit + b!.level - value * (from - b!.hours_h);
  const expected = left === null ? null : left <= 0 ? 0 : value > 0 ? left / value : null;
  return { rate: { value, low: null, high: null }, expected, earliest: null, latest: null };
}

function throughMany(line: readonly LevelPoint[], limit: number | null, from: number): Told {
  const fit = fitLevels(line);
  const { perHour, low, high } = rateOf(fit, growthConfidence);
  const rate = { value: perHour, low, high };
  if (limit === null) return { rate, expected: null, earliest: null, latest: null };
  const { expected_h, pessimistic_h } = forecastToMark(fit, {
    from_h: from,
    mark: -limit,
    confidence: growthConfidence,
  });
  return { rate, expected: expected_h, earliest: pessimistic_h, latest: latestAt(fit, -limit, from) };
}

/** Hours until even the upper end of the interval is down at the mark; null where that may never be. */
function latestAt(fit: LineFit, mark: number, from: number): number | null {
  const upper = (ahead: number): number => predictAt(fit, from + ahead, growthConfidence).high;
  if (upper(0) <= mark) return 0;
  // Convex: once it rises it never comes down again.
  let far = 1;
  while (upper(far) > mark) {
    if (far > 1e6 || upper(2 * far) >= upper(far)) return null;
    far *= 2;
  }
  let near = 0;
  for (let step = 0; step < 80; step += 1) {
    const middle = (near + far) / 2;
    if (upper(middle) > mark) near = middle;
    else far = middle;
  }
  return far;
}
