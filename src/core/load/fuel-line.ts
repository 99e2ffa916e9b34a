// Where the fuel is, for every quantity on board: the moment of the whole fuel as a piecewise quadratic in its mass.
//
// A sheet gives each tank as points [fuel, x, y]: the centre of the whole quantity in the tank, straight between the
// points. So a tank's moment is quantity × (straight arm): a quadratic between neighbouring points. Several tanks with
// an order of burning join into one line over the total: at a total of f the tanks that burn last are still at what
// they were filled to, one group is part empty, those that burn first are empty. Tanks with the same number burn
// together, each in proportion to what was in it. Unusable fuel is in the empty mass (trade usage) and not in here.
//
// Refuses, all at once and each with its path: points not in strictly ascending fuel, negative or not finite, more in a
// tank than its points reach, a first point above 0 where it would have to burn below it. Nothing is read outside the
// points: no extrapolation.

import { atIndex, type Issue, refuse } from "../quantity/refusal.ts";
import { addNumberIssue, throwIssues, type Totals } from "./totals.ts";

export type TankPoint = readonly [fuel_kg: number, x_m: number, y_m: number];

export type FilledTank = {
  readonly points: readonly TankPoint[];
  /** What is in it at the start of burning. */
  readonly filled_kg: number;
  /** 1 burns first. */
  readonly burnOrder: number;
  readonly path: string;
};

/** t[0] + t[1]·f + t[2]·f², in kg·m for f in kg. */
export type Moment = readonly [number, number, number];

export type FuelSegment = {
  readonly low_kg: number;
  readonly high_kg: number;
  readonly x: Moment;
  readonly y: Moment;
};

/** Segments in ascending fuel, each beginning where the one before ends. */
export type FuelLine = { readonly segments: readonly FuelSegment[] };

const largest = 1e9;

/** The line of one tank over all that its points cover. */
export function fuelLineOfTank(points: readonly TankPoint[], path = "tank"): FuelLine {
  const issues: Issue[] = [];
  addTankIssues(points, path, issues);
  throwIssues(issues);
  return { segments: tankSegments(points) };
}

/** Says everything that is wrong with a tank's points. */
export function addTankIssues(points: readonly TankPoint[], path: string, issues: Issue[]): void {
  if (points.length === 0) {
    issues.push({ path, code: "missing", found: "no point", wanted: "at least one [fuel_kg, x_m, y_m]" });
  }
  for (const [index, [fuel, x, y]] of points.entries()) {
    const where = atIndex(path, index);
    addNumberIssue(fuel, atIndex(where, 0), 0, largest, "kg", issues);
    addNumberIssue(x, atIndex(where, 1), -largest, largest, "m", issues);
    addNumberIssue(y, atIndex(where, 2), -largest, largest, "m", issues);
    const before = points[index - 1]?.[0];
    if (before !== undefined && fuel <= before) {
      const wanted = `more than the ${before} kg before it`;
      issues.push({ path: atIndex(where, 0), code: "contradiction", found: `${fuel} kg`, wanted });
    }
  }
}

function tankSegments(points: readonly TankPoint[]): FuelSegment[] {
  const [only] = points;
  if (points.length === 1 && only !== undefined) {
    const [fuel, x, y] = only;
    return [{ low_kg: fuel, high_kg: fuel, x: [0, x, 0], y: [0, y, 0] }];
  }
  return points.slice(1).map((end, index) => {
    const start = points[index]!;
    return {
      low_kg: start[0],
      high_kg: end[0],
      x: armMoment(start[0], start[1], end[0], end[1]),
      y: armMoment(start[0], start[2], end[0], end[2]),
    };
  });
}

/** f × the arm that is straight from one point to the next. */
function armMoment(f0: number, arm0: number, f1: number, arm1: number): Moment {
  const slope = (arm1 - arm0) / (f1 - f0);
  return [0, arm0 - slope * f0, slope];
}

