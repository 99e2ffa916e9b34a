// A place as somebody types or reads it out: decimal degrees, degrees and minutes, degrees, minutes and seconds, UTM, or
// MGRS, on WGS84. A bearing and distance from a known point: place-from.ts.
//
// Forms by ISO 6709 usage and common practice; UTM and MGRS (NGA.STND.0037) by the package geodesy, which computes by
// Krüger's series to the millimetre (C. F. F. Karney, Transverse Mercator with an accuracy of a few nanometers, 2011).
// Read: `70.2 12.5`, `70,2 12,5` (decimal commas), `N70°12.5' E012°30'`, `70 12 30 N 012 30 15 E`, `33W 405000 7789000`,
// `33N 405000 7789000`, `33WVT0512389012`. Latitude stands first unless letters say otherwise. Told with the place is the
// size of the square that the digits leave open; an MGRS square counts by its middle.
// Never guessed, always said why: letters that do not fit, minutes from 60 up, a single pair of whole numbers joined by a
// comma, a hemisphere letter S of UTM (which is also a band), a square that does not exist. Polar grids (UPS) are not read.
// Check values: published/typed-place.test.ts.
import Mgrs, { LatLon, Utm } from "geodesy/mgrs.js";
import type { Position } from "../air/position.ts";

export type PlaceForm = "decimal" | "minutes" | "seconds" | "utm" | "mgrs";

export type NotReadWhy =
  | "empty"
  | "notAPlace"
  | "ambiguousComma"
  | "ambiguousHemisphere"
  | "minutesFrom60"
  | "fractionInTheMiddle"
  | "latitudeBeyond90"
  | "longitudeBeyond180"
  | "latitudeAndLongitudeSwapped"
  | "noSuchGridPlace";

export type TypedPlace =
  | { readonly is: "read"; readonly form: PlaceForm; readonly position: Position; readonly within_m: number }
  | { readonly is: "notRead"; readonly why: NotReadWhy };

const notRead = (why: NotReadWhy): TypedPlace => ({ is: "notRead", why });

