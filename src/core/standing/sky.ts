// Weather and daylight of a craft at its base: assembles what is asked of the sky from the sheet, the operator's settings
// and the record of the base, and has it judged by core/sky. A row of the standing line of its own.
//
// In: the sheet (wind limits, operations), the craft (what is installed), the base's record. Out: reasons, never better
// than what is known: no base, no settings, no minima for an operation are each *not known*.
//
// Settings made apart all count: the strictest age and distance, the highest ground, every minimum. Two nights by two
// rule sets make none. Wind: a machine on its pad starts and leaves by the heading that the operator stated for it, or else
// with the wind from anywhere, so that every start and shutdown limit is held against it; in a hover the pilot turns the
// nose into the wind, so that of the hover limits those ahead count here, and a call judges the others by its own heading.
// Limits of floats bind the operations that the sheet names; those of doors on the ground and of parking advise. Ice: the sheet's own figure and protection, and the operator's where it is
// stricter. Forecasts are planned by the rule set's rule where the operator says so, else every change group counts.
// The base is judged; scenes are judged by their call. No height of route terrain is known but the operator's own figure.
import type { Position } from "../air/position.ts";
import { geodesicBetween } from "../air/geodesic.ts";
import type { CraftState } from "../facts/craft.ts";
import type { OperationId, Reason, Source } from "../facts/reason.ts";
import type { BaseSky, Minima, ReportFact, SkyNeed, StationFact, WeatherSettings } from "../facts/sky.ts";
import type { Situation } from "../facts/situation.ts";
import { planningBy } from "../rules/forecast-planning.ts";
import { bothHold, minimaInForce } from "../rules/minima-in-force.ts";
import { evaluateApplicability } from "../sheet/applicability.ts";
import type { Sheet } from "../sheet/schema.ts";
import { airFromReports } from "../sky/air-from-reports.ts";
import type { AirReported } from "../sky/air-from-reports.ts";
import { assessLight } from "../sky/assess-light.ts";
import { assessWeather, observationLapses, weatherSources } from "../sky/assess-weather.ts";
import type { Sourced, SourceQuestion } from "../sky/assess-weather.ts";
import { ceilingAboveGround } from "../sky/ceiling-above-ground.ts";
import { euNight, lightSpans, usNight } from "../sky/night.ts";
import type { PlanningRule } from "../sky/planning-rule.ts";
import { reportOf } from "../sky/report-of.ts";
import type { WeatherReport } from "../sky/report.ts";
import type { Sun } from "../sky/sun-altitude.ts";
import type { OwnObservation } from "../sky/own-observation.ts";
import { skyBands } from "../sky/sky-bands.ts";
import type { SkyBand } from "../sky/sky-bands.ts";
import type { HeldReport, SetAside, Station, UsableReport } from "../sky/usable-reports.ts";
import type { WeatherNeed, WeatherQuestion, WindLimitNeed } from "../sky/weather-question.ts";
import type { WeatherSpan } from "../sky/weather-line.ts";
import { craftConfigOf } from "../walk/craft-config.ts";
import { touches } from "./combine.ts";
import type { SkyJudge } from "./sky-row.ts";

/** Judges by this track of the sun. */
export function skyJudge(sun: Sun): SkyJudge {
  return (sheet, state, situation, base) => assessSky(sheet, state, situation, base, sun);
}

function assessSky(
  sheet: Sheet,
  state: CraftState,
  situation: Situation,
  base: BaseSky | null,
  sun: Sun,
): Reason[] {
  if (base === null) return [notSet("weather.baseNotKnown", {})];
  const settings = settingsTogether(base.state.settings);
  if (settings === null) return [notSet("weather.limitsNotSet", { place: base.name })];
  const light = lightOf(base, settings, sun, situation);
  const operations = sheet.operations.map(({ id }) => id);
  const known = operations.flatMap((operation) => {
    const needs = settings.needs.filter((need) => need.operation === operation);
    return needs.length === 0 ? [] : [{ operation, needs }];
  });
  const unset = operations.filter((operation) => !known.some((each) => each.operation === operation));
  const needs = known.flatMap((each) => each.needs);
  const question = weatherQuestion(
    sheet,
    state,
    situation,
    base,
    settings,
    weatherNeeds(needs, light, state, situation),
  );
  return [
    ...(unset.length === 0 ? [] : [notSet("weather.minimaNotSet", { place: base.name, light: null }, unset)]),
    ...lightReasons(needs, base, settings, sun, situation),
    ...minimaMissing(needs, light, base),
    ...toldTogether(assessWeather(question), operations, base.name),
    // The line looks ahead: it falls when the last report is too old, unless another one comes.
    ...[observationLapses(question)].filter(({ from_ms }) => from_ms !== null),
  ];
}

