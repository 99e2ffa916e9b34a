import * as fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Issue } from "../quantity/refusal.ts";
import { longitudinalOutlines } from "./arbitrary-load.ts";
import { type Corner, isWithin, type Outline, placeOf, readOutline, sectionsAt } from "./outline.ts";

function issuesOf(points: unknown): Issue[] {
  const issues: Issue[] = [];
  const outline = readOutline(points, "longitudinal", issues);
  expect(outline === null).toBe(issues.length > 0);
  return issues;
}

function outlineOf(points: readonly Corner[]): Outline {
  const outline = readOutline(points, "longitudinal", []);
  if (outline === null) throw new Error("the outline was refused");
  return outline;
}

const square: Corner[] = [
  [4, 1000],
  [5, 1000],
  [5, 2000],
  [4, 2000],
];

describe("an outline is refused", () => {
  test.each<[string, unknown, Partial<Issue>[]]>([
    ["when it is no list", "4,1000", [{ path: "longitudinal", code: "wrongKind" }]],
    ["when it has no corner", [], [{ path: "longitudinal", code: "impossible" }]],
    ["when it does not close around anything: two corners", square.slice(0, 2), [{ code: "impossible" }]],
    [
      "when its corners are on one line",
      [
        [0, 0],
        [1, 1],
        [3, 3],
        [2, 2],
      ],
      [{ code: "impossible" }],
    ],
    [
      "when it crosses itself",
      [square[0], square[2], square[1], square[3]],
      [{ path: "longitudinal", code: "contradiction", found: "edge 0 meets edge 2" }],
    ],
    [
      "when it touches itself in a corner",
      [
        [0, 0],
        [4, 0],
        [4, 4],
        [2, 0],
        [0, 4],
      ],
      [{ code: "contradiction" }, { code: "contradiction" }],
    ],
    [
      "when an edge runs back along the one before",
      [
        [0, 0],
        [4, 0],
        [4, 4],
        [4, 2],
        [0, 2],
      ],
      [{ code: "contradiction" }, { code: "contradiction" }],
    ],
    [
      "when a corner is no pair of finite numbers, each with its path",
      [[4, 1000], [5, Number.NaN], [Number.POSITIVE_INFINITY, 2000], ["4", 2000], [4]],
      [
        { path: "longitudinal[1][1]", code: "notFinite" },
        { path: "longitudinal[2][0]", code: "notFinite" },
        { path: "longitudinal[3][0]", code: "notANumber" },
        { path: "longitudinal[4]", code: "wrongKind" },
      ],
    ],
    [
      "when a number is beyond what it can be exact for",
      [[1e10, 0], [1e-200, 1], square[2]],
      [
        { path: "longitudinal[0][0]", code: "outsideDomain" },
        { path: "longitudinal[1][0]", code: "outsideDomain" },
      ],
    ],
    [
      "when it has more corners than anybody draws",
      Array.from({ length: 201 }, (_, i) => [i, i * i]),
      [{ path: "longitudinal", code: "outsideDomain" }],
    ],
  ])("%s", (_, points, wanted) => {
    expect(issuesOf(points)).toEqual(wanted.map((issue) => expect.objectContaining(issue) as unknown));
  });
});

describe("an outline is accepted", () => {
  test("with its first corner repeated at the end, with doubled corners, and in either sense of turning", () => {
    const doubled = [square[0]!, square[0]!, ...square.slice(1), square[0]!];
    for (const points of [square, doubled, square.toReversed()]) {
      const outline = outlineOf(points);
      expect(outline.corners).toHaveLength(4);
      expect(placeOf(outline, 4.5, 1500)).toBe("inside");
      expect(placeOf(outline, 5, 1500)).toBe("edge");
      expect(placeOf(outline, 5.1, 1500)).toBe("outside");
    }
  });

  test("with corners along a straight edge", () => {
    const outline = outlineOf([[4, 1000], [4.5, 1000], ...square.slice(1)]);
    expect(sectionsAt(outline.byB, 1000, 0)).toEqual([[4, 5]]);
  });
});

describe("a point within a relative 1e-9 of a limit", () => {
  const outline = outlineOf(square);

  test.each([
    ["forward", 4 * (1 - 0.9e-9), 1500, true],
    ["forward", 4 * (1 - 1.1e-9), 1500, false],
    ["aft", 5 * (1 + 0.9e-9), 1500, true],
    ["aft", 5 * (1 + 1.1e-9), 1500, false],
    ["heavy", 4.5, 2000 * (1 + 0.9e-9), true],
    ["heavy", 4.5, 2000 * (1 + 1.1e-9), false],
    ["light", 4.5, 1000 * (1 - 0.9e-9), true],
    ["light", 4.5, 1000 * (1 - 1.1e-9), false],
    ["corner", 5 * (1 + 0.9e-9), 2000 * (1 + 0.9e-9), true],
    ["corner", 5 * (1 + 1.1e-9), 2000 * (1 + 0.9e-9), false],
  ])("on the %s limit: (%d, %d) inside is %s", (_, a, b, inside) => {
    expect(isWithin(outline, a, b)).toBe(inside);
  });

  test("near a limit of zero, is one within 1e-12 of the largest coordinate", () => {
    const half = outlineOf([
      [0, 1000],
      [0.1, 1000],
      [0.1, 2000],
      [0, 2000],
    ]);
    expect(isWithin(half, -0.9e-13, 1500)).toBe(true);
    expect(isWithin(half, -1.1e-13, 1500)).toBe(false);
  });
});

describe("sections of an outline", () => {
  test("hold exactly the points that are inside, cut either way", () => {
    const part = fc.double({ min: -1.1, max: 1.1, noNaN: true });
    fc.assert(
      fc.property(longitudinalOutlines, part, part, (outline, partA, partB) => {
        const a = 4.25 + 0.3 * partA;
        const b = 2450 + 900 * partB;
        const inside = placeOf(outline, a, b) !== "outside";
        expect(sectionsAt(outline.byB, b, 0).some(([low, high]) => a >= low && a <= high)).toBe(inside);
        expect(sectionsAt(outline.byA, a, 0).some(([low, high]) => b >= low && b <= high)).toBe(inside);
      }),
      { numRuns: 2000 },
    );
  });

  test("at a step of the outline are those of both sides together", () => {
    const step = outlineOf([
      [4, 1000],
      [5, 1000],
      [5, 2000],
      [4.5, 2000],
      [4.5, 3000],
      [4, 3000],
    ]);
    expect(sectionsAt(step.byB, 2000, 0)).toEqual([[4, 5]]);
    expect(sectionsAt(step.byB, 2000.1, 0)).toEqual([[4, 4.5]]);
    expect(sectionsAt(step.byB, 3000.1, 0)).toEqual([]);
  });
});
