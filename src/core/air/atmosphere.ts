// The standard atmosphere below the tropopause, and pressure and density altitude in it.
//
// Heights are geopotential metres, pressures pascals, temperatures kelvins, densities kg/m³.
// Source: ICAO Doc 7488 (third edition) and U.S. Standard Atmosphere 1976: T = T0 − L H, p = p0 (T/T0)^(g0/(R L)),
// ρ = p/(R T), a = √(γ R T); the altimeter setting QNH is ICAO's: the pressure that makes an altimeter built on this
// atmosphere show the elevation. Density altitude is the height at which this atmosphere has the air's density; humid
// air enters by its virtual temperature (humid-air.ts).
// Valid from −5,000 m, where the tables of Doc 7488 begin, to 11,000 m, the tropopause; beyond, a refusal.
// Check values: published/atmosphere.test.ts.

import { atLeast, atMost } from "../quantity/compare.ts";
import { describe, refuse } from "../quantity/refusal.ts";
import { inUnit, type Kelvins, type Metres, type MetresPerSecond, type Pascals } from "../quantity/units.ts";
import { virtualTemperature } from "./humid-air.ts";

/** Doc 7488 tables A and B. The exponents follow from these and are not stated a second time. */
export const standard = {
  seaLevelTemperatureK: 288.15,
  seaLevelPressurePa: 101_325,
  lapseKPerM: 0.0065,
  gravityMPerS2: 9.80665,
  gasConstantJPerKgK: 287.05287,
  heatRatio: 1.4,
} as const;

const T0 = standard.seaLevelTemperatureK;
const p0 = standard.seaLevelPressurePa;
const L = standard.lapseKPerM;
const R = standard.gasConstantJPerKgK;

/** g0/(R L) = 5.2559: pressure goes with this power of temperature, density with one less. */
const pressureExponent = standard.gravityMPerS2 / (R * L);
/** T0/L = 44,330.77 m: where this atmosphere would reach absolute zero. */
const zeroHeightM = T0 / L;

export const lowestM = inUnit(-5000, "m");
export const highestM = inUnit(11_000, "m");

/** Air nobody meets: records at the ground lie between −90 and +57 °C. Catches kelvins or °F written as °C. */
const coldestK = 273.15 - 100;
const hottestK = 273.15 + 100;

/** Standard temperature at a geopotential height. */
export function standardTemperature(height: Metres, path = "height"): Kelvins {
  requireHeight(height, path);
  return inUnit(T0 - L * height, "K");
}

/** Standard pressure at a geopotential height. */
export function standardPressure(height: Metres, path = "height"): Pascals {
  requireHeight(height, path);
  return inUnit(p0 * (1 - height / zeroHeightM) ** pressureExponent, "Pa");
}

/** The height at which the standard atmosphere has this pressure: pressure altitude. */
export function pressureAltitude(pressure: Pascals, path = "pressure"): Metres {
  if (!(pressure > 0) || !Number.isFinite(pressure))
    refuse(path, "outsideDomain", describe(pressure), "a pressure above 0 Pa");
  const height = inUnit(zeroHeightM * (1 - (pressure / p0) ** (1 / pressureExponent)), "m");
  return requireHeight(height, path, `${pressure} Pa, which is`);
}

/** Lowest and highest altimeter setting taken. Records at sea level are 870 and 1,084 hPa; 29.92 is inHg, not hPa. */
const lowestQnhPa = 80_000;
const highestQnhPa = 110_000;

/** Pressure altitude of a place: its elevation, plus the pressure altitude of its QNH at sea level. */
export function pressureAltitudeOf(
  elevation: Metres,
  qnh: Pascals,
  paths: { readonly elevation: string; readonly qnh: string },
): Metres {
  requireHeight(elevation, paths.elevation);
  if (!atLeast(qnh, lowestQnhPa) || !atMost(qnh, highestQnhPa)) {
    refuse(
      paths.qnh,
      "outsideDomain",
      `${qnh / 100} hPa`,
      `${lowestQnhPa / 100} … ${highestQnhPa / 100} hPa`,
    );
  }
  const height = inUnit(elevation + pressureAltitude(qnh, paths.qnh), "m");
  return requireHeight(height, paths.elevation, `${elevation} m at ${qnh / 100} hPa, which is`);
}

/** The height at which the standard atmosphere has this share of its density at sea level: density altitude. */
export function densityAltitude(sigma: number, path = "sigma"): Metres {
  if (!(sigma > 0) || !Number.isFinite(sigma))
    refuse(path, "outsideDomain", describe(sigma), "a density above 0");
  const height = inUnit(zeroHeightM * (1 - sigma ** (1 / (pressureExponent - 1))), "m");
  return requireHeight(height, path, "a density altitude of");
}

/** Everything about the air at one pressure altitude. Ratios are to standard sea level. */
export type Air = {
  readonly pressureAltitude: Metres;
  readonly densityAltitude: Metres;
  readonly pressure: Pascals;
  readonly temperature: Kelvins;
  readonly densityKgPerM3: number;
  /** Density, pressure, temperature ratios. */
  readonly sigma: number;
  readonly delta: number;
  readonly theta: number;
  readonly soundSpeed: MetresPerSecond;
  /** How much warmer than standard, in kelvins (or °C) of difference. */
  readonly isaDeviationK: number;
};

export type AirPaths = { readonly height: string; readonly temperature: string; readonly dewPoint: string };

/**
 * The air at a pressure altitude. Temperature null is the standard one; dew point null is dry air, which flatters a
 * little: at +35 °C saturated air has a density altitude some 700 ft higher. The speed of sound is that of dry air.
 * Refuses: a height outside the atmosphere, a temperature of no air, a dew point above the temperature.
 */
export function airAt(
  height: Metres,
  temperature: Kelvins | null,
  dewPoint: Kelvins | null,
  paths: AirPaths = { height: "height", temperature: "temperature", dewPoint: "dewPoint" },
): Air {
  const standardK = standardTemperature(height, paths.height);
  const pressure = standardPressure(height, paths.height);
  const actual = temperature ?? standardK;
  if (!atLeast(actual, coldestK) || !atMost(actual, hottestK)) {
    refuse(
      paths.temperature,
      "outsideDomain",
      `${actual - 273.15} °C`,
      "an air temperature of −100 … 100 °C",
    );
  }
  const effective =
    dewPoint === null ? actual : virtualTemperature(actual, dewPoint, pressure, paths.dewPoint);
  const delta = pressure / p0;
  const sigma = (delta * T0) / effective;
  return {
    pressureAltitude: height,
    densityAltitude: densityAltitude(sigma, temperature === null ? paths.height : paths.temperature),
    pressure,
    temperature: actual,
    densityKgPerM3: pressure / (R * effective),
    sigma,
    delta,
    theta: actual / T0,
    soundSpeed: inUnit(Math.sqrt(standard.heatRatio * R * actual), "ms"),
    isaDeviationK: temperature === null ? 0 : actual - standardK,
  };
}

function requireHeight(height: Metres, path: string, found = ""): Metres {
  if (atLeast(height, lowestM) && atMost(height, highestM)) return height;
  const text = `${found} ${height} m`.trim();
  return refuse(
    path,
    "outsideDomain",
    text,
    `${lowestM} … ${highestM} m geopotential, where the standard atmosphere below the tropopause holds`,
  );
}
