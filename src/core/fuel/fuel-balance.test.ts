import { describe, expect, test } from "vitest";
import { balanceFuel, massOf } from "./fuel-balance.ts";

const given = {
  before_kg: 180,
  density_kgL: 0.8,
  tolerance: { least_kg: 10, share_pct: 3 },
  capacity_kg: 555,
} as const;

describe("the balance of fuel", () => {
  test("agrees within the tolerance, on it as well", () => {
    const balance = balanceFuel({ ...given, uplift: { amount: 200, unit: "L" }, after_kg: 345 });
    expect(balance).toMatchObject({
      uplift_kg: 160,
      difference_kg: 5,
      agrees: true,
      fits: true,
      perhaps: [],
    });
    const on = {
      ...given,
      uplift: { amount: 200, unit: "L" },
      after_kg: 352,
      tolerance: { least_kg: 12, share_pct: 0 },
    } as const;
    expect(balanceFuel(on).agrees).toBe(true);
    expect(balanceFuel({ ...on, after_kg: 352.001 }).agrees).toBe(false);
  });

  test("agrees only exactly where nobody said how exact the gauge reads", () => {
    const none = { ...given, uplift: { amount: 200, unit: "L" }, tolerance: null } as const;
    expect(balanceFuel({ ...none, after_kg: 340 }).agrees).toBe(true);
    expect(balanceFuel({ ...none, after_kg: 341 }).agrees).toBe(false);
  });

  test("litres said as kilograms are recognised by what would fit", () => {
    const balance = balanceFuel({ ...given, uplift: { amount: 250, unit: "kg" }, after_kg: 380 });
    expect(balance).toMatchObject({ agrees: false, difference_kg: -50, perhaps: ["L"] });
    const pounds = balanceFuel({ ...given, uplift: { amount: 220, unit: "kg" }, after_kg: 280 });
    expect(pounds.perhaps).toContain("lb");
  });

  test("more than the tanks take does not fit", () => {
    expect(balanceFuel({ ...given, uplift: { amount: 600, unit: "L" }, after_kg: 555 }).fits).toBe(false);
  });

  test("a mass of each unit", () => {
    expect(massOf(10, "kg", 0.8)).toBe(10);
    expect(massOf(10, "L", 0.8)).toBe(8);
    expect(massOf(100, "lb", 0.8)).toBeCloseTo(45.359237, 12);
    expect(massOf(10, "usgal", 0.8)).toBeCloseTo(37.85411784 * 0.8, 12);
  });

  test("refuses what is negative or no number, with its path", () => {
    expect(() =>
      balanceFuel({ ...given, before_kg: Number.NaN, uplift: { amount: 1, unit: "kg" }, after_kg: 1 }),
    ).toThrow("before_kg");
    expect(() => balanceFuel({ ...given, uplift: { amount: -1, unit: "kg" }, after_kg: 1 })).toThrow(
      "uplift",
    );
  });
});