// ---- telling -----------------------------------------------------------------------------------------------------------

/**
 * The same verdicts in fewer words: what is equal but for the kind of flying is one reason, and where no report speaks
 * of anything that is asked, that is one thing not known instead of four.
 */
function toldTogether(
  reasons: readonly Reason[],
  operations: readonly OperationId[],
  place: string,
): Reason[] {
  const silent = reasons.filter(isSilence);
  const together = new Map<string, Reason>();
  for (const reason of reasons) {
    if (isSilence(reason)) continue;
    const { operations: touched, ...rest } = reason;
    const key = JSON.stringify(rest);
    const held = together.get(key);
    const both =
      held === undefined || held.operations === "all" || touched === "all"
        ? touched
        : [...new Set([...held.operations, ...touched])];
    together.set(key, { ...reason, operations: held?.operations === "all" ? "all" : both });
  }
  return [...together.values(), ...silences(silent, operations, place)];
}

function isSilence({ code, effect, facts }: Reason): boolean {
  return effect === "unknown" && facts["station"] === null && code !== "weather.notObserved";
}

type Time = { from_ms: number | null; until_ms: number | null };

function silences(silent: readonly Reason[], operations: readonly OperationId[], place: string): Reason[] {
  const byTimes = new Map<string, { readonly times: readonly Time[]; readonly of: OperationId[] }>();
  for (const operation of operations) {
    const times = union(silent.filter((reason) => touches(reason, operation)));
    const key = JSON.stringify(times);
    const held = byTimes.get(key) ?? { times, of: [] };
    held.of.push(operation);
    byTimes.set(key, held);
  }
  return [...byTimes.values()].flatMap(({ times, of }) =>
    times.map((time): Reason => ({
      code: "weather.nothingSpeaks",
      effect: "unknown",
      operations: of.length === operations.length ? "all" : of,
      ...time,
      source: unknownLaw,
      evidence: [],
      remedy: { code: "weather.fetch", clearance: "minute" },
      facts: { place },
    })),
  );
}

/** Times that overlap or touch, joined. */
function union(times: readonly Time[]): readonly Time[] {
  const joined: Time[] = [];
  for (const { from_ms, until_ms } of times.toSorted(
    (a, b) => (a.from_ms ?? -Infinity) - (b.from_ms ?? -Infinity),
  )) {
    const last = joined.at(-1);
    if (last === undefined || (last.until_ms !== null && (from_ms ?? -Infinity) > last.until_ms))
      joined.push({ from_ms, until_ms });
    else if (last.until_ms !== null)
      last.until_ms = until_ms === null ? null : Math.max(last.until_ms, until_ms);
  }
  return joined;
}

// ---- settings ----------------------------------------------------------------------------------------------------------

type Together = Omit<WeatherSettings, "entry" | "by" | "at_ms" | "pad"> & {
  /** Its heading is null where it was stated in two ways: then the wind may come from anywhere. */
  readonly pad: {
    readonly heading_deg: number | null;
    readonly tailwind_kt: number | null;
    readonly cite: string;
  } | null;
};

/** The settings that hold: what was set apart, at its strictest; null without any, or with two rule sets. */
export function settingsTogether(all: readonly WeatherSettings[]): Together | null {
  const [first, ...others] = all;
  if (first === undefined || others.some(({ ruleSet }) => ruleSet !== first.ruleSet)) return null;
  const moistures = all.flatMap(({ moisture }) => moisture ?? []);
  return {
    ruleSet: first.ruleSet,
    reportAge_min: Math.min(...all.map(({ reportAge_min }) => reportAge_min)),
    stationDistance_km: Math.min(...all.map(({ stationDistance_km }) => stationDistance_km)),
    ground_ft: Math.max(...all.map(({ ground_ft }) => ground_ft)),
    needs: all.flatMap(({ needs }) => needs),
    moisture: moistures.toSorted((a, b) => b.below_C - a.below_C)[0] ?? null,
    forbidden: {
      phenomena: [...new Set(all.flatMap(({ forbidden }) => forbidden.phenomena))],
      cite: first.forbidden.cite,
    },
    ncd: agreed(all.map(({ ncd }) => ncd)),
    planning: agreed(all.map(({ planning }) => planning)),
    pad: padTogether(all),
    cooling: agreed(all.map(({ cooling }) => cooling).toSorted((a, b) => coolest(b) - coolest(a))),
  };
}

