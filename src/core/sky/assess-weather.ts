// Assesses the weather at a place: ceiling over its ground, visibility, wind, ice, listed weather, and how well all of
// it is known, now and until the horizon.
//
// In: reports and own observations as recorded, the stations named for the place, what each operation needs, the
// operator's and the sheet's limits. Out: reasons, half open in time, that begin and end only at the reports' own times.
// Everything that speaks for a time counts, the worse wins; what a missing, stale or unread group could have said is not
// known. A present that nobody has observed lately is not known for as long as a report would have stood; beyond, the
// forecast is what there is. Sources of the single judgements stand in the files that make them.

import { minute_ms } from "../facts/instant.ts";
import type { Reason, Source } from "../facts/reason.ts";
import { type JudgedPart, judgeSpan } from "./judge-span.ts";
import { observationSpan, type OwnObservation, standingObservation, withoutSeen } from "./own-observation.ts";
import { type SetAside, type Station, type UsableReport, usableReports } from "./usable-reports.ts";
import { weatherLine, type WeatherPart } from "./weather-line.ts";
import type { WeatherQuestion } from "./weather-question.ts";

export type SourceQuestion = Pick<
  WeatherQuestion,
  "now_ms" | "place" | "ground_ft" | "stations" | "held" | "observations" | "lowest_C"
> & { readonly limits: Pick<WeatherQuestion["limits"], "planning" | "reportAge_min" | "stationDistance_km"> };

/** One reason for a time, before equal ones that touch are joined. */
type Piece = Reason & { readonly from_ms: number; readonly until_ms: number };

const unknownLaw: Source = { kind: "law", law: "unknownIsNeverReady" };

export function assessWeather(question: WeatherQuestion): Reason[] {
  const { now_ms, horizon_ms } = question;
  const { usable, aside, observation, sources } = weatherSources(question);
  const asides = aside.map((each): Reason => ({
    ...advice("weather.setAside", [each.entry]),
    facts: {
      place: question.place,
      station: each.report.station,
      report: each.report.kind,
      issued_ms: each.report.issued_ms,
      why: each.why,
    },
  }));
  const times = [
    ...sources.flatMap(({ from_ms, until_ms }) => [from_ms, until_ms]),
    ...question.needs.flatMap((need) => [need.from_ms, need.until_ms]),
  ].filter((at_ms): at_ms is number => at_ms !== null && at_ms > now_ms && at_ms < horizon_ms);
  const starts = [...new Set([now_ms, ...times])].toSorted((a, b) => a - b);
  const pieces = starts.flatMap((from_ms, index) =>
    piecesAt(question, sources, from_ms, starts[index + 1] ?? horizon_ms),
  );
  return [
    ...asides,
    ...ownAdvice(observation),
    ...notObserved(question, usable, observation),
    ...joined(pieces),
  ];
}

export type Sourced = JudgedPart & { readonly from_ms: number; readonly until_ms: number };

/** All that speaks for the place, with the times for which it does; what else is held and why it does not. */
export function weatherSources(question: SourceQuestion): {
  readonly usable: readonly UsableReport[];
  readonly aside: readonly SetAside[];
  readonly observation: OwnObservation | null;
  readonly sources: readonly Sourced[];
} {
  const { now_ms, limits, held, stations } = question;
  const { usable, aside } = usableReports(held, stations, limits.stationDistance_km, now_ms);
  const observation = standingObservation(question.observations, question.place, now_ms);
  return {
    usable,
    aside,
    observation,
    sources: [
      ...usable.flatMap((each) => spansOf(each, observation, question)),
      ...seen(observation, question),
    ],
  };
}

/** The parts of a report with the times for which they speak. */
function spansOf(
  each: UsableReport,
  observation: OwnObservation | null,
  question: SourceQuestion,
): Sourced[] {
  const { report, entry, station } = each;
  const { planning, reportAge_min } = question.limits;
  const isForecast = report.kind === "TAF";
  const line = weatherLine(report, planning, reportAge_min * minute_ms);
  const isSeenSince =
    !isForecast && observation !== null && (report.issued_ms as number) <= observation.at_ms;
  return line.flatMap((span) =>
    span.parts.flatMap((part): Sourced[] => {
      const judged = {
        part: only(part, station),
        entry,
        station: station.station,
        station_ft: station.elevation_ft,
        temperature_C: isForecast ? question.lowest_C : report.conditions.temperature_C,
        remarks: report.remarks,
        recent: isForecast ? [] : report.conditions.recent,
        isForecast,
      };
      const { from_ms, until_ms } = span;
      if (!isSeenSince || part.by.change !== "observed") return [{ ...judged, from_ms, until_ms }];
      // While the commander's own observation stands, it stands instead of what the station said before it.
      const { expires_ms } = observation;
      return [
        {
          ...judged,
          part: withoutSeen(judged.part, observation),
          from_ms,
          until_ms: Math.min(until_ms, expires_ms),
        },
        { ...judged, from_ms: Math.max(from_ms, expires_ms), until_ms },
      ].filter((piece) => piece.from_ms < piece.until_ms);
    }),
  );
}

