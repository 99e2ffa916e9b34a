// A second opinion on weather reports: the facts that our reader and another library find in a text, in one form, and
// where they differ. Peer: metar-taf-parser 9.1.3 (MIT), used in tests and benches only.
//
// Compared are the facts that both give: station, time, marks, wind, visibility, runway visual range, weather, cloud,
// temperatures, pressure, recent weather and wind shear, of the report and of each change. What the peer has no field
// for at all (runway states are read differently, remarks) is left out.

import { AltimeterUnit, parseMetar, parseTAF } from "metar-taf-parser";
import { readReport } from "../src/core/sky/read-report.ts";
import type { Conditions, WeatherReport } from "../src/core/sky/report.ts";

export type Facts = Readonly<Record<string, string>>;

/** What our reader finds, as short texts by name. */
export function ourFacts(text: string, near_ms: number): Facts {
  const report = readReport(text, near_ms);
  const facts: Record<string, string> = { ...headerFacts(report) };
  add(facts, "", conditionFacts(report.conditions));
  const changes = report.periods.filter(({ change }) => change !== "base" && change !== "NOSIG");
  facts["changes"] = changes.map(({ change }) => change).join(" ");
  changes.forEach(({ conditions }, index) => add(facts, `${index + 1} `, conditionFacts(conditions)));
  return facts;
}

function add(facts: Record<string, string>, prefix: string, more: Facts): void {
  for (const [name, value] of Object.entries(more)) if (value !== "") facts[prefix + name] = value;
}

function headerFacts(report: WeatherReport): Record<string, string> {
  const issued = report.issued_ms === null ? "" : new Date(report.issued_ms).toISOString().slice(8, 16);
  const facts: Record<string, string> = { station: report.station ?? "", issued };
  if (report.isAuto) facts["auto"] = "yes";
  if (report.isNil) facts["nil"] = "yes";
  if (report.isCancelled) facts["cancelled"] = "yes";
  if (report.status !== null) facts["status"] = report.status;
  return facts;
}

function figure(value: number | null | undefined): string {
  return value === null || value === undefined ? "" : String(Number(value.toFixed(3)));
}

const signs = { exact: "", atLeast: "≥", below: "<", above: "≥" } as const;

function conditionFacts(conditions: Conditions): Facts {
  const { wind, visibility, cavok, directional, verticalVisibility } = conditions;
  const least = directional.toSorted((a, b) => a.value_m - b.value_m)[0];
  return {
    wind:
      wind === null
        ? ""
        : `${wind.isVariable ? "VRB" : figure(wind.from_deg)} ${wind.isSpeedAbove ? "≥" : ""}${figure(wind.speed_kt)} kt`,
    gust: wind?.gust_kt == null ? "" : `${wind.isGustAbove ? "≥" : ""}${figure(wind.gust_kt)} kt`,
    between: wind?.between_deg?.join("–") ?? "",
    visibility:
      visibility === null
        ? cavok
          ? "CAVOK"
          : ""
        : `${signs[visibility.bound]}${figure(visibility.value_m)} m`,
    least: least === undefined ? "" : `${least.value_m} m at ${least.from_deg}`,
    range: conditions.runwayVisualRange
      .map(
        ({ runway, value_m, bound, tendency }) =>
          `${runway} ${bound === null ? "" : { above: "≥", below: "<" }[bound]}${figure(value_m)} m${tendency === null ? "" : ` ${tendency}`}`,
      )
      .join(", "),
    weather: conditions.weather.join(" "),
    recent: conditions.recent.join(" "),
    cloud: [
      ...conditions.clouds.map(
        ({ cover, base_ft, kind }) =>
          `${cover ?? "///"} ${base_ft ?? "///"}${kind === null ? "" : ` ${kind}`}`,
      ),
      ...(conditions.skyClear === null ? [] : [conditions.skyClear]),
    ].join(", "),
    vertical: verticalVisibility === null ? "" : `${verticalVisibility.height_ft ?? "///"} ft`,
    temperature: figure(conditions.temperature_C),
    dewpoint: figure(conditions.dewpoint_C),
    pressure: figure(conditions.qnh_hPa),
    shear: conditions.windShear.join(", "),
  };
}

// ---- the peer's answer in the same form -------------------------------------------------------------------------------

type PeerReport = {
  readonly station: string;
  readonly day?: number | undefined;
  readonly hour?: number | undefined;
  readonly minute?: number | undefined;
  readonly auto?: true | undefined;
  readonly nil?: true | undefined;
  readonly canceled?: true | undefined;
  readonly corrected?: true | undefined;
  readonly amendment?: true | undefined;
  readonly trends: readonly unknown[];
};
type PeerConditions = Partial<
  Pick<
    ReturnType<typeof parseMetar>,
    "wind" | "visibility" | "weatherConditions" | "clouds" | "verticalVisibility"
  >
> &
  Partial<
    Pick<ReturnType<typeof parseMetar>, "runwaysInfo" | "temperature" | "dewPoint" | "altimeter" | "cavok">
  > & {
    readonly windShear?: { readonly height: number; readonly degrees?: number; readonly speed: number };
  };

