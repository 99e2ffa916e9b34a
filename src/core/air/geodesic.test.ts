import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { inUnit } from "../quantity/units.ts";
import { turn } from "./degrees.ts";
import { geodesicBetween, geodesicFrom } from "./geodesic.ts";

const places = fc.record({
  lat_deg: fc.double({ min: -89.9, max: 89.9, noNaN: true }),
  lon_deg: fc.double({ min: -180, max: 180, noNaN: true }),
});

describe("a geodesic", () => {
  test("is as long one way as the other, and comes back the way it went", () => {
    fc.assert(
      fc.property(places, places, (from, to) => {
        const there = geodesicBetween(from, to);
        const back = geodesicBetween(to, from);
        expect(back.distance).toBeCloseTo(there.distance, 6);
        fc.pre(there.distance > 1000 && there.distance < 19_000_000);
        expect(turn((back.azimuth1 ?? Number.NaN) - (there.azimuth2 ?? Number.NaN) - 180)).toBeCloseTo(0, 6);
      }),
      { numRuns: 300 },
    );
  });

  test("is never longer than a way over a third place", () => {
    fc.assert(
      fc.property(places, places, places, (a, b, c) => {
        const direct = geodesicBetween(a, c).distance;
        expect(direct).toBeLessThanOrEqual(
          geodesicBetween(a, b).distance + geodesicBetween(b, c).distance + 1e-6,
        );
      }),
      { numRuns: 300 },
    );
  });

  test("leads where it was said to lead", () => {
    fc.assert(
      fc.property(
        places,
        fc.double({ min: 0, max: 360, noNaN: true }),
        fc.double({ min: 10, max: 5e6, noNaN: true }),
        (from, azimuth, length) => {
          const { to } = geodesicFrom(from, inUnit(azimuth, "deg"), inUnit(length, "m"));
          expect(geodesicBetween(from, to).distance).toBeCloseTo(length, 6);
        },
      ),
      { numRuns: 300 },
    );
  });

  test("crosses the date line the short way, and takes a longitude past it as the same place", () => {
    const east = { lat_deg: 10, lon_deg: 179.9 };
    expect(geodesicBetween(east, { lat_deg: 10, lon_deg: -179.9 }).distance).toBeLessThan(22_000);
    expect(geodesicBetween(east, { lat_deg: 10, lon_deg: 180.1 }).distance).toBeLessThan(22_000);
    expect(geodesicBetween(east, { lat_deg: 10, lon_deg: -180.1 }).distance).toBe(0);
  });

  test("between places that coincide has no azimuth", () => {
    const place = { lat_deg: 70.2, lon_deg: 12.5 };
    expect(geodesicBetween(place, place)).toEqual({ distance: 0, azimuth1: null, azimuth2: null });
  });

  test.each([
    ["a latitude off the globe", { lat_deg: 91, lon_deg: 0 }, "from.lat_deg"],
    ["a latitude that is no number", { lat_deg: Number.NaN, lon_deg: 0 }, "from.lat_deg"],
    ["a longitude of more than a turn", { lat_deg: 0, lon_deg: 361 }, "from.lon_deg"],
  ])("refuses %s", (_, from, path) => {
    expect(() => geodesicBetween(from, { lat_deg: 0, lon_deg: 0 })).toThrow(path);
  });

  test("refuses a length below none and an azimuth that is no number", () => {
    const from = { lat_deg: 0, lon_deg: 0 };
    expect(() => geodesicFrom(from, inUnit(0, "deg"), inUnit(-1, "m"))).toThrow("distance");
    expect(() => geodesicFrom(from, inUnit(Number.NaN, "deg"), inUnit(1, "m"))).toThrow("azimuth");
  });
});
