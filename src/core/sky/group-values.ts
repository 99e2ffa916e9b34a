// What each form of group says: a match in, a value in the draft out, or false where it is well formed but impossible.
//
// Units become knots, metres, feet, °C and hPa here, by exact factors; nothing is rounded, clamped or guessed. Sources as
// in group-grammars.ts.

import { convert, inUnit } from "../quantity/units.ts";
import { nearestInstant } from "./report-time.ts";
import type {
  Conditions,
  Cover,
  DirectionalVisibility,
  GroupName,
  Layer,
  Quantity,
  RunwayVisualRange,
  SkyClear,
} from "./report.ts";

type Writable<T> = { -readonly [K in keyof T]: T[K] extends readonly (infer E)[] ? E[] : T[K] };

/** Conditions while they are being read. */
export type Draft = Writable<Conditions> & {
  /** True once a visibility in statute miles was read: runway visual range without a unit is then in feet. */
  isStatute: boolean;
  readonly unitless: RunwayVisualRange[];
};

/** Adds a quantity to a list that names each once. */
export function note(list: Quantity[], quantity: Quantity): void {
  if (!list.includes(quantity)) list.push(quantity);
}

/** The statute mile, 5280 ft of 0.3048 m exactly. */
const statuteMile_m = 1609.344;

export function feetToMetres(value: number): number {
  return convert(inUnit(value, "ft"), "ft", "m");
}

const speedUnits = { KT: "kt", MPS: "ms", KMH: "kmh" } as const;
/** No surface wind was ever measured above this (a margin over the record of 220 kt): beyond it the group is damaged. */
const strongestWind_kt = 250;

function knots(figures: string, unit: string): number {
  const from = speedUnits[unit as keyof typeof speedUnits];
  return convert(inUnit(Number(figures), from) as never, from, "kt") as number;
}

export function readWind(found: RegExpExecArray, draft: Draft): boolean {
  const [, direction = "", above, speed, gustAbove, gust, unit = "KT"] = found;
  const isKnown = direction !== "VRB" && direction !== "///";
  const from_deg = isKnown ? Number(direction) : null;
  const speed_kt = speed === undefined ? null : knots(speed, unit);
  const gust_kt = gust === undefined ? null : knots(gust, unit);
  if (from_deg !== null && from_deg > 360) return false;
  // 000 is written for calm only; north is 360.
  if (from_deg === 0 && speed_kt !== null && speed_kt > 0) return false;
  if ((speed_kt ?? 0) > strongestWind_kt || (gust_kt ?? 0) > strongestWind_kt) return false;
  if (gust_kt !== null && speed_kt !== null && gust_kt < speed_kt) return false;
  const isMissing = direction === "///" && speed_kt === null && gust_kt === null;
  draft.wind = isMissing
    ? null
    : {
        from_deg,
        isVariable: direction === "VRB",
        speed_kt,
        isSpeedAbove: above !== undefined,
        gust_kt,
        isGustAbove: gustAbove !== undefined,
        between_deg: null,
      };
  return true;
}

export function readWindVariation(found: RegExpExecArray, draft: Draft): boolean {
  const between_deg = [Number(found[1]), Number(found[2])] as const;
  if (draft.wind === null || between_deg[0] > 360 || between_deg[1] > 360) return false;
  draft.wind = { ...draft.wind, between_deg };
  return true;
}

export function readMetres(found: RegExpExecArray, draft: Draft): boolean {
  const figures = found[1] as string;
  if (figures === "////") return true;
  draft.visibility =
    figures === "9999" ? { value_m: 10_000, bound: "atLeast" } : { value_m: Number(figures), bound: "exact" };
  return true;
}

const bounds = { P: "atLeast", M: "below" } as const;

