// Growth of a watched finding, by hand: lines without scatter have their crossing where arithmetic puts it.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { emptyCraft } from "../facts/craft.ts";
import type { CraftState, FindingFacts } from "../facts/craft.ts";
import { hour_ms } from "../facts/instant.ts";
import { situation } from "../due/due-cases.ts";
import { smallSheet } from "../../../demo/sheet/small-sheet.ts";
import { assessFindings } from "../finding/assess.ts";
import { findingWith, raised_ms, threeBands as bandsOn } from "../finding/finding-cases.ts";
import { assessWatched } from "./assess-watched.ts";
import { growthOf } from "./growth.ts";

const threeBands = bandsOn(smallSheet);

type Point = { readonly days: number; readonly hours_h: number | null; readonly value: number };

const day_ms = 24 * hour_ms;

/** Raised without a size; every point is a measure taken so many days after. */
function grown(points: readonly Point[], judged_days = 0): FindingFacts {
  const finding = findingWith({
    damage: "tailDent",
    judged: [["engineer", "watch", { at_ms: raised_ms + judged_days * day_ms }]],
  });
  return {
    ...finding,
    measured: points.map(({ days, hours_h, value }, index) => ({
      entry: `m${index}`,
      by: "p-one",
      at_ms: raised_ms + days * day_ms,
      measure: { value, unit: "mm", typed: `${value} mm` },
      hours_h,
      photos: [],
      words: "",
    })),
  };
}

const growth = (points: readonly Point[]) => growthOf(threeBands, emptyCraft, grown(points));

describe("growth", () => {
  test("by flight hours where all are known: the rate, the limit of its band, and the hours to it", () => {
    const found = growth([
      { days: 0, hours_h: 100, value: 0.4 },
      { days: 5, hours_h: 110, value: 0.5 },
      { days: 9, hours_h: 120, value: 0.6 },
    ]);
    expect(found).toMatchObject({ by: "flight_h", unit: "mm", limit: 0.8 });
    expect(found?.rate.value).toBeCloseTo(0.01, 12);
    expect(found?.expected).toBeCloseTo(20, 9);
    // A line without scatter has an interval without width.
    expect(found?.earliest).toBeCloseTo(20, 6);
    expect(found?.latest).toBeCloseTo(20, 6);
  });

  test("by days where hours are not known", () => {
    const found = growth([
      { days: 0, hours_h: null, value: 0.4 },
      { days: 10, hours_h: 110, value: 0.5 },
      { days: 20, hours_h: 120, value: 0.6 },
    ]);
    expect(found).toMatchObject({ by: "days" });
    expect(found?.expected).toBeCloseTo(20, 9);
  });

  test("scatter widens the interval about the expected hours, on both sides", () => {
    const found = growth([
      { days: 0, hours_h: 100, value: 0.4 },
      { days: 2, hours_h: 105, value: 0.46 },
      { days: 5, hours_h: 110, value: 0.49 },
      { days: 7, hours_h: 115, value: 0.56 },
      { days: 9, hours_h: 120, value: 0.6 },
    ]);
    expect(found!.earliest!).toBeLessThan(found!.expected!);
    expect(found!.latest!).toBeGreaterThan(found!.expected!);
    expect(found!.rate.low!).toBeLessThan(found!.rate.value);
  });

  test("two measures give a line and no interval; one, or two of one hour, give nothing", () => {
    const two = growth([
      { days: 0, hours_h: 100, value: 0.4 },
      { days: 5, hours_h: 110, value: 0.5 },
    ]);
    expect(two?.expected).toBeCloseTo(30, 9);
    expect(two).toMatchObject({ earliest: null, latest: null, rate: { low: null, high: null } });
    expect(growth([{ days: 0, hours_h: 100, value: 0.4 }])).toBeNull();
    expect(
      growth([
        { days: 0, hours_h: 100, value: 0.4 },
        { days: 0, hours_h: 100, value: 0.5 },
      ]),
    ).toBeNull();
  });

  test("what does not grow never reaches its limit, and what has no worse band has none", () => {
    const still = growth([
      { days: 0, hours_h: 100, value: 0.5 },
      { days: 5, hours_h: 110, value: 0.5 },
      { days: 9, hours_h: 120, value: 0.5 },
    ]);
    expect(still).toMatchObject({ expected: null });
    const beyond = growth([
      { days: 0, hours_h: 100, value: 0.9 },
      { days: 5, hours_h: 110, value: 1 },
    ]);
    expect(beyond).toMatchObject({ limit: null, expected: null });
  });

  test("a larger newest measure never moves the expected hours away", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 30 }), fc.integer({ min: 0, max: 20 }), (last, more) => {
        const points = (value: number): readonly Point[] => [
          { days: 0, hours_h: 100, value: 0.4 },
          { days: 5, hours_h: 110, value: 0.42 },
          { days: 9, hours_h: 120, value },
        ];
        const [before, after] = [0.42 + last / 100, 0.42 + (last + more) / 100].map((value) =>
          growth(points(value))!,
        );
        fc.pre(before!.limit !== null && after!.limit === before!.limit);
        expect(after!.expected ?? Infinity).toBeLessThanOrEqual((before!.expected ?? Infinity) + 1e-9);
      }),
      { numRuns: 100 },
    );
  });
});

describe("what a watched finding gives", () => {
  const flown = (hours: number, now_ms: number): CraftState => ({
    ...emptyCraft,
    readings: {},
    due: {
      ...emptyCraft.due,
      bases: [
        {
          entry: "b1",
          by: "p-office",
          at_ms: now_ms,
          counters: { flightHours_h: hours, landings: 0, starts: 0, hoistCycles: 0 },
          why: "",
        },
      ],
    },
  });
  const codes = (finding: FindingFacts, hours: number, days: number) => {
    const now_ms = raised_ms + days * day_ms;
    const state = { ...flown(hours, now_ms), findings: { [finding.finding]: finding } };
    const reasons = [assessFindings, assessWatched].flatMap((assess) =>
      assess(threeBands, state, situation(now_ms)),
    );
    return reasons.map(({ code, effect, from_ms }) =>
      from_ms === null || from_ms <= now_ms ? `${code} ${effect}` : `${code} later`,
    );
  };
  const measured = [
    { days: 0, hours_h: 100, value: 0.4 },
    { days: 5, hours_h: 110, value: 0.5 },
    { days: 9, hours_h: 120, value: 0.6 },
  ];

  test("it is looked at, measured again in time, and its growth limits the hours", () => {
    expect(codes(grown(measured), 121, 10)).toEqual([
      "finding.watched advises",
      "finding.measureDue later",
      "finding.measureLeft limits",
      "finding.grows limits",
    ]);
  });

  test("past the hours or the days of its band nobody knows its size", () => {
    expect(codes(grown(measured), 146, 10)).toContain("finding.measureDue unknown");
    expect(codes(grown(measured.slice(0, 1)), 101, 31)).toContain("finding.measureDue unknown");
    expect(codes(grown(measured.slice(0, 1)), 101, 29)).not.toContain("finding.measureDue unknown");
  });

  test("past the hours at which its line is at the limit it may be past it", () => {
    expect(codes(grown(measured), 139, 10)).not.toContain("finding.mayBePast unknown");
    expect(codes(grown(measured), 140, 10)).toContain("finding.mayBePast unknown");
  });

  test("measured out of its band it blocks until it is judged again", () => {
    expect(codes(grown([...measured, { days: 10, hours_h: 121, value: 0.9 }]), 121, 10)).toEqual([
      "finding.notCovered blocks",
    ]);
  });
});
