// The worst that a line of weather holds over a window of arrival, quantity by quantity, and which group makes it.
//
// The window is closed: who arrives as a change begins or ends arrives in it. The worst known value is given even where
// something is not known beside it, since it is bad news that stands; `unknownBy` then names the first group that could
// say worse, or `notCovered` where the line does not reach over the whole window.

import type { Ceiling } from "./ceiling.ts";
import type { PlanningRule } from "./planning-rule.ts";
import type { Visibility, WeatherReport } from "./report.ts";
import { type By, type Say, weatherLine, type WeatherPart, type WeatherSpan } from "./weather-line.ts";

export type Worst<Value> = {
  /** Null when nothing is known of it. */
  readonly value: Value | null;
  readonly by: By | null;
  readonly unknownBy: By | "notCovered" | null;
};

export type WorstWind = { readonly speed_kt: number; readonly isAbove: boolean };

export type WorstWeather = {
  readonly ceiling: Worst<Ceiling>;
  readonly visibility: Worst<Visibility>;
  /** The strongest mean wind, and the strongest of mean wind and gust. */
  readonly wind: Worst<WorstWind>;
  readonly gust: Worst<WorstWind>;
  /** Every code that is forecast or seen at some time in the window. */
  readonly weather: { readonly codes: readonly { readonly code: string; readonly by: By }[] } & Pick<
    Worst<never>,
    "unknownBy"
  >;
};

/** One quantity of a part. */
type Asked = (part: WeatherPart) => object | null;

/** The worst that a TAF forecasts for a window of arrival, its change groups counted by the rule. */
export function tafWindow(
  taf: WeatherReport,
  from_ms: number,
  to_ms: number,
  rule: PlanningRule,
): WorstWeather {
  return worstOver(weatherLine(taf, rule, 0), from_ms, to_ms);
}

/** The worst of a line from `from_ms` to `to_ms`, both included. */
export function worstOver(line: readonly WeatherSpan[], from_ms: number, to_ms: number): WorstWeather {
  const inside = line.filter((span) => span.from_ms <= to_ms && span.until_ms >= from_ms);
  const parts = inside.flatMap((span) => span.parts);
  const covered = (pick: Asked): boolean =>
    covers(
      inside.filter((span) => span.parts.some((part) => pick(part) !== null)),
      from_ms,
      to_ms,
    );
  return {
    ceiling: worst(
      parts,
      covered((part) => part.sky),
      (part) => part.sky,
      (sky) => knownCeiling(sky.ceiling),
      ceilingRank,
    ),
    visibility: worst(
      parts,
      covered((part) => part.visibility),
      (part) => part.visibility,
      (visibility) => visibility,
      visibilityRank,
    ),
    wind: worst(
      parts,
      covered((part) => part.wind),
      (part) => part.wind,
      (wind) =>
        wind === null || wind.speed_kt === null
          ? null
          : { speed_kt: wind.speed_kt, isAbove: wind.isSpeedAbove },
      windRank,
    ),
    gust: worst(
      parts,
      covered((part) => part.wind),
      (part) => part.wind,
      (wind) => {
        if (wind === null) return null;
        const isGust = wind.gust_kt !== null && wind.gust_kt >= (wind.speed_kt ?? 0);
        const speed_kt = isGust ? wind.gust_kt : wind.speed_kt;
        return speed_kt === null
          ? null
          : { speed_kt, isAbove: isGust ? wind.isGustAbove : wind.isSpeedAbove };
      },
      windRank,
    ),
    weather: {
      codes: parts.flatMap(({ weather }) =>
        weather === null ? [] : weather.value.map((code) => ({ code, by: weather.by })),
      ),
      unknownBy: unknownBy(
        parts,
        covered((part) => part.weather),
        (part) => part.weather,
      ),
    },
  };
}

/** Whether the spans, of one report or of several, reach over the whole window without a gap. */
function covers(spans: readonly WeatherSpan[], from_ms: number, to_ms: number): boolean {
  const inside = spans.toSorted((a, b) => a.from_ms - b.from_ms);
  let reached_ms = from_ms;
  for (const span of inside) if (span.from_ms <= reached_ms) reached_ms = Math.max(reached_ms, span.until_ms);
  // A line is half open: it holds up to its end, not at it.
  return inside.length > 0 && reached_ms > to_ms;
}

function unknownBy<Value>(
  parts: readonly WeatherPart[],
  isCovered: boolean,
  pick: (part: WeatherPart) => Say<Value> | null,
): By | "notCovered" | null {
  for (const part of parts) {
    const say = pick(part);
    if (say !== null && !say.isSure) return say.by;
  }
  return isCovered ? null : "notCovered";
}

/** The value with the lowest rank; of equals the first. */
function worst<Value, Known>(
  parts: readonly WeatherPart[],
  isCovered: boolean,
  pick: (part: WeatherPart) => Say<Value> | null,
  known: (value: Value) => Known | null,
  rank: (value: Known) => number,
): Worst<Known> {
  let found: { value: Known; by: By } | null = null;
  for (const part of parts) {
    const say = pick(part);
    const value = say === null ? null : known(say.value);
    if (say === null || value === null) continue;
    if (found === null || rank(value) < rank(found.value)) found = { value, by: say.by };
  }
  return {
    value: found?.value ?? null,
    by: found?.by ?? null,
    unknownBy: unknownBy(parts, isCovered, pick),
  };
}

/** A ceiling to compare: the lowest certain one where more is unknown; null when nothing is certain. */
function knownCeiling(ceiling: Ceiling): Ceiling | null {
  if (ceiling.bound !== "unknown") return ceiling;
  return ceiling.atMost_ft === null
    ? null
    : { bound: "exact", ceiling_ft: ceiling.atMost_ft, atMost_ft: ceiling.atMost_ft };
}

/** Just below its figure for an exact one, so that "at least 5,000" is the better of the two at 5,000. */
function ceilingRank({ bound, ceiling_ft }: Ceiling): number {
  return ceiling_ft === null ? Infinity : ceiling_ft + (bound === "atLeast" ? 0.5 : 0);
}

const visibilityOrder = { below: 0, exact: 0.1, atLeast: 0.2 } as const;

function visibilityRank({ value_m, bound }: Visibility): number {
  return value_m + visibilityOrder[bound];
}

function windRank({ speed_kt, isAbove }: WorstWind): number {
  return -speed_kt - (isAbove ? 0.1 : 0);
}
