// The outline of the sheet as paths: body, boom, fin, gear, doors shut and doors swung open, rotors.
import type { Outline } from "../../core/sheet/type-block.ts";
import type { Frame } from "./frame.ts";
import { closedPathOf, pathOf, tenth } from "./path.ts";
import type { Point } from "./ring.ts";

export type Disc = { readonly x: number; readonly y: number; readonly radius: number };

export type OutlineShapes = {
  /** Closed shapes in the order they lie on each other, lowest first. */
  readonly gear: string;
  readonly boom: string;
  readonly stabiliser: string;
  readonly fin: string;
  readonly body: string;
  readonly lines: string;
  readonly doors: string;
  /** Open doors, each a line from hinge to where its latch is now, and the arc that it swung along. */
  readonly openDoors: string;
  readonly swings: string;
  readonly blades: string;
  readonly mainRotor: Disc;
  readonly hub: Disc;
  readonly tailRotor: string;
};

const swing_rad = (65 * Math.PI) / 180;

export function outlineShapes(outline: Outline, open: ReadonlySet<string>, frame: Frame): OutlineShapes {
  const { to, scale } = frame;
  const shape = (points: readonly Point[] | undefined) =>
    points === undefined ? "" : closedPathOf(points.map(to));
  const lines = (many: readonly (readonly Point[])[]) =>
    many.map((points) => pathOf(points.map(to))).join("");
  const doors = (wantOpen: boolean) => outline.doors.filter(({ closure }) => open.has(closure) === wantOpen);
  const { mainRotor } = outline;
  const [x, y] = to([mainRotor.x_m, mainRotor.y_m]);
  return {
    gear: lines(outline.gear_m),
    boom: shape(outline.tailBoom_m),
    stabiliser: shape(outline.stabiliser_m),
    fin: shape(outline.fin_m),
    body: shape(outline.fuselage_m),
    lines: lines(outline.lines_m ?? []),
    doors: lines(doors(false).map(({ from_m, to_m }) => [from_m, to_m])),
    openDoors: lines(doors(true).map(({ from_m, to_m }) => [from_m, swung(from_m, to_m, 1)])),
    swings: lines(doors(true).map(({ from_m, to_m }) => swing(from_m, to_m))),
    blades: blades(mainRotor, to),
    mainRotor: { x: tenth(x), y: tenth(y), radius: tenth(mainRotor.radius_m * scale) },
    hub: { x: tenth(x), y: tenth(y), radius: tenth(Math.max(3, scale * 0.28)) },
    tailRotor: tailRotorPath(outline, to),
  };
}

/** The arc of a door's latch from shut to open. */
function swing(hinge: Point, latch: Point): readonly Point[] {
  return Array.from({ length: 9 }, (_, index) => swung(hinge, latch, index / 8));
}

/** Where the latch of a door stands when it is a share of the way open: turned about the hinge, away from the centre line. */
function swung([hingeX, hingeY]: Point, [latchX, latchY]: Point, share: number): Point {
  const turned = (angle: number): Point => {
    const [dx, dy] = [latchX - hingeX, latchY - hingeY];
    return [
      hingeX + dx * Math.cos(angle) - dy * Math.sin(angle),
      hingeY + dx * Math.sin(angle) + dy * Math.cos(angle),
    ];
  };
  const [one, other] = [turned(swing_rad), turned(-swing_rad)];
  // A door across the centre line (a nose hatch) opens forward.
  const across = Math.abs(hingeY + latchY) < 0.05 && Math.abs(latchY - hingeY) > 0.1;
  const positive = across ? one[0] < other[0] : Math.abs(one[1]) > Math.abs(other[1]);
  return turned((positive ? swing_rad : -swing_rad) * share);
}

/** Blades as lines from the hub, at rest between the axes. */
function blades({ x_m, y_m, radius_m, blades: count }: Outline["mainRotor"], to: Frame["to"]): string {
  const first = Math.PI / count;
  return Array.from({ length: count }, (_, index) => {
    const angle = first + (index * 2 * Math.PI) / count;
    const at = (radius: number): Point => [x_m + Math.cos(angle) * radius, y_m + Math.sin(angle) * radius];
    return pathOf([at(0.35), at(radius_m)].map(to));
  }).join("");
}

/** From above a tail rotor at the side is a line; one within the fin is not seen. */
function tailRotorPath({ tailRotor, tailRotorSide }: Outline, to: Frame["to"]): string {
  if (tailRotor === undefined || tailRotorSide === "within" || tailRotorSide === "none") return "";
  const { x_m, y_m, radius_m } = tailRotor;
  const disc: readonly Point[] = [
    [x_m - radius_m, y_m],
    [x_m + radius_m, y_m],
  ];
  const shaft: readonly Point[] = [
    [x_m, 0],
    [x_m, y_m],
  ];
  return pathOf(disc.map(to)) + pathOf(shaft.map(to));
}
