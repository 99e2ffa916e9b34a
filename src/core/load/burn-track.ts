// A load checked along the whole burn: every fuel state between the start and the end, not only the two ends.
//
// Fuel away from the rest of the load moves the centre of gravity as it burns, forward and back again with the shape of
// the tank, so both ends can be inside with the middle outside. Exact by follow-path.ts.
//
// Crossings: where the track goes from inside a limit to outside it or back, in the order of burning (falling fuel). A
// track that begins on a limit and leaves at once crosses at its start; one that arrives on it from outside crosses at
// its end. Touching a limit without going through is no crossing.
// Worst: the smallest arm margin over the whole burn and all limits given, and the fuel at which it is; margin_m null
// means that there no arm is inside (the mass is beyond the limit). Of two as bad, the earlier in the burn.

import { followPath, type PlaneTrack, worse, type WorstPoint } from "./follow-path.ts";
import { type FuelLine } from "./fuel-line.ts";
import { type Axis, type LimitName, type Limits, planesOf } from "./limits.ts";
import { fuelPath, type Path } from "./path.ts";
import { centreOf, type Totals } from "./totals.ts";

export type Burn = {
  readonly line: FuelLine;
  /** Fuel at the start. */
  readonly from_kg: number;
  /** Fuel at the end, at most from_kg. */
  readonly to_kg: number;
};

export type TrackState = {
  readonly fuel_kg: number;
  readonly mass_kg: number;
  readonly x_m: number;
  readonly y_m: number;
};

export type Crossing = { readonly fuel_kg: number; readonly limit: LimitName; readonly index: number };

export type Worst = {
  readonly fuel_kg: number;
  readonly limit: LimitName;
  readonly axis: Axis;
  readonly margin_m: number | null;
};

export type BurnTrack = {
  readonly start: TrackState;
  readonly end: TrackState;
  readonly inside: { readonly [Limit in LimitName]: boolean | null };
  readonly crossings: readonly Crossing[];
  /** Null where no limit is given or none holds anywhere on the track. */
  readonly worst: Worst | null;
};

/**
 * `base` is everything but the fuel. Refuses a burn outside what the tank covers or that gains fuel, and a total that
 * is not above 0 kg; `paths` says where the two ends stand in the caller's input.
 */
export function trackBurn(
  base: Totals,
  burn: Burn,
  limits: Limits,
  paths?: { readonly low: string; readonly high: string },
): BurnTrack {
  const path = fuelPath(base, burn.line, burn.to_kg, burn.from_kg, paths);
  const tracks = planesOf(limits).map((plane) => followPath(path, plane));
  return {
    start: stateAt(path, burn.from_kg),
    end: stateAt(path, burn.to_kg),
    inside: insideOf(tracks),
    crossings: crossingsOf(tracks),
    worst: worstOf(tracks),
  };
}

function stateAt(path: Path, fuel_kg: number): TrackState {
  const totals = path.totalsAt(fuel_kg);
  return { fuel_kg, mass_kg: totals.mass_kg, ...centreOf(totals) };
}

/** Inside over the whole track, by limit; null for a limit that is not given. */
export function insideOf(tracks: readonly PlaneTrack[]): BurnTrack["inside"] {
  const inside: { [Limit in LimitName]: boolean | null } = {
    longitudinal: null,
    lateral: null,
    coupled: null,
    mass: null,
  };
  for (const { plane, spans } of tracks) {
    inside[plane.limit] = inside[plane.limit] !== false && spans.every((span) => span.inside);
  }
  return inside;
}

function crossingsOf(tracks: readonly PlaneTrack[]): Crossing[] {
  const crossings: Crossing[] = [];
  for (const { plane, spans, insideAtHigh, insideAtLow } of tracks) {
    // The two planes of a coupled limit say the same.
    if (plane.swapped) continue;
    const { limit, index } = plane;
    const first = spans.at(-1)!;
    const last = spans[0]!;
    if (insideAtHigh && !first.inside) crossings.push({ fuel_kg: first.high_kg, limit, index });
    for (const span of spans.slice(1)) crossings.push({ fuel_kg: span.low_kg, limit, index });
    if (insideAtLow && !last.inside) crossings.push({ fuel_kg: last.low_kg, limit, index });
  }
  return crossings.sort((one, other) => other.fuel_kg - one.fuel_kg);
}

/** Over all tracks. A limit of mass alone has no arm margin, so it counts only where it is broken. */
export function worstOf(tracks: readonly PlaneTrack[]): Worst | null {
  let worst: { readonly point: WorstPoint; readonly track: PlaneTrack } | null = null;
  for (const track of tracks) {
    if (track.worst === null || (track.plane.limit === "mass" && track.worst.margin_m !== null)) continue;
    if (worst === null || worse(worst.point, track.worst) !== worst.point)
      worst = { point: track.worst, track };
  }
  if (worst === null) return null;
  const { plane } = worst.track;
  const { at_kg, margin_m } = worst.point;
  return { fuel_kg: at_kg, limit: plane.limit, axis: plane.axis, margin_m };
}