/** A relief holds only where everybody who set something stated it; then the first. */
function agreed<Value>(stated: readonly (Value | null)[]): Value | null {
  return stated.every((each) => each !== null) ? (stated[0] ?? null) : null;
}

function coolest(cooling: WeatherSettings["cooling"]): number {
  return cooling?.atMost_C ?? Infinity;
}

/** One heading where all state the same one; the least wind from behind that anybody allows. */
function padTogether(all: readonly WeatherSettings[]): Together["pad"] {
  const pads = all.flatMap(({ pad }) => pad ?? []);
  const [first] = pads;
  if (first === undefined) return null;
  const limits = pads.flatMap(({ tailwind_kt }) => tailwind_kt ?? []);
  return {
    heading_deg:
      pads.length === all.length && pads.every(({ heading_deg }) => heading_deg === first.heading_deg)
        ? first.heading_deg
        : null,
    tailwind_kt: limits.length === 0 ? null : Math.min(...limits),
    cite: first.cite,
  };
}

const unknownLaw: Source = { kind: "law", law: "unknownIsNeverReady" };

function notSet(
  code: "weather.baseNotKnown" | "weather.limitsNotSet" | "weather.minimaNotSet",
  facts: Reason["facts"],
  operations: Reason["operations"] = "all",
  from_ms: number | null = null,
  until_ms: number | null = null,
): Reason {
  return {
    code,
    effect: "unknown",
    operations,
    from_ms,
    until_ms,
    source: unknownLaw,
    evidence: [],
    remedy: { code: "weather.setLimits", clearance: "someone" },
    facts,
  };
}

// ---- light -------------------------------------------------------------------------------------------------------------

type LightSpan = { readonly from_ms: number; readonly until_ms: number; readonly light: "day" | "night" };

const nights = {
  eu: { ...euNight, rule: "eu", edition: "2012" },
  us: { ...usNight, rule: "us", edition: "2025" },
} as const;

/** Day and night until the horizon. */
function lightOf(
  base: Position,
  { ruleSet }: Together,
  sun: Sun,
  { now_ms, horizon_ms }: Situation,
): readonly LightSpan[] {
  return lightSpans(sun, base, nights[ruleSet], now_ms, horizon_ms);
}

function lightReasons(
  needs: readonly SkyNeed[],
  base: BaseSky,
  { ruleSet }: Together,
  sun: Sun,
  { now_ms, horizon_ms }: Situation,
): Reason[] {
  const dayOperations = [
    ...new Set(needs.filter(({ light }) => light === "day").map(({ operation }) => operation)),
  ];
  const position = { lat_deg: base.lat_deg, lon_deg: base.lon_deg };
  const night = nights[ruleSet];
  return assessLight(sun, { now_ms, horizon_ms, place: base.name, position, night, dayOperations });
}

// ---- minima ------------------------------------------------------------------------------------------------------------

/** Which minima of a need hold in a light; by night an operation of the day has none, since night bars it. */
function minimaIn(need: SkyNeed, light: "day" | "night"): Minima | "barred" | null {
  if (light === "day") return need.day;
  return need.light === "day" ? "barred" : need.night;
}

/** Pilots on duty with the craft now; of shifts declared apart the fewest; null where nobody is. */
function pilotsOnDuty({ shifts }: CraftState, { now_ms }: Situation): number | null {
  const counts = shifts
    .filter(({ from_ms, until_ms }) => from_ms <= now_ms && now_ms < until_ms)
    .map(({ people }) => people.filter(({ roles }) => roles.includes("pilot")).length);
  return counts.length === 0 ? null : Math.min(...counts);
}

