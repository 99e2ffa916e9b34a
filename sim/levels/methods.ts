// Ways to notice that a consumption has changed, each as the hours at which it begins to alarm, reading by reading and
// without looking ahead. The first is the one that the program uses; the others stand beside it to compare.
import { ewmaChart } from "../../src/core/level/ewma-chart.ts";
import { fitLevels, type LevelPoint } from "../../src/core/level/rate.ts";
import { senInterval } from "../../src/core/level/theil-sen.ts";
import { slopeInterval } from "../../src/core/level/regression.ts";
import { type Watch, type WatchPlan, watchRate } from "../../src/core/level/watch.ts";

export type Method = {
  readonly name: string;
  /** Hours of readings at which an alarm stands. */
  readonly alarms: (points: readonly LevelPoint[], watch: Watch, plan: WatchPlan) => readonly number[];
};

/** Hours of readings that the windowed methods look back on; as the sheet's window. */
const window_h = 40;
/** One-sided, so that about one window in two thousand alarms by chance. */
const sure = 0.999;

export const methods: readonly Method[] = [
  {
    name: "CUSUM (the one in use)",
    alarms: (_points, { hours_h, faster }, { decision_sd }) =>
      hours_h.filter((_, index) => faster[index]! > decision_sd),
  },
  {
    name: "EWMA of the same distances, λ 0.1, 3.3 σ",
    alarms: (_points, { hours_h, z }) => {
      const { average, low } = ewmaChart(z, { target: 0, sd: 1, weight: 0.1, width: 3.3 });
      return hours_h.filter((_, index) => average[index]! < low);
    },
  },
  {
    name: "regression over 40 h, t",
    alarms: (points, watch) =>
      windowed(points, watch, (some) => -slopeInterval(fitLevels(some), sure).high > watch.normal.perHour),
  },
  {
    name: "Theil–Sen over 40 h, Sen's interval",
    alarms: (points, watch) =>
      windowed(points, watch, (some) => {
        const interval = senInterval(
          some.map(({ hours_h }) => hours_h),
          some.map(({ level }) => level),
          sure,
        );
        return -interval.high > watch.normal.perHour;
      }),
  },
  {
    name: "twice the normal rate, mean of three over 10 h",
    alarms: (points, watch) => {
      const rates = after(points, watch).map((point) => rateOverTen(points, point));
      return after(points, watch)
        .map(({ hours_h }) => hours_h)
        .filter((_, index) => {
          const three = rates.slice(Math.max(0, index - 2), index + 1).filter((rate) => rate !== null);
          const mean = three.reduce((sum, rate) => sum + rate, 0) / three.length;
          return three.length === 3 && mean > 2 * watch.normal.perHour;
        });
    },
  },
];

function after(points: readonly LevelPoint[], { normal }: Watch): readonly LevelPoint[] {
  return points.filter(({ hours_h }) => hours_h > normal.until_h);
}

function windowed(
  points: readonly LevelPoint[],
  watch: Watch,
  judge: (window: readonly LevelPoint[]) => boolean,
): readonly number[] {
  return after(points, watch)
    .map(({ hours_h }) => hours_h)
    .filter((until_h) => {
      const some = points.filter(({ hours_h }) => hours_h <= until_h && hours_h >= until_h - window_h);
      return some.length >= 5 && judge(some);
    });
}

/** Consumption between a reading and the last one at least ten hours before it. */
function rateOverTen(points: readonly LevelPoint[], { hours_h, level }: LevelPoint): number | null {
  const before = points.findLast((point) => point.hours_h <= hours_h - 10);
  return before === undefined ? null : (before.level - level) / (hours_h - before.hours_h);
}

/** What every method is given: the watch over the whole history. Of what lies ahead it uses the usual distance of readings alone. */
export function watchOver(points: readonly LevelPoint[], plan: WatchPlan): Watch {
  const watch = watchRate(points, plan, 0.95);
  if (watch === null) throw new Error("a history is too short to be watched");
  return watch;
}
