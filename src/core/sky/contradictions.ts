// Reports that contradict themselves: then it is not known which half is right, and the worse of both counts besides.
//
// In: the conditions of one part. Out: codes of what does not go together, empty for a report at one with itself.
// Definitions behind them: CAVOK has 10 km or more, no cloud of significance and no significant weather; fog is below
// 1,000 m (5/8 SM in the United States); mist is below 10 km; the dew point is at most the temperature (ICAO Annex 3,
// appendix 3, from memory; FAA AIM). CLR with rain is no contradiction: an automatic station does not see the cloud.

import { significantBelow_ft } from "./ceiling.ts";
import type { Conditions } from "./report.ts";

export const contradictions = [
  "cavokWithVisibility",
  "cavokWithWeather",
  "cavokWithCloud",
  "fogWithVisibility",
  "mistWithVisibility",
  "clearWithCloud",
  "clearWithPrecipitation",
  "dewpointAboveTemperature",
] as const;
export type Contradiction = (typeof contradictions)[number];

/** 5/8 of a statute mile: above it there is fog by nobody's definition. */
const fogBelow_m = (1609.344 * 5) / 8;

export function contradictionsOf(conditions: Conditions): Contradiction[] {
  const { cavok, visibility, clouds, skyClear, verticalVisibility, weather } = conditions;
  const { temperature_C, dewpoint_C } = conditions;
  const least_m = visibility === null ? null : visibility.bound === "below" ? 0 : visibility.value_m;
  const real = weather.filter((code) => code !== "NSW" && code !== "//");
  const isFog = real.some((code) => /^(?:FZ)?FG$/u.test(code));
  const isWet = real.some(
    (code) => /DZ|RA|SN|SG|PL|GR|GS/u.test(code) && !/^(?:VC|[+-]?(?:BL|DR))/u.test(code),
  );
  const hasSky = clouds.length > 0 || verticalVisibility !== null;
  const isLow = ({ base_ft, kind }: Conditions["clouds"][number]): boolean =>
    kind !== null || base_ft === null || base_ft < significantBelow_ft;
  const found: [Contradiction, boolean][] = [
    ["cavokWithVisibility", cavok && least_m !== null && least_m < 10_000],
    ["cavokWithWeather", cavok && real.length > 0],
    ["cavokWithCloud", cavok && (clouds.some(isLow) || verticalVisibility !== null)],
    ["fogWithVisibility", isFog && least_m !== null && least_m > fogBelow_m * (1 + 1e-9)],
    [
      "mistWithVisibility",
      real.includes("BR") && visibility?.bound === "atLeast" && visibility.value_m >= 10_000,
    ],
    ["clearWithCloud", skyClear !== null && hasSky],
    ["clearWithPrecipitation", skyClear === "SKC" && isWet],
    ["dewpointAboveTemperature", temperature_C !== null && dewpoint_C !== null && dewpoint_C > temperature_C],
  ];
  return found.filter(([, holds]) => holds).map(([name]) => name);
}
