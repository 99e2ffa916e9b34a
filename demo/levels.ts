// The gauges of the demo's craft over fourteen months: twelve and a half of them typed in from an invented technical log,
// month by month, the last two weeks as people read them. A slow leak of Tinde's left engine begins in month eleven.
import { bandAt, needsBottle } from "../src/core/level/at-temperature.ts";
import { gasPressureAt } from "../src/core/power/gas-pressure.ts";
import { dateAt } from "../src/core/facts/calendar.ts";
import { hour_ms, minute_ms, msToInstant } from "../src/core/facts/instant.ts";
import type { Gauge } from "../src/core/sheet/gauge-blocks.ts";
import type { Sheet } from "../src/core/sheet/schema.ts";
import { evaluateApplicability } from "../src/core/sheet/applicability.ts";
import { demoBase } from "./cast.ts";
import type { DemoCraft } from "./cast.ts";
import { engineOil, type GaugeStory, GaugeTold } from "./gauge-told.ts";
import { randomFrom, type Random } from "./random.ts";

const day_ms = 24 * hour_ms;
/** Days told from the log, before the two weeks that people wrote themselves. */
export const loggedDays = 412;
/** The leak of Tinde's left engine: in month eleven of fourteen. */
export const demoLeak = { craft: "Tinde", gauge: "engineOilLeft", perHour: 0.05, fromDay: 310 } as const;

const slow = (start: number, perHour: number, scatter: number, step: number): GaugeStory => ({
  start,
  perHour,
  uneven: 0.3,
  scatter,
  step,
});

/** What each followed gauge does; gas and bands at 20 °C. */
function storyOf(gauge: string, leak: GaugeStory["leak"]): GaugeStory | null {
  const plain = gauge.replace(/(Left|Right)$/u, "");
  switch (plain) {
    case "engineOil":
      return engineOil(leak);
    case "gearboxOil":
      return slow(33, 0.008, 0.8, 1);
    case "tailGearboxOil":
      return slow(10.6, 0.001, 0.5, 1);
    case "hydraulic":
      return slow(72, 0.01, 2, 5);
    case "batteryVoltage":
      return slow(26.2, 0.0015, 0.1, 0.1);
    case "standbyBattery":
      return slow(26.4, 0.001, 0.1, 0.1);
    case "fireBottle":
      return slow(44, 0.0006, 0.5, 0.5);
    case "floatBottle":
      return slow(249, 0.008, 1.2, 1);
    case "damperGap":
      return slow(1.6, -0.0014, 0.06, 0.1);
    case "tailPlay":
      return slow(0.6, -0.0006, 0.04, 0.1);
    case "brakePads":
      return slow(8.4, 0.004, 0.2, 0.5);
    case "skidShoe":
      return slow(7.4, 0.003, 0.2, 0.5);
    case "powerMargin":
      return slow(32, 0.018, 3, 1);
    default:
      return null;
  }
}

type Reading = {
  readonly gauge: string;
  readonly value: number;
  readonly unit: string;
  readonly typed: string;
  readonly conditions: {
    readonly minutesAfterShutdown?: number;
    readonly oat_C?: number;
    readonly bottle_C?: number;
    readonly hot?: boolean;
    readonly level?: boolean;
  };
  readonly hours_h: number;
};
type Uplift = Readonly<Record<string, unknown>>;

/** One craft's gauges, as they really stand. */
export class CraftGauges {
  readonly #sheet: Sheet;
  readonly #random: Random;
  readonly #told = new Map<string, GaugeTold>();

  constructor(sheet: Sheet, craft: DemoCraft, seed: number, leakFrom_h: number) {
    this.#sheet = sheet;
    this.#random = randomFrom(seed);
    const installed = Object.fromEntries(sheet.equipment.map(({ id }) => [id, craft.equipment.includes(id)]));
    for (const { id, trend, applies } of sheet.gauges) {
      if (evaluateApplicability(applies, { variant: craft.variant, installed }, {}).value === false) continue;
      const leaks = craft.name === demoLeak.craft && id === demoLeak.gauge;
      const leak = leaks ? { from_h: leakFrom_h, perHour: demoLeak.perHour } : undefined;
      const story = trend === undefined ? null : storyOf(id, leak);
      if (story !== null) this.#told.set(id, new GaugeTold(story, this.#random));
    }
  }

