// The way of the centre of gravity while one mass changes: fuel burning, a mass of any size at one station.
//
// Both have the same form. With the total mass m as the parameter, a moment that is (piecewise) quadratic in the mass
// that changes is quadratic in m too, and the centre of gravity is
//     x(m) = k0/m + k1 + k2·m          (y likewise)
// for a station k2 = 0. So every question along a path (where does it meet a straight limit, where does its distance
// from one turn) is a quadratic equation in m, with no search and no sampling.
// Derivation ours. Valid where m > 0 along the whole path; refuses the rest.

import { refuse } from "../quantity/refusal.ts";
import { type FuelLine, fuelTotals, type Moment } from "./fuel-line.ts";
import { addTotals, type Station, type Totals, totalsAt } from "./totals.ts";

/** k0/m + k1 + k2·m. */
export type Curve = readonly [k0: number, k1: number, k2: number];

export function curveAt([k0, k1, k2]: Curve, m: number): number {
  return k0 / m + k1 + k2 * m;
}

/** Where a curve with k0 and k2 of one sign turns: m = √(k0/k2); null when it is monotone for m > 0. */
export function turningMass([k0, , k2]: Curve): number | null {
  if (k2 === 0 || k0 / k2 <= 0) return null;
  const m = Math.sqrt(k0 / k2);
  return Number.isFinite(m) && m > 0 ? m : null;
}

export type PathPiece = {
  /** The mass that changes, from here … */
  readonly low_kg: number;
  /** … to here; the same on a path that is one state. */
  readonly high_kg: number;
  /** The total mass is `other_kg` plus the mass that changes. */
  readonly other_kg: number;
  readonly x: Curve;
  readonly y: Curve;
};

/** Pieces in ascending mass, each beginning where the one before ends. Never empty. */
export type Path = {
  readonly pieces: readonly PathPiece[];
  /** Mass and moments for one value of the mass that changes, computed without the curves. */
  totalsAt(changing_kg: number): Totals;
};

const burnPaths = { low: "burn.to_kg", high: "burn.from_kg" };

/** Fuel from `low_kg` to `high_kg` on top of `base`; `paths` says where the two stand in the caller's input. */
export function fuelPath(
  base: Totals,
  line: FuelLine,
  low_kg: number,
  high_kg: number,
  paths = burnPaths,
): Path {
  fuelTotals(line, low_kg, paths.low);
  fuelTotals(line, high_kg, paths.high);
  assertRange(low_kg, high_kg, paths.high);
  assertMass(base.mass_kg + low_kg);
  const pieces: PathPiece[] = [];
  for (const segment of line.segments) {
    const low = Math.max(low_kg, segment.low_kg);
    const high = Math.min(high_kg, segment.high_kg);
    if (low < high || (low === high && low_kg === high_kg && pieces.length === 0)) {
      pieces.push({
        low_kg: low,
        high_kg: high,
        other_kg: base.mass_kg,
        x: curveOf(base.mass_kg, base.x_kgm, segment.x),
        y: curveOf(base.mass_kg, base.y_kgm, segment.y),
      });
    }
  }
  return { pieces, totalsAt: (fuel_kg) => addTotals(base, fuelTotals(line, fuel_kg)) };
}

/** A mass from `low_kg` to `high_kg` at a station on top of `base`. */
export function stationPath(base: Totals, station: Station, low_kg: number, high_kg: number): Path {
  assertRange(low_kg, high_kg, "high_kg");
  assertMass(base.mass_kg + low_kg);
  const piece = {
    low_kg,
    high_kg,
    other_kg: base.mass_kg,
    x: curveOf(base.mass_kg, base.x_kgm, [0, station.x_m, 0]),
    y: curveOf(base.mass_kg, base.y_kgm, [0, station.y_m, 0]),
  };
  return { pieces: [piece], totalsAt: (mass_kg) => addTotals(base, totalsAt(station, mass_kg)) };
}

/** (moment + t0 + t1·f + t2·f²) / m with f = m − other, in powers of m. */
function curveOf(other_kg: number, moment_kgm: number, [t0, t1, t2]: Moment): Curve {
  return [moment_kgm + t0 - t1 * other_kg + t2 * other_kg * other_kg, t1 - 2 * t2 * other_kg, t2];
}

function assertRange(low_kg: number, high_kg: number, path: string): void {
  if (!(low_kg >= 0 && low_kg <= high_kg && high_kg < Number.POSITIVE_INFINITY)) {
    refuse(
      path,
      "contradiction",
      `${high_kg} kg`,
      `at least the ${low_kg} kg at the lower end, and that at least 0 kg`,
    );
  }
}

function assertMass(least_kg: number): void {
  if (!(least_kg > 0)) {
    refuse("items", "impossible", `a total of ${least_kg} kg`, "a mass above 0 kg, which alone has a centre");
  }
}
