import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { inUnit, type Metres } from "../quantity/units.ts";
import { decimalYear, magneticField, magneticFromTrue, trueFromMagnetic } from "./magnetic-field.ts";
import { wmm2025, wmm2025Rows } from "./wmm2025.ts";

const sea = inUnit(0, "m");
const places = fc.record({
  lat_deg: fc.double({ min: -90, max: 90, noNaN: true }),
  lon_deg: fc.double({ min: -180, max: 180, noNaN: true }),
});
const years = fc.double({ min: 2025, max: 2029.999, noNaN: true });

describe("the magnetic field", () => {
  test("is a number everywhere on the globe, poles included, and its parts make up the whole", () => {
    fc.assert(
      fc.property(
        places,
        years,
        fc.double({ min: -1000, max: 850_000, noNaN: true }),
        (place, year, height) => {
          const field = magneticField(place, height as Metres, year);
          for (const value of [
            field.declination,
            field.inclination,
            field.perYear.declination,
            field.perYear.totalNt,
          ]) {
            expect(Number.isFinite(value)).toBe(true);
          }
          expect(Math.hypot(field.northNt, field.eastNt, field.downNt)).toBeCloseTo(field.totalNt, 6);
          expect(field.totalNt).toBeGreaterThan(10_000);
          expect(field.totalNt).toBeLessThan(70_000);
        },
      ),
      { numRuns: 200 },
    );
    for (const lat_deg of [90, -90]) {
      const at = magneticField({ lat_deg, lon_deg: 30 }, sea, 2026);
      const near = magneticField({ lat_deg: lat_deg * (1 - 1e-9), lon_deg: 30 }, sea, 2026);
      expect(at.declination).toBeCloseTo(near.declination, 4);
      expect(at.totalNt).toBeCloseTo(near.totalNt, 2);
    }
  });

  test("is the same one turn of longitude on", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -90, max: 90, noNaN: true }),
        fc.integer({ min: -180, max: 0 }),
        years,
        (lat_deg, lon_deg, year) => {
          const here = magneticField({ lat_deg, lon_deg }, sea, year);
          const again = magneticField({ lat_deg, lon_deg: lon_deg + 360 }, sea, year);
          expect(again.northNt).toBeCloseTo(here.northNt, 6);
          expect(again.eastNt).toBeCloseTo(here.eastNt, 6);
        },
      ),
      { numRuns: 100 },
    );
  });

  test("changes by the rate that it states", () => {
    fc.assert(
      fc.property(places, (place) => {
        const before = magneticField(place, sea, 2027);
        const after = magneticField(place, sea, 2027.5);
        expect(after.northNt - before.northNt).toBeCloseTo(before.perYear.northNt / 2, 6);
        expect(after.downNt - before.downNt).toBeCloseTo(before.perYear.downNt / 2, 6);
      }),
      { numRuns: 100 },
    );
  });

  test("says where a compass cannot be trusted", () => {
    expect(magneticField({ lat_deg: 47, lon_deg: 11 }, sea, 2026).zone).toBe("normal");
    expect(magneticField({ lat_deg: 82, lon_deg: -30 }, sea, 2026).zone).toBe("caution");
    expect(magneticField({ lat_deg: 86, lon_deg: 150 }, sea, 2026).zone).toBe("blackout");
  });

  test.each([
    ["a year before the model", () => magneticField({ lat_deg: 0, lon_deg: 0 }, sea, 2024.999), "year"],
    ["the year at which the model ends", () => magneticField({ lat_deg: 0, lon_deg: 0 }, sea, 2030), "year"],
    ["a year that is no number", () => magneticField({ lat_deg: 0, lon_deg: 0 }, sea, Number.NaN), "year"],
    ["a latitude off the globe", () => magneticField({ lat_deg: 91, lon_deg: 0 }, sea, 2026), "lat_deg"],
    [
      "a height below the model",
      () => magneticField({ lat_deg: 0, lon_deg: 0 }, inUnit(-1001, "m"), 2026),
      "height",
    ],
    [
      "a height above the model",
      () => magneticField({ lat_deg: 0, lon_deg: 0 }, inUnit(850_001, "m"), 2026),
      "height",
    ],
    ["a day that the year does not have", () => decimalYear(2026, 366, 365), "dayOfYear"],
    ["half a year number", () => decimalYear(2026.5, 1, 365), "year"],
  ])("refuses %s", (_, compute, path) => {
    expect(compute).toThrow(path);
  });

  test("has all coefficients up to its degree, once each", () => {
    const terms = wmm2025Rows.map(([n, m]) => `${n},${m}`);
    expect(new Set(terms).size).toBe((wmm2025.degree * (wmm2025.degree + 3)) / 2);
    expect(terms.length).toBe(new Set(terms).size);
    for (const [n, m] of wmm2025Rows) expect(m).toBeLessThanOrEqual(n);
  });
});

describe("directions and dates for a compass", () => {
  test("variation east is least, west is best", () => {
    expect(magneticFromTrue(inUnit(11, "deg"), inUnit(7, "deg"))).toBe(4);
    expect(magneticFromTrue(inUnit(2, "deg"), inUnit(7, "deg"))).toBe(355);
    expect(trueFromMagnetic(inUnit(355, "deg"), inUnit(7, "deg"))).toBe(2);
  });

  test("a decimal year counts whole days of its own year, leap years their 366", () => {
    expect(decimalYear(2026, 1, 365)).toBe(2026);
    expect(decimalYear(2028, 184, 366)).toBe(2028.5);
    expect(decimalYear(2029, 365, 365)).toBeLessThan(2030);
  });
});
