// Where metres of the sheet come to lie in the picture: seen from above, with the nose to the left or up.
import type { Point } from "./ring.ts";

/** With the nose to the left the right side is at the top, as it is when one looks down on the aircraft. */
export type Heading = "left" | "up";

export const margin = 14;
/** Room for names beyond the way, beside the aircraft. */
const nameBand = 34;

/** Metres of the sheet to pixels of the picture. */
export type Frame = {
  readonly scale: number;
  readonly to: (point: Point) => Point;
  readonly width: number;
  readonly height: number;
};

export function frameOf(points: readonly Point[], width: number, heading: Heading): Frame {
  // With the nose to the left the right side is at the top: y is turned over.
  const turned = (point: Point): Point => (heading === "left" ? [point[0], -point[1]] : [point[1], point[0]]);
  const flat = points.map(turned);
  const low = [0, 1].map((axis) => Math.min(...flat.map((point) => point[axis] as number))) as [
    number,
    number,
  ];
  const high = [0, 1].map((axis) => Math.max(...flat.map((point) => point[axis] as number))) as [
    number,
    number,
  ];
  const side = heading === "left" ? margin : margin + nameBand * 2;
  const top = heading === "left" ? margin + nameBand : margin + nameBand / 2;
  const scale = Math.max(1, width - 2 * side) / (high[0] - low[0]);
  return {
    scale,
    to: (point) => {
      const [x, y] = turned(point);
      return [side + (x - low[0]) * scale, top + (y - low[1]) * scale];
    },
    width,
    height: Math.round((high[1] - low[1]) * scale + 2 * top),
  };
}
