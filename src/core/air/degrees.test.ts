import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { asinDeg, atan2Deg, compass, cosDeg, sinDeg, turn } from "./degrees.ts";

const anyDegrees = fc.double({ min: -1e6, max: 1e6, noNaN: true });

describe("angles in degrees", () => {
  test("are exact on the four main directions, without a minus zero", () => {
    const expected = [
      [0, 0, 1],
      [90, 1, 0],
      [180, 0, -1],
      [270, -1, 0],
      [360, 0, 1],
      [-90, -1, 0],
      [-180, 0, -1],
      [450, 1, 0],
    ] as const;
    for (const [deg, sin, cos] of expected) {
      expect(Object.is(sinDeg(deg), sin), `sine of ${deg}`).toBe(true);
      expect(Object.is(cosDeg(deg), cos), `cosine of ${deg}`).toBe(true);
    }
  });

  test("agree with radians everywhere else", () => {
    fc.assert(
      fc.property(fc.double({ min: -720, max: 720, noNaN: true }), (deg) => {
        expect(sinDeg(deg)).toBeCloseTo(Math.sin((deg * Math.PI) / 180), 12);
        expect(cosDeg(deg)).toBeCloseTo(Math.cos((deg * Math.PI) / 180), 12);
      }),
      { numRuns: 500 },
    );
  });

  test("come into one circle, and turns into half a circle each way", () => {
    expect([compass(-90), compass(360), compass(725), compass(-1e-20)]).toEqual([270, 0, 5, 0]);
    expect([turn(180), turn(-180), turn(190), turn(-190), turn(0)]).toEqual([180, 180, -170, 170, 0]);
    fc.assert(
      fc.property(anyDegrees, (deg) => {
        const around = compass(deg);
        expect(around).toBeGreaterThanOrEqual(0);
        expect(around).toBeLessThan(360);
        expect(Math.abs(turn(deg))).toBeLessThanOrEqual(180);
        expect(sinDeg(around)).toBeCloseTo(sinDeg(deg), 6);
        expect(Object.is(around, -0)).toBe(false);
      }),
      { numRuns: 500 },
    );
  });

  test("come back from their sine and tangent", () => {
    fc.assert(
      fc.property(fc.double({ min: -89, max: 89, noNaN: true }), (deg) => {
        expect(asinDeg(sinDeg(deg))).toBeCloseTo(deg, 9);
        expect(atan2Deg(sinDeg(deg), cosDeg(deg))).toBeCloseTo(deg, 9);
      }),
      { numRuns: 300 },
    );
  });
});
