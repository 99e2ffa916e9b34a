import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import type { CraftState } from "../../core/facts/craft.ts";
import { craftLevels, type GaugeLevels } from "../../core/level/craft-levels.ts";
import { at_h, craftWith, fallingFrom, reading, uplift } from "../../core/level/tell-levels.ts";
import type { Sheet } from "../../core/sheet/schema.ts";
import { plotLevels, smallPlot, spanToShow } from "./level-plot.ts";

const quill = JSON.parse(
  readFileSync(new URL("../../../demo/sheet/quill.json", import.meta.url), "utf8"),
) as Sheet;
const levelsOf = (state: CraftState, gauge = "engineOilLeft"): GaugeLevels =>
  craftLevels(quill, state, at_h(2000)).gauges.find((one) => one.gauge.id === gauge)!;

const steady = fallingFrom(1000, 100, 5.9, 0.015);
const filled = fallingFrom(1100, 30, 5.4, 0.1);
const leaking = levelsOf(craftWith({ readings: [...steady, ...filled], uplifts: [uplift(1099, 1)] }));
const size = { width: 400, height: 260 };
const draw = (
  levels: GaugeLevels,
  back: "recent" | "change" | "whole" = "whole",
  now_h: number | null = 1129,
) => plotLevels({ levels, hours: spanToShow(levels, now_h, back), now_h, ...size });

/** All pairs of numbers in a path that are places (moves and lines; rings are measured by their moves). */
const placesOf = (path: string): [number, number][] =>
  [...path.matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/gu)].map(([, x, y]) => [Number(x), Number(y)]);

describe("a gauge as a picture", () => {
  test("draws every reading once, comparable ones as dots and the others as rings, inside its frame", () => {
    const cold = reading(1050, 5.1, { conditions: { hot: false } });
    const levels = levelsOf(craftWith({ readings: [...steady, cold] }));
    const plot = draw(levels, "whole", 1099);
    expect(placesOf(plot.comparable)).toHaveLength(steady.length);
    expect(placesOf(plot.others)).toHaveLength(1);
    for (const [x, y] of placesOf(plot.comparable)) {
      expect(x).toBeGreaterThanOrEqual(plot.left);
      expect(x).toBeLessThanOrEqual(plot.right);
      expect(y).toBeGreaterThanOrEqual(plot.top);
      expect(y).toBeLessThanOrEqual(plot.bottom);
    }
  });

  test("puts more hours further right and higher levels higher, marks at their levels, ticks in the frame", () => {
    const plot = draw(leaking);
    const [low, high] = plot.limits;
    expect([low!.side, low!.value, high!.side, high!.value]).toEqual(["low", 4, "high", 6]);
    expect(low!.y).toBeGreaterThan(high!.y);
    expect(plot.inside).toEqual({ top: high!.y, bottom: low!.y });
    const xs = placesOf(plot.comparable).map(([x]) => x);
    expect(xs).toEqual(xs.toSorted((a, b) => a - b));
    for (const { at } of plot.hours) expect(at >= plot.left && at <= plot.right).toBe(true);
    for (const { at } of plot.values) expect(at >= plot.top && at <= plot.bottom).toBe(true);
    expect(plot.nowX! > plot.sinceX!).toBe(true);
  });

  test("runs the line through the points as read: what was filled is put back on", () => {
    const plot = draw(leaking, "recent");
    // Past the uplift each reading lies near the line: its scatter is a quarter of what was filled.
    const [[x0, y0], [x1, y1]] = placesOf(plot.line).slice(-2) as [[number, number], [number, number]];
    const beside = placesOf(plot.comparable).filter(([x]) => x > x0 + 1);
    expect(beside.length).toBeGreaterThan(20);
    for (const [x, y] of beside) {
      expect(Math.abs(y - y0 - ((x - x0) / (x1 - x0)) * (y1 - y0))).toBeLessThan(20);
    }
    expect(plot.uplifts).toHaveLength(1);
    expect(plot.uplifts[0]!.top).toBeLessThan(plot.uplifts[0]!.bottom);
  });

  test("opens the fan forwards, ends it at the frame, and draws none without a forecast", () => {
    const plot = draw(leaking, "recent");
    const edges = placesOf(plot.fan);
    const lows = edges.map(([, y]) => y);
    expect(Math.max(...lows)).toBeLessThanOrEqual(plot.bottom);
    expect(Math.min(...edges.map(([x]) => x))).toBeGreaterThanOrEqual(plot.nowX! - 1);
    const few = draw(levelsOf(craftWith({ readings: steady.slice(0, 3) })), "whole", 1003);
    expect([few.fan, few.expected, few.line, few.scatter]).toEqual(["", "", "", ""]);
  });

  test("shows around the change where only scatter would have left the readings", () => {
    const { from_h, until_h } = spanToShow(leaking, 1129, "change");
    const since_h = leaking.trend!.watch!.alarm!.since_h;
    expect(from_h).toBeLessThan(since_h);
    expect(until_h).toBeGreaterThan(since_h);
    const plot = draw(leaking, "change");
    const band = placesOf(plot.scatter);
    expect(band.length).toBeGreaterThan(3);
    // The readings since have fallen out of the band's lower edge.
    expect(Math.max(...placesOf(plot.comparable).map(([, y]) => y))).toBeGreaterThan(
      Math.max(...band.map(([, y]) => y)),
    );
    expect(draw(levelsOf(craftWith({ readings: steady })), "change", 1099).scatter).toBe("");
  });

  test("of a gauge that was never read is an empty frame, and nothing is no number", () => {
    for (const plot of [
      draw(levelsOf(craftWith({})), "recent", null),
      draw(leaking),
      draw(leaking, "change"),
    ])
      expect(JSON.stringify(plot)).not.toMatch(/NaN|Infinity/u);
    expect(draw(levelsOf(craftWith({})), "recent", null).comparable).toBe("");
  });

  test("turns with what is worse when it is higher", () => {
    const gap = levelsOf(
      craftWith({
        readings: steady.map((one, index) =>
          reading(one.hours_h!, 1.5 + 0.012 * index, {
            gauge: "damperGap",
            unit: "mm",
            conditions: { hot: false },
          }),
        ),
      }),
      "damperGap",
    );
    const line = placesOf(draw(gap, "recent", 1099).line);
    expect(line.at(-1)![1]).toBeLessThan(line[0]![1]);
  });
});

describe("a small picture", () => {
  test("keeps the lowest and the highest of every column, and the newest", () => {
    const many = fallingFrom(1000, 900, 5.9, 0.001);
    const levels = levelsOf(craftWith({ readings: many }));
    const plot = smallPlot(levels, 132, 52);
    const places = placesOf(plot.points);
    expect(places.length).toBeLessThanOrEqual(2 * 127);
    expect(places.length).toBeGreaterThan(100);
    const whole = smallPlot(levels, 10_000, 52);
    const ys = (path: string) => placesOf(path).map(([, y]) => y);
    expect(Math.max(...ys(plot.points))).toBe(Math.max(...ys(whole.points)));
    expect(Math.min(...ys(plot.points))).toBe(Math.min(...ys(whole.points)));
    expect(plot.newest![0]).toBeCloseTo(129, 0);
    expect(plot.limits).toHaveLength(2);
  });

  test("of nothing is empty", () => {
    const plot = smallPlot(levelsOf(craftWith({})), 132, 52);
    expect([plot.points, plot.newest, plot.sinceX]).toEqual(["", null, null]);
  });
});
