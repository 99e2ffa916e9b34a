// A call that was kept, asked again: its inputs as the record holds them back into a call, where they still are one.
//
// In: what the entry says was asked. Out: the call; null where a part that the assessment takes is missing or of another
// kind, so that a call of another version is never half asked. What its numbers are is for the assessment to refuse.
import type { Call } from "./call.ts";

const isRecord = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === "object" && value !== null && !Array.isArray(value);

const isNumber = (value: unknown): boolean => typeof value === "number";
const isNumberOrNull = (value: unknown): boolean => value === null || isNumber(value);
const isText = (value: unknown): boolean => typeof value === "string";
const isTexts = (value: unknown): boolean => Array.isArray(value) && value.every(isText);

function isPlace(value: unknown): boolean {
  if (!isRecord(value)) return false;
  const { name, lat_deg, lon_deg, elevation_ft, site } = value;
  return (
    isText(name) &&
    isNumber(lat_deg) &&
    isNumber(lon_deg) &&
    isNumberOrNull(elevation_ft) &&
    (site === null || isText(site))
  );
}

function isBoardings(value: unknown): boolean {
  return (
    Array.isArray(value) &&
    value.every((one) => isRecord(one) && isText(one["id"]) && isText(one["at"]) && isNumber(one["most_kg"]))
  );
}

const engines: readonly unknown[] = ["running", "stopped", "hover"];
const roles: readonly unknown[] = ["scene", "hospital", "base", "other"];

function isStop(value: unknown): boolean {
  return (
    isRecord(value) &&
    isPlace(value["place"]) &&
    roles.includes(value["role"]) &&
    isNumber(value["stay_min"]) &&
    engines.includes(value["engines"]) &&
    isBoardings(value["boards"]) &&
    isTexts(value["leaves"]) &&
    isTexts(value["kitLeft"]) &&
    isNumber(value["uplift_kg"]) &&
    isNumberOrNull(value["hook_kg"]) &&
    isNumberOrNull(value["headwind_kt"])
  );
}

function isAir(value: unknown): boolean {
  if (!isRecord(value)) return false;
  const { wind, qnh_hPa, temperature } = value;
  const isWind = isRecord(wind) && isNumberOrNull(wind["from_deg"]) && isNumber(wind["speed_kt"]);
  const isTemperature =
    isRecord(temperature) && isNumber(temperature["value_C"]) && isNumber(temperature["elevation_ft"]);
  return (wind === null || isWind) && isNumberOrNull(qnh_hPa) && (temperature === null || isTemperature);
}

export function keptCall(inputs: Readonly<Record<string, unknown>>): Call | null {
  const { stops, heights = null, alternate } = inputs;
  const isCall =
    isText(inputs["operation"]) &&
    isNumber(inputs["depart_ms"]) &&
    isPlace(inputs["from"]) &&
    typeof inputs["isAirborne"] === "boolean" &&
    Array.isArray(stops) &&
    stops.length > 0 &&
    stops.every(isStop) &&
    isNumber(inputs["fuel_kg"]) &&
    isNumberOrNull(inputs["mostFuel_kg"]) &&
    isNumber(inputs["tas_kt"]) &&
    isBoardings(inputs["aboard"]) &&
    isTexts(inputs["without"]) &&
    isAir(inputs["air"]) &&
    (inputs["flightRules"] === "vfr" || inputs["flightRules"] === "ifr") &&
    (alternate === null || isPlace(alternate)) &&
    ["undefined", "boolean"].includes(typeof inputs["isAlternateNotRequired"]) &&
    (heights === null ||
      (isRecord(heights) &&
        isNumberOrNull(heights["cruise_ft"]) &&
        isNumberOrNull(heights["highestObstacle_ft"])));
  return isCall ? (inputs as unknown as Call) : null;
}
