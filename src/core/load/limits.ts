// The limits that a loaded craft must stay inside, and its margins at one state of loading.
//
// Longitudinal: polygon of (x, mass). Lateral: polygon of (y, mass). Coupled: polygon of (x, y) that holds in a band of
// mass, both ends in it; outside its band it says nothing. Mass: least and most, whatever the arm. A limit that is null
// is not given; what is not given is answered with null, never with "inside".
//
// Margins, all signed, positive inside:
//   forward, aft (left, right)  How far the centre of gravity is from the two ends of the part of the limit that it is
//                               in at this mass. Outside every part: from the ends of the nearest part (the forward or
//                               left one of two as near), so that exactly one of the two is negative and says how far
//                               back it is. Null where no arm at all is inside at this mass.
//   heavier, lighter            The same along the mass at this arm. Null where no mass is inside at this arm.
// A margin can be −1e-12 where `isWithin` says inside: that is the tolerance of a limit (see outline.ts), unrounded.
//
// A plane is one limit seen along one of its axes. A coupled limit is two planes, one along x and one along y.

import type { Issue } from "../quantity/refusal.ts";
import {
  isWithin,
  type Outline,
  readOutline,
  sectionsAt,
  type Span,
  type Strip,
  toleranceAt,
} from "./outline.ts";
import type { Curve, PathPiece } from "./path.ts";
import { centreOf, throwIssues, type Totals } from "./totals.ts";

export type CoupledLimit = { readonly outline: Outline; readonly above_kg: number; readonly upTo_kg: number };

export type MassLimit = { readonly least_kg: number; readonly most_kg: number };

export type Limits = {
  readonly longitudinal: Outline | null;
  readonly lateral: Outline | null;
  readonly coupled: readonly CoupledLimit[];
  readonly mass: MassLimit | null;
};

export const noLimits: Limits = { longitudinal: null, lateral: null, coupled: [], mass: null };

export type Axis = "longitudinal" | "lateral";
export type LimitName = Axis | "coupled" | "mass";

export type Plane = {
  readonly limit: LimitName;
  /** Which coupled limit, 0 for the others. */
  readonly index: number;
  /** The axis along which this plane measures. */
  readonly axis: Axis;
  readonly outline: Outline;
  /** Cut by b: sections along this plane's axis. */
  readonly strips: readonly Strip[];
  readonly floorU: number;
  readonly floorV: number;
  readonly swapped: boolean;
  /** Holds only at total masses in this band. */
  readonly above_kg: number;
  readonly upTo_kg: number;
};

const byMass: Curve = [0, 0, 1];
const everyArm = 1e9;
const everyMass = { above_kg: 0, upTo_kg: Number.POSITIVE_INFINITY };

export function planesOf(limits: Limits): Plane[] {
  const planes: Plane[] = [];
  for (const axis of ["longitudinal", "lateral"] as const) {
    const outline = limits[axis];
    if (outline !== null) planes.push(plane(axis, 0, axis, outline, false, everyMass));
  }
  for (const [index, { outline, above_kg, upTo_kg }] of limits.coupled.entries()) {
    planes.push(plane("coupled", index, "longitudinal", outline, false, { above_kg, upTo_kg }));
    planes.push(plane("coupled", index, "lateral", outline, true, { above_kg, upTo_kg }));
  }
  if (limits.mass !== null) {
    planes.push(plane("mass", 0, "longitudinal", massOutline(limits.mass), false, everyMass));
  }
  return planes;
}

/** Every arm between two masses, as an outline so wide that no arm is near its sides. */
function massOutline({ least_kg, most_kg }: MassLimit): Outline {
  const issues: Issue[] = [];
  const outline = readOutline(
    [
      [-everyArm, least_kg],
      [everyArm, least_kg],
      [everyArm, most_kg],
      [-everyArm, most_kg],
    ],
    "mass",
    issues,
  );
  throwIssues(issues);
  return outline!;
}

function plane(
  limit: LimitName,
  index: number,
  axis: Axis,
  outline: Outline,
  swapped: boolean,
  band: { readonly above_kg: number; readonly upTo_kg: number },
): Plane {
  const { byA, byB, floorA, floorB } = outline;
  const [strips, floorU, floorV] = swapped ? [byA, floorB, floorA] : [byB, floorA, floorB];
  return { limit, index, axis, outline, strips, floorU, floorV, swapped, ...band };
}

/** The coordinate measured (u) and the one that the strips are cut by (v), along a piece of a path. */
export function planeCurves({ limit, axis, swapped }: Plane, piece: PathPiece): { u: Curve; v: Curve } {
  const u = axis === "longitudinal" ? piece.x : piece.y;
  if (limit !== "coupled") return { u, v: byMass };
  return { u, v: swapped ? piece.x : piece.y };
}

