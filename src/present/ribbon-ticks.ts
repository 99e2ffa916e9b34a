// The hours under a ribbon: which full hours of the reader's zone get a mark, and where.
//
// Steps are whole parts of a day (1, 2, 3, 6, 12 or 24 h), the finest at which labels keep their distance. Counted on
// the local clock, so that 12:00 stays under 12:00 on a day of 23 or 25 hours. Zone rules: the runtime's own.
import { Temporal } from "temporal-polyfill";
import type { RibbonWindow } from "./ribbon.ts";

export type Tick = {
  readonly at_ms: number;
  readonly x: number;
  /** Midnight: the label names the day. */
  readonly day: boolean;
};

const steps_h = [1, 2, 3, 6, 12, 24] as const;
const hour_ms = 3_600_000;

/** Ticks at least `apart` pixels from each other, ascending. */
export function ribbonTicks(window: RibbonWindow, zone: string, apart: number): readonly Tick[] {
  const { from_ms, until_ms, width } = window;
  const pixelsPerHour = (width / (until_ms - from_ms)) * hour_ms;
  const step_h = steps_h.find((step) => step * pixelsPerHour >= apart) ?? 24;
  const ticks: Tick[] = [];
  let day = Temporal.Instant.fromEpochMilliseconds(from_ms).toZonedDateTimeISO(zone).toPlainDate();
  for (let start_ms = -Infinity; start_ms < until_ms; day = day.add({ days: 1 })) {
    start_ms = day.toZonedDateTime(zone).epochMilliseconds;
    for (let hour = 0; hour < 24; hour += step_h) {
      const at_ms = day.toZonedDateTime({ timeZone: zone, plainTime: { hour } }).epochMilliseconds;
      const x = ((at_ms - from_ms) * width) / (until_ms - from_ms);
      const last = ticks.at(-1);
      const clear = last === undefined || x - last.x >= apart * 0.5;
      if (at_ms >= from_ms && at_ms <= until_ms && clear) ticks.push({ at_ms, x, day: hour === 0 });
    }
  }
  return ticks;
}
