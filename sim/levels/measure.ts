// Measures methods on invented histories: false alarms per 1,000 flight hours, and delay until a leak is noticed.
//
// A false alarm is one that begins (stands at a reading and did not at the one before) while nothing leaks, after the
// normal rate is known. A delay counts in flight hours from the leak's beginning to the first reading at which an alarm
// stands that did not stand at its beginning; a leak that is not noticed until the history ends is a miss.
import { oilHistory, type OilHistory } from "./history.ts";
import { type Method, methods, watchOver } from "./methods.ts";
import type { Sheet } from "../../src/core/sheet/schema.ts";
import type { WatchPlan } from "../../src/core/level/watch.ts";

export type Power = {
  readonly method: string;
  readonly falsePer1000: number;
  readonly delays: readonly {
    readonly perHour: number;
    readonly median_h: number | null;
    readonly ninth_h: number | null;
    readonly missed: number;
    readonly of: number;
  }[];
};

export type Outcome = {
  readonly what: string;
  readonly leakPerHour: number;
  readonly leakFrom_h: number;
  /** By method, in their order: hours until noticed, null for a miss. */
  readonly delays_h: readonly (number | null)[];
  /** False alarms of each method in this history, before the leak. */
  readonly falseAlarms: readonly number[];
};

/** The plan by which the demo's sheet has its engine oil watched. */
export function demoPlan(sheet: Sheet): WatchPlan {
  const plan = sheet.gauges.find(({ id }) => id === "engineOilLeft")?.trend;
  if (plan === undefined) throw new Error("the demo's sheet follows no engine oil");
  return plan;
}

type Asked = { readonly histories: number; readonly leaks: readonly number[]; readonly firstSeed: number };

export function measure(plan: WatchPlan, { histories, leaks, firstSeed }: Asked): readonly Power[] {
  const seeds = Array.from({ length: histories }, (_, index) => firstSeed + index);
  const sound = seeds.map((seed) => oilHistory(seed, 0));
  const leaking = leaks.map((perHour) => seeds.map((seed) => oilHistory(seed, perHour)));
  return methods.map((method) => ({
    method: method.name,
    falsePer1000: falseRate(sound, method, plan),
    delays: leaks.map((perHour, index) => {
      const delays = leaking[index]!.map((history) => delayOf(history, method, plan));
      const noticed = delays.filter((delay) => delay !== null).toSorted((a, b) => a - b);
      // A miss is later than anything noticed.
      const at = (share: number): number | null => noticed[Math.ceil(share * delays.length) - 1] ?? null;
      return {
        perHour,
        median_h: at(0.5),
        ninth_h: at(0.9),
        missed: delays.length - noticed.length,
        of: delays.length,
      };
    }),
  }));
}

function falseRate(sound: readonly OilHistory[], method: Method, plan: WatchPlan): number {
  let alarms = 0;
  let hours = 0;
  for (const { points, until_h } of sound) {
    const watch = watchOver(points, plan);
    alarms += beginnings(points, method.alarms(points, watch, plan));
    hours += until_h - watch.normal.until_h;
  }
  return (alarms / hours) * 1000;
}

/** How often an alarm begins: stands at a reading and did not at the one before. */
function beginnings(points: OilHistory["points"], standing_h: readonly number[]): number {
  const hours = [...new Set(points.map(({ hours_h }) => hours_h))];
  const place = new Map(hours.map((hour, index) => [hour, index]));
  return standing_h.filter((hour, index) => {
    const before = standing_h[index - 1];
    return before === undefined || place.get(before) !== place.get(hour)! - 1;
  }).length;
}

/** Hours from the leak's beginning until it is noticed; null when it is not. */
export function delayOf(
  { points, leakFrom_h }: Pick<OilHistory, "points" | "leakFrom_h">,
  method: Method,
  plan: WatchPlan,
): number | null {
  if (leakFrom_h === null) throw new Error("nothing leaks in this history");
  const standing_h = method.alarms(points, watchOver(points, plan), plan);
  const stood = new Set(standing_h);
  // An alarm that stood when the leak began is not the leak's: it must have gone first.
  const last = points.findLast(({ hours_h }) => hours_h < leakFrom_h)?.hours_h;
  let mine = last === undefined || !stood.has(last);
  for (const { hours_h } of points) {
    if (hours_h < leakFrom_h) continue;
    if (!stood.has(hours_h)) mine = true;
    else if (mine) return hours_h - leakFrom_h;
  }
  return null;
}

/** One history with its leak, by every method. */
export function outcomeOf(
  what: string,
  leakPerHour: number,
  history: OilHistory & { readonly leakFrom_h: number },
  plan: WatchPlan,
): Outcome {
  const before = history.points.filter(({ hours_h }) => hours_h < history.leakFrom_h);
  return {
    what,
    leakPerHour,
    leakFrom_h: history.leakFrom_h,
    delays_h: methods.map((method) => delayOf(history, method, plan)),
    falseAlarms: methods.map((method) =>
      beginnings(before, method.alarms(before, watchOver(before, plan), plan)),
    ),
  };
}

/** Twenty seeds that nothing was tried on, with the demo's leak of 0.05 L/h. */
export function unseenSeeds(plan: WatchPlan): readonly Outcome[] {
  return Array.from({ length: 20 }, (_, index) => {
    const history = oilHistory(777_000 + index, 0.05);
    return outcomeOf(`seed ${777_000 + index}`, 0.05, { ...history, leakFrom_h: history.leakFrom_h! }, plan);
  });
}