/** A part without what its station does not measure. */
function only(part: WeatherPart, { gives }: Station): WeatherPart {
  if (gives === undefined) return part;
  return {
    ...part,
    wind: gives.includes("wind") ? part.wind : null,
    visibility: gives.includes("visibility") ? part.visibility : null,
    weather: gives.includes("weather") ? part.weather : null,
    sky: gives.includes("sky") ? part.sky : null,
  };
}

function seen(observation: OwnObservation | null, { place, ground_ft }: SourceQuestion): Sourced[] {
  if (observation === null) return [];
  const { from_ms, until_ms, parts } = observationSpan(observation);
  return parts.map((part) => ({
    part,
    entry: observation.entry,
    station: place,
    // Seen from the ground of the place itself.
    station_ft: ground_ft,
    temperature_C: observation.temperature_C,
    remarks: null,
    recent: [],
    isForecast: false,
    from_ms,
    until_ms,
  }));
}

function advice(code: Reason["code"], evidence: readonly string[]): Omit<Reason, "facts"> {
  return {
    code,
    effect: "advises",
    operations: "all",
    from_ms: null,
    until_ms: null,
    source: unknownLaw,
    evidence,
    remedy: { code: "weather.fetch", clearance: "minute" },
  };
}

function ownAdvice(observation: OwnObservation | null): Reason[] {
  if (observation === null) return [];
  const { entry, by, place, at_ms, expires_ms } = observation;
  return [
    {
      ...advice("weather.ownObservation", [entry]),
      from_ms: at_ms,
      until_ms: expires_ms,
      remedy: { code: "weather.observe", clearance: "minute" },
      facts: { by, place, at_ms, expires_ms },
    },
  ];
}

/**
 * Not known from when on nobody has observed the present: when the last report is as old as one may be and no observation
 * stands. It has no end of its own: no hour to come brings a report by itself, and what a forecast says stands beside it.
 */
export function observationLapses(question: SourceQuestion): Reason {
  const { usable, observation } = weatherSources(question);
  return lapsing(question, usable, observation);
}

function lapsing(
  { now_ms, place, limits }: SourceQuestion,
  usable: readonly UsableReport[],
  observation: OwnObservation | null,
): Reason {
  const observed = usable
    .filter(({ report }) => report.kind !== "TAF")
    .map(({ entry, report }) => ({ entry, issued_ms: report.issued_ms as number }));
  const latest = observed.toSorted((a, b) => b.issued_ms - a.issued_ms)[0];
  const from_ms = Math.max(
    observation?.expires_ms ?? -Infinity,
    latest === undefined ? -Infinity : latest.issued_ms + limits.reportAge_min * minute_ms,
  );
  return {
    code: "weather.notObserved",
    effect: "unknown",
    operations: "all",
    from_ms: from_ms > now_ms ? from_ms : null,
    until_ms: null,
    source: { kind: "setting", name: "weather.reportAge_min" },
    evidence: latest === undefined ? [] : [latest.entry],
    remedy: { code: "weather.fetch", clearance: "minute" },
    facts: { place, issued_ms: latest?.issued_ms ?? null, limit_min: limits.reportAge_min },
  };
}

/** The present, where nobody observes it any more. */
function notObserved(
  question: WeatherQuestion,
  usable: readonly UsableReport[],
  observation: OwnObservation | null,
): Reason[] {
  const reason = lapsing(question, usable, observation);
  return reason.from_ms === null ? [reason] : [];
}

/** Everything that holds in a time in which nothing changes. */
function piecesAt(
  question: WeatherQuestion,
  sources: readonly Sourced[],
  from_ms: number,
  until_ms: number,
): Piece[] {
  const active = sources.filter((source) => source.from_ms <= from_ms && from_ms < source.until_ms);
  const needs = question.needs.filter(
    (need) =>
      (need.from_ms === null || need.from_ms <= from_ms) &&
      (need.until_ms === null || from_ms < need.until_ms),
  );
  return judgeSpan({ ...question, needs }, active).map((reason) => ({ ...reason, from_ms, until_ms }));
}

/** Reasons that are the same but for their times, joined where they touch. */
function joined(pieces: readonly Piece[]): Reason[] {
  const open = new Map<string, Piece>();
  const done: Piece[] = [];
  for (const piece of pieces) {
    const { from_ms, until_ms, ...rest } = piece;
    const key = JSON.stringify(rest);
    const before = open.get(key);
    if (before !== undefined && before.until_ms === from_ms) open.set(key, { ...before, until_ms });
    else {
      if (before !== undefined) done.push(before);
      open.set(key, piece);
    }
  }
  return [...done, ...open.values()].toSorted(
    (a, b) => a.from_ms - b.from_ms || (a.code < b.code ? -1 : a.code > b.code ? 1 : 0),
  );
}