/** Whether a point of a plane is inside its limit. */
export function isWithinPlane({ outline, swapped }: Plane, u: number, v: number): boolean {
  return swapped ? isWithin(outline, v, u) : isWithin(outline, u, v);
}

export type SideMargins = { readonly below: number; readonly above: number };

/** How far a value is above the lower and below the upper end of the nearest section; null without a section. */
export function marginsIn(sections: readonly Span[], value: number): SideMargins | null {
  let nearest: SideMargins | null = null;
  for (const [low, high] of sections) {
    const sides = { below: value - low, above: high - value };
    if (nearest === null || leastMargin(sides) > leastMargin(nearest)) nearest = sides;
  }
  return nearest;
}

export function leastMargin({ below, above }: SideMargins): number {
  return Math.min(below, above);
}

export type MassMargins = { readonly heavier_kg: number | null; readonly lighter_kg: number | null };
export type LongitudinalMargins = MassMargins & {
  readonly forward_m: number | null;
  readonly aft_m: number | null;
};
export type LateralMargins = MassMargins & {
  readonly left_m: number | null;
  readonly right_m: number | null;
};
export type CoupledMargins = {
  readonly forward_m: number | null;
  readonly aft_m: number | null;
  readonly left_m: number | null;
  readonly right_m: number | null;
};

export type StateCheck = {
  readonly inside: { readonly [Limit in LimitName]: boolean | null };
  readonly margins: {
    readonly longitudinal: LongitudinalMargins | null;
    readonly lateral: LateralMargins | null;
    /** One for each coupled limit; null where the mass is outside its band. */
    readonly coupled: readonly (CoupledMargins | null)[];
    readonly mass: MassMargins | null;
  };
};

/** Inside or not, and the margins, at one state. Refuses a total that is not above 0 kg. */
export function checkState(limits: Limits, totals: Totals): StateCheck {
  const { x_m, y_m } = centreOf(totals);
  const { mass_kg } = totals;
  const { longitudinal, lateral, mass } = limits;
  const held = limits.coupled.map((limit) => (isInBand(limit, mass_kg) ? limit : null));
  return {
    inside: {
      longitudinal: longitudinal && isWithin(longitudinal, x_m, mass_kg),
      lateral: lateral && isWithin(lateral, y_m, mass_kg),
      coupled:
        held.length === 0 ? null : held.every((limit) => limit === null || isWithin(limit.outline, x_m, y_m)),
      mass: mass && isInBand({ above_kg: mass.least_kg, upTo_kg: mass.most_kg }, mass_kg),
    },
    margins: {
      longitudinal: longitudinal && longitudinalMargins(longitudinal, x_m, mass_kg),
      lateral: lateral && lateralMargins(lateral, y_m, mass_kg),
      coupled: held.map((limit) => limit && coupledMargins(limit.outline, x_m, y_m)),
      mass: mass && { heavier_kg: mass.most_kg - mass_kg, lighter_kg: mass_kg - mass.least_kg },
    },
  };
}

export function isInBand(
  band: { readonly above_kg: number; readonly upTo_kg: number },
  mass_kg: number,
): boolean {
  return (
    mass_kg >= band.above_kg - toleranceAt(band.above_kg, 0) &&
    (mass_kg <= band.upTo_kg || mass_kg <= band.upTo_kg + toleranceAt(band.upTo_kg, 0))
  );
}

/** Margins along a at b, and along b at a. */
function outlineMargins(
  outline: Outline,
  a: number,
  b: number,
): { a: SideMargins | null; b: SideMargins | null } {
  return {
    a: marginsIn(sectionsAt(outline.byB, b, outline.floorB), a),
    b: marginsIn(sectionsAt(outline.byA, a, outline.floorA), b),
  };
}

function longitudinalMargins(outline: Outline, x_m: number, mass_kg: number): LongitudinalMargins {
  const { a, b } = outlineMargins(outline, x_m, mass_kg);
  return { ...massMargins(b), forward_m: a && a.below, aft_m: a && a.above };
}

function lateralMargins(outline: Outline, y_m: number, mass_kg: number): LateralMargins {
  const { a, b } = outlineMargins(outline, y_m, mass_kg);
  return { ...massMargins(b), left_m: a && a.below, right_m: a && a.above };
}

function massMargins(sides: SideMargins | null): MassMargins {
  return { heavier_kg: sides && sides.above, lighter_kg: sides && sides.below };
}

function coupledMargins(outline: Outline, x_m: number, y_m: number): CoupledMargins {
  const { a, b } = outlineMargins(outline, x_m, y_m);
  return {
    forward_m: a && a.below,
    aft_m: a && a.above,
    left_m: b && b.below,
    right_m: b && b.above,
  };
}
