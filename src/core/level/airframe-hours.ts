// Airframe hours at an instant: what the hour meter was last read at, and the flights logged since.
//
// In: the sheet, whose first counter in hours is the hour meter, and the record. Counted from readings of the meter and
// from signed bases of the counters; one that does not fit the others (never-falling.ts) is left out. Before the first of
// them, flights are taken off it. Where there is none, the hours that any reading bears stand in. Null without anything.
import type { CraftState, ReadingFact } from "../facts/craft.ts";
import { own } from "../facts/own.ts";
import type { Sheet } from "../sheet/schema.ts";
import { neverFalling } from "./never-falling.ts";

/** Airframe hours at an instant; null where not known. */
export type HoursClock = (at_ms: number) => number | null;

type Mark = { readonly at_ms: number; readonly hours_h: number };

export function airframeHours(sheet: Sheet, state: CraftState): HoursClock {
  const marks = meterMarks(sheet, state);
  const flights = state.flights.toSorted((a, b) => a.on_ms - b.on_ms);
  const landed = flights.map(({ on_ms }) => on_ms);
  const flown = [0];
  for (const { flight_h } of flights) flown.push(flown.at(-1)! + flight_h);
  const flownUntil = (at_ms: number): number => flown[countUntil(landed, at_ms)]!;
  const instants = marks.map(({ at_ms }) => at_ms);
  return (at_ms) => {
    const mark = marks[Math.max(0, countUntil(instants, at_ms) - 1)];
    return mark === undefined ? null : mark.hours_h + flownUntil(at_ms) - flownUntil(mark.at_ms);
  };
}

function meterMarks(sheet: Sheet, state: CraftState): readonly Mark[] {
  const meter = sheet.gauges.find(({ kind, unit }) => kind === "counter" && unit === "h")?.id;
  const read = (meter === undefined ? [] : (own(state.readings, meter) ?? [])).filter(isCounted);
  const found: Mark[] = [
    ...read.map(({ at_ms, value }) => ({ at_ms, hours_h: value })),
    ...state.due.bases.map(({ at_ms, counters }) => ({ at_ms, hours_h: counters.flightHours_h })),
  ];
  if (found.length === 0) {
    for (const { at_ms, hours_h } of Object.values(state.readings).flat().filter(isCounted)) {
      if (hours_h !== null) found.push({ at_ms, hours_h });
    }
  }
  const sorted = found.toSorted((a, b) => a.at_ms - b.at_ms || a.hours_h - b.hours_h);
  const kept = neverFalling(sorted.map(({ hours_h }) => hours_h));
  return sorted.filter((_, index) => kept[index]);
}

const isCounted = ({ withdrawn }: ReadingFact): boolean => withdrawn === undefined;

/** How many of the rising values are at most `limit`. */
export function countUntil(rising: readonly number[], limit: number): number {
  let low = 0;
  let high = rising.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (rising[middle]! <= limit) low = middle + 1;
    else high = middle;
  }
  return low;
}