export function readTypedPlace(typed: string): TypedPlace {
  const text = typed
    .toUpperCase()
    .replaceAll(/[’′`´]/gu, "'")
    .replaceAll(/[”″]|''/gu, '"')
    .replaceAll("º", "°")
    .replaceAll(/[−–]/gu, "-")
    .trim();
  if (text === "") return notRead("empty");
  return readMgrs(text) ?? readUtm(text) ?? readAngles(text);
}

// ---- grids -----------------------------------------------------------------------------------------------------------

const mgrsForm = /^(\d{1,2})\s*([C-HJ-NP-X])\s*([A-HJ-NP-Z])([A-HJ-NP-V])\s*(\d*)\s*(\d*)$/u;

function readMgrs(text: string): TypedPlace | null {
  const found = mgrsForm.exec(text);
  if (found === null) return null;
  const [zone, band, column, row, first, second] = found.slice(1) as [
    string,
    string,
    string,
    string,
    string,
    string,
  ];
  const digits = first + second;
  const isHalved = second === "" || first.length === second.length;
  if (!isHalved || digits.length % 2 === 1 || digits.length > 10) return notRead("notAPlace");
  const half = digits.length / 2;
  const within_m = 10 ** (5 - half);
  const middle = (part: string): number => (part === "" ? 0 : Number(part)) * within_m + within_m / 2;
  try {
    const square = new Mgrs(
      Number(zone),
      band,
      column,
      row,
      middle(digits.slice(0, half)),
      middle(digits.slice(half)),
    );
    const place = square.toUtm().toLatLon();
    const back = new LatLon(place.lat, place.lon).toUtm().toMgrs();
    // A square of the neighbouring zone or band names a place that has another name: most likely misheard.
    const isSame = back.zone === square.zone && back.e100k === column && back.n100k === row;
    if (!isSame || (back.band !== band && half > 0)) return notRead("noSuchGridPlace");
    return { is: "read", form: "mgrs", position: { lat_deg: place.lat, lon_deg: place.lon }, within_m };
  } catch (error) {
    return noSuchPlace(error);
  }
}

const utmForm = /^(\d{1,2})\s*([A-Z])\s+(\d{6}(?:\.\d+)?)\s*M?E?\s+(\d{1,8}(?:\.\d+)?)\s*M?N?$/u;

function readUtm(text: string): TypedPlace | null {
  const found = utmForm.exec(text);
  if (found === null) return null;
  const [zone, letter, easting, northing] = found.slice(1) as [string, string, string, string];
  // S is the southern hemisphere to some and the band from 32° to 40° north to others.
  if (letter === "S") return notRead("ambiguousHemisphere");
  if (!/[C-HJ-NP-X]/u.test(letter)) return notRead("notAPlace");
  const isBand = letter !== "N";
  const hemisphere = letter >= "N" ? "N" : "S";
  try {
    const place = new Utm(Number(zone), hemisphere, Number(easting), Number(northing)).toLatLon();
    const back = new LatLon(place.lat, place.lon).toUtm();
    const fits = !isBand || back.toMgrs().band === letter;
    if (back.zone !== Number(zone) || !fits) return notRead("noSuchGridPlace");
    return { is: "read", form: "utm", position: { lat_deg: place.lat, lon_deg: place.lon }, within_m: 1 };
  } catch (error) {
    return noSuchPlace(error);
  }
}

function noSuchPlace(error: unknown): TypedPlace {
  // The package says so, by errors of its own, of zones, eastings and northings that are none.
  if (error instanceof Error && error.message.startsWith("invalid ")) return notRead("noSuchGridPlace");
  throw error;
}

// ---- angles ----------------------------------------------------------------------------------------------------------

const numberForm = /\d+(?:\.\d+)?/gu;

function readAngles(given: string): TypedPlace {
  const text = commasRead(given);
  if (text === null) return notRead("ambiguousComma");
  if (/[^\d.\s\-+NSEW°'"/;,]/u.test(text)) return notRead("notAPlace");
  const parts = splitInTwo(text);
  if (parts === null) return notRead("notAPlace");
  const [one, other] = parts.map(angleOf) as [Angle, Angle];
  for (const angle of [one, other]) if (typeof angle === "string") return notRead(angle);
  return placeOf(one as ReadAngle, other as ReadAngle);
}

/** Commas that are decimal turned into points, those that separate into spaces; null where nobody can tell. */
function commasRead(text: string): string | null {
  if (!text.includes(",")) return text;
  if (text.includes(".")) return text.replaceAll(",", " ");
  if (/^\d+,\d+$/u.test(text.replaceAll(/[-+\s°]/gu, "")))
    return /,\s/u.test(text) ? text.replace(",", " ") : null;
  return text.replaceAll(/(\d),(?=\d)/gu, "$1.").replaceAll(",", " ");
}

/** The texts of the two angles: each with its letter, or half of the numbers. */
function splitInTwo(text: string): readonly [string, string] | null {
  const letters = text.match(/[NSEW]/gu) ?? [];
  if (letters.length === 2) {
    const isBefore = /^[\s;/]*[NSEW]/u.test(text);
    const form = isBefore ? /^([NSEW][^NSEW]*)([NSEW][^NSEW]*)$/u : /^([^NSEW]*[NSEW])([^NSEW]*[NSEW])$/u;
    const found = form.exec(text.replaceAll(/[;/]/gu, " ").trim());
    return found === null ? null : [found[1]!, found[2]!];
  }
  if (letters.length > 0) return null;
  const halves = text.split(/[;/]/u);
  if (halves.length === 2) return [halves[0]!, halves[1]!];
  if (halves.length > 2) return null;
  const numbers = [...text.matchAll(/[-+]?\d+(?:\.\d+)?/gu)];
  if (numbers.length % 2 === 1 || numbers.length === 0) return null;
  const second = numbers[numbers.length / 2]!.index;
  return [text.slice(0, second), text.slice(second)];
}

type ReadAngle = {
  readonly degrees: number;
  readonly axis: "lat" | "lon" | null;
  readonly form: "decimal" | "minutes" | "seconds";
  /** The step of its last digit, in degrees. */
  readonly step_deg: number;
};
type Angle = ReadAngle | NotReadWhy;

const forms = ["decimal", "minutes", "seconds"] as const;

function angleOf(text: string): Angle {
  const letter = /[NSEW]/u.exec(text)?.[0] ?? null;
  const isNegative = text.includes("-");
  // A sign and a letter say the same thing twice, or contradict each other.
  if (letter !== null && /[-+]/u.test(text)) return "notAPlace";
  if (/[-+]/u.test(text.trim().slice(1))) return "notAPlace";
  const numbers = text.match(numberForm) ?? [];
  if (numbers.length === 0 || numbers.length > 3) return "notAPlace";
  if (numbers.slice(0, -1).some((part) => part.includes("."))) return "fractionInTheMiddle";
  const values = numbers.map(Number);
  if (values.slice(1).some((value) => value >= 60)) return "minutesFrom60";
  const size = values.reduce((sum, value, index) => sum + value / 60 ** index, 0);
  const decimals = numbers.at(-1)!.split(".")[1]?.length ?? 0;
  return {
    degrees: letter === "S" || letter === "W" || isNegative ? -size : size,
    axis: letter === null ? null : letter === "N" || letter === "S" ? "lat" : "lon",
    form: forms[numbers.length - 1]!,
    step_deg: 10 ** -decimals / 60 ** (numbers.length - 1),
  };
}

const metresPerDegree = 111_320;

function placeOf(one: ReadAngle, other: ReadAngle): TypedPlace {
  if (one.form !== other.form || (one.axis !== null && one.axis === other.axis)) return notRead("notAPlace");
  const [lat, lon] = one.axis === "lon" ? [other, one] : [one, other];
  if (Math.abs(lat.degrees) > 90) {
    const isSwapped = one.axis === null && Math.abs(lat.degrees) <= 180 && Math.abs(lon.degrees) <= 90;
    return notRead(isSwapped ? "latitudeAndLongitudeSwapped" : "latitudeBeyond90");
  }
  if (Math.abs(lon.degrees) > 180) return notRead("longitudeBeyond180");
  const within_m = Math.max(lat.step_deg, lon.step_deg) * metresPerDegree;
  return { is: "read", form: lat.form, position: { lat_deg: lat.degrees, lon_deg: lon.degrees }, within_m };
}