export function readMiles(found: RegExpExecArray, draft: Draft): boolean {
  const [, bound, whole, mixed = "0", upper, lower] = found;
  draft.isStatute = true;
  let miles = Number(whole ?? mixed);
  if (upper !== undefined && lower !== undefined) {
    // Reportable fractions are halves, quarters, eighths and sixteenths, and proper ones (FMH-1, table of visibility values).
    if (![2, 4, 8, 16].includes(Number(lower)) || Number(upper) >= Number(lower) || Number(upper) === 0)
      return false;
    miles += Number(upper) / Number(lower);
  }
  draft.visibility = {
    value_m: miles * statuteMile_m,
    bound: bound === undefined ? "exact" : bounds[bound as keyof typeof bounds],
  };
  return true;
}

const compass: Readonly<Record<string, number>> = {
  N: 360,
  NE: 45,
  E: 90,
  SE: 135,
  S: 180,
  SW: 225,
  W: 270,
  NW: 315,
};

export function readDirectional(found: RegExpExecArray, draft: Draft): boolean {
  const seen: DirectionalVisibility = {
    value_m: found[1] === "9999" ? 10_000 : Number(found[1]),
    from_deg: compass[found[2] as string] as number,
  };
  draft.directional.push(seen);
  return true;
}

export function readCavok(_: RegExpExecArray, draft: Draft): boolean {
  draft.cavok = true;
  for (const quantity of ["visibility", "weather", "sky"] as const) note(draft.stated, quantity);
  return true;
}

function isRunway(designator: string, extra: readonly number[] = []): boolean {
  const number = Number(designator.slice(0, 2));
  return (number >= 1 && number <= 36) || extra.includes(number);
}

const rangeBounds = { P: "above", M: "below" } as const;
const tendencies = { U: "up", D: "down", N: "none" } as const;

export function readRunwayVisualRange(found: RegExpExecArray, draft: Draft): boolean {
  const [, runway = "", low, lowFigures, , highFigures, feet, tendency] = found;
  if (!isRunway(runway)) return false;
  if (highFigures !== undefined && Number(highFigures) < Number(lowFigures)) return false;
  const figures = lowFigures === undefined ? null : Number(lowFigures);
  const range: RunwayVisualRange = {
    runway,
    value_m: figures === null || feet === undefined ? figures : feetToMetres(figures),
    bound: low === undefined ? null : rangeBounds[low as keyof typeof rangeBounds],
    tendency: tendency === undefined ? null : tendencies[tendency as keyof typeof tendencies],
  };
  if (figures !== null && feet === undefined) draft.unitless.push(range);
  draft.runwayVisualRange.push(range);
  return true;
}

/** Freezing goes with what can fall liquid; nothing is named twice in one group. */
function isPossibleWeather(code: string): boolean {
  const bare = code.replace(/^[+-]|^VC/u, "");
  const parts = bare.match(/[A-Z]{2}/gu) ?? [];
  if (new Set(parts).size !== parts.length) return false;
  return !bare.startsWith("FZ") || /RA|DZ|UP|FG/u.test(bare);
}

export function readWeather(found: RegExpExecArray, draft: Draft): boolean {
  if (!isPossibleWeather(found[0])) return false;
  draft.weather.push(found[0]);
  return true;
}

export function readRecent(found: RegExpExecArray, draft: Draft): boolean {
  const code = found[1] as string;
  if (!isPossibleWeather(code)) return false;
  draft.recent.push(code);
  return true;
}

export function readCloud(found: RegExpExecArray, draft: Draft): boolean {
  const [, cover, height = "///", kind] = found;
  const layer: Layer = {
    cover: cover === "///" ? null : (cover as Cover),
    base_ft: height === "///" ? null : Number(height) * 100,
    kind: kind === "CB" || kind === "TCU" ? kind : null,
  };
  draft.clouds.push(layer);
  return true;
}

export function readSkyClear(found: RegExpExecArray, draft: Draft): boolean {
  draft.skyClear = found[0] as SkyClear;
  return true;
}

export function readVerticalVisibility(found: RegExpExecArray, draft: Draft): boolean {
  draft.verticalVisibility = { height_ft: found[1] === "///" ? null : Number(found[1]) * 100 };
  return true;
}