/** What the peer finds; a single fact `thrown` where it throws. */
export function peerFacts(text: string): Facts {
  let report: PeerReport;
  try {
    report = /^(?:TAF\b|\w{4} \d{6}Z \d{4}\/\d{4})/u.test(text) ? parseTAF(text) : parseMetar(text);
  } catch (error) {
    return { thrown: (error as Error).constructor.name };
  }
  const { station, day, hour, minute } = report;
  const issued = `${two(day ?? 0)}T${two(hour ?? 0)}:${two(minute ?? 0)}`;
  const facts: Record<string, string> = { station, issued };
  if (report.auto === true) facts["auto"] = "yes";
  if (report.nil === true) facts["nil"] = "yes";
  if (report.canceled === true) facts["cancelled"] = "yes";
  if (report.corrected === true) facts["status"] = "correction";
  if (report.amendment === true) facts["status"] = "amendment";
  add(facts, "", peerConditionFacts(report as PeerConditions));
  const trends = report.trends as readonly (PeerConditions & { type: string; probability?: number })[];
  facts["changes"] = trends.map(({ type, probability }) => peerChange(type, probability)).join(" ");
  trends.forEach((trend, index) => add(facts, `${index + 1} `, peerConditionFacts(trend)));
  return facts;
}

function peerChange(type: string, probability: number | undefined): string {
  if (probability === undefined || type === "PROB") return type === "PROB" ? `PROB${probability}` : type;
  return `PROB${probability}_${type}`;
}

function two(value: number): string {
  return String(value).padStart(2, "0");
}

const knotsPer: Readonly<Record<string, number>> = {
  KT: 1,
  MPS: 3600 / 1852,
  "KM/H": 1 / 1.852,
  KMH: 1 / 1.852,
};
const metresPer: Readonly<Record<string, number>> = { m: 1, SM: 1609.344, FT: 0.3048, ft: 0.3048 };
const trends: Readonly<Record<string, string>> = { U: " up", D: " down", N: " none" };
const compass = ["N", "NE", "E", "SE", "S", "SW", "W", "NW"];

function peerConditionFacts(conditions: PeerConditions): Facts {
  const { wind, visibility, cavok, runwaysInfo = [], clouds = [], weatherConditions = [] } = conditions;
  const speed = (value: number): string => figure(value * (knotsPer[wind?.unit ?? "KT"] ?? Number.NaN));
  const ranges = runwaysInfo.filter((info) => "minRange" in info) as readonly {
    name: string;
    indicator?: string;
    minRange: number;
    trend?: string;
    unit: string;
  }[];
  return {
    wind:
      wind === undefined
        ? ""
        : `${wind.direction === "VRB" ? "VRB" : figure(wind.degrees)} ${speed(wind.speed)} kt`,
    gust: wind?.gust === undefined ? "" : `${speed(wind.gust)} kt`,
    between: wind?.minVariation === undefined ? "" : `${wind.minVariation}–${wind.maxVariation}`,
    visibility: cavok === true ? "CAVOK" : peerVisibility(visibility),
    least:
      visibility !== undefined && "min" in visibility && visibility.min !== undefined
        ? `${visibility.min.value} m at ${compass.indexOf(visibility.min.direction) * 45 || 360}`
        : "",
    range: ranges
      .map(
        ({ name, indicator, minRange, trend = "", unit }) =>
          `${name} ${indicator === "P" ? "≥" : indicator === "M" ? "<" : ""}${figure(minRange * (metresPer[unit] ?? Number.NaN))} m${trends[trend] ?? ""}`,
      )
      .join(", "),
    weather: weatherConditions
      .map(
        ({ intensity, descriptive, phenomenons }) =>
          `${intensity ?? ""}${descriptive ?? ""}${phenomenons.join("")}`,
      )
      .join(" "),
    recent: "",
    cloud: clouds
      .map(({ quantity, height, type }) =>
        ["NSC", "SKC", "CLR", "NCD"].includes(quantity)
          ? quantity
          : `${quantity} ${height ?? "///"}${type === undefined ? "" : ` ${type}`}`,
      )
      .join(", "),
    vertical: conditions.verticalVisibility === undefined ? "" : `${conditions.verticalVisibility} ft`,
    temperature: minusZero(conditions.temperature),
    dewpoint: minusZero(conditions.dewPoint),
    pressure: peerPressure(conditions.altimeter),
    shear:
      conditions.windShear === undefined
        ? ""
        : `WS${String(conditions.windShear.height / 100).padStart(3, "0")}/${conditions.windShear.degrees}${two(conditions.windShear.speed)}KT`,
  };
}

function minusZero(value: number | undefined): string {
  return Object.is(value, -0) ? "-0" : figure(value);
}

function peerVisibility(visibility: PeerConditions["visibility"]): string {
  if (visibility === undefined) return "";
  const metres =
    visibility.value === 9999 ? 10_000 : visibility.value * (metresPer[visibility.unit] ?? Number.NaN);
  const indicator = String(visibility.indicator);
  const sign = indicator === "P" ? "≥" : indicator === "M" ? "<" : "";
  return `${sign}${figure(metres)} m`;
}

function peerPressure(altimeter: PeerConditions["altimeter"]): string {
  if (altimeter === undefined) return "";
  return figure(altimeter.unit === AltimeterUnit.InHg ? altimeter.value * 33.86389 : altimeter.value);
}

/** Facts on which the two disagree, one line each. */
export function peerDifferences(text: string, near_ms: number): string[] {
  const ours = ourFacts(text, near_ms);
  const peers = peerFacts(text);
  const names = [...new Set([...Object.keys(ours), ...Object.keys(peers)])];
  if (peers["thrown"] !== undefined) return [`thrown: ours reads it, peer ${peers["thrown"]}`];
  return names
    .filter((name) => ours[name] !== peers[name])
    .map((name) => `${name}: ours ${ours[name] ?? "nothing"}, peer ${peers[name] ?? "nothing"}`);
}