/** The line over the total of several tanks, as they were filled, in their order of burning. */
export function fuelLineOfTanks(tanks: readonly FilledTank[]): FuelLine {
  const issues: Issue[] = [];
  for (const tank of tanks) {
    const before = issues.length;
    addTankIssues(tank.points, `${tank.path}.points`, issues);
    if (issues.length > before) continue;
    const top = tank.points.at(-1)![0];
    addNumberIssue(tank.filled_kg, `${tank.path}.filled_kg`, 0, top, "kg", issues);
    if (tank.points[0]![0] !== 0) {
      const found = `${tank.points[0]![0]} kg`;
      issues.push({
        path: `${tank.path}.points[0][0]`,
        code: "outsideDomain",
        found,
        wanted: "a first point at 0 kg",
      });
    }
  }
  throwIssues(issues);
  const segments: FuelSegment[] = [];
  let below: Totals = { mass_kg: 0, x_kgm: 0, y_kgm: 0 };
  // What burns last is at the bottom of the total.
  for (const order of [...new Set(tanks.map((tank) => tank.burnOrder))].sort((a, b) => b - a)) {
    const group = tanks.filter((tank) => tank.burnOrder === order && tank.filled_kg > 0);
    const added = groupSegments(group, below);
    segments.push(...added);
    const last = added.at(-1);
    if (last === undefined) continue;
    below = {
      mass_kg: last.high_kg,
      x_kgm: momentAt(last.x, last.high_kg),
      y_kgm: momentAt(last.y, last.high_kg),
    };
  }
  return {
    segments: segments.length > 0 ? segments : [{ low_kg: 0, high_kg: 0, x: [0, 0, 0], y: [0, 0, 0] }],
  };
}

/** Segments of tanks that burn together, on top of what lies below them. */
function groupSegments(group: readonly FilledTank[], below: Totals): FuelSegment[] {
  const whole = group.reduce((sum, tank) => sum + tank.filled_kg, 0);
  const cuts = new Set([0, whole]);
  for (const tank of group) {
    for (const [fuel] of tank.points) {
      if (fuel > 0 && fuel < tank.filled_kg) {
        cuts.add(group.length === 1 ? fuel : (fuel / tank.filled_kg) * whole);
      }
    }
  }
  const sorted = [...cuts].sort((a, b) => a - b);
  return sorted.slice(1).map((high, index) => {
    const low = sorted[index]!;
    const middle = low + (high - low) / 2;
    let x: Moment = [below.x_kgm, 0, 0];
    let y: Moment = [below.y_kgm, 0, 0];
    for (const tank of group) {
      const share = tank.filled_kg / whole;
      const segment = tankSegments(tank.points).find(({ high_kg }) => high_kg >= middle * share)!;
      x = addMoments(x, scaleMoment(segment.x, share));
      y = addMoments(y, scaleMoment(segment.y, share));
    }
    const base = below.mass_kg;
    return { low_kg: base + low, high_kg: base + high, x: shiftMoment(x, base), y: shiftMoment(y, base) };
  });
}

function addMoments(one: Moment, other: Moment): Moment {
  return [one[0] + other[0], one[1] + other[1], one[2] + other[2]];
}

/** The moment at share·g, as a polynomial in g. */
function scaleMoment(moment: Moment, share: number): Moment {
  return [moment[0], moment[1] * share, moment[2] * share * share];
}

/** The moment at f − base, as a polynomial in f. */
function shiftMoment([c0, c1, c2]: Moment, base: number): Moment {
  return base === 0 ? [c0, c1, c2] : [c0 - c1 * base + c2 * base * base, c1 - 2 * c2 * base, c2];
}

export function momentAt(moment: Moment, f: number): number {
  return moment[0] + f * (moment[1] + moment[2] * f);
}

/** The least and the most that the line covers. */
export function fuelRange(line: FuelLine): readonly [low_kg: number, high_kg: number] {
  return [line.segments[0]!.low_kg, line.segments.at(-1)!.high_kg];
}

/** Mass and moments of a quantity of fuel. Refuses what the line does not cover. */
export function fuelTotals(line: FuelLine, fuel_kg: number, path = "fuel_kg"): Totals {
  const [low, high] = fuelRange(line);
  if (!(fuel_kg >= low && fuel_kg <= high)) {
    refuse(path, "outsideDomain", `${fuel_kg} kg`, `${low} … ${high} kg, what the tank's points cover`);
  }
  const segment = line.segments.find(({ high_kg }) => fuel_kg <= high_kg)!;
  return { mass_kg: fuel_kg, x_kgm: momentAt(segment.x, fuel_kg), y_kgm: momentAt(segment.y, fuel_kg) };
}
