// What is recorded of the sky at a base: reports, what somebody saw, stations, limits.
import { minute_ms, msToInstant } from "../../core/facts/instant.ts";
import type { BaseHeld } from "../../ledger/base/base-held.ts";
import type { DeviceCore } from "./device-core.ts";
import type { NewObservation, NewStation, NewWeatherLimits } from "./model.ts";

export class SkyActions {
  readonly #core: DeviceCore;

  constructor(core: DeviceCore) {
    this.#core = core;
  }

  #base(base: string): BaseHeld {
    const held = this.#core.book.bases.find((each) => each.base === base)?.held ?? null;
    if (held === null) throw new Error(`this device holds no base ${base}`);
    return held;
  }

  /** An action that writes one entry of a base, made from what the base holds. */
  #ofBase(base: string, type: string, bodyFrom: (held: BaseHeld, now_ms: number) => object): Promise<void> {
    return this.#core.record(() =>
      this.#core.write(base, type, bodyFrom(this.#base(base), this.#core.now_ms())),
    );
  }

  readonly hearReport = (
    base: string,
    text: string,
    source: "typed" | "pasted",
    instead: readonly string[],
  ): Promise<void> => {
    return this.#ofBase(base, "weather.heard", (_held, now_ms) => ({
      text,
      source,
      at: msToInstant(now_ms),
      replaces: instead,
    }));
  };

  readonly observe = (base: string, { minutes, ...seen }: NewObservation): Promise<void> => {
    return this.#ofBase(base, "weather.seen", ({ folded }, now_ms) => {
      // What the same person saw here before is replaced; what others saw stands beside it.
      const replaces = folded.state.observations
        .filter(({ by, place }) => by === this.#core.mySession().person.id && place === seen.place)
        .map(({ entry }) => entry);
      const [at, expires] = [msToInstant(now_ms), msToInstant(now_ms + minutes * minute_ms)];
      return { at, expires, ...seen, replaces: replaces.slice(-256) };
    });
  };

  readonly withdrawWeather = (base: string, entry: string, why: string): Promise<void> => {
    return this.#ofBase(base, "weather.withdrawn", (_held, now_ms) => ({
      withdrawn: entry,
      why,
      at: msToInstant(now_ms),
    }));
  };

  readonly describeStation = (base: string, station: NewStation): Promise<void> => {
    return this.#ofBase(base, "weather.stationDescribed", ({ folded }) => ({
      ...station,
      replaces: folded.state.stations
        .filter((each) => each.station === station.station)
        .map(({ entry }) => entry),
    }));
  };

  readonly setWeatherLimits = (base: string, limits: NewWeatherLimits): Promise<void> => {
    return this.#ofBase(base, "weather.settingsSet", ({ folded }) => ({
      ...limits,
      replaces: folded.state.settings.map(({ entry }) => entry),
    }));
  };
}