/** Colder and hotter than any aerodrome has been (−68 °C and +54 °C), with a margin. */
const coldest_C = -80;
const hottest_C = 60;

function celsius(figures: string | undefined): number | null {
  if (figures === undefined || figures === "" || figures === "//") return null;
  const value = Number(figures.slice(-2));
  // M00 is a little below zero and printed as 0; −0 would compare equal but print differently.
  return figures.startsWith("M") && value !== 0 ? -value : value;
}

function isAirTemperature(value_C: number | null): boolean {
  return value_C === null || (value_C >= coldest_C && value_C <= hottest_C);
}

export function readTemperature(found: RegExpExecArray, draft: Draft): boolean {
  const temperature_C = celsius(found[1]);
  const dewpoint_C = celsius(found[2]);
  if (!isAirTemperature(temperature_C) || !isAirTemperature(dewpoint_C)) return false;
  draft.temperature_C = temperature_C;
  draft.dewpoint_C = dewpoint_C;
  return true;
}

export function readForecastTemperature(found: RegExpExecArray, draft: Draft, near_ms: number): boolean {
  const [, extreme, figures, day, hour] = found;
  const value_C = celsius(figures);
  const at_ms = nearestInstant(Number(day), Number(hour), 0, near_ms);
  if (value_C === null || at_ms === null || !isAirTemperature(value_C)) return false;
  draft.forecastTemperatures.push({ extreme: extreme === "X" ? "highest" : "lowest", value_C, at_ms });
  return true;
}

/** Sea-level pressure has stayed within 870 and 1084 hPa. */
const lowestQnh_hPa = 850;
const highestQnh_hPa = 1100;

export function readPressure(hPa: number, draft: Draft): boolean {
  if (hPa < lowestQnh_hPa || hPa > highestQnh_hPa) return false;
  draft.qnh_hPa = hPa;
  return true;
}

export function readHectopascals(found: RegExpExecArray, draft: Draft): boolean {
  return found[1] === "////" || readPressure(Number(found[1]), draft);
}

export function readInches(found: RegExpExecArray, draft: Draft): boolean {
  if (found[1] === "////") return true;
  return readPressure(convert(inUnit(Number(found[1]) / 100, "inHg"), "inHg", "hPa"), draft);
}

export function readWindShear(found: RegExpExecArray, draft: Draft): boolean {
  const runway = found[1];
  if (runway !== undefined && !isRunway(runway)) return false;
  draft.windShear.push(found[0]);
  return true;
}

export function readShearLayer(found: RegExpExecArray, draft: Draft): boolean {
  if (Number(found[1]) > 360) return false;
  draft.windShear.push(found[0]);
  return true;
}

export function readSea(found: RegExpExecArray, draft: Draft): boolean {
  draft.sea = found[0];
  return true;
}

/** 88 stands for all runways, 99 for a repeated report, 51 … 86 for the right one of a pair (WMO-No. 306, 15.13.6). */
const specialRunways = [88, 99, ...Array.from({ length: 36 }, (_, index) => 51 + index)];

export function readRunwayState(found: RegExpExecArray, draft: Draft): boolean {
  const runway = found[1] ?? found[2];
  if (runway !== undefined && !isRunway(runway, specialRunways)) return false;
  draft.runwayState.push(found[0]);
  return true;
}

export function readNothing(): boolean {
  return true;
}

/** Takes back what a single group said, where a second one contradicts it. */
export function forget(draft: Draft, as: GroupName): void {
  if (as === "wind") draft.wind = null;
  else if (as === "windVariation" && draft.wind !== null) draft.wind = { ...draft.wind, between_deg: null };
  else if (as === "visibility") draft.visibility = null;
  else if (as === "skyClear") draft.skyClear = null;
  else if (as === "verticalVisibility") draft.verticalVisibility = null;
  else if (as === "temperature") {
    draft.temperature_C = null;
    draft.dewpoint_C = null;
  } else if (as === "pressure") draft.qnh_hPa = null;
  else if (as === "sea") draft.sea = null;
}
