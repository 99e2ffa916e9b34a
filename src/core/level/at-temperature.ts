// A reading and its limits brought to one temperature, so that a cold morning is no leak and a warm one hides none.
//
// Pure gas (the gauge's `gas`): by the gas law (core/power), with the temperature of the *bottle*. A band (limits that the
// manual gives against temperature, the bottle's or the air's as the sheet says): the reading keeps its place between the
// two curves, straight between their points, refused outside them. Anything else is as it was read.
//
// Valid for gauge pressures in bar; a mixture that condenses has a band instead.
// Check values: 100 bar gauge at 20 °C reads 86.2 bar at −20 °C (published/trend.json).
import type { ReadingFact } from "../facts/craft.ts";
import { gasPressureAt } from "../power/gas-pressure.ts";
import type { Gauge } from "../sheet/gauge-blocks.ts";

export type Conditions = ReadingFact["conditions"];

export type AtReference =
  | { readonly value: number; readonly why: null }
  | { readonly value: null; readonly why: "temperatureMissing" | "outsideBand" };

type Limits = { readonly low: number; readonly high: number };

/** Where a band's readings are brought to, as far as the band reaches. */
const usual_C = 20;

/** The limits of a band at a temperature; null outside its points. */
export function bandAt(band: NonNullable<Gauge["band"]>, at_C: number): Limits | null {
  const after = band.points.findIndex(({ temperature_C }) => temperature_C >= at_C);
  const right = band.points[after];
  if (right === undefined) return null;
  if (right.temperature_C === at_C) return right;
  const left = band.points[after - 1];
  if (left === undefined) return null;
  const share = (at_C - left.temperature_C) / (right.temperature_C - left.temperature_C);
  return {
    low: left.low + share * (right.low - left.low),
    high: left.high + share * (right.high - left.high),
  };
}

/** Whether readings of a gauge mean nothing without the temperature of the bottle. */
export function needsBottle({ gas, band }: Gauge): boolean {
  return gas !== undefined || band?.temperature === "bottle";
}

/** The temperature that a band is read at; undefined where it was not said. The air's never stands in for the bottle's. */
export function bandTemperature(
  band: NonNullable<Gauge["band"]>,
  { bottle_C, oat_C }: Conditions,
): number | undefined {
  return band.temperature === "bottle" ? bottle_C : oat_C;
}

/** The temperature to which readings of a gauge are brought; null for a gauge that has none. */
export function referenceTemperature({ gas, band }: Gauge): number | null {
  if (gas !== undefined) return gas.reference_C;
  const [first, last] = [band?.points[0], band?.points.at(-1)];
  if (first === undefined || last === undefined) return null;
  return Math.min(Math.max(usual_C, first.temperature_C), last.temperature_C);
}

/** What the gauge would read at its reference temperature. */
export function atReference(gauge: Gauge, value: number, conditions: Conditions): AtReference {
  const { bottle_C } = conditions;
  if (gauge.gas !== undefined) {
    if (bottle_C === undefined) return { value: null, why: "temperatureMissing" };
    const pressure = gasPressureAt(value, bottle_C, gauge.gas.reference_C);
    return pressure === null ? { value: null, why: "temperatureMissing" } : { value: pressure, why: null };
  }
  if (gauge.band === undefined) return { value, why: null };
  const at_C = bandTemperature(gauge.band, conditions);
  if (at_C === undefined) return { value: null, why: "temperatureMissing" };
  const here = bandAt(gauge.band, at_C);
  const there = bandAt(gauge.band, referenceTemperature(gauge)!);
  if (here === null || there === null) return { value: null, why: "outsideBand" };
  const share = (value - here.low) / (here.high - here.low);
  return { value: there.low + share * (there.high - there.low), why: null };
}

export type Marks = { readonly low: number | null; readonly high: number | null };

/** The lower and the upper mark at the reference temperature; null where the sheet gives none. */
export function marksOf(gauge: Gauge): Marks {
  if (gauge.band === undefined) return { low: gauge.low?.value ?? null, high: gauge.high?.value ?? null };
  return bandAt(gauge.band, referenceTemperature(gauge)!)!;
}
