// The sky of a call as it is told: at each landing and each take-off the light of that instant at that place, and what
// speaks for its weather. The same record by which the call is judged (call-desk.ts), so that nothing is shown that did
// not count.
//
// In: the desk of the craft, the answer of its call. Out: per stop of the answer, the start first, its landing and its
// take-off; null for what there is not, or whose time is not known. Civil twilight is told apart from day: the sun is down
// and not yet 6° below the horizon. It counts as day. `speaks` is empty where no report and no observation says anything
// of that instant there: then its weather is not known.
import type { BaseSky } from "../facts/sky.ts";
import type { CallAnswer, CallPlace } from "../reach/call.ts";
import { lightAlong } from "../sky/light-along.ts";
import type { Moon } from "../sky/moon.ts";
import { horizon_deg } from "../sky/solar-day.ts";
import type { Sun } from "../sky/sun-altitude.ts";
import { baseSkyAt, type CallDesk, nightOf } from "./call-desk.ts";
import { speaksFor } from "./sky.ts";

/** A report, or somebody's own observation, that counts at an instant. */
export type Speaking =
  | {
      readonly kind: "report" | "forecast";
      readonly entry: string;
      readonly station: string;
      readonly issued_ms: number | null;
      readonly distance_km: number;
    }
  | { readonly kind: "seen"; readonly entry: string; readonly by: string; readonly at_ms: number };

export type SkyInstant = {
  readonly at_ms: number;
  readonly light: "day" | "twilight" | "night";
  readonly moon: Moon;
  /** One's own observation first, then the nearest station. */
  readonly speaks: readonly Speaking[];
};

export type StopSky = { readonly landing: SkyInstant | null; readonly takeoff: SkyInstant | null };

/** Null where neither sun nor base is known. */
export function callSky(
  { base, sun, situation }: Pick<CallDesk, "base" | "sun" | "situation">,
  { call, stops }: CallAnswer,
): readonly StopSky[] | null {
  if (base === null || sun === null) return null;
  const places = [call.from, ...call.stops.map(({ place }) => place)];
  return stops.map(({ arrive_ms, leave_ms }, index) => {
    const place = places[index]!;
    const at = (at_ms: number | null): SkyInstant | null =>
      at_ms === null ? null : instantOf(base, sun, situation, place, at_ms);
    return { landing: at(arrive_ms), takeoff: at(leave_ms) };
  });
}

function instantOf(
  base: BaseSky,
  sun: Sun,
  situation: CallDesk["situation"],
  place: CallPlace,
  at_ms: number,
): SkyInstant {
  const [there] = lightAlong(sun, nightOf(situation), [{ position: place, at_ms }]);
  const { light, sunAltitude_deg, moon } = there!;
  return {
    at_ms,
    light: light === "day" && sunAltitude_deg < horizon_deg ? "twilight" : light,
    moon,
    speaks: speaking(baseSkyAt(base, place), situation.now_ms, at_ms),
  };
}

function speaking(there: BaseSky, now_ms: number, at_ms: number): readonly Speaking[] {
  const { sources, usable, observation } = speaksFor(there, now_ms) ?? nobody;
  const at = sources.filter(({ from_ms, until_ms }) => from_ms <= at_ms && at_ms < until_ms);
  const entries = new Set(at.map(({ entry }) => entry));
  const reports = usable
    .filter(({ entry }) => entries.has(entry))
    .toSorted((a, b) => a.station.distance_km - b.station.distance_km)
    .map(({ entry, report, station }): Speaking => ({
      kind: report.kind === "TAF" ? "forecast" : "report",
      entry,
      station: station.station,
      issued_ms: report.issued_ms,
      distance_km: station.distance_km,
    }));
  if (observation === null || observation.at_ms > at_ms || observation.expires_ms <= at_ms) return reports;
  const { entry, by, at_ms: seen_ms } = observation;
  return [{ kind: "seen", entry, by, at_ms: seen_ms }, ...reports];
}

const nobody = { sources: [], usable: [], observation: null } as const;
