import { expect, test } from "vitest";
import { gasPressureAt } from "./gas-pressure.ts";

test("a reading brought to another temperature and back is the reading", () => {
  for (const pressure of [0, 12.5, 250]) {
    const cold = gasPressureAt(pressure, 31, -28)!;
    expect(cold).toBeLessThan(pressure);
    expect(gasPressureAt(cold, -28, 31)).toBeCloseTo(pressure, 11);
  }
});

test("absolute zero, and what is no number, have no pressure", () => {
  expect(gasPressureAt(100, -273.15, 20)).toBeNull();
  expect(gasPressureAt(100, 20, -300)).toBeNull();
  expect(gasPressureAt(Number.NaN, 20, 20)).toBeNull();
  expect(gasPressureAt(100, Number.POSITIVE_INFINITY, 20)).toBeNull();
});
