import * as fc from "fast-check";
import { expect, test } from "vitest";
import { grids, placesOn, readings } from "./arbitrary-chart.ts";
import { chartOf } from "./chart.ts";
import { compileChart } from "./compile-chart.ts";
import { readChart } from "./read-chart.ts";

test("a compiled chart gives what reading gives, to the last bit, and refuses what reading refuses", () => {
  const seen = { read: 0, notKnown: 0 };
  fc.assert(
    fc.property(readings, ({ block, at }) => {
      const chart = chartOf(block);
      const reading = readChart(chart, at);
      seen[reading.is] += 1;
      const { inputs, lookup } = compileChart(chart);
      const from = Float64Array.from([7, ...inputs.map((input) => at[input]!)]);
      const to = Float64Array.of(-1, -1, -1);
      expect(lookup(from, 1, to, 2)).toBe(reading.is === "read");
      expect([...to]).toEqual([-1, -1, reading.is === "read" ? reading.value : -1]);
    }),
    { numRuns: 4000 },
  );
  expect(seen.read).toBeGreaterThan(1000);
  expect(seen.notKnown).toBeGreaterThan(200);
});

test("so does every kind of three-axis grid, evenly spaced and not", () => {
  const seen = { even: 0, uneven: 0 };
  fc.assert(
    fc.property(
      grids({ min: 3, max: 3 }).chain((block) =>
        fc.record({
          block: fc.constant(block),
          places: fc.array(placesOn(block), { minLength: 20, maxLength: 20 }),
        }),
      ),
      ({ block, places }) => {
        const chart = chartOf(block);
        if (chart.kind !== "grid") throw new Error("a grid was made into something else");
        seen[chart.axes.every(({ step }) => step !== null) ? "even" : "uneven"] += 1;
        const { inputs, lookup } = compileChart(chart);
        for (const at of places) {
          const reading = readChart(chart, at);
          const to = new Float64Array(1);
          const isInside = lookup(
            Float64Array.from(inputs, (input) => at[input]!),
            0,
            to,
            0,
          );
          expect(isInside ? to[0] : null).toBe(reading.is === "read" ? reading.value : null);
        }
      },
    ),
    { numRuns: 400 },
  );
  expect(Math.min(seen.even, seen.uneven)).toBeGreaterThan(20);
});

test("curves that have one point in common are read there and nowhere else", () => {
  const chart = chartOf({
    kind: "curves",
    across: "p",
    along: "x",
    between: "linear",
    output: "y",
    curves: [
      {
        at: 0,
        points: [
          [0, 4],
          [5, 2],
        ],
      },
      {
        at: 2,
        points: [
          [5, 6],
          [9, 9],
        ],
      },
    ],
  });
  const { lookup } = compileChart(chart);
  const to = new Float64Array(1);
  expect(lookup(Float64Array.of(1, 5), 0, to, 0)).toBe(true);
  expect([to[0], readChart(chart, { p: 1, x: 5 })]).toEqual([4, expect.objectContaining({ value: 4 })]);
  expect(lookup(Float64Array.of(1, 5.1), 0, to, 0)).toBe(false);
});

test("what is no number is outside", () => {
  fc.assert(
    fc.property(readings, ({ block }) => {
      const { inputs, lookup } = compileChart(chartOf(block));
      expect(lookup(new Float64Array(inputs.length).fill(Number.NaN), 0, new Float64Array(1), 0)).toBe(false);
    }),
    { numRuns: 200 },
  );
});
