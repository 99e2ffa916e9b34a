// Invented histories of one engine's oil: flights, comparable readings with the uplifts taken off, and when a leak began.
//
// Told by the same teller as the demo's gauges (demo/gauge-told.ts). Four of five flights are followed by a reading, nine
// of ten of those under the sheet's conditions; the rest never reach a trend and are left out here.
import { engineOil, GaugeTold } from "../../demo/gauge-told.ts";
import { randomFrom } from "../../demo/random.ts";
import type { LevelPoint } from "../../src/core/level/rate.ts";

export type OilHistory = {
  readonly points: readonly LevelPoint[];
  readonly from_h: number;
  readonly until_h: number;
  /** Null without a leak. */
  readonly leakFrom_h: number | null;
};

/** Flight hours of a history: about fourteen months of a busy machine. */
export const historyHours = 500;
const startsAt_h = 700;
/** By when the normal rate is known, and how much time a method has after the last possible beginning. */
const leakBetween_h = [200, 350] as const;

/** The history of a seed, with a leak of so many litres per hour (0 for none). */
export function oilHistory(seed: number, leakPerHour: number): OilHistory {
  const random = randomFrom(seed);
  const leakFrom_h = startsAt_h + leakBetween_h[0] + random.unit() * (leakBetween_h[1] - leakBetween_h[0]);
  const leak = leakPerHour > 0 ? { from_h: leakFrom_h, perHour: leakPerHour } : undefined;
  const oil = new GaugeTold(engineOil(leak), random);
  const points: LevelPoint[] = [];
  let hours_h = startsAt_h;
  let added = 0;
  while (hours_h < startsAt_h + historyHours) {
    const flight_h = random.whole(4, 12) / 10;
    hours_h = Number((hours_h + flight_h).toFixed(1));
    oil.fly(flight_h, hours_h);
    if (!random.chance(0.8)) continue;
    const read = oil.read();
    if (random.chance(0.9)) points.push({ hours_h, level: read - added });
    added += oil.fillAfter(read);
  }
  return { points, from_h: startsAt_h, until_h: hours_h, leakFrom_h: leak === undefined ? null : leakFrom_h };
}
