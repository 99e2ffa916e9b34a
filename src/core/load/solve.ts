// The load solved backwards, exactly: which masses at a station, and which fuel states, are inside every limit.
//
// Two masses vary: p at one station (a patient, a load on the hook, ballast) from `low` to `high`, and the fuel f from
// the start of the burn down to its end. In a plane of the limits an edge's line is a quadratic g(p, f) = 0 on each
// straight part of the tank. For a given p the burn is a curve; whether all of it is inside can change only at a p where
//   - the curve ends, or bends at a point of the tank, on the line of an edge     g(p, f_end) = 0,
//   - it touches that line                                                      g = ∂g/∂f = 0: a discriminant,
//   - it passes through a corner                                                two equations, linear in p,
//   - it enters or leaves the band of mass of a coupled limit there or on the line of an edge.
// All of these are roots of quadratics in p, and between two neighbouring ones nothing changes, so the middle of each part,
// checked along its whole burn by follow-path.ts, answers for all of it. The same with p and f changing places tells the
// fuel states that are inside for every p. No search, no sampling.
// Derivation ours (a decomposition at critical values). Answers are sets of closed intervals: empty for none, the whole
// range for all. A set ends on a limit, not short of it: law 6 is for those who print it.

import { refuse } from "../quantity/refusal.ts";
import { followPath } from "./follow-path.ts";
import { fuelTotals, type FuelLine, type FuelSegment } from "./fuel-line.ts";
import {
  type Interval,
  type IntervalSet,
  intersectIntervals,
  intervalsWhere,
  intervalWith,
} from "./interval-set.ts";
import { type LimitName, type Limits, type Plane, planesOf } from "./limits.ts";
import { fuelPath, type Path, stationPath } from "./path.ts";
import { quadraticRoots } from "./quadratic.ts";
import { addTotals, type Station, type Totals, totalsAt } from "./totals.ts";

/** A load with two masses open: one at a station, and the fuel of a burn. */
export type OpenLoad = {
  /** Everything else. */
  readonly base: Totals;
  readonly station: Station;
  readonly mass_kg: Interval;
  readonly line: FuelLine;
  readonly fuel_kg: Interval;
};

export type Solution = {
  /** Inside every limit. */
  readonly set: IntervalSet;
  /** Inside each limit taken alone, in the order of the limits: what binds is the one that ends where `set` ends. */
  readonly byLimit: readonly {
    readonly limit: LimitName;
    readonly index: number;
    readonly set: IntervalSet;
  }[];
};

/** The masses at the station for which every fuel state of the burn is inside. */
export function safeMasses(load: OpenLoad, limits: Limits): Solution {
  const burnAt = (mass_kg: number): Path =>
    fuelPath(
      addTotals(load.base, totalsAt(load.station, mass_kg)),
      load.line,
      load.fuel_kg.low,
      load.fuel_kg.high,
    );
  return solve(limits, load.mass_kg, (plane) => criticalMasses(load, plane), burnAt);
}

/** The fuel states that are inside for every mass at the station. */
export function safeFuels(load: OpenLoad, limits: Limits): Solution {
  const massesAt = (fuel_kg: number): Path =>
    stationPath(
      addTotals(load.base, fuelTotals(load.line, fuel_kg)),
      load.station,
      load.mass_kg.low,
      load.mass_kg.high,
    );
  return solve(limits, load.fuel_kg, (plane) => criticalFuels(load, plane), massesAt);
}

/**
 * The most fuel at the start from which a burn down to `load.fuel_kg.low` is inside all the way, for every mass at the
 * station, up to `load.fuel_kg.high`; null when not even the end of the burn is inside. `limitedBy` are the limits that
 * end it, none when it is the upper end of the range.
 */
export function largestFuel(
  load: OpenLoad,
  limits: Limits,
): { readonly fuel_kg: number | null; readonly limitedBy: readonly LimitName[]; readonly states: Solution } {
  const states = safeFuels(load, limits);
  const end = load.fuel_kg.low;
  const reached = intervalWith(states.set, end);
  const fuel_kg = reached === null ? null : reached.high;
  const limitedBy = states.byLimit.filter(({ set }) => {
    const alone = intervalWith(set, end);
    return reached === null
      ? alone === null
      : alone!.high === reached.high && alone!.high < load.fuel_kg.high;
  });
  return { fuel_kg, limitedBy: [...new Set(limitedBy.map(({ limit }) => limit))], states };
}

