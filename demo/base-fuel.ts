// The fuel that the demo's base stores, invented: one tank, its deliveries, a sample with a check for water and a dip each
// morning. What craft took is told in their own records; the dips follow from it.
import { dateAt, dateLater, startOfDate } from "../src/core/facts/calendar.ts";
import type { FuelFilled } from "../src/core/facts/call.ts";
import { hour_ms, minute_ms, msToInstant } from "../src/core/facts/instant.ts";
import { volumeOf } from "../src/core/fuel/tank-stock.ts";
import { demoBase } from "./cast.ts";
import type { Random } from "./random.ts";
import type { Told } from "./weather.ts";

export const demoTank = {
  tank: "northTank",
  name: "north tank",
  grade: "Jet A-1",
  density_kgL: 0.801,
} as const;

const rules = {
  name: demoTank.name,
  grade: demoTank.grade,
  capacity_L: 12_000,
  low_L: 2_000,
  dipWithin_L: 60,
  sampleEvery_h: 24,
  settle_h: 2,
  filterEvery_days: 365,
  inUse: true,
  cite: "Operations manual of the demo, invented, part on fuel",
};

/** Told from when the operator began until the anchor. `taken`: what its craft filled. */
export function fuelStory(
  begun_ms: number,
  anchor_ms: number,
  taken: readonly FuelFilled[],
  random: Random,
): readonly Told[] {
  const { tank } = demoTank;
  const told: Told[] = [];
  const tell = (by: string, type: string, at_ms: number, body: object) =>
    told.push({ by, type, at_ms, body: { tank, ...body, at: msToInstant(at_ms), replaces: [] } });
  tell("p-vik", "tank.described", begun_ms, rules);
  const changeFilter = (at_ms: number) =>
    tell("p-brekke", "tank.filterChanged", at_ms, { words: "element and seals new" });
  changeFilter(begun_ms + minute_ms);
  let stock_L = 0;
  let until_ms = begun_ms;
  const deliver = (at_ms: number, amount: number, docket: string) => {
    stock_L += amount;
    tell("p-lind", "tank.delivered", at_ms, {
      amount,
      unit: "L",
      typed: String(amount),
      density_kgL: demoTank.density_kgL,
      fuel_C: 4,
      docket,
      batch: `invented-${docket}`,
      grade: demoTank.grade,
    });
  };
  const settle = (at_ms: number) => {
    const gone = taken.filter((one) => one.baseTank === tank && one.at_ms > until_ms && one.at_ms <= at_ms);
    for (const one of gone) stock_L -= volumeOf(one)?.[0] ?? 0;
    until_ms = at_ms;
  };
  const check = (at_ms: number) => {
    settle(at_ms);
    const dip_L = Math.round((stock_L + random.whole(-25, 25)) / 10) * 10;
    tell(random.chance(0.5) ? "p-lind" : "p-moe", "tank.checked", at_ms, {
      sample: "clear",
      waterFound: false,
      stock_L: dip_L,
      typed: String(dip_L),
    });
  };
  deliver(begun_ms + 2 * minute_ms, 9_400, "4711");
  check(begun_ms + 3 * hour_ms);
  const { zone } = demoBase;
  const last = dateAt(anchor_ms, zone);
  let date = dateLater(dateAt(begun_ms, zone), { days: 1 });
  let filterNew = date;
  for (let docket = 4_926; date <= last; date = dateLater(date, { days: 1 })) {
    const morning_ms = startOfDate(date, zone) + 6 * hour_ms + random.whole(2, 14) * minute_ms;
    settle(morning_ms - 2 * hour_ms);
    // Some weeks before its year is over.
    if (date > dateLater(filterNew, { days: rules.filterEvery_days - 25 })) {
      changeFilter(morning_ms - 90 * minute_ms);
      filterNew = date;
    }
    const isSupplied = stock_L < 4_500 && date < last;
    if (isSupplied) {
      deliver(morning_ms - hour_ms, 6_400, String(docket));
      docket += random.whole(40, 90);
    }
    const at_ms = isSupplied ? morning_ms + 90 * minute_ms : morning_ms;
    if (at_ms < anchor_ms) check(at_ms);
  }
  return told;
}
