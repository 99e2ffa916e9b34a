// The weather at a place as bands over time: in each span the worst ceiling over its ground, visibility and wind that
// anything says, and whether something that counts could be worse.
//
// In: all that speaks for the place with its times (assess-weather.ts), the ground that has to be cleared. Out: touching
// spans. The worst that is known stands even where more is not known; `isSure` false then. What nothing speaks of is null.
// Shown, never judged: the judgement asks each need apart (judge-span.ts).

import type { Sourced } from "./assess-weather.ts";
import { ceilingAboveGround } from "./ceiling-above-ground.ts";
import { strongest } from "./wind-limits.ts";

export type Worst = {
  /** Null: nothing is known. Infinity stands for a sky without a ceiling, and a view without an end. */
  readonly value: number | null;
  readonly isSure: boolean;
};

export type SkyBand = {
  readonly from_ms: number;
  readonly until_ms: number;
  /** Feet above the ground that has to be cleared. */
  readonly ceiling: Worst;
  /** Metres. */
  readonly visibility: Worst;
  /** Knots: the mean, and the strongest of mean and gust. */
  readonly wind: Worst;
  readonly gust: Worst;
  /** Codes of what falls or hides the view, seen or forecast. */
  readonly weather: readonly string[];
  /** Only forecasts speak of this time. */
  readonly isForecast: boolean;
};

export function skyBands(
  sources: readonly Sourced[],
  ground_ft: number,
  from_ms: number,
  until_ms: number,
): readonly SkyBand[] {
  const times = sources
    .flatMap((source) => [source.from_ms, source.until_ms])
    .filter((at_ms) => at_ms > from_ms && at_ms < until_ms);
  const starts = [...new Set([from_ms, ...times])].toSorted((a, b) => a - b);
  return starts.map((start_ms, index) => {
    const active = sources.filter((source) => source.from_ms <= start_ms && start_ms < source.until_ms);
    return {
      from_ms: start_ms,
      until_ms: starts[index + 1] ?? until_ms,
      ...bandOf(active, ground_ft),
      isForecast: active.every(({ isForecast }) => isForecast),
    };
  });
}

type Spoken = { readonly value: number | null; readonly isSure: boolean };

/** Of what is spoken the worst; `worst` is min or max. Where nobody speaks, nothing is known. */
function worstOf(spoken: readonly Spoken[], worst: (...values: number[]) => number): Worst {
  const known = spoken.flatMap(({ value }) => value ?? []);
  return {
    value: known.length === 0 ? null : worst(...known),
    isSure: spoken.length > 0 && spoken.every(({ value, isSure }) => isSure && value !== null),
  };
}

function bandOf(
  active: readonly Sourced[],
  ground_ft: number,
): Pick<SkyBand, "ceiling" | "visibility" | "wind" | "gust" | "weather"> {
  const ceilings = active.flatMap(({ part: { sky }, station_ft }): Spoken[] => {
    if (sky === null) return [];
    const { bound, ceiling_ft, atMost_ft } = ceilingAboveGround(sky.value.ceiling, station_ft, ground_ft);
    const value = bound === "none" ? Infinity : (ceiling_ft ?? atMost_ft);
    return [{ value, isSure: sky.isSure && bound !== "unknown" }];
  });
  const visibilities = active.flatMap(({ part: { visibility } }): Spoken[] => {
    if (visibility === null) return [];
    const { value, isSure } = visibility;
    return [{ value: value?.value_m ?? null, isSure: isSure && value?.bound !== "below" }];
  });
  const winds = active.flatMap(({ part: { wind } }) => wind ?? []);
  const spokenWinds = winds.map(({ value, isSure }): Spoken => ({
    value: value?.speed_kt ?? null,
    isSure: isSure && value?.isSpeedAbove !== true,
  }));
  const spokenGusts = winds.map(({ value, isSure }): Spoken => {
    const top = value === null ? null : strongest(value);
    return { value: top?.speed_kt ?? null, isSure: isSure && top?.isAbove !== true };
  });
  return {
    ceiling: worstOf(ceilings, Math.min),
    visibility: worstOf(visibilities, Math.min),
    wind: worstOf(spokenWinds, Math.max),
    gust: worstOf(spokenGusts, Math.max),
    weather: [...new Set(active.flatMap(({ part }) => part.weather?.value ?? []))],
  };
}