/** Whether every mass at the station with every fuel state of the burn is inside every limit; and which are not. */
export function safeForAll(
  load: OpenLoad,
  limits: Limits,
): { readonly safe: boolean; readonly masses: Solution; readonly fuels: Solution } {
  const masses = safeMasses(load, limits);
  const fuels = safeFuels(load, limits);
  const whole = masses.set[0];
  const safe = whole !== undefined && whole.low === load.mass_kg.low && whole.high === load.mass_kg.high;
  return { safe, masses, fuels };
}

function solve(
  limits: Limits,
  range: Interval,
  criticals: (plane: Plane) => readonly number[],
  pathAt: (value: number) => Path,
): Solution {
  // Refuses what cannot be computed at either end before it answers anything between.
  assertInterval(range);
  pathAt(range.low);
  pathAt(range.high);
  const byLimit = planesOf(limits)
    .filter((plane) => !plane.swapped)
    .map((plane) => ({
      limit: plane.limit,
      index: plane.index,
      set: intervalsWhere(range.low, range.high, criticals(plane), (value) =>
        followPath(pathAt(value), plane).spans.every((span) => span.inside),
      ),
    }));
  const set = byLimit.reduce<IntervalSet>((common, one) => intersectIntervals(common, one.set), [range]);
  return { set, byLimit };
}

function assertInterval({ low, high }: Interval): void {
  if (!(low >= 0 && low <= high && high < Number.POSITIVE_INFINITY)) {
    refuse("", "contradiction", `${low} … ${high} kg`, "a finite range of masses from 0 kg up");
  }
}

// ---- Critical values ------------------------------------------------------------------------------------------------

/** c + p·[p] + f·[f] + pp·[p²] + pf·[p f] + ff·[f²]. */
type Quadratic2 = {
  readonly c: number;
  readonly p: number;
  readonly f: number;
  readonly pp: number;
  readonly pf: number;
  readonly ff: number;
};

/** a·mass = `a`, b·mass = `b` in the plane of a limit, and the mass itself. */
type PlaneTerms = { readonly a: Quadratic2; readonly b: Quadratic2; readonly mass: Quadratic2 };

function criticalMasses(load: OpenLoad, plane: Plane): number[] {
  return segmentsWithin(load).flatMap(({ segment, low, high }) =>
    criticalsOfP(planeTerms(load, plane, segment), plane, low, high),
  );
}

function criticalFuels(load: OpenLoad, plane: Plane): number[] {
  const { low, high } = load.mass_kg;
  return segmentsWithin(load).flatMap(({ segment, low: from, high: to }) => {
    const { a, b, mass } = planeTerms(load, plane, segment);
    const turned = { a: exchanged(a), b: exchanged(b), mass: exchanged(mass) };
    // Values beyond the segment belong to another one, whose own terms give them.
    return [from, to, ...criticalsOfP(turned, plane, low, high).filter((f) => f >= from && f <= to)];
  });
}

function segmentsWithin({ line, fuel_kg }: OpenLoad): { segment: FuelSegment; low: number; high: number }[] {
  return line.segments
    .map((segment) => ({
      segment,
      low: Math.max(segment.low_kg, fuel_kg.low),
      high: Math.min(segment.high_kg, fuel_kg.high),
    }))
    .filter(({ low, high }) => low <= high);
}

function exchanged({ c, p, f, pp, pf, ff }: Quadratic2): Quadratic2 {
  return { c, p: f, f: p, pp: ff, pf, ff: pp };
}

function planeTerms({ base, station }: OpenLoad, { axis, limit }: Plane, segment: FuelSegment): PlaneTerms {
  const zero = { c: 0, p: 0, f: 0, pp: 0, pf: 0, ff: 0 };
  const x = {
    ...zero,
    c: base.x_kgm + segment.x[0],
    p: station.x_m,
    f: segment.x[1],
    ff: segment.x[2],
  };
  const y = {
    ...zero,
    c: base.y_kgm + segment.y[0],
    p: station.y_m,
    f: segment.y[1],
    ff: segment.y[2],
  };
  const m = base.mass_kg;
  const mass = { ...zero, c: m, p: 1, f: 1 };
  const massSquared = { c: m * m, p: 2 * m, f: 2 * m, pp: 1, pf: 2, ff: 1 };
  return { a: axis === "longitudinal" ? x : y, b: limit === "coupled" ? y : massSquared, mass };
}

