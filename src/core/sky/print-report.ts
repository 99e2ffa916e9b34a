// Writes a report that was read back into the groups it would be issued as, so that a decode can be handed on as text.
//
// Reading the text gives the same decode again (held by a property test). Units come out as they can be written without
// loss: knots where the speed is a whole number of them, else m/s or km/h; statute miles where the visibility is a whole
// number of sixteenths. What was not read is not printed: a report with unread groups has no full text of its own.

import { convert, inUnit } from "../quantity/units.ts";
import type {
  Conditions,
  Layer,
  Period,
  RunwayVisualRange,
  Visibility,
  WeatherReport,
  Wind,
} from "./report.ts";

/** The text of a report. Words stand in the order of WMO-No. 306 FM 15 and FM 51. */
export function printReport(report: WeatherReport): string {
  const isTaf = report.kind === "TAF";
  const words = [
    report.kind,
    report.status === null ? "" : report.status === "correction" ? "COR" : "AMD",
    report.station ?? "",
    report.issued_ms === null ? "" : `${dayHourMinute(report.issued_ms)}Z`,
    report.isNil ? "NIL" : "",
    report.valid === null ? "" : dayHours(report.valid.from_ms, report.valid.to_ms),
    report.isCancelled ? "CNL" : "",
    report.isAuto ? "AUTO" : "",
    ...conditionWords(report.conditions, isTaf),
    ...report.periods.flatMap((period) => periodWords(period, isTaf)),
    report.remarks === null ? "" : `RMK ${report.remarks}`,
  ];
  return words
    .map((word) => word.trim())
    .filter((word) => word !== "")
    .join(" ");
}

function two(value: number): string {
  return String(value).padStart(2, "0");
}

function three(value: number): string {
  return String(value).padStart(3, "0");
}

function four(value: number): string {
  return String(value).padStart(4, "0");
}

function dayHourMinute(at_ms: number): string {
  const at = new Date(at_ms);
  return two(at.getUTCDate()) + two(at.getUTCHours()) + two(at.getUTCMinutes());
}

/** DDHH/DDHH; a span that ends at midnight ends at hour 24 of its day. */
function dayHours(from_ms: number, to_ms: number): string {
  const to = new Date(to_ms);
  const isMidnight = to.getUTCHours() === 0;
  const end = isMidnight ? `${two(new Date(to_ms - 1).getUTCDate())}24` : dayHourMinute(to_ms).slice(0, 4);
  return `${dayHourMinute(from_ms).slice(0, 4)}/${end}`;
}

function periodWords(period: Period, isTaf: boolean): string[] {
  const { change, from_ms, to_ms, conditions } = period;
  if (change === "base") return [];
  const words = [change.replace("_", " ")];
  if (change === "FM") words[0] = from_ms === null ? "FM" : `FM${dayHourMinute(from_ms)}`;
  else if (isTaf && from_ms !== null && to_ms !== null) words.push(dayHours(from_ms, to_ms));
  else if (!isTaf && change !== "NOSIG" && from_ms !== null && to_ms !== null) {
    if (from_ms === to_ms) words.push(`AT${dayHourMinute(from_ms).slice(2)}`);
    else words.push(`FM${dayHourMinute(from_ms).slice(2)}`, `TL${dayHourMinute(to_ms).slice(2)}`);
  }
  return [...words, ...conditionWords(conditions, isTaf)];
}

function conditionWords(conditions: Conditions, isTaf: boolean): string[] {
  const { stated, wind, visibility } = conditions;
  const says = (quantity: Conditions["stated"][number]): boolean => stated.includes(quantity);
  return [
    says("wind") ? (wind === null ? "/////KT" : windWord(wind)) : "",
    wind?.between_deg == null ? "" : wind.between_deg.map(three).join("V"),
    conditions.cavok ? "CAVOK" : "",
    visibility !== null
      ? visibilityWord(visibility)
      : says("visibility") && !conditions.cavok && conditions.directional.length === 0
        ? "////"
        : "",
    ...conditions.directional.map(({ value_m, from_deg }) => metres(value_m) + compassPoint(from_deg)),
    ...conditions.runwayVisualRange.map(rangeWord),
    ...conditions.weather,
    ...conditions.clouds.map(layerWord),
    conditions.skyClear ?? "",
    conditions.verticalVisibility === null ? "" : `VV${hundreds(conditions.verticalVisibility.height_ft)}`,
    says("temperature") && !isTaf
      ? `${celsius(conditions.temperature_C)}/${celsius(conditions.dewpoint_C)}`
      : "",
    says("pressure") ? pressureWord(conditions.qnh_hPa, isTaf) : "",
    ...conditions.recent.map((code) => `RE${code}`),
    ...conditions.windShear,
    conditions.sea ?? "",
    ...conditions.runwayState,
    ...conditions.forecastTemperatures.map(
      ({ extreme, value_C, at_ms }) =>
        `T${extreme === "highest" ? "X" : "N"}${celsius(value_C)}/${dayHourMinute(at_ms).slice(0, 4)}Z`,
    ),
  ];
}