/** The operator's figures for each operation with the rule set's table laid over them (core/rules/minima-in-force.ts). */
function weatherNeeds(
  needs: readonly SkyNeed[],
  light: readonly LightSpan[],
  state: CraftState,
  situation: Situation,
): WeatherNeed[] {
  const pilots = pilotsOnDuty(state, situation);
  return light.flatMap((span) =>
    needs.flatMap((need): WeatherNeed[] => {
      const minima = minimaIn(need, span.light);
      if (minima === null || minima === "barred") return [];
      const { operation, cite } = need;
      const ruled = minimaInForce(situation.settings, { operation, light: span.light, pilots });
      const stated = [{ ...minima, citation: null }];
      const [first, ...or] = (ruled === null ? stated : bothHold(stated, ruled)).map(
        ({ ceiling_ft, visibility_m, citation }) => ({
          ceiling_ft,
          visibility_m,
          source: {
            kind: "rule",
            rule: citation === null ? "operator" : citation.cite,
            edition: citation === null ? cite : citation.edition,
            cite: citation === null ? cite : citation.cite,
          } satisfies Source,
        }),
      );
      if (first === undefined) return [];
      const { from_ms, until_ms } = span;
      return [{ operation, ...first, ...(or.length === 0 ? {} : { or }), from_ms, until_ms }];
    }),
  );
}

/** An operation for which nobody stated the minima of this light is not known in it. */
function minimaMissing(needs: readonly SkyNeed[], light: readonly LightSpan[], base: BaseSky): Reason[] {
  return light.flatMap((span) => {
    const missing = needs
      .filter((need) => minimaIn(need, span.light) === null)
      .map(({ operation }) => operation);
    if (missing.length === 0) return [];
    const facts = { place: base.name, light: span.light };
    return [notSet("weather.minimaNotSet", facts, [...new Set(missing)], span.from_ms, span.until_ms)];
  });
}

// ---- the question ------------------------------------------------------------------------------------------------------

function weatherQuestion(
  sheet: Sheet,
  state: CraftState,
  { now_ms, horizon_ms }: Situation,
  base: BaseSky,
  settings: Together,
  needs: readonly WeatherNeed[],
): WeatherQuestion {
  const { limits, ...sources } = sourceQuestion(base, settings, now_ms);
  return {
    ...sources,
    horizon_ms,
    needs,
    limits: {
      ...limits,
      wind: windNeeds(sheet, state),
      heading_deg: settings.pad?.heading_deg ?? null,
      tailwind: tailwindLimit(settings),
      icing: icingLimit(sheet, state, settings),
      forbidden: {
        phenomena: settings.forbidden.phenomena,
        source: { kind: "setting", name: "weather.forbidden" },
      },
    },
  };
}

function sourceQuestion(base: BaseSky, settings: Together, now_ms: number): SourceQuestion {
  const { reportAge_min, stationDistance_km, ground_ft, ncd } = settings;
  const stations = stationsOf(base);
  const held = heldReports(base.state.reports, ncd !== null, now_ms);
  return {
    now_ms,
    place: base.name,
    ground_ft,
    stations,
    held: held.filter(({ report }) => isAskedHere(report, stations, stationDistance_km)),
    observations: base.state.observations,
    lowest_C: lowestReckoned(held, stations, settings),
    limits: { reportAge_min, stationDistance_km, planning: planningBy(settings.ruleSet, settings.planning) },
  };
}

function tailwindLimit({ pad }: Together): WeatherQuestion["limits"]["tailwind"] {
  if (pad === null || pad.tailwind_kt === null) return null;
  const source: Source = { kind: "setting", name: "weather.pad" };
  return { limit_kt: pad.tailwind_kt, heading_deg: pad.heading_deg, source };
}

/**
 * Protected only where the sheet says by what and the record says that it is there. The temperature for moisture is the
 * higher of the sheet's, which an unprotected craft has to keep, and the operator's own.
 */
function icingLimit(
  { ice, sources }: Sheet,
  state: CraftState,
  { moisture }: Together,
): WeatherQuestion["limits"]["icing"] {
  const isProtected =
    ice?.protectedBy !== undefined &&
    evaluateApplicability(ice.protectedBy, craftConfigOf(state), {}).value === true;
  const { document, revision } = sources.ice ?? {};
  const cite = document === undefined || revision === undefined ? null : `${document}, ${revision}`;
  const ofSheet: Source = { kind: "sheet", path: "ice", cite };
  const ofOperator: Source = { kind: "setting", name: "weather.moisture" };
  const figure_C = ice === undefined || isProtected ? null : ice.moistureBelow_C;
  const own_C = moisture?.below_C ?? null;
  const isOwn = own_C !== null && (figure_C === null || own_C > figure_C);
  return {
    isProtected,
    moistureBelow_C: isOwn ? own_C : figure_C,
    source: ice === undefined ? ofOperator : ofSheet,
    moistureSource: isOwn ? ofOperator : ofSheet,
  };
}

