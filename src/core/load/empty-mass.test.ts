import * as fc from "fast-check";
import { describe, expect, test } from "vitest";
import { issuesOf } from "./arbitrary-load.ts";
import { emptyMass, type EquipmentChange, type Weighing, weighed } from "./empty-mass.ts";

const day_ms = 86_400_000;

const weighing: Weighing = {
  at_ms: 0,
  scales: [
    { point: "front left", reading_kg: 402, tare_kg: 2, x_m: 3.2, y_m: -1 },
    { point: "front right", reading_kg: 412, tare_kg: 2, x_m: 3.2, y_m: 1 },
    { point: "rear", reading_kg: 1100, tare_kg: 0, x_m: 5.7, y_m: 0 },
  ],
  less: [{ mass_kg: 30, x_m: 4.2, y_m: 0 }],
  plus: [{ mass_kg: 12, x_m: 2, y_m: 0.4 }],
  included: ["hoistMount"],
};

const change = (
  day: number,
  equipment: string,
  installed: boolean,
  mass_kg: number,
  x_m = 4,
): EquipmentChange => ({
  at_ms: day * day_ms,
  equipment,
  installed,
  mass_kg,
  x_m,
  y_m: 0.2,
});

describe("a weighing", () => {
  test("is the scales less their tare, less what was only on board, plus what was missing", () => {
    const totals = weighed(weighing);
    expect(totals.mass_kg).toBe(400 + 410 + 1100 - 30 + 12);
    expect(totals.x_kgm).toBeCloseTo(810 * 3.2 + 1100 * 5.7 - 30 * 4.2 + 12 * 2, 9);
    expect(totals.y_kgm).toBeCloseTo(10 + 12 * 0.4, 9);
  });

  test("is refused without a scale, with bad numbers and when nothing is left", () => {
    expect(issuesOf(() => weighed({ ...weighing, scales: [] }))).toMatchObject([{ path: "weighing.scales" }]);
    const bad = { point: "x", reading_kg: -1, tare_kg: Number.NaN, x_m: 1, y_m: 1 };
    expect(issuesOf(() => weighed({ ...weighing, scales: [bad] })).map(({ path }) => path)).toEqual([
      "weighing.scales[0].reading_kg",
      "weighing.scales[0].tare_kg",
    ]);
    const light = { ...weighing, less: [{ mass_kg: 3000, x_m: 4, y_m: 0 }] };
    expect(issuesOf(() => weighed(light))).toMatchObject([{ path: "weighing", code: "impossible" }]);
  });
});

describe("the history of an empty mass", () => {
  test("has a row for each weighing and change, with the sum of changes", () => {
    const history = emptyMass(
      [weighing],
      [change(2, "hoistMount", false, 7), change(1, "hoist", true, 46), change(-1, "old", true, 5)],
      3310,
    );
    expect(history.rows.map(({ at_ms, net_kg, totals }) => [at_ms, net_kg, totals.mass_kg])).toEqual([
      [0, 0, 1892],
      [day_ms, 46, 1938],
      [2 * day_ms, 39, 1931],
    ]);
    expect(history.included).toEqual(["hoist"]);
    expect(history.totals.x_kgm).toBeCloseTo(weighed(weighing).x_kgm + 39 * 4, 9);
    expect(history.centre.y_m).toBeCloseTo(history.totals.y_kgm / 1931, 12);
  });

  test("asks for a revision beyond ±0.5 % of the maximum landing mass, not on it, and keeps asking", () => {
    const due = (kg: number, ...more: EquipmentChange[]): number | null =>
      emptyMass([weighing], [change(1, "a", true, kg), ...more], 3000).revisionDue_ms;
    expect(due(15)).toBeNull();
    expect(due(15 * (1 + 1e-10))).toBeNull();
    expect(due(15.001)).toBe(day_ms);
    expect(due(10, change(3, "b", true, 6))).toBe(3 * day_ms);
    expect(due(20, change(3, "a", false, 20))).toBe(day_ms);
    expect(emptyMass([weighing], [change(1, "hoistMount", false, 15.5)], 3000).revisionDue_ms).toBe(day_ms);
  });

  test("begins anew with every weighing", () => {
    const again = { ...weighing, at_ms: 5 * day_ms, included: ["hoistMount", "a"] };
    const history = emptyMass([again, weighing], [change(1, "a", true, 40), change(6, "a", false, 40)], 3000);
    expect(history.rows.map(({ net_kg, isBeyond }) => [net_kg, isBeyond])).toEqual([
      [0, false],
      [40, true],
      [0, false],
      [-40, true],
    ]);
    expect(history.revisionDue_ms).toBe(6 * day_ms);
  });

  test("shows equipment installed twice and taken off while off, all at once", () => {
    const changes = [
      change(1, "hoist", true, 46),
      change(2, "hoist", true, 46),
      change(3, "floats", false, 58),
      change(4, "hoistMount", false, 5000),
    ];
    expect(
      issuesOf(() => emptyMass([weighing], changes, 3310)).map(({ path, code }) => [path, code]),
    ).toEqual([
      ["changes[1].equipment", "contradiction"],
      ["changes[2].equipment", "contradiction"],
      ["changes[3].mass_kg", "impossible"],
    ]);
  });

  test("is refused without a weighing, without a landing mass and with bad changes", () => {
    expect(issuesOf(() => emptyMass([], [change(1, "a", true, -1)], 0)).map(({ path }) => path)).toEqual([
      "maxLandingMass_kg",
      "weighings",
      "changes[0].mass_kg",
    ]);
  });

  test("does not depend on the order in which changes of different days are told", () => {
    const changes = [
      change(1, "a", true, 10),
      change(2, "b", true, 20, 5),
      change(3, "a", false, 10),
      change(4, "c", true, 3, 1),
    ];
    const inOrder = emptyMass([weighing], changes, 3310);
    fc.assert(
      fc.property(fc.shuffledSubarray(changes, { minLength: 4, maxLength: 4 }), (shuffled) => {
        expect(emptyMass([weighing], shuffled, 3310)).toEqual(inOrder);
      }),
    );
  });
});
