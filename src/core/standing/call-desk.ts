// From what is known of a craft and its base to what a call is judged by, and to the usual call of its shift: where a place
// alone gives a first answer.
//
// In: sheet, record, situation, base, the reasons of the standing, the sun. Out: `CallKnown` of core/reach. The sky at a
// place is judged like that over the base, with the place's own distance from the stations and the higher of both grounds;
// it is asked once for a place and kept.
// Defaults, each of which anybody can change and each on the careful side: fuel as today's loading says, otherwise as the
// operation's reference call; the patient of the reference call, but no less than the sheet's usual one; cruise speed; the
// air that stations near the base reported last. The strongest wind of them, with its gusts, counts for the whole way.
import { geodesicBetween } from "../air/geodesic.ts";
import type { CraftState } from "../facts/craft.ts";
import { hour_ms, minute_ms } from "../facts/instant.ts";
import { own } from "../facts/own.ts";
import type { OperationId, Reason } from "../facts/reason.ts";
import type { SiteFile } from "../facts/site.ts";
import type { Situation } from "../facts/situation.ts";
import type { BaseSky } from "../facts/sky.ts";
import { convert, inUnit } from "../quantity/units.ts";
import type { Call, CallAir, CallKnown, CallPlace, CallStop, SkyAt } from "../reach/call.ts";
import type { Sheet } from "../sheet/schema.ts";
import { euNight, lightAt, nextLightChange, type NightRule, usNight } from "../sky/night.ts";
import type { Sun } from "../sky/sun-altitude.ts";
import { reportOf } from "../sky/report-of.ts";
import { fuelPolicyOf } from "./fuel-policy.ts";
import { skyJudge, stationsOf } from "./sky.ts";

/** How far ahead the sky is looked at for calls. */
const ahead_ms = 12 * hour_ms;

export type CallDesk = {
  readonly sheet: Sheet;
  readonly state: CraftState;
  readonly situation: Situation;
  readonly reasons: readonly Reason[];
  readonly base: BaseSky | null;
  /** Null until it is at hand: then nothing of the sky is known. */
  readonly sun: Sun | null;
};

const lightAhead_ms = 36 * hour_ms;

export function nightOf({ settings }: Situation): NightRule {
  return settings.ruleSet === "us" ? usNight : euNight;
}

export function callKnown(desk: CallDesk): CallKnown {
  const { sheet, state, situation, reasons, base, sun } = desk;
  const { sites, land } = sitesOf(base);
  const rule = nightOf(situation);
  return {
    sheet,
    state,
    situation,
    reasons,
    sites,
    land,
    notices: base?.state.notices ?? [],
    policy: fuelPolicyOf(base?.state.fuelSchemes ?? []),
    skyAt: sun === null || base === null ? null : skyAtOf(desk, base, sun),
    lightAt: sun === null ? null : (place, at_ms) => lightAt(sun, place, rule, at_ms),
    ...(sun === null
      ? {}
      : { lightChange: (place, at_ms) => nextLightChange(sun, place, rule, at_ms, lightAhead_ms) }),
  };
}

/** Files released apart: of a site the higher elevation and the smaller sides; what else they differ on is not known; two places make none. */
export function sitesOf(base: Pick<BaseSky, "state"> | null): SiteFile {
  const files = base?.state.sites ?? [];
  const byId = Map.groupBy(
    files.flatMap(({ sites }) => sites),
    ({ id }) => id,
  );
  const sites = [...byId.values()].flatMap((same) => {
    const [first, ...others] = same;
    if (first === undefined) return [];
    const isSame = others.every(
      ({ lat_deg, lon_deg }) => lat_deg === first.lat_deg && lon_deg === first.lon_deg,
    );
    const elevations = same.map(({ elevation_ft }) => elevation_ft);
    const highest = elevations.includes(null) ? null : Math.max(...elevations.map(Number));
    const least = (sides: readonly (number | null)[]): number | null =>
      sides.includes(null) ? null : Math.min(...sides.map(Number));
    const each = <Value>(of: (site: (typeof same)[number]) => Value): Value | null =>
      same.every((site) => of(site) === of(first)) ? of(first) : null;
    return isSame
      ? [
          {
            ...first,
            elevation_ft: highest,
            width_m: least(same.map((s) => s.width_m)),
            length_m: least(same.map((s) => s.length_m)),
            lit: each((s) => s.lit),
            fuel: each((s) => s.fuel),
          },
        ]
      : [];
  });
  return { sites, land: files.flatMap(({ land }) => land) };
}