  fly(flight_h: number, until_h: number): void {
    for (const told of this.#told.values()) told.fly(flight_h, until_h);
  }

  /** What somebody reads off it at this temperature; null for a gauge that is not followed. */
  read(gauge: Gauge, oat_C: number): number | null {
    const told = this.#told.get(gauge.id);
    if (told === undefined) return null;
    const read = told.read();
    if (gauge.gas !== undefined)
      return Math.round(gasPressureAt(read, gauge.gas.reference_C, oat_C)! / gauge.step) * gauge.step;
    return gauge.band === undefined ? read : alongBand(gauge.band, read, oat_C, gauge.step);
  }

  /** The reading of a gauge after a flight: hot, on level ground, some minutes after shutdown. */
  readAfterFlight(id: string, hours_h: number, oat_C: number): Reading {
    const gauge = this.#sheet.gauges.find((one) => one.id === id)!;
    const value = this.read(gauge, oat_C)!;
    const minutesAfterShutdown = this.#random.whole(12, 28);
    const level = !this.#random.chance(0.06);
    const conditions = { minutesAfterShutdown, oat_C, hot: true, level };
    return { gauge: id, value, unit: gauge.unit, typed: String(value), conditions, hours_h };
  }

  /** What is filled after this reading, or null. */
  upliftAfter({ gauge, value, hours_h }: Reading, at_ms: number, craft: DemoCraft): Uplift | null {
    const amount = this.#told.get(gauge)?.fillAfter(value) ?? 0;
    if (amount === 0) return null;
    const { fluid } = this.#sheet.gauges.find(({ id }) => id === gauge)!;
    const grade = this.#sheet.fluids.find(({ id }) => id === fluid)!.grades[0]!;
    return {
      uplift: `uplift-${craft.ledger.replace("craft:", "")}-${gauge.toLowerCase()}-${Math.round(hours_h * 10)}`,
      fluid,
      gauge,
      amount,
      unit: "L",
      typed: String(amount),
      grade,
      batch: `invented ${dateAt(at_ms, "UTC").slice(0, 4)}-${this.#random.whole(1, 4)}`,
      hours_h,
      at: msToInstant(at_ms),
    };
  }

  get random(): Random {
    return this.#random;
  }
}

function alongBand(band: NonNullable<Gauge["band"]>, at20: number, oat_C: number, step: number): number {
  const [here, there] = [bandAt(band, oat_C)!, bandAt(band, 20)!];
  const share = (at20 - there.low) / (there.high - there.low);
  return Math.round((here.low + share * (here.high - here.low)) / step) * step;
}

const engines = ["engineOilLeft", "engineOilRight"] as const;
const powers = ["powerMarginLeft", "powerMarginRight"] as const;

/** What is read after a flight, and what is filled then: entries with their bodies, in order. */
export function afterFlight(
  gauges: CraftGauges,
  craft: DemoCraft,
  { on_ms, hours_h, oat_C }: { on_ms: number; hours_h: number; oat_C: number },
): readonly { readonly type: string; readonly at_ms: number; readonly body: unknown }[] {
  const told: { type: string; at_ms: number; body: unknown }[] = [];
  const read = [...(gauges.random.chance(0.8) ? engines : []), ...(gauges.random.chance(0.25) ? powers : [])];
  read.forEach((id, index) => {
    const reading = gauges.readAfterFlight(id, hours_h, oat_C);
    const at_ms = on_ms + reading.conditions.minutesAfterShutdown! * minute_ms + index * 10_000;
    told.push({ type: "reading.taken", at_ms, body: { ...reading, at: msToInstant(at_ms) } });
    const uplift = gauges.upliftAfter(reading, at_ms + 2 * minute_ms, craft);
    if (uplift !== null) told.push({ type: "uplift.added", at_ms: at_ms + 2 * minute_ms, body: uplift });
  });
  return told.toSorted((a, b) => a.at_ms - b.at_ms);
}

export type Logged = {
  readonly gauges: CraftGauges;
  /** One import per calendar month, oldest first. */
  readonly imports: readonly {
    readonly from: string;
    readonly readings: readonly unknown[];
    readonly uplifts: readonly unknown[];
  }[];
  readonly leakFrom_h: number;
};

/** A flight of the months before the last two weeks, with the air of its day. */
export type Flown = { readonly on_ms: number; readonly flight_h: number; readonly oat_C: number };

export type MonthsAhead = {
  /** Oldest first. */
  readonly flown: readonly Flown[];
  /** Airframe hours before the first of them. */
  readonly from_h: number;
  readonly from_ms: number;
  readonly gauges: CraftGauges;
  readonly leakFrom_h: number;
};

/** What was flown in the months up to `until_ms` and so many airframe hours, and the gauges as they stood before. */
export function monthsAhead(
  sheet: Sheet,
  craft: DemoCraft,
  seed: number,
  until_ms: number,
  until_h: number,
): MonthsAhead {
  const random = randomFrom(seed);
  const flights = flightsUntil(random, until_ms);
  const flown = flights.map((flight) => ({ ...flight, oat_C: airAt(flight.on_ms, random) }));
  const whole = flown.reduce((sum, { flight_h }) => sum + flight_h, 0);
  const from_h = until_h - whole;
  const leak_ms = until_ms - (loggedDays - demoLeak.fromDay) * day_ms;
  const before = flown
    .filter(({ on_ms }) => on_ms < leak_ms)
    .reduce((sum, { flight_h }) => sum + flight_h, 0);
  const leakFrom_h = Number((from_h + before).toFixed(1));
  const gauges = new CraftGauges(sheet, craft, seed + 1, leakFrom_h);
  return { flown, from_h, from_ms: until_ms - loggedDays * day_ms, gauges, leakFrom_h };
}

/** The months before the record began, up to `until_ms` and so many airframe hours. */
export function loggedMonths(
  sheet: Sheet,
  craft: DemoCraft,
  seed: number,
  until_ms: number,
  until_h: number,
): Logged {
  const { flown, from_h, from_ms, gauges, leakFrom_h } = monthsAhead(sheet, craft, seed, until_ms, until_h);
  let hours_h = from_h;
  const months = new Map<string, { readings: unknown[]; uplifts: unknown[] }>();
  let weekly_ms = from_ms;
  for (const { on_ms, flight_h, oat_C } of flown) {
    const month = dateAt(on_ms, demoBase.zone).slice(0, 7);
    const log = months.get(month) ?? { readings: [], uplifts: [] };
    months.set(month, log);
    if (on_ms >= weekly_ms) {
      const at_ms = on_ms - Math.round(flight_h * hour_ms) - 40 * minute_ms;
      log.readings.push(...weeklyReadings(sheet, gauges, at_ms, Number(hours_h.toFixed(1)), oat_C));
      weekly_ms = on_ms + 7 * day_ms;
    }
    hours_h += flight_h;
    gauges.fly(flight_h, hours_h);
    for (const { type, body } of afterFlight(gauges, craft, {
      on_ms,
      hours_h: Number(hours_h.toFixed(1)),
      oat_C,
    }))
      (type === "reading.taken" ? log.readings : log.uplifts).push(body);
  }
  const imports = [...months].map(([month, log]) => ({ from: `technical log, ${month} (invented)`, ...log }));
  return { gauges, imports, leakFrom_h };
}

function flightsUntil(random: Random, until_ms: number): readonly Omit<Flown, "oat_C">[] {
  const flown: Omit<Flown, "oat_C">[] = [];
  for (let back = loggedDays; back > 0; back -= 1) {
    let on_ms = until_ms - back * day_ms + random.whole(90, 180) * minute_ms;
    for (let flights = random.whole(0, 3); flights > 0; flights -= 1) {
      const flight_h = random.whole(4, 12) / 10;
      on_ms += Math.round(flight_h * hour_ms) + random.whole(60, 150) * minute_ms;
      flown.push({ on_ms, flight_h });
    }
  }
  return flown;
}

/** The island's air through the year, with its days. */
function airAt(at_ms: number, random: Random): number {
  const year = Math.cos(((at_ms / day_ms - 25) / 365.25) * 2 * Math.PI);
  return Math.round(5 - 8 * year + 3 * random.normal());
}

/** What the morning's walk reads beside the oil, once a week in the log. */
function weeklyReadings(
  sheet: Sheet,
  gauges: CraftGauges,
  at_ms: number,
  hours_h: number,
  oat_C: number,
): readonly unknown[] {
  return sheet.gauges.flatMap((gauge) => {
    if (gauge.trend === undefined || /^(engineOil|powerMargin)/u.test(gauge.id)) return [];
    const value = gauges.read(gauge, oat_C);
    if (value === null) return [];
    const conditions = {
      ...(gauge.conditions.afterShutdownMin_min === undefined ? {} : { minutesAfterShutdown: 600 }),
      oat_C,
      ...(needsBottle(gauge) ? { bottle_C: oat_C } : {}),
      hot: false,
      level: true,
    };
    const typed = String(Number(value.toFixed(4)));
    return [
      {
        gauge: gauge.id,
        value: Number(typed),
        unit: gauge.unit,
        typed,
        conditions,
        hours_h,
        at: msToInstant(at_ms),
      },
    ];
  });
}
