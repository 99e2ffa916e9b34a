import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Outline } from "../../core/sheet/type-block.ts";
import { drawAircraft, nameSize, wayThrough } from "./aircraft-drawing.ts";
import type { DrawingInput } from "./aircraft-drawing.ts";
import { wrapped } from "./labels.ts";
import { placeStops, spread } from "./places.ts";
import { obstacles } from "../../core/sheet/obstacles.ts";
import { isWithin, ringOf } from "./ring.ts";
import type { Point } from "./ring.ts";
import { sampleOutline, sampleStops } from "./sample.ts";
import { textWidth } from "./text-width.ts";

const clearance_m = 0.75;
const order = sampleStops("en").map(({ id }) => id);

const input = (over: Partial<DrawingInput> = {}): DrawingInput => ({
  outline: sampleOutline,
  stops: sampleStops("en"),
  visited: order.slice(0, 8),
  here: order[8]!,
  ahead: order.slice(9),
  open: new Set(),
  findings: new Map(),
  names: "all",
  width: 358,
  heading: "left",
  ...over,
});

/** Points at most `step` apart along a line. */
function dense(line: readonly Point[], step: number): readonly Point[] {
  return line.flatMap(([x, y], index): readonly Point[] => {
    const [nextX, nextY] = line[index + 1] ?? [x, y];
    const pieces = Math.max(1, Math.ceil(Math.hypot(nextX - x, nextY - y) / step));
    return Array.from({ length: pieces }, (_, piece): Point => {
      const share = piece / pieces;
      return [x + (nextX - x) * share, y + (nextY - y) * share];
    });
  });
}

const solid = (outline: Outline) => obstacles(outline).flatMap((line) => dense(line, 0.05));

function nearest_m(from: readonly Point[], to: readonly Point[]): number {
  let least = Infinity;
  for (const [ax, ay] of from)
    for (const [bx, by] of to) least = Math.min(least, Math.hypot(ax - bx, ay - by));
  return least;
}

/** Outlines of any sense and nonsense: a body of random half-widths, a boom, perhaps a wide stabiliser, skids. */
const someOutline: fc.Arbitrary<Outline> = fc
  .record({
    widths: fc.array(fc.double({ min: 0.2, max: 1.4, noNaN: true }), { minLength: 3, maxLength: 9 }),
    boom: fc.double({ min: 1, max: 6, noNaN: true }),
    stabiliser: fc.double({ min: 0.1, max: 2, noNaN: true }),
    skid: fc.double({ min: 0.8, max: 1.8, noNaN: true }),
  })
  .map(({ widths, boom, stabiliser, skid }) => {
    const right = widths.map((half, index): Point => [index * 0.7, half]);
    const end = (widths.length - 1) * 0.7;
    const box = (from: number, to: number, half: number): readonly Point[] => [
      [from, -half],
      [from, half],
      [to, half],
      [to, -half],
      [from, -half],
    ];
    const body: readonly Point[] = [...right, ...right.map(([x, y]): Point => [x, -y]).toReversed()];
    return {
      ...sampleOutline,
      fuselage_m: [...body, body[0]!],
      tailBoom_m: box(end, end + boom, 0.2),
      fin_m: box(end + boom - 0.3, end + boom + 0.3, 0.05),
      stabiliser_m: box(end + boom * 0.6, end + boom * 0.6 + 0.4, stabiliser),
      gear_m: [
        [
          [0.4, skid],
          [2.4, skid],
        ],
      ],
    };
  });

describe("the way round", () => {
  test("keeps four fifths of its clearance from everything in the outline, whatever the outline", () => {
    fc.assert(
      fc.property(someOutline, (outline) => {
        const { points } = ringOf(outline, clearance_m);
        expect(points.flat().every(Number.isFinite)).toBe(true);
        expect(nearest_m(dense(points, 0.1), solid(outline))).toBeGreaterThanOrEqual(clearance_m * 0.8);
      }),
      { numRuns: 40 },
    );
  });

  test("encloses the whole outline", () => {
    const { points } = ringOf(sampleOutline, clearance_m);
    expect(solid(sampleOutline).every((point) => isWithin(points, point))).toBe(true);
    expect(isWithin(points, [-3, 0])).toBe(false);
  });

  test("leads from any stop to any other without coming near the aircraft", () => {
    const ring = ringOf(sampleOutline, clearance_m);
    const placed = placeStops(sampleStops("en"), ring, 1);
    const hull = solid(sampleOutline).filter((_, index) => index % 4 === 0);
    let least = Infinity;
    for (const from of placed) {
      for (const to of placed) {
        least = Math.min(least, nearest_m(dense(wayThrough([from, to], ring), 0.4), hull));
      }
    }
    expect(least).toBeGreaterThan(clearance_m * 0.75);
  });

  test("an outline without points is refused", () => {
    const none = {
      ...sampleOutline,
      fuselage_m: [],
      tailBoom_m: [],
      fin_m: [],
      stabiliser_m: [],
      gear_m: [],
    };
    const { tailRotor: _gone, ...bare } = none;
    expect(() => ringOf(bare, clearance_m)).toThrow(RangeError);
  });
});

describe("the places of stops", () => {
  test("keep a least gap and their order round the ring", () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0, max: 30, noNaN: true }), { minLength: 2, maxLength: 30 }),
        (wanted) => {
          const feet = spread(wanted, 30, 0.9).toSorted((a, b) => a - b);
          const gap = Math.min(0.9, (30 / wanted.length) * 0.98);
          feet.forEach((foot, index) => {
            const next = feet[index + 1] ?? feet[0]! + 30;
            expect(next - foot).toBeGreaterThan(gap * 0.9);
          });
        },
      ),
      { numRuns: 200 },
    );
  });

  test("stops that need no push stay where they are", () => {
    expect(spread([1, 5, 9], 30, 2)).toEqual([1, 5, 9]);
  });
});