/** The record of a base's sky as it is asked about at another place. */
export function baseSkyAt(base: BaseSky, { name, lat_deg, lon_deg, elevation_ft }: CallPlace): BaseSky {
  const ground_ft = elevation_ft ?? Number.NEGATIVE_INFINITY;
  // How the base's pad lies says nothing about another place.
  const isBase = lat_deg === base.lat_deg && lon_deg === base.lon_deg;
  const settings = base.state.settings.map((one) => ({
    ...one,
    ground_ft: Math.max(one.ground_ft, ground_ft),
    pad: isBase ? one.pad : null,
  }));
  return { ...base, name, lat_deg, lon_deg, state: { ...base.state, settings } };
}

function skyAtOf({ sheet, state, situation }: CallDesk, base: BaseSky, sun: Sun): SkyAt {
  const judge = skyJudge(sun);
  const held = new Map<string, readonly Reason[]>();
  return (place, _from_ms, until_ms) => {
    const hours = Math.ceil(Math.max(until_ms - situation.now_ms, ahead_ms) / ahead_ms);
    const key = `${place.name} ${place.lat_deg} ${place.lon_deg} ${place.elevation_ft} ${hours}`;
    let found = held.get(key);
    if (found === undefined) {
      const there = baseSkyAt(base, place);
      const horizon_ms = situation.now_ms + hours * ahead_ms;
      // That nobody will have looked by then says nothing of a landing to come: the forecast does.
      found = judge(sheet, state, { ...situation, horizon_ms }, there).filter(
        ({ code, from_ms }) => code !== "weather.notObserved" || (from_ms ?? 0) <= situation.now_ms,
      );
      held.set(key, found);
    }
    return found;
  };
}

// ---- the usual call ----------------------------------------------------------------------------------------------------

export function basePlace(base: BaseSky): CallPlace {
  const { name, lat_deg, lon_deg, elevation_m } = base;
  return { name, lat_deg, lon_deg, elevation_ft: convert(inUnit(elevation_m, "m"), "m", "ft"), site: null };
}

export function sitePlace({
  id,
  name,
  lat_deg,
  lon_deg,
  elevation_ft,
}: CallKnown["sites"][number]): CallPlace {
  return { name, lat_deg, lon_deg, elevation_ft, site: id };
}

/** The newest that stations within reach of the base reported: the strongest wind, the lowest pressure, the warmest air. */
export function reportedAir({ situation }: Pick<CallDesk, "situation">, base: BaseSky): CallAir {
  const settings = base.state.settings;
  // Without the operator's limits no report is fresh enough or near enough.
  if (settings.length === 0) return { wind: null, qnh_hPa: null, temperature: null };
  const age_min = Math.min(...settings.map(({ reportAge_min }) => reportAge_min));
  const limit_km = Math.min(...settings.map(({ stationDistance_km }) => stationDistance_km));
  const near = new Map(stationsOf(base).map((station) => [station.station, station]));
  const newest = new Map<string, ReturnType<typeof reportOf>>();
  for (const fact of base.state.reports) {
    const report = reportOf(fact);
    const station = near.get(report.station ?? "");
    if (report.station === null || report.kind === "TAF" || report.isNil || report.issued_ms === null)
      continue;
    if (station === undefined || station.distance_km > limit_km) continue;
    if (report.issued_ms > situation.now_ms + 15 * minute_ms) continue;
    if (report.issued_ms + age_min * minute_ms <= situation.now_ms) continue;
    const before = newest.get(report.station);
    if (before === undefined || (before.issued_ms ?? 0) < report.issued_ms)
      newest.set(report.station, report);
  }
  const reports = [...newest.values()];
  const winds = reports.flatMap(({ conditions: { wind } }) =>
    wind === null || wind.speed_kt === null
      ? []
      : [{ from_deg: wind.from_deg, speed_kt: Math.max(wind.speed_kt, wind.gust_kt ?? 0) }],
  );
  const pressures = reports.flatMap(({ conditions: { qnh_hPa } }) => qnh_hPa ?? []);
  const temperatures = reports.flatMap(({ station, conditions: { temperature_C } }) => {
    const elevation_ft = near.get(station ?? "")?.elevation_ft ?? null;
    return temperature_C === null || elevation_ft === null ? [] : [{ value_C: temperature_C, elevation_ft }];
  });
  return {
    wind: winds.toSorted((a, b) => b.speed_kt - a.speed_kt)[0] ?? null,
    qnh_hPa: pressures.length === 0 ? null : Math.min(...pressures),
    temperature: temperatures.toSorted((a, b) => b.value_C - a.value_C)[0] ?? null,
  };
}

