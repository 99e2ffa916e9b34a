// Which of the reports held can be used for a place, and why the others cannot.
//
// A report counts when its station is one that the operator named for the place, near enough, its time of issue was
// read and is not ahead of the clock, it says something, and no later one of the same station and sort is held. Of two of one
// issue a correction or amendment wins; without one both count. A report set aside says nothing, good or bad: what then is
// missing shows as not known.

import { minute_ms } from "../facts/instant.ts";
import type { Quantity, WeatherReport } from "./report.ts";

export type Station = {
  readonly station: string;
  readonly elevation_ft: number | null;
  readonly distance_km: number;
  /** Quantities that the station measures, where it does not measure all; what it does not measure is not asked of it. */
  readonly gives?: readonly Quantity[];
};

/** A report as it was recorded. */
export type HeldReport = { readonly entry: string; readonly report: WeatherReport };

export const setAsideReasons = [
  "otherStation",
  "distant",
  "undated",
  "fromFuture",
  "nil",
  "cancelled",
  "older",
] as const;
export type SetAsideReason = (typeof setAsideReasons)[number];

export type UsableReport = HeldReport & { readonly station: Station };
export type SetAside = HeldReport & { readonly why: SetAsideReason };

/** A routine report is often sent some minutes ahead of its nominal time; more than this is a wrong clock or a wrong day. */
const ahead_ms = 15 * minute_ms;

export function usableReports(
  held: readonly HeldReport[],
  stations: readonly Station[],
  distanceLimit_km: number,
  now_ms: number,
): { readonly usable: readonly UsableReport[]; readonly aside: readonly SetAside[] } {
  const aside: SetAside[] = [];
  const candidates: UsableReport[] = [];
  for (const each of held) {
    const station = stations.find((known) => known.station === each.report.station);
    const why = whyAside(each.report, station, distanceLimit_km, now_ms);
    if (why !== null) aside.push({ ...each, why });
    else candidates.push({ ...each, station: station as Station });
  }
  const usable: UsableReport[] = [];
  for (const each of candidates) {
    const isOlder = candidates.some((other) => other !== each && replaces(other.report, each.report));
    const { isNil, isCancelled } = each.report;
    if (isOlder) aside.push({ ...each, why: "older" });
    else if (isNil || isCancelled) aside.push({ ...each, why: isNil ? "nil" : "cancelled" });
    else usable.push(each);
  }
  return { usable, aside };
}

function whyAside(
  report: WeatherReport,
  station: Station | undefined,
  distanceLimit_km: number,
  now_ms: number,
): SetAsideReason | null {
  if (station === undefined) return "otherStation";
  if (!(station.distance_km <= distanceLimit_km)) return "distant";
  if (report.issued_ms === null) return "undated";
  if (report.issued_ms > now_ms + ahead_ms) return "fromFuture";
  // An observation that is missing does not take the last one back; a forecast that is missing or cancelled does.
  return report.isNil && report.kind !== "TAF" ? "nil" : null;
}

function replaces(later: WeatherReport, earlier: WeatherReport): boolean {
  const isSameSort = (later.kind === "TAF") === (earlier.kind === "TAF");
  if (!isSameSort || later.station !== earlier.station) return false;
  const difference_ms = (later.issued_ms as number) - (earlier.issued_ms as number);
  return difference_ms > 0 || (difference_ms === 0 && later.status !== null && earlier.status === null);
}
