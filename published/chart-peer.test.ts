// Charts beside general interpolation packages, for what each of them can do: n-linear grids (ndarray-linear-interpolate
// 1.0.0, by index, so on evenly spaced axes), straight lines (commons-math-interpolation 2.2.4), cubics with given slopes
// (cubic-hermite-spline 1.0.1; no package was found that computes the slopes of Fritsch and Butland, those are held to
// published figures). They say nothing of what lies outside.
import { createLinearInterpolator } from "commons-math-interpolation";
import cubicHermiteSpline from "cubic-hermite-spline";
import * as fc from "fast-check";
import ndarray from "ndarray";
import interpolate from "ndarray-linear-interpolate";
import { expect, test } from "vitest";
import { chartOf } from "../src/core/chart/chart.ts";
import { pchipSlopes } from "../src/core/chart/monotone-cubic.ts";
import { readChart } from "../src/core/chart/read-chart.ts";

const value = fc.integer({ min: -1e6, max: 1e6 }).map((n) => n / 997);
const share = fc.double({ min: 0, max: 1, noNaN: true });
const rising = fc.array(fc.integer({ min: 1, max: 4000 }), { minLength: 2, maxLength: 9 }).map((widths) => {
  const xs = [-3];
  for (const width of widths) xs.push(xs.at(-1)! + width / 97);
  return xs;
});

function reads(chart: Parameters<typeof chartOf>[0], at: Readonly<Record<string, number>>): number {
  const reading = readChart(chartOf(chart), at);
  if (reading.is !== "read") throw new Error(JSON.stringify(reading.lacks));
  return reading.value;
}

test("grids of three axes", () => {
  fc.assert(
    fc.property(
      fc.array(value, { minLength: 60, maxLength: 60 }),
      fc.tuple(share, share, share),
      (values, [a, b, c]) => {
        const peer = ndarray(Float64Array.from(values), [3, 4, 5]);
        const nested = [0, 1, 2].map((i) =>
          [0, 1, 2, 3].map((j) => values.slice((i * 4 + j) * 5, (i * 4 + j + 1) * 5)),
        );
        const axes = [3, 4, 5].map((count, i) => ({
          input: "abc"[i]!,
          at: Array.from({ length: count }, (_, node) => 10 + 20 * node),
        }));
        const at = { a: 10 + 40 * a, b: 10 + 60 * b, c: 10 + 80 * c };
        const theirs = interpolate.d3(peer, (at.a - 10) / 20, (at.b - 10) / 20, (at.c - 10) / 20);
        expect(reads({ kind: "grid", axes, values: nested, output: "y" }, at)).toBeCloseTo(theirs, 9);
      },
    ),
    { numRuns: 500 },
  );
});

test("curves, straight and cubic", () => {
  fc.assert(
    fc.property(rising, fc.array(value, { minLength: 10, maxLength: 10 }), share, (xs, values, part) => {
      const ys = xs.map((_, i) => values[i]!);
      const x = Math.min(xs[0]! + part * (xs.at(-1)! - xs[0]!), xs.at(-1)!);
      const points = xs.map((at, i): [number, number] => [at, ys[i]!]);
      const curve = { kind: "curve", along: "x", output: "y", points } as const;
      expect(reads({ ...curve, between: "linear" }, { x })).toBeCloseTo(
        createLinearInterpolator(xs, ys)(x),
        8,
      );
      const slopes = pchipSlopes(xs, ys).map((slope) => [slope]);
      const [cubic] = cubicHermiteSpline(
        x,
        ys.map((y) => [y]),
        slopes,
        xs,
        false,
        [0],
      );
      expect(reads({ ...curve, between: "pchip" }, { x })).toBeCloseTo(cubic!, 8);
    }),
    { numRuns: 800 },
  );
});
