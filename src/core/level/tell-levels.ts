// For tests: a craft of the demo's type with readings, uplifts and flights of one's choice, without keys and entries.
import { emptyCraft } from "../facts/craft.ts";
import type { CraftState, FlightFact, ReadingFact, UpliftFact } from "../facts/craft.ts";
import { hour_ms, minute_ms } from "../facts/instant.ts";
import type { Situation } from "../facts/situation.ts";

export const dayOne_ms = Date.UTC(2026, 1, 4, 6);

type Told = {
  readonly readings?: readonly ReadingFact[];
  readonly uplifts?: readonly UpliftFact[];
  readonly flights?: readonly FlightFact[];
  readonly levelsSettled?: CraftState["levelsSettled"];
};

/** The state; equipment that nobody recorded is not known, so that every gauge counts. */
export function craftWith({ readings = [], ...rest }: Told): CraftState {
  const opened = {
    entry: "e".repeat(64),
    by: "p-one",
    at_ms: dayOne_ms,
    name: "Test",
    variant: "2",
    sheet: "a".repeat(64),
  };
  return {
    ...emptyCraft,
    opened,
    ...rest,
    readings: Object.fromEntries(Map.groupBy(readings, ({ gauge }) => gauge)),
  };
}

let told = 0;
/** Ids that differ, and that tell nothing of order. */
function nextId(): string {
  told += 1;
  return ((told * 7919) % 1_000_003).toString(16).padStart(64, "0");
}

/** A reading of the left engine's oil under the sheet's conditions, unless told otherwise. */
export function reading(hours_h: number, value: number, change: Partial<ReadingFact> = {}): ReadingFact {
  return {
    entry: nextId(),
    by: "p-one",
    at_ms: dayOne_ms + Math.round(hours_h * hour_ms),
    gauge: "engineOilLeft",
    value,
    unit: "L",
    typed: String(value),
    walk: null,
    conditions: { minutesAfterShutdown: 20, hot: true, level: true, oat_C: 3 },
    hours_h,
    ...change,
  };
}

/** Filled a minute after the reading of that hour. */
export function uplift(hours_h: number, amount: number, change: Partial<UpliftFact> = {}): UpliftFact {
  return {
    entry: nextId(),
    by: "p-one",
    at_ms: dayOne_ms + Math.round(hours_h * hour_ms) + minute_ms,
    uplift: `uplift-${nextId().slice(56)}`,
    fluid: "engineOil",
    gauge: "engineOilLeft",
    amount,
    unit: "L",
    typed: String(amount),
    grade: "synthetic turbine oil, 5 cSt",
    batch: "B1",
    hours_h,
    ...change,
  };
}

export function flight(off_ms: number, flight_h: number): FlightFact {
  const on_ms = off_ms + Math.round(flight_h * hour_ms);
  return {
    entry: nextId(),
    by: "p-one",
    at_ms: on_ms,
    flight: `flight-${nextId().slice(56)}`,
    off_ms,
    on_ms,
    flight_h,
    landings: 2,
    hoistCycles: 0,
    starts: null,
    nightLandings: null,
    nvis: null,
    instrument_min: null,
    nightHoistCycles: null,
    legs: 1,
    exceedance: null,
    operation: "dayVfr",
    crew: ["p-one"],
  };
}

/** Even, without memory, never twice the same in a hundred: scatter that is no chance. Deviation about 1. */
export function evenScatter(index: number): number {
  return ((((index * 7919 + 13) % 101) + 0.5) / 101 - 0.5) * Math.sqrt(12);
}

/** A reading every hour, falling by `perHour` of a level, with scatter of the sheet's size. */
export function fallingFrom(
  from_h: number,
  count: number,
  level: number,
  perHour: number,
  change: Partial<ReadingFact> = {},
): readonly ReadingFact[] {
  return Array.from({ length: count }, (_, index) => {
    const value = level - perHour * index + 0.06 * evenScatter(index + from_h);
    return reading(from_h + index, Number(value.toFixed(3)), change);
  });
}

export function situationAt(now_ms: number): Situation {
  return {
    now_ms,
    horizon_ms: now_ms + 72 * hour_ms,
    settings: { zone: "Europe/Oslo", exchangeLimit_min: 240 },
    record: { newest_ms: now_ms, aside: [], exchanged_ms: now_ms, unsent: 0 },
  };
}

export const at_h = (hours_h: number): number => dayOne_ms + Math.round(hours_h * hour_ms);
