// What the commander saw: a fact with its author, its place and an end. It stands for that place and never outlives its
// expiry; a newer one of the same place takes its place.
//
// It says what was looked at and nothing else: a null is not a good value, it is not said. While it stands, it stands
// instead of what earlier reports of stations say of the same quantities; what they report later counts beside it, and
// forecasts always do. Who may record one is a matter of roles and not judged here.

import type { By, Say, WeatherPart, WeatherSpan } from "./weather-line.ts";

export type OwnObservation = {
  readonly entry: string;
  readonly by: string;
  readonly place: string;
  readonly at_ms: number;
  readonly expires_ms: number;
  /** Above the ground of the place; null when not judged, `clear` when there is no ceiling. */
  readonly ceiling_ft: number | "clear" | null;
  readonly visibility_m: number | null;
  /** Codes of what falls or hides the view; empty when nothing does, null when not said. */
  readonly weather: readonly string[] | null;
  readonly temperature_C: number | null;
  readonly wind: {
    readonly from_deg: number | null;
    readonly speed_kt: number;
    readonly gust_kt: number | null;
  } | null;
};

/** The observation that stands at a place: of those made by `now_ms`, the newest; null once it has expired. */
export function standingObservation(
  observations: readonly OwnObservation[],
  place: string,
  now_ms: number,
): OwnObservation | null {
  let newest: OwnObservation | null = null;
  for (const observation of observations) {
    if (observation.place !== place || observation.at_ms > now_ms) continue;
    if (newest === null || observation.at_ms > newest.at_ms) newest = observation;
    else if (observation.at_ms === newest.at_ms) newest = shorterOf(observation, newest);
  }
  return newest !== null && newest.expires_ms > now_ms ? newest : null;
}

/** Of two made at the same instant the one that says less for less long; the entry's id settles the rest. */
function shorterOf(a: OwnObservation, b: OwnObservation): OwnObservation {
  const order = a.expires_ms - b.expires_ms || lowest(a) - lowest(b) || (a.entry < b.entry ? -1 : 1);
  return order < 0 ? a : b;
}

function lowest({ ceiling_ft, visibility_m }: OwnObservation): number {
  return Math.min(typeof ceiling_ft === "number" ? ceiling_ft : Infinity, visibility_m ?? Infinity);
}

/** The observation as a span of a line, its heights above the ground of the place. */
export function observationSpan(observation: OwnObservation): WeatherSpan {
  const { at_ms, expires_ms, ceiling_ft, visibility_m, weather, wind } = observation;
  const by: By = { change: "observed", text: observation.by };
  const say = <Value>(value: Value): Say<Value> => ({ value, isSure: true, by });
  const part: WeatherPart = {
    by,
    wind:
      wind === null
        ? null
        : say({ ...wind, isVariable: false, isSpeedAbove: false, isGustAbove: false, between_deg: null }),
    visibility: visibility_m === null ? null : say({ value_m: visibility_m, bound: "exact" }),
    weather: weather === null ? null : say(weather),
    sky:
      ceiling_ft === null
        ? null
        : say({
            ceiling:
              ceiling_ft === "clear"
                ? { bound: "none", ceiling_ft: null, atMost_ft: null }
                : { bound: "exact", ceiling_ft, atMost_ft: ceiling_ft },
            clouds: [],
            isObscured: false,
          }),
    contradictions: [],
  };
  return { from_ms: at_ms, until_ms: expires_ms, parts: [part] };
}

/** A part without the quantities that the commander saw. */
export function withoutSeen(part: WeatherPart, observation: OwnObservation): WeatherPart {
  return {
    ...part,
    wind: observation.wind === null ? part.wind : null,
    visibility: observation.visibility_m === null ? part.visibility : null,
    weather: observation.weather === null ? part.weather : null,
    sky: observation.ceiling_ft === null ? part.sky : null,
  };
}
