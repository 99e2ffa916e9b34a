// The aircraft seen from above with every place that can be loaded as a field large enough for a gloved finger.
//
// The fuselage keeps its own outline, but its length is stretched so that each row of places has room: along the aircraft
// the scale changes from row to row, across it stays the same. Order and side are true, distances are not; the rulers at
// the edges are in the same stretched scale. Pure geometry: metres in, pixels out. Aft and right positive.
import type { Heading } from "../drawing/frame.ts";
import { closedPathOf, pathOf, tenth } from "../drawing/path.ts";
import type { Point } from "../drawing/ring.ts";

export type LoadPlace = { readonly id: string; readonly x_m: number; readonly y_m: number };

export type Field = {
  readonly id: string;
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
};

export type LoadPlan = {
  readonly width: number;
  readonly height: number;
  readonly fields: readonly Field[];
  readonly body: string;
  readonly boom: string;
  /** Where metres come to lie. */
  readonly to: (point: Point) => Point;
};

type Row = { readonly places: LoadPlace[]; readonly first_m: number };

const gap = 8;
/** Free at the nose and at the tail. */
const endRoom = 26;
const nearCentre_m = 0.15;
const sameRow_m = 0.7;

const columnOf = ({ y_m }: LoadPlace): -1 | 0 | 1 => (y_m < -nearCentre_m ? -1 : y_m > nearCentre_m ? 1 : 0);

/** Rows from nose to tail; in a row each side has one place at most. */
function rowsOf(places: readonly LoadPlace[]): Row[] {
  const rows: Row[] = [];
  for (const place of places.toSorted((a, b) => a.x_m - b.x_m || a.y_m - b.y_m)) {
    const last = rows.at(-1);
    const fits =
      last !== undefined &&
      place.x_m - last.first_m <= sameRow_m &&
      last.places.every((other) => columnOf(other) !== columnOf(place));
    if (fits) last.places.push(place);
    else rows.push({ places: [place], first_m: place.x_m });
  }
  return rows;
}

/** Straight between the rows' middles, and on at the same slope beyond them. */
function stretched(rows: readonly Row[], rowSize: number): (x_m: number) => number {
  const knots = rows.map(({ places }, index) => ({
    x_m: places.reduce((sum, { x_m }) => sum + x_m, 0) / places.length,
    at: endRoom + (index + 0.5) * rowSize,
  }));
  const [first, last] = [knots[0]!, knots.at(-1)!];
  const slope = knots.length < 2 ? rowSize : (last.at - first.at) / Math.max(0.1, last.x_m - first.x_m);
  return (x_m) => {
    const next = knots.findIndex((knot) => knot.x_m >= x_m);
    if (next === 0) return first.at - (first.x_m - x_m) * slope;
    if (next === -1) return last.at + (x_m - last.x_m) * slope;
    const [from, to] = [knots[next - 1]!, knots[next]!];
    return from.at + ((x_m - from.x_m) / Math.max(1e-9, to.x_m - from.x_m)) * (to.at - from.at);
  };
}

/** Where a place's field lies across its row, as shares of the whole width from the left side to the right. */
function share(place: LoadPlace, row: Row): readonly [from: number, to: number] {
  const column = columnOf(place);
  const hasMiddle = row.places.some((other) => columnOf(other) === 0);
  if (!hasMiddle) return column < 0 ? [0, 0.5] : [0.5, 1];
  if (row.places.length === 1) return [0.25, 0.75];
  const third = (column + 1) / 3;
  return [third, third + 1 / 3];
}

export type LoadPlanInput = {
  readonly places: readonly LoadPlace[];
  readonly fuselage_m: readonly Point[];
  readonly tailBoom_m: readonly Point[];
  /** Across for nose up, along for nose left. */
  readonly width: number;
  readonly heading: Heading;
  /** Size of a row along the aircraft for nose up, of the whole picture across it for nose left. */
  readonly size: number;
};

export function planLoad(input: LoadPlanInput): LoadPlan {
  const { places, fuselage_m, tailBoom_m, width, heading, size } = input;
  const rows = rowsOf(places);
  const isUp = heading === "up";
  const rowSize = isUp ? size : (width - 2 * endRoom) / Math.max(1, rows.length);
  const across = isUp ? width : size;
  const along = rows.length * rowSize + 2 * endRoom;
  const alongAt = rows.length === 0 ? () => along / 2 : stretched(rows, rowSize);
  const half_m = Math.max(0.5, ...fuselage_m.map(([, y]) => Math.abs(y)));
  const acrossAt = (y_m: number) => across / 2 + (y_m / half_m) * (across / 2 - 2);
  // With the nose to the left the right side is at the top.
  const place = (x: number, y: number): Point => (isUp ? [y, x] : [x, across - y]);
  const to = ([x_m, y_m]: Point): Point => place(alongAt(x_m), acrossAt(y_m));
  const fields = rows.flatMap((row, index) =>
    row.places.map((one): Field => {
      const [from, until] = share(one, row);
      const [a0, a1] = [endRoom + index * rowSize + gap / 2, endRoom + (index + 1) * rowSize - gap / 2];
      const [c0, c1] = [from * across + gap / 2, until * across - gap / 2];
      const [[x0, y0], [x1, y1]] = [place(a0, c0), place(a1, c1)];
      return {
        id: one.id,
        left: tenth(Math.min(x0, x1)),
        top: tenth(Math.min(y0, y1)),
        width: tenth(Math.abs(x1 - x0)),
        height: tenth(Math.abs(y1 - y0)),
      };
    }),
  );
  const tail = tailBoom_m.map(to);
  return {
    width: tenth(isUp ? across : along),
    height: tenth(isUp ? along : across),
    fields,
    body: closedPathOf(fuselage_m.map(to)),
    boom: pathOf(tail),
    to,
  };
}
