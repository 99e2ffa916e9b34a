// Every point of a chart against its neighbours: the usual way to find one that was mistyped.
//
// In: a grid, a curve, a family or guide lines. Out: for each point and each input the step from the neighbour before, and
// how far the point lies off the straight line between its two neighbours. A point stands out when its departure is more
// than five times the middle one of its direction, and its neighbours depart the other way: a wrong digit is a spike and
// pulls both, while a corner, where a chart meets a limit, bends one way only. Of two neighbours one may have no departure
// of its own, since it is an end; a wrong digit at an end itself shows only across.
// That is a hint to look at the manual once more, not a fault.
// Across a family a point's neighbours are the neighbouring curves, read where they reach.

import type { Asked } from "./read-chart.ts";
import { type Family, type Grid, linesOf, type PlainChart, plainChartOf } from "./chart.ts";
import type { PlainChartBlock } from "./chart-schema.ts";
import { valueOnCurve } from "./monotone-cubic.ts";
import { pathOfLine } from "./node-numbers.ts";

export type Neighbouring = {
  /** From the neighbour before; null at the beginning. */
  readonly step: number | null;
  /** Off the straight line between the two neighbours; null where one is missing. */
  readonly departure: number | null;
  readonly standsOut: boolean;
};

export type PointDifferences = {
  /** Of the output's number in the block. */
  readonly path: string;
  readonly at: Asked;
  readonly value: number;
  /** By input. */
  readonly by: Readonly<Record<string, Neighbouring>>;
};

type Near = Omit<Neighbouring, "standsOut"> & {
  /** Where the neighbours stand on the input. */
  readonly before: number | undefined;
  readonly after: number | undefined;
};
type Draft = Omit<PointDifferences, "by"> & { readonly by: Readonly<Record<string, Near>> };

const outstanding = 5;
/** Fewer departures than this have no middle to compare with. */
const fewest = 6;
/** The part of a spike that its neighbours depart the other way, at the least; on even steps it is a half. */
const pulled = 0.25;

export function neighbourDifferences(block: PlainChartBlock): readonly PointDifferences[] {
  const chart = plainChartOf(block);
  const drafts = chart.kind === "grid" ? gridPoints(chart, block) : familyPoints(chart, block);
  const limits = Object.fromEntries(chart.inputs.map((input) => [input, limitOf(drafts, input)]));
  const placed = new Map(drafts.map((draft) => [placeKey(draft.at), draft]));
  const departureAt = (at: Asked, input: string, value: number | undefined): number | null =>
    value === undefined
      ? null
      : (placed.get(placeKey({ ...at, [input]: value }))?.by[input]?.departure ?? null);
  return drafts.map(({ by, ...point }) => ({
    ...point,
    by: Object.fromEntries(
      Object.entries(by).map(([input, { step, departure, before, after }]) => {
        const sides = [before, after].map((value) => departureAt(point.at, input, value));
        return [input, { step, departure, standsOut: isSpike(departure, sides, limits[input]!) }];
      }),
    ),
  }));
}

const placeKey = (at: Asked): string =>
  Object.keys(at)
    .sort()
    .map((input) => at[input]!)
    .join(" ");

function isSpike(departure: number | null, sides: readonly (number | null)[], limit: number): boolean {
  if (departure === null || Math.abs(departure) <= limit) return false;
  // How far each side goes with the point (above 0) or against it.
  const along = sides.flatMap((side) =>
    side === null ? [] : [(side * Math.sign(departure)) / Math.abs(departure)],
  );
  return along.length > 0 && along.every((share) => share <= -pulled);
}

function limitOf(drafts: readonly Draft[], input: string): number {
  const sizes = drafts
    .map(({ by }) => Math.abs(by[input]?.departure ?? 0))
    // Where a limit makes a chart flat there is no departure, and that says nothing of the rest.
    .filter((size) => size > 1e-9)
    .sort((a, b) => a - b);
  const middle = sizes[sizes.length >> 1];
  return middle === undefined || sizes.length < fewest ? Number.POSITIVE_INFINITY : outstanding * middle;
}

