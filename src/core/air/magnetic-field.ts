// The Earth's main magnetic field by the World Magnetic Model 2025: variation (declination), dip, and the field's parts.
//
// Source: The US/UK World Magnetic Model for 2025–2030, technical report (NOAA NCEI and BGS), section 1.2: geodetic to
// geocentric coordinates on WGS84, Gauss coefficients at the date, Schmidt semi-normalised Legendre functions, the sums
// for X′, Y′, Z′, rotation back to the ellipsoid, and the elements D, I, H, F with their yearly changes.
// Valid for 2025.0 ≤ year < 2030.0, from 1 km below the ellipsoid to 850 km above it; outside, a refusal. The year is
// decimal: year + (day of year − 1)/days in that year.
// Where the horizontal part is weak a compass says little: below 2,000 nT the model's authors speak of the blackout
// zone, below 6,000 nT of the caution zone (NCEI annual report on the WMM). At a pole itself north is the direction of
// the meridian given.
// Check values: published/magnetic-field.test.ts.

import { atLeast, atMost } from "../quantity/compare.ts";
import { describe, refuse } from "../quantity/refusal.ts";
import type { Degrees, Metres } from "../quantity/units.ts";
import { atan2Deg, compass, cosDeg, sinDeg } from "./degrees.ts";
import type { Position } from "./position.ts";
import { requirePosition } from "./position.ts";
import { wmm2025, wmm2025Rows } from "./wmm2025.ts";

const semiMajorM = 6_378_137;
const flattening = 1 / 298.257223563;
const eccentricity2 = flattening * (2 - flattening);

const lowestM = -1000;
const highestM = 850_000;

export type FieldZone = "normal" | "caution" | "blackout";
const blackoutBelowNt = 2000;
const cautionBelowNt = 6000;

export type FieldElements = {
  /** Variation: magnetic north from true north, east positive. */
  readonly declination: Degrees;
  /** Dip below the horizon, down positive. */
  readonly inclination: Degrees;
  readonly northNt: number;
  readonly eastNt: number;
  readonly downNt: number;
  readonly horizontalNt: number;
  readonly totalNt: number;
};

export type MagneticField = FieldElements & {
  readonly zone: FieldZone;
  readonly model: string;
  /** Change of each in a year. */
  readonly perYear: FieldElements;
};

/**
 * The field at a position, a height above the WGS84 ellipsoid and a decimal year.
 * Refuses: a position off the globe, a height or year outside the model.
 */
export function magneticField(
  position: Position,
  height: Metres,
  year: number,
  paths = { height: "height", year: "year" },
): MagneticField {
  requirePosition(position);
  if (!atLeast(height, lowestM) || !atMost(height, highestM)) {
    refuse(
      paths.height,
      "outsideDomain",
      `${height / 1000} km`,
      `${lowestM / 1000} … ${highestM / 1000} km above the ellipsoid`,
    );
  }
  if (!(year >= wmm2025.epochYear && year < wmm2025.endYear)) {
    refuse(
      paths.year,
      "outsideDomain",
      describe(year),
      `a year from ${wmm2025.epochYear}.0 until before ${wmm2025.endYear}.0, the years of ${wmm2025.name}`,
    );
  }
  const place = geocentric(position, height);
  const [field, rate] = sums(place, position.lon_deg, year - wmm2025.epochYear);
  return elements(rotate(field, place), rotate(rate, place));
}

/** Days of the year passed, as a part of it: the decimal year of a calendar day, 1 January being day 1. */
export function decimalYear(year: number, dayOfYear: number, daysInYear: 365 | 366): number {
  if (!Number.isInteger(year)) refuse("year", "outsideDomain", describe(year), "a whole year");
  if (!(dayOfYear >= 1 && dayOfYear < daysInYear + 1)) {
    refuse("dayOfYear", "outsideDomain", describe(dayOfYear), `a day of 1 … ${daysInYear}`);
  }
  return year + (dayOfYear - 1) / daysInYear;
}

/** A true direction as a compass would show it (variation east is least, west is best). */
export function magneticFromTrue(direction: Degrees, declination: Degrees): Degrees {
  return compass(direction - declination);
}

/** A magnetic direction (a runway, a tower's wind) as a true one. */
export function trueFromMagnetic(direction: Degrees, declination: Degrees): Degrees {
  return compass(direction + declination);
}

/** Spherical coordinates, and the turn ψ = φ′ − φ between the sphere's vertical and the ellipsoid's. */
type Geocentric = {
  readonly radiusM: number;
  readonly sinLat: number;
  readonly cosLat: number;
  readonly sinTurn: number;
  readonly cosTurn: number;
};

/** Report equations 7 and 8. */
function geocentric(position: Position, height: Metres): Geocentric {
  const sin = sinDeg(position.lat_deg);
  const cos = cosDeg(position.lat_deg);
  const curvatureM = semiMajorM / Math.sqrt(1 - eccentricity2 * sin * sin);
  const p = (curvatureM + height) * cos;
  const z = (curvatureM * (1 - eccentricity2) + height) * sin;
  const radiusM = Math.hypot(p, z);
  const sinLat = z / radiusM;
  const cosLat = p / radiusM;
  return {
    radiusM,
    sinLat,
    cosLat,
    sinTurn: sinLat * cos - cosLat * sin,
    cosTurn: cosLat * cos + sinLat * sin,
  };
}

