// One gauge of an invented craft, told from flight to flight: what is really in it, what somebody reads off it, when it is
// filled. Nothing here is fitted to anything: the numbers are what such gauges usually do.
//
// A reading is the level with the reader's scatter, on the gauge's own step; now and then one is plainly wrong. Filling is
// done from cans, so that an amount is known to the can and is poured to a few hundredths.
import type { Random } from "./random.ts";

export type GaugeStory = {
  readonly start: number;
  /** What a flight hour takes away; negative where it adds (a gap that widens). */
  readonly perHour: number;
  /** Standard deviation of that from flight to flight, as a share of it. */
  readonly uneven: number;
  /** Standard deviation of a reading, before it is rounded to the step. */
  readonly scatter: number;
  readonly step: number;
  /** Taken away on top from an airframe hour on. */
  readonly leak?: { readonly from_h: number; readonly perHour: number };
  /** Filled from cans of a size when it reads less. */
  readonly fill?: { readonly below: number; readonly upTo: number; readonly can: number };
  /** Share of readings that are plainly wrong, and by how much. */
  readonly wrong?: { readonly share: number; readonly by: number };
};

/** Left as it is, the level that this many flight hours leave. */
export class GaugeTold {
  readonly #story: GaugeStory;
  readonly #random: Random;
  #level: number;

  constructor(story: GaugeStory, random: Random) {
    this.#story = story;
    this.#random = random;
    this.#level = story.start;
  }

  /** A flight that ends at an airframe hour. */
  fly(flight_h: number, until_h: number): void {
    const { perHour, uneven, leak } = this.#story;
    const leaking_h = leak === undefined ? 0 : Math.min(flight_h, Math.max(0, until_h - leak.from_h));
    this.#level -= flight_h * perHour * (1 + uneven * this.#random.normal());
    this.#level -= leaking_h * (leak?.perHour ?? 0);
  }

  read(): number {
    const { scatter, step, wrong } = this.#story;
    const slip =
      wrong !== undefined && this.#random.chance(wrong.share)
        ? (this.#random.chance(0.5) ? 1 : -1) * wrong.by
        : 0;
    const seen = this.#level + scatter * this.#random.normal() + slip;
    return Number((Math.round(Math.max(0, seen) / step) * step).toFixed(4));
  }

  /** What is filled after this was read, in whole cans; 0 when nothing is. */
  fillAfter(read: number): number {
    const { fill } = this.#story;
    if (fill === undefined || read >= fill.below) return 0;
    const amount = Math.max(1, Math.floor((fill.upTo - read) / fill.can)) * fill.can;
    this.#level += amount + 0.02 * this.#random.normal();
    return Number(amount.toFixed(4));
  }
}

/** The oil of one of the Quill's engines. */
export function engineOil(leak?: GaugeStory["leak"]): GaugeStory {
  return {
    start: 5.6,
    perHour: 0.03,
    uneven: 0.25,
    scatter: 0.07,
    step: 0.1,
    fill: { below: 4.7, upTo: 5.7, can: 0.25 },
    wrong: { share: 0.01, by: 0.4 },
    ...(leak === undefined ? {} : { leak }),
  };
}
