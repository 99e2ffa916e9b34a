// What a gauge of the demo's sheet shows on a usual day at a temperature: a number inside its limits, on its own step.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Gauge } from "../../src/core/sheet/gauge-blocks.ts";
import type { Sheet } from "../../src/core/sheet/schema.ts";

const file = join(import.meta.dirname, "..", "..", "demo", "sheet", "quill.json");
const { gauges } = JSON.parse(readFileSync(file, "utf8")) as Sheet;

/** The gauge whose name in the language a text begins with, without regard to case; the longest such name. */
export function gaugeIn(text: string, language: "en" | "de"): Gauge {
  const [found] = gauges
    .filter(({ name }) => text.toLowerCase().includes(name[language].toLowerCase()))
    .toSorted((a, b) => b.name[language].length - a.name[language].length);
  if (found === undefined) throw new Error(`no gauge of the sheet in “${text}”`);
  return found;
}

/** Null for a counter, which shows what it showed last. */
export function usualReading(gauge: Gauge, at_C: number): number | null {
  const limits = limitsAt(gauge, at_C);
  if (limits === null) return null;
  const [low, high] = limits;
  const parts = 1 / gauge.step;
  return Math.round((low + (high - low) * 0.6) * parts) / parts;
}

function limitsAt(
  { low, high, band, gas, plausible }: Gauge,
  at_C: number,
): readonly [number, number] | null {
  if (band !== undefined) {
    const right = band.points.findIndex(({ temperature_C }) => temperature_C >= at_C);
    const [a, b] = [band.points[right - 1], band.points[right]];
    if (a === undefined || b === undefined) throw new Error(`the sheet says no band at ${at_C} °C`);
    const share = (at_C - a.temperature_C) / (b.temperature_C - a.temperature_C);
    return [a.low + (b.low - a.low) * share, a.high + (b.high - a.high) * share];
  }
  if (low === undefined && high === undefined) return null;
  const ends = [low?.value ?? plausible.low, high?.value ?? plausible.high] as const;
  if (gas === undefined) return ends;
  // A closed gas keeps pressure over absolute temperature; gauges read above the air's 1.013 bar.
  const cooled = (at_C + 273.15) / (gas.reference_C + 273.15);
  return [(ends[0] + 1.013) * cooled - 1.013, (ends[1] + 1.013) * cooled - 1.013];
}
