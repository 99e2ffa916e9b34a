// Pressure and density altitude of a site from the reports that count for it.
//
// In: usable observations with QNH and temperature, the elevation of the site, how long a report stands. Out: the
// greatest density altitude that any of them gives, with the report that gives it: what is reported apart may be the truth.
// A report with a word that was not read still counts with the figures that it shows; the answer is then not sure.
// Pressure: the QNH of the report at the site's elevation. Temperature: as reported at the station, not moved to the site's
// height; moist air by its dew point (core/air/atmosphere.ts, ICAO Doc 7488 and its sources there). A report that lacks one
// of the two, or that no longer stands, gives nothing, and neither does one outside the standard atmosphere's domain.
import { airAt, pressureAltitudeOf } from "../air/atmosphere.ts";
import { minute_ms } from "../facts/instant.ts";
import { Refusal } from "../quantity/refusal.ts";
import { convert } from "../quantity/units.ts";
import { inUnit } from "../quantity/units.ts";
import type { UsableReport } from "./usable-reports.ts";

export type AirReported = {
  readonly entry: string;
  readonly station: string;
  readonly temperature_C: number;
  readonly qnh_hPa: number;
  readonly pressureAltitude_ft: number;
  readonly densityAltitude_ft: number;
  /** False where a report that counts could say worse: not wholly read, or without one of the two figures. */
  readonly isSure: boolean;
};

export function airFromReports(
  usable: readonly UsableReport[],
  elevation_m: number,
  reportAge_min: number,
  now_ms: number,
): AirReported | null {
  const fresh = usable.filter(
    ({ report }) =>
      report.kind !== "TAF" && (report.issued_ms as number) + reportAge_min * minute_ms > now_ms,
  );
  const isSure = fresh.every(isWhole);
  const found = fresh.flatMap((each) => airOf(each, elevation_m) ?? []);
  const [worst] = found.toSorted((one, other) => other.densityAltitude_ft - one.densityAltitude_ft);
  return worst === undefined ? null : { ...worst, isSure };
}

function isWhole({ report: { hasStray, conditions } }: UsableReport): boolean {
  const { temperature_C, qnh_hPa, unsure } = conditions;
  const isRead = !unsure.includes("temperature") && !unsure.includes("pressure");
  return !hasStray && isRead && temperature_C !== null && qnh_hPa !== null;
}

function airOf(
  { entry, report, station }: UsableReport,
  elevation_m: number,
): Omit<AirReported, "isSure"> | null {
  const { temperature_C, dewpoint_C, qnh_hPa } = report.conditions;
  if (temperature_C === null || qnh_hPa === null) return null;
  try {
    const paths = { height: "elevation_m", temperature: "temperature_C", dewPoint: "dewpoint_C" };
    const altitude = pressureAltitudeOf(
      inUnit(elevation_m, "m"),
      convert(inUnit(qnh_hPa, "hPa"), "hPa", "Pa"),
      { elevation: "elevation_m", qnh: "qnh_hPa" },
    );
    const celsius = (value_C: number) => convert(inUnit(value_C, "C"), "C", "K");
    // A dew point above the temperature contradicts itself: the air is then taken as wet as it can be.
    const wet_C = dewpoint_C === null ? null : Math.min(dewpoint_C, temperature_C);
    const air = airAt(altitude, celsius(temperature_C), wet_C === null ? null : celsius(wet_C), paths);
    return {
      entry,
      station: station.station,
      temperature_C,
      qnh_hPa,
      pressureAltitude_ft: convert(altitude, "m", "ft"),
      densityAltitude_ft: convert(air.densityAltitude, "m", "ft"),
    };
  } catch (error) {
    if (error instanceof Refusal) return null;
    throw error;
  }
}
