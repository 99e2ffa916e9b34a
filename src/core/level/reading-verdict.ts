// One reading against the sheet's limits for its gauge.
//
// In: a gauge of the sheet and a reading with its conditions. Out: inside, below, above, or not known with why. Limits
// may be fixed, depend on temperature (`band`), or hold at a reference temperature for a pure gas (at-temperature.ts). A
// value on a closed limit is inside (law 6).
import type { ReadingFact } from "../facts/craft.ts";
import { above, atLeast, atMost, below } from "../quantity/compare.ts";
import type { Gauge, GaugeLimit } from "../sheet/gauge-blocks.ts";
import { atReference, bandAt, bandTemperature } from "./at-temperature.ts";

export type ReadingVerdict =
  | { readonly is: "inside"; readonly compared: number }
  | { readonly is: "below" | "above"; readonly compared: number; readonly limit: number }
  | {
      readonly is: "notKnown";
      readonly why: "temperatureMissing" | "outsideBand" | "otherUnit" | "notANumber";
    };

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
  if (gauge.gas !== undefined) {
    const { value, why } = atReference(gauge, reading.value, reading.conditions);
    return value === null ? { is: "notKnown", why } : against(value, gauge.low, gauge.high);
  }
  if (gauge.band !== undefined) {
    const at_C = bandTemperature(gauge.band, reading.conditions);
    if (at_C === undefined) return { is: "notKnown", why: "temperatureMissing" };
    const limits = bandAt(gauge.band, at_C);
    if (limits === null) return { is: "notKnown", why: "outsideBand" };
    return against(reading.value, { value: limits.low, closed: true }, { value: limits.high, closed: true });
  }
  return against(reading.value, gauge.low, gauge.high);
}