const windUnits = [
  ["KT", "kt"],
  ["MPS", "ms"],
  ["KMH", "kmh"],
] as const;

function windWord(wind: Wind): string {
  const { from_deg, isVariable, speed_kt, gust_kt } = wind;
  const direction = isVariable ? "VRB" : from_deg === null ? "///" : three(from_deg);
  for (const [word, unit] of windUnits) {
    const speed = speed_kt === null ? null : wholeIn(speed_kt, unit);
    const gust = gust_kt === null ? null : wholeIn(gust_kt, unit);
    if (speed === undefined || gust === undefined) continue;
    const mean = speed === null ? "//" : (wind.isSpeedAbove ? "P" : "") + two(speed);
    const peak = gust === null ? "" : `G${wind.isGustAbove ? "P" : ""}${two(gust)}`;
    return direction + mean + peak + word;
  }
  return "/////KT";
}

/** The speed in a unit, where it is a whole number of it up to the rounding of the conversion. */
function wholeIn(speed_kt: number, unit: "kt" | "ms" | "kmh"): number | undefined {
  const speed = convert(inUnit(speed_kt, "kt"), "kt", unit) as number;
  const whole = Math.round(speed);
  return Math.abs(speed - whole) < 1e-9 * Math.max(1, speed) ? whole : undefined;
}

const sixteenthOfMile_m = 1609.344 / 16;

function metres(value_m: number): string {
  return value_m === 10_000 ? "9999" : four(value_m);
}

function visibilityWord({ value_m, bound }: Visibility): string {
  const isMetric = bound === "exact" ? Number.isInteger(value_m) && value_m < 9999 : value_m === 10_000;
  if (isMetric) return metres(value_m);
  const sixteenths = Math.round(value_m / sixteenthOfMile_m);
  const miles = Math.floor(sixteenths / 16);
  let [upper, lower] = [sixteenths % 16, 16];
  while (upper > 0 && upper % 2 === 0) [upper, lower] = [upper / 2, lower / 2];
  const fraction = upper === 0 ? "" : `${upper}/${lower}`;
  const figure = fraction === "" ? String(miles) : miles === 0 ? fraction : `${miles} ${fraction}`;
  const sign = bound === "atLeast" ? "P" : bound === "below" ? "M" : "";
  return `${sign}${figure}SM`;
}

const points = ["N", "NE", "E", "SE", "S", "SW", "W", "NW"];

function compassPoint(from_deg: number): string {
  return points[(from_deg / 45) % 8] as string;
}

function rangeWord({ runway, value_m, bound, tendency }: RunwayVisualRange): string {
  const sign = bound === null ? "" : bound === "above" ? "P" : "M";
  const trend = tendency === null ? "" : { up: "U", down: "D", none: "N" }[tendency];
  if (value_m === null) return `R${runway}/////${trend}`;
  // Always with a unit that cannot be taken for another: without one, figures beside statute miles are feet.
  const feet = Math.round(convert(inUnit(value_m, "m"), "m", "ft"));
  const isFeet = !Number.isInteger(value_m) || Math.abs(feet * 0.3048 - value_m) < 1e-9;
  return `R${runway}/${sign}${isFeet ? `${four(feet)}FT` : four(value_m)}${trend}`;
}

function hundreds(height_ft: number | null): string {
  return height_ft === null ? "///" : three(height_ft / 100);
}

function layerWord({ cover, base_ft, kind }: Layer): string {
  return (cover ?? "///") + hundreds(base_ft) + (kind ?? "");
}

function celsius(value_C: number | null): string {
  if (value_C === null) return "//";
  return value_C < 0 ? `M${two(-value_C)}` : two(value_C);
}

function pressureWord(qnh_hPa: number | null, isTaf: boolean): string {
  if (qnh_hPa === null) return "Q////";
  if (Number.isInteger(qnh_hPa) && !isTaf) return `Q${four(qnh_hPa)}`;
  const hundredths = Math.round(convert(inUnit(qnh_hPa, "hPa"), "hPa", "inHg") * 100);
  return isTaf ? `QNH${four(hundredths)}INS` : `A${four(hundredths)}`;
}
