// One reading against the sheet's limits for its gauge.
//
// In: a gauge of the sheet and a reading with its conditions. Out: inside, below, above, or not known with why. Limits
// may be fixed, depend on temperature (`band`: straight between its points, refused outside them), or hold at a
// reference temperature for a pure gas (Gay-Lussac's law on absolute pressure and absolute temperature, the *bottle's*;
// check value: 100 bar gauge at 20 °C reads 86.2 bar at −20 °C). A value on a closed limit is inside (law 6).
import type { ReadingFact } from "../facts/craft.ts";
import { above, atLeast, atMost, below } from "../quantity/compare.ts";
import type { Gauge, GaugeLimit } from "../sheet/gauge-blocks.ts";

export type ReadingVerdict =
  | { readonly is: "inside"; readonly compared: number }
  | { readonly is: "below" | "above"; readonly compared: number; readonly limit: number }
  | {
      readonly is: "notKnown";
      readonly why: "temperatureMissing" | "outsideBand" | "otherUnit" | "notANumber";
    };

const standardPressure_bar = 1.01325;
const zeroCelsius_K = 273.15;

/** Gauge pressure that the same gas would have at another temperature, both in bar gauge and °C. */
export function gasPressureAt(pressure_bar: number, at_C: number, reference_C: number): number {
  const absolute_bar = pressure_bar + standardPressure_bar;
  return (absolute_bar * (reference_C + zeroCelsius_K)) / (at_C + zeroCelsius_K) - standardPressure_bar;
}

function bandAt(
  points: NonNullable<Gauge["band"]>["points"],
  at_C: number,
): { low: number; high: number } | null {
  for (const [index, right] of points.entries()) {
    const left = points[index - 1];
    if (left === undefined) {
      if (at_C === right.temperature_C) return right;
      continue;
    }
    if (at_C < left.temperature_C || at_C > right.temperature_C) continue;
    const share = (at_C - left.temperature_C) / (right.temperature_C - left.temperature_C);
    return {
      low: left.low + share * (right.low - left.low),
      high: left.high + share * (right.high - left.high),
    };
  }
  return null;
}

function against(value: number, low: GaugeLimit | undefined, high: GaugeLimit | undefined): ReadingVerdict {
  if (low !== undefined && !(low.closed ? atLeast(value, low.value) : above(value, low.value))) {
    return { is: "below", compared: value, limit: low.value };
  }
  if (high !== undefined && !(high.closed ? atMost(value, high.value) : below(value, high.value))) {
    return { is: "above", compared: value, limit: high.value };
  }
  return { is: "inside", compared: value };
}

export function readingVerdict(
  gauge: Gauge,
  reading: Pick<ReadingFact, "value" | "unit" | "conditions">,
): ReadingVerdict {
  if (!Number.isFinite(reading.value)) return { is: "notKnown", why: "notANumber" };
  if (reading.unit !== gauge.unit) return { is: "notKnown", why: "otherUnit" };
  const { bottle_C, oat_C } = reading.conditions;
  if (gauge.gas !== undefined) {
    if (bottle_C === undefined) return { is: "notKnown", why: "temperatureMissing" };
    return against(gasPressureAt(reading.value, bottle_C, gauge.gas.reference_C), gauge.low, gauge.high);
  }
  if (gauge.band !== undefined) {
    const at_C = bottle_C ?? oat_C;
    if (at_C === undefined) return { is: "notKnown", why: "temperatureMissing" };
    const limits = bandAt(gauge.band.points, at_C);
    if (limits === null) return { is: "notKnown", why: "outsideBand" };
    return against(reading.value, { value: limits.low, closed: true }, { value: limits.high, closed: true });
  }
  return against(reading.value, gauge.low, gauge.high);
}