/** @param xs the three places; @param ys what stands there, null where nothing does */
function besides(xs: readonly (number | undefined)[], ys: readonly (number | null)[]): Near {
  const [x0, x1, x2] = xs;
  const [y0 = null, y1 = null, y2 = null] = ys;
  const step = y0 === null ? null : y1! - y0;
  const around = { step, before: x0, after: x2 };
  if (y0 === null || y2 === null) return { ...around, departure: null };
  const between = y0 + ((x1! - x0!) / (x2! - x0!)) * (y2 - y0);
  return { ...around, departure: y1! - between };
}

function gridPoints(grid: Grid, block: PlainChartBlock): readonly Draft[] {
  const order = block.kind === "grid" ? block.axes.map(({ input }) => grid.inputs.indexOf(input)) : [];
  return grid.values.map((value, offset) => {
    const nodes = grid.axes.map(({ at }, axis) => Math.floor(offset / grid.strides[axis]!) % at.length);
    const by = grid.axes.map((axis, i): readonly [string, Near] => {
      const around = [-1, 0, 1].map((away) => nodes[i]! + away);
      const values = around.map((node) =>
        node < 0 || node >= axis.at.length
          ? null
          : grid.values[offset + (node - nodes[i]!) * grid.strides[i]!]!,
      );
      return [
        axis.input,
        besides(
          around.map((node) => axis.at[node]),
          values,
        ),
      ];
    });
    return {
      path: `values${order.map((axis) => `[${nodes[axis]!}]`).join("")}`,
      at: Object.fromEntries(grid.axes.map((axis, i) => [axis.input, axis.at[nodes[i]!]!])),
      value,
      by: Object.fromEntries(by),
    };
  });
}

function familyPoints({ along, across, curves }: Family, block: PlainChartBlock): readonly Draft[] {
  const kind = block.kind === "grid" ? "curve" : block.kind;
  const readAt = (line: number, x: number): number | null => {
    const curve = curves[line];
    return curve === undefined || x < curve.x[0]! || x > curve.x.at(-1)! ? null : valueOnCurve(curve, x);
  };
  return curves.flatMap(({ x: xs, y: ys }, line) =>
    xs.map((x, i): Draft => {
      const value = ys[i]!;
      const alongHere = besides([xs[i - 1], x, xs[i + 1]], [ys[i - 1] ?? null, value, ys[i + 1] ?? null]);
      const lines = [line - 1, line, line + 1];
      const acrossHere =
        across === null
          ? {}
          : {
              [across.input]: besides(
                lines.map((one) => across.at[one]),
                lines.map((one) => readAt(one, x)),
              ),
            };
      return {
        path: `${pathOfLine(kind, line)}[${i}][1]`,
        at: { ...(across === null ? {} : { [across.input]: across.at[line]! }), [along]: x },
        value,
        by: { [along]: alongHere, ...acrossHere },
      };
    }),
  );
}

/** For what ranges a chart answers: one line for a grid's inputs, one for every curve of a family. */
export type Coverage = {
  readonly at: Asked;
  readonly ranges: Readonly<Record<string, readonly [number, number]>>;
};

export function coverageOf(chart: PlainChart): readonly Coverage[] {
  if (chart.kind === "grid") {
    const ranges = chart.axes.map(({ input, at }) => [input, [at[0]!, at.at(-1)!] as const]);
    return [{ at: {}, ranges: Object.fromEntries(ranges) as Coverage["ranges"] }];
  }
  return chart.curves.map(({ x }, line) => ({
    at: chart.across === null ? {} : { [chart.across.input]: chart.across.at[line]! },
    ranges: { [chart.along]: [x[0]!, x.at(-1)!] },
  }));
}

/** How many points a block has. */
export const pointCount = (block: PlainChartBlock): number => {
  if (block.kind !== "grid") return linesOf(block).reduce((sum, points) => sum + points.length, 0);
  return block.axes.reduce((product, { at }) => product * at.length, 1);
};