/** The p at which it can change whether all f from `low` to `high` are inside. */
function criticalsOfP(terms: PlaneTerms, plane: Plane, low: number, high: number): number[] {
  const found: number[] = [];
  const { corners } = plane.outline;
  for (const [index, [a0, b0]] of corners.entries()) {
    const [a1, b1] = corners[(index + 1) % corners.length]!;
    // Zero on the line from (a0, b0) to (a1, b1), times the mass.
    const line = combine(terms.a, b1 - b0, terms.b, a0 - a1, terms.mass, (a1 - a0) * b0 - (b1 - b0) * a0);
    found.push(...rootsAtF(line, low), ...rootsAtF(line, high), ...touchingP(line));
    for (const band of bandEnds(plane)) found.push(...rootsOnMass(line, terms.mass, band, low, high));
    found.push(...cornerP(terms, plane, a0, b0, low, high));
  }
  for (const band of bandEnds(plane)) {
    for (const f of [low, high]) found.push(pOfMass(terms.mass, band, f));
  }
  return found;
}

function bandEnds({ above_kg, upTo_kg }: Plane): number[] {
  return [above_kg, upTo_kg].filter((mass_kg) => mass_kg > 0 && Number.isFinite(mass_kg));
}

function combine(
  one: Quadratic2,
  k1: number,
  two: Quadratic2,
  k2: number,
  three: Quadratic2,
  k3: number,
): Quadratic2 {
  const part = (key: keyof Quadratic2): number => one[key] * k1 + two[key] * k2 + three[key] * k3;
  return { c: part("c"), p: part("p"), f: part("f"), pp: part("pp"), pf: part("pf"), ff: part("ff") };
}

function rootsAtF({ c, p, f, pp, pf, ff }: Quadratic2, at: number): number[] {
  return quadraticRoots(c + at * (f + ff * at), p + pf * at, pp);
}

/** The p at which g(p, ·) has a double root: its discriminant in f vanishes; with no f², where f drops out. */
function touchingP({ c, p, f, pp, pf, ff }: Quadratic2): number[] {
  if (ff === 0) return pf === 0 ? [] : quadraticRoots(f, pf, 0);
  return quadraticRoots(f * f - 4 * ff * c, 2 * f * pf - 4 * ff * p, pf * pf - 4 * ff * pp);
}

/** The p that gives a total mass at f; the mass is c + p + f. */
function pOfMass({ c }: Quadratic2, mass_kg: number, f: number): number {
  return mass_kg - c - f;
}

/** The p at which g = 0 is met while the total is a given mass, for an f within the range. */
function rootsOnMass(
  line: Quadratic2,
  mass: Quadratic2,
  mass_kg: number,
  low: number,
  high: number,
): number[] {
  // p = k − f put in.
  const k = pOfMass(mass, mass_kg, 0);
  const { c, p, f, pp, pf, ff } = line;
  return quadraticRoots(c + k * (p + pp * k), f - p + k * (pf - 2 * pp), ff + pp - pf)
    .filter((root) => root >= low && root <= high)
    .map((root) => k - root);
}

/** The p at which the curve over f from `low` to `high` passes through a corner. Both equations are linear in p. */
function cornerP(terms: PlaneTerms, plane: Plane, a: number, b: number, low: number, high: number): number[] {
  const zero = { c: 0, p: 0, f: 0, pp: 0, pf: 0, ff: 0 };
  const one = combine(terms.a, 1, terms.mass, -a, zero, 0);
  const other =
    plane.limit === "coupled"
      ? combine(terms.b, 1, terms.mass, -b, zero, 0)
      : { ...terms.mass, c: terms.mass.c - b };
  // In p and f exchanged the equations are linear in f instead; then eliminate f.
  if (one.pp !== 0 || other.pp !== 0) return cornerPByF(one, other, low, high);
  const [u, v] = [one.p, other.p];
  const fs = quadraticRoots(u * other.c - v * one.c, u * other.f - v * one.f, u * other.ff - v * one.ff);
  const from = Math.abs(v) >= Math.abs(u) ? other : one;
  return fs
    .filter((f) => f >= low && f <= high)
    .map((f) => -(from.c + f * (from.f + from.ff * f)) / from.p)
    .filter((p) => Number.isFinite(p));
}

function cornerPByF(one: Quadratic2, other: Quadratic2, low: number, high: number): number[] {
  const [u, v] = [one.f, other.f];
  const ps = quadraticRoots(u * other.c - v * one.c, u * other.p - v * one.p, u * other.pp - v * one.pp);
  const from = Math.abs(v) >= Math.abs(u) ? other : one;
  return ps.filter((p) => {
    const f = -(from.c + p * (from.p + from.pp * p)) / from.f;
    return f >= low && f <= high;
  });
}