export type UsualCall = {
  readonly operation: OperationId;
  readonly scene: CallPlace;
  readonly hospital: CallPlace | null;
  readonly depart_ms: number;
};

/** Base, scene, hospital, base, with everything else as usual. Null for an operation that the sheet does not have. */
export function usualCall(
  desk: CallDesk,
  base: BaseSky,
  { operation: id, scene, hospital, depart_ms }: UsualCall,
): Call | null {
  const { sheet, state } = desk;
  const operation = sheet.operations.find((one) => one.id === id);
  if (operation === undefined) return null;
  const usual = operation.referenceCall;
  const home = basePlace(base);
  const patient_kg = Math.max(usual?.patient_kg ?? 0, sheet.masses.patient_kg);
  const stretcher = sheet.stretchers.find(({ equipment }) =>
    (own(state.equipment, equipment) ?? []).some(({ installed }) => installed),
  );
  const hook_kg = operation.needs.masses === "hoist" ? (usual?.hoistLoad_kg ?? patient_kg) : null;
  const plain: Omit<CallStop, "place" | "role" | "stay_min"> = {
    engines: "running",
    boards: [],
    leaves: [],
    kitLeft: [],
    uplift_kg: 0,
    hook_kg: null,
    headwind_kt: null,
  };
  const patient = { id: "patient", at: stretcher?.id ?? "stretcher", most_kg: patient_kg };
  const stay_min = usual?.onScene_min ?? 20;
  const stops: CallStop[] = [
    {
      ...plain,
      place: scene,
      role: "scene",
      stay_min,
      boards: [patient],
      ...(hook_kg === null ? {} : { engines: "hover" as const, hook_kg }),
    },
    ...(hospital === null
      ? []
      : [
          {
            ...plain,
            place: hospital,
            role: "hospital" as const,
            stay_min: 20,
            engines: "stopped" as const,
            leaves: ["patient"],
          },
        ]),
    { ...plain, place: home, role: "base", stay_min: 0 },
  ];
  const fuels = state.load.loadings.map(({ fuel_kg }) => fuel_kg);
  return {
    operation: id,
    depart_ms,
    from: home,
    isAirborne: false,
    stops,
    fuel_kg: fuels.length > 0 ? Math.min(...fuels) : (usual?.fuelAtStart_kg ?? 0),
    mostFuel_kg: fuels.length > 0 ? Math.max(...fuels) : null,
    tas_kt: sheet.speeds.cruise_kt,
    aboard: [],
    without: [],
    air: reportedAir(desk, base),
    flightRules: id === "ifr" ? "ifr" : "vfr",
    alternate: null,
  };
}

/** Hospitals by their distance from a place, the nearest first. */
export function hospitalsFrom(
  known: Pick<CallKnown, "sites">,
  place: CallPlace,
): readonly { readonly place: CallPlace; readonly distance_nm: number }[] {
  return known.sites
    .filter(({ kind }) => kind === "hospital")
    .map((site) => ({
      place: sitePlace(site),
      distance_nm: convert(geodesicBetween(place, site).distance, "m", "nm"),
    }))
    .toSorted((a, b) => a.distance_nm - b.distance_nm);
}
