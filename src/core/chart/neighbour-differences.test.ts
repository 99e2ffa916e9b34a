import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import type { ChainBlock, ChartBlock, PlainChartBlock } from "./chart-schema.ts";
import { plainChartOf } from "./chart.ts";
import { coverageOf, neighbourDifferences, pointCount } from "./neighbour-differences.ts";

const quill = JSON.parse(
  readFileSync(new URL("../../../demo/sheet/quill.json", import.meta.url), "utf8"),
) as { readonly charts: Readonly<Record<string, ChartBlock>> };
const calm = (quill.charts["hoverOutOfGroundEffect2H"] as ChainBlock).steps[0]!;
const fuel = quill.charts["fuelFlow"] as PlainChartBlock;

test("steps from the neighbour before, and departures from the line between both", () => {
  const points = neighbourDifferences({
    kind: "curve",
    along: "x",
    between: "linear",
    output: "y",
    points: [
      [0, 1],
      [1, 2],
      [3, 7],
    ],
  });
  expect(points.map(({ path, at, value, by }) => [path, at, value, by["x"]])).toEqual([
    ["points[0][1]", { x: 0 }, 1, { step: null, departure: null, standsOut: false }],
    ["points[1][1]", { x: 1 }, 2, { step: 1, departure: -1, standsOut: false }],
    ["points[2][1]", { x: 3 }, 7, { step: 5, departure: null, standsOut: false }],
  ]);
});

test("in a grid the path is the operator's, whatever the order of the axes", () => {
  const block: PlainChartBlock = {
    kind: "grid",
    axes: [
      { input: "z", at: [0, 1, 2] },
      { input: "a", at: [0, 1] },
    ],
    values: [
      [1, 2],
      [3, 4],
      [7, 8],
    ],
    output: "y",
  };
  const found = neighbourDifferences(block).find(({ value }) => value === 4)!;
  expect(found).toMatchObject({
    path: "values[1][1]",
    at: { z: 1, a: 1 },
    by: { z: { step: 2, departure: -1 }, a: { step: 1, departure: null } },
  });
});

describe("a mistyped point", () => {
  test("stands out in a grid, by both inputs", () => {
    const values = structuredClone((calm as unknown as { values: number[][] }).values);
    values[3]![4] = 2365;
    const points = neighbourDifferences({ ...calm, values } as PlainChartBlock);
    const wrong = points.find(({ path }) => path === "values[3][4]")!;
    expect(Object.values(wrong.by).some(({ standsOut }) => standsOut)).toBe(true);
  });

  test("is told from a corner where a limit is met", () => {
    const standing = Object.values(quill.charts)
      .flatMap((block) => (block.kind === "chain" ? block.steps : [block]))
      .flatMap((step) => neighbourDifferences(step))
      .filter(({ by }) => Object.values(by).some(({ standsOut }) => standsOut));
    expect(standing).toEqual([]);
  });

  test("stands out in a family, across the curves", () => {
    const curves = structuredClone(
      (fuel as unknown as { curves: { at: number; points: number[][] }[] }).curves,
    );
    curves[2]!.points[3]![1] = 199;
    const points = neighbourDifferences({ ...fuel, curves } as unknown as PlainChartBlock);
    const wrong = points.filter(({ by }) => by["mass_kg"]!.standsOut).map(({ path }) => path);
    expect(wrong).toContain("curves[2].points[3][1]");
  });
});

test("coverage is a range for each input of a grid, and for each curve of a family", () => {
  expect(coverageOf(plainChartOf(calm))).toEqual([
    { at: {}, ranges: { pressureAltitude_ft: [0, 10_000], temperature_C: [-40, 40] } },
  ]);
  expect(coverageOf(plainChartOf(fuel))[1]).toEqual({ at: { mass_kg: 2600 }, ranges: { tas_kt: [40, 142] } });
  expect([pointCount(calm), pointCount(fuel)]).toEqual([42, 28]);
});