/** What an operation needs of the sky in each light until the horizon, as the standing asks it. */
export function skyNeedsOf(
  operation: OperationId,
  base: BaseSky,
  state: CraftState,
  situation: Situation,
  sun: Sun,
): readonly WeatherNeed[] {
  const settings = settingsTogether(base.state.settings);
  if (settings === null) return [];
  const needs = settings.needs.filter((need) => need.operation === operation);
  return weatherNeeds(needs, lightOf(base, settings, sun, situation), state, situation);
}

/** What the screen of weather and light shows of a base. */
export type SkyOver = {
  readonly settings: Together;
  readonly weather: readonly SkyBand[];
  readonly light: readonly LightSpan[];
  readonly usable: readonly UsableReport[];
  readonly aside: readonly SetAside[];
  readonly observation: OwnObservation | null;
  readonly stations: readonly Station[];
  /** The rule by which change groups of forecasts count. */
  readonly planning: PlanningRule;
  /** The heaviest burden that a report puts on the engines now; null when none gives pressure and temperature. */
  readonly air: AirReported | null;
  /** All that speaks, with its times, heights above the ground to be cleared: for windows of arrival. */
  readonly lines: readonly WeatherSpan[];
};

/** A source as a span of a line, its heights above the ground that has to be cleared. */
function aboveGround({ part, station_ft, from_ms, until_ms }: Sourced, ground_ft: number): WeatherSpan {
  const { sky } = part;
  if (sky === null) return { from_ms, until_ms, parts: [part] };
  const ceiling = ceilingAboveGround(sky.value.ceiling, station_ft, ground_ft);
  const isSure = sky.isSure && ceiling.bound !== "unknown";
  const raised = { ...part, sky: { ...sky, isSure, value: { ...sky.value, ceiling } } };
  return { from_ms, until_ms, parts: [raised] };
}

/** All that speaks for a place, with its times, and the stations by their distance; null without the operator's limits. */
export function speaksFor(
  base: BaseSky,
  now_ms: number,
): {
  readonly sources: readonly Sourced[];
  readonly usable: readonly UsableReport[];
  readonly observation: OwnObservation | null;
} | null {
  const settings = settingsTogether(base.state.settings);
  return settings === null ? null : weatherSources(sourceQuestion(base, settings, now_ms));
}

/** The sky over a base from now on; null without the operator's limits. */
export function skyOver(base: BaseSky, sun: Sun, now_ms: number, until_ms: number): SkyOver | null {
  const settings = settingsTogether(base.state.settings);
  if (settings === null) return null;
  const question = sourceQuestion(base, settings, now_ms);
  const { sources, ...rest } = weatherSources(question);
  return {
    ...rest,
    settings,
    stations: question.stations,
    planning: question.limits.planning,
    air: airFromReports(rest.usable, base.elevation_m, settings.reportAge_min, now_ms),
    lines: sources.map((source) => aboveGround(source, question.ground_ft)),
    weather: skyBands(sources, question.ground_ft, now_ms, until_ms),
    light: lightSpans(sun, base, nights[settings.ruleSet], now_ms, until_ms),
  };
}

/** The stations that were described, with their distance from the base. Described apart and differing: the worse. */
export function stationsOf(base: Pick<BaseSky, "lat_deg" | "lon_deg" | "state">): readonly Station[] {
  const byName = Map.groupBy(base.state.stations, ({ station }) => station);
  return [...byName.values()].map((facts) => {
    const [first] = facts as [StationFact, ...StationFact[]];
    const isSame = facts.every(
      ({ elevation_ft, gives }) =>
        elevation_ft === first.elevation_ft && String(gives) === String(first.gives),
    );
    const distances = facts.map((fact) => geodesicBetween(base, fact).distance / 1_000);
    return {
      station: first.station,
      elevation_ft: isSame ? first.elevation_ft : null,
      distance_km: Math.max(...distances),
      ...(isSame && first.gives !== null ? { gives: first.gives } : {}),
    };
  });
}

/** A known station that is far away belongs to another place, and nobody asks it here; an unknown one is said. */
function isAskedHere(report: WeatherReport, stations: readonly Station[], limit_km: number): boolean {
  const station = stations.find((known) => known.station === report.station);
  return station === undefined || station.distance_km <= limit_km;
}