/** North, east, down. */
type Vector = readonly [number, number, number];

/** The field and its yearly change on the sphere: report equations 9 to 15. */
function sums(place: Geocentric, lonDeg: number, years: number): readonly [Vector, Vector] {
  const { over, slope } = legendre(place.sinLat, place.cosLat);
  const ratio = wmm2025.referenceRadiusM / place.radiusM;
  const cosines = Array.from({ length: size }, (_, m) => cosDeg(m * lonDeg));
  const sines = Array.from({ length: size }, (_, m) => sinDeg(m * lonDeg));
  const field: [number, number, number] = [0, 0, 0];
  const rate: [number, number, number] = [0, 0, 0];
  for (const [n, m, g0, h0, gRate, hRate] of wmm2025Rows) {
    const power = ratio ** (n + 2);
    const overCos = over[cell(n, m)] as number;
    const north = -power * (slope[cell(n, m)] as number);
    const east = power * m * overCos;
    const down = -power * (n + 1) * (m === 0 ? overCos : overCos * place.cosLat);
    const cos = cosines[m] as number;
    const sin = sines[m] as number;
    addTerm(field, g0 + years * gRate, h0 + years * hRate);
    addTerm(rate, gRate, hRate);

    function addTerm(sum: [number, number, number], g: number, h: number): void {
      const even = g * cos + h * sin;
      sum[0] += north * even;
      sum[1] += east * (g * sin - h * cos);
      sum[2] += down * even;
    }
  }
  return [field, rate];
}

const size = wmm2025.degree + 1;

function cell(n: number, m: number): number {
  return n * size + m;
}

/**
 * Schmidt semi-normalised Legendre functions P(n, m) of sin φ′: `over` holds P for m = 0 and P/cos φ′ for m > 0, so that
 * nothing divides by zero at a pole; `slope` holds dP/dφ′.
 */
function legendre(sin: number, cos: number): { readonly over: Float64Array; readonly slope: Float64Array } {
  const over = new Float64Array(size * size);
  const slope = new Float64Array(size * size);
  const get = (n: number, m: number): number => over[cell(n, m)] as number;
  for (let n = 0; n < size; n += 1) {
    for (let m = 0; m <= n; m += 1) {
      over[cell(n, m)] = n === m ? diagonal(n, cos, get) : below(n, m, sin, get);
    }
  }
  for (let n = 1; n < size; n += 1) {
    slope[cell(n, 0)] = Math.sqrt((n * (n + 1)) / 2) * get(n, 1) * cos;
    for (let m = 1; m <= n; m += 1) {
      const lower = m < n ? Math.sqrt(n * n - m * m) * get(n - 1, m) : 0;
      slope[cell(n, m)] = lower - n * sin * get(n, m);
    }
  }
  return { over, slope };
}

function diagonal(n: number, cos: number, get: (n: number, m: number) => number): number {
  if (n < 2) return 1;
  return Math.sqrt((2 * n - 1) / (2 * n)) * cos * get(n - 1, n - 1);
}

function below(n: number, m: number, sin: number, get: (n: number, m: number) => number): number {
  const twoBelow = n - 2 >= m ? Math.sqrt((n - 1) ** 2 - m * m) * get(n - 2, m) : 0;
  return ((2 * n - 1) * sin * get(n - 1, m) - twoBelow) / Math.sqrt(n * n - m * m);
}

/** Report equation 17. */
function rotate([north, east, down]: Vector, { sinTurn, cosTurn }: Geocentric): Vector {
  return [north * cosTurn - down * sinTurn, east, north * sinTurn + down * cosTurn];
}

/** Report equations 18 and 19. */
function elements([x, y, z]: Vector, [dx, dy, dz]: Vector): MagneticField {
  const h = Math.hypot(x, y);
  const f = Math.hypot(h, z);
  const dh = (x * dx + y * dy) / h;
  const degreesPerRadian = 180 / Math.PI;
  return {
    declination: atan2Deg(y, x),
    inclination: atan2Deg(z, h),
    northNt: x,
    eastNt: y,
    downNt: z,
    horizontalNt: h,
    totalNt: f,
    zone: h < blackoutBelowNt ? "blackout" : h < cautionBelowNt ? "caution" : "normal",
    model: wmm2025.name,
    perYear: {
      declination: ((degreesPerRadian * (x * dy - y * dx)) / (h * h)) as Degrees,
      inclination: ((degreesPerRadian * (h * dz - z * dh)) / (f * f)) as Degrees,
      northNt: dx,
      eastNt: dy,
      downNt: dz,
      horizontalNt: dh,
      totalNt: (x * dx + y * dy + z * dz) / f,
    },
  };
}