describe("the drawing", () => {
  test("seen from above with the nose to the left, the right side is at the top", () => {
    const { stops, width } = drawAircraft(input());
    const at = (id: string) => stops.find((stop) => stop.id === id)!;
    expect(at("cabinRight").y).toBeLessThan(at("cabinLeft").y);
    expect(at("nose").x).toBeLessThan(at("tail").x);
    expect(at("tail").x).toBeLessThan(width);
  });

  test("with the nose up, the right side is on the right", () => {
    const { stops } = drawAircraft(input({ heading: "up" }));
    const at = (id: string) => stops.find((stop) => stop.id === id)!;
    expect(at("cabinRight").x).toBeGreaterThan(at("cabinLeft").x);
    expect(at("nose").y).toBeLessThan(at("tail").y);
  });

  test("tells for each stop whether one is there, comes to it next or later, or has been", () => {
    const { stops } = drawAircraft(input({ findings: new Map([["nose", 2]]) }));
    const states = new Map(stops.map(({ id, state }) => [id, state]));
    expect(states.get("approach")).toBe("walked");
    expect(states.get(order[8]!)).toBe("here");
    expect(states.get(order[9]!)).toBe("next");
    expect(states.get("lastLook")).toBe("toCome");
    expect(stops.find(({ id }) => id === "nose")!.findings).toBe(2);
  });

  test("a stop that was visited and is to be seen again is still to come", () => {
    const { stops } = drawAircraft(input({ visited: ["nose"], here: "tail", ahead: ["fuel", "nose"] }));
    expect(stops.find(({ id }) => id === "nose")!.state).toBe("toCome");
  });

  test("nothing walked has no way walked, all walked none to come", () => {
    const before = drawAircraft(input({ visited: [], here: null, ahead: order }));
    expect(before.walked).toBe("");
    expect(before.toCome).toMatch(/^M/u);
    expect(before.here).toBeNull();
    const after = drawAircraft(input({ visited: order, here: null, ahead: [] }));
    expect(after.toCome).not.toMatch(/L/u);
  });

  test("an open door is drawn swung out, a shut one is not", () => {
    const shut = drawAircraft(input()).shapes;
    const open = drawAircraft(input({ open: new Set(["cabinDoorLeft"]) })).shapes;
    expect(shut.openDoors).toBe("");
    expect(open.openDoors.match(/M/gu)).toHaveLength(1);
    expect(open.doors.length).toBeLessThan(shut.doors.length);
  });

  test("a stop that the drawing does not have is refused by name", () => {
    expect(() => drawAircraft(input({ here: "elsewhere" }))).toThrow(/no stop "elsewhere"/u);
  });

  test("no path holds anything but numbers, at any width", () => {
    for (const width of [1, 195, 320, 358, 760, 1300]) {
      const {
        shapes,
        labels,
        stops: _stops,
        ...paths
      } = drawAircraft(input({ width, open: new Set(["cabinDoorLeft"]) }));
      expect(JSON.stringify([shapes, paths, labels.map(({ x, y }) => [x, y])])).not.toMatch(
        /null,"|NaN|undefined|Infinity/u,
      );
    }
  });
});

describe("the names", () => {
  const boxes = (drawing: ReturnType<typeof drawAircraft>) =>
    drawing.labels.map(({ lines, x, y, anchor }) => {
      const width = Math.max(...lines.map((line) => textWidth(line, nameSize)));
      const x0 = anchor === "start" ? x : anchor === "end" ? x - width : x - width / 2;
      return { x0, x1: x0 + width, y0: y - nameSize * 0.86, y1: y + (lines.length - 1) * nameSize * 1.12 };
    });

  test("lie on no other name, inside the picture, and off the aircraft, at every width and in both languages", () => {
    for (const language of ["en", "de"] as const) {
      for (const heading of ["left", "up"] as const) {
        for (const width of [320, 358, 560, 760, 1100]) {
          const drawing = drawAircraft(input({ width, heading, stops: sampleStops(language), here: null }));
          const all = boxes(drawing);
          expect(all.length).toBeGreaterThan(4);
          all.forEach((a, index) => {
            expect(a.x0).toBeGreaterThanOrEqual(0);
            expect(a.x1).toBeLessThanOrEqual(drawing.width);
            expect(a.y0).toBeGreaterThanOrEqual(0);
            expect(a.y1).toBeLessThanOrEqual(drawing.height);
            for (const b of all.slice(index + 1)) {
              expect(a.x0 < b.x1 && a.x1 > b.x0 && a.y0 < b.y1 && a.y1 > b.y0).toBe(false);
            }
          });
        }
      }
    }
  });

  test("where one stands is always named, however narrow it is", () => {
    for (const id of order) {
      const rest = order.filter((other) => other !== id);
      const { labels } = drawAircraft(input({ width: 300, visited: [], here: id, ahead: rest }));
      expect(labels.filter(({ strong }) => strong).map((label) => label.id)).toEqual([id]);
    }
  });

  test("long names break at a blank, never inside a word", () => {
    expect(wrapped("left cockpit door")).toEqual(["left", "cockpit door"]);
    expect(wrapped("Außenlandescheinwerfer")).toEqual(["Außenlandescheinwerfer"]);
    expect(wrapped("tail end")).toEqual(["tail end"]);
  });
});