/** No report speaks for longer after it was heard. */
const reportSpeaks_ms = 36 * 3_600_000;
/**
 * Reports that may still speak. Left out is what another of its station and sort followed, issued and heard later: that
 * is how reports come and go. One that was heard after a later one stays, so that it is said why it does not count.
 */
function heldReports(facts: readonly ReportFact[], ncdCounts: boolean, now_ms: number): HeldReport[] {
  const recent = facts
    .filter(({ at_ms }) => at_ms > now_ms - reportSpeaks_ms)
    .map((fact) => ({ fact, report: reportOf(fact) }));
  type Read = (typeof recent)[number];
  const newest = new Map<string, Read>();
  const isTaken = ({ report }: Read): boolean =>
    report.issued_ms !== null && report.issued_ms <= now_ms && !(report.isNil && report.kind !== "TAF");
  const sortOf = ({ report }: Read): string =>
    `${report.station} ${report.kind === "TAF" ? "TAF" : "observed"}`;
  for (const read of recent) {
    if (!isTaken(read)) continue;
    const held = newest.get(sortOf(read));
    if (held === undefined || (read.report.issued_ms as number) > (held.report.issued_ms as number))
      newest.set(sortOf(read), read);
  }
  return recent
    .filter((read) => {
      const latest = newest.get(sortOf(read));
      return (
        latest === undefined ||
        !isTaken(read) ||
        latest.report.issued_ms === read.report.issued_ms ||
        read.fact.at_ms > latest.fact.at_ms
      );
    })
    .map(({ fact, report }) => ({ entry: fact.entry, report: ncdCounts ? withNcd(report) : report }));
}

/** By the operator's citation, what NCD of an automatic station counts for: as NSC, nothing below 5,000 ft. */
function withNcd(report: WeatherReport): WeatherReport {
  const { conditions, isAuto } = report;
  return isAuto && conditions.skyClear === "NCD"
    ? { ...report, conditions: { ...conditions, skyClear: "NSC" } }
    : report;
}

/**
 * The lowest temperature that a forecast near enough states; without one, the lowest observed less what the operator
 * reckons it can fall; null when neither is stated.
 */
function lowestReckoned(
  held: readonly HeldReport[],
  stations: readonly Station[],
  { stationDistance_km, cooling }: Together,
): number | null {
  const near = held.filter(({ report }) => isAskedHere(report, stations, stationDistance_km));
  const stated = near
    .filter(({ report }) => report.kind === "TAF")
    .flatMap(({ report }) => report.conditions.forecastTemperatures)
    .filter(({ extreme }) => extreme === "lowest")
    .map(({ value_C }) => value_C);
  if (stated.length > 0) return Math.min(...stated);
  const observed = near.flatMap(({ report }) =>
    report.kind === "TAF" ? [] : (report.conditions.temperature_C ?? []),
  );
  return cooling === null || observed.length === 0 ? null : Math.min(...observed) - cooling.atMost_C;
}

// ---- wind --------------------------------------------------------------------------------------------------------------

function isAhead({ from_deg, to_deg }: Sheet["windLimits"][number]): boolean {
  const width_deg = (((to_deg - from_deg) % 360) + 360) % 360;
  const isAnyDirection = width_deg === 0 && from_deg !== to_deg;
  return isAnyDirection || (360 - from_deg) % 360 <= width_deg;
}

function windNeeds(sheet: Sheet, state: CraftState): WindLimitNeed[] {
  const craft = craftConfigOf(state);
  const hoisting = sheet.operations.filter(({ needs }) => needs.masses === "hoist").map(({ id }) => id);
  return sheet.windLimits.flatMap((limit, index): WindLimitNeed[] => {
    const { id, phase, from_deg, to_deg, wind_kt, gust_kt = null, applies } = limit;
    if (phase === "hover" && !isAhead(limit)) return [];
    if (evaluateApplicability(applies, craft, {}).value === false) return [];
    const operations: "all" | readonly OperationId[] =
      limit.operations ?? (phase === "hoist" ? hoisting : "all");
    if (operations !== "all" && operations.length === 0) return [];
    const source: Source = { kind: "sheet", path: `windLimits[${index}]`, cite: null };
    const turns = phase === "hover" || phase === "hoist" || phase === "floats";
    const need = { id, from_deg, to_deg, wind_kt, gust_kt, operations, source, turns };
    return [phase === "doorOpen" || phase === "parked" ? { ...need, advises: phase } : need];
  });
}
