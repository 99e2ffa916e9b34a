import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { Refusal } from "../quantity/refusal.ts";
import { convert, inUnit, type Kelvins, type Metres, type Pascals } from "../quantity/units.ts";
import {
  airAt,
  densityAltitude,
  highestM,
  lowestM,
  pressureAltitude,
  pressureAltitudeOf,
  standardPressure,
  standardTemperature,
} from "./atmosphere.ts";
import { vapourPressure, virtualTemperature } from "./humid-air.ts";

const heights = fc.double({ min: lowestM, max: highestM, noNaN: true }).map((m) => inUnit(m, "m"));
/** Where a hot or cold day leaves density altitude inside the atmosphere. */
const middleHeights = fc.double({ min: -500, max: 6000, noNaN: true }).map((m) => inUnit(m, "m"));
const offsets = fc.double({ min: -30, max: 30, noNaN: true });
const celsius = (c: number): Kelvins => convert(inUnit(c, "C"), "C", "K");
const hectopascals = (hPa: number): Pascals => convert(inUnit(hPa, "hPa"), "hPa", "Pa");
const metres = (m: number): Metres => inUnit(m, "m");
const paths = { elevation: "elevation_ft", qnh: "qnh_hPa" };

function pathRefused(compute: () => unknown): string {
  try {
    compute();
  } catch (error) {
    if (error instanceof Refusal) return error.issues[0].path;
    throw error;
  }
  throw new Error("nothing was refused");
}

describe("the standard atmosphere", () => {
  test("gives back the height from its pressure and from its density", () => {
    fc.assert(
      fc.property(heights, (height) => {
        expect(pressureAltitude(standardPressure(height))).toBeCloseTo(height, 6);
        expect(airAt(height, null, null).densityAltitude).toBeCloseTo(height, 6);
      }),
      { numRuns: 300 },
    );
  });

  test("grows thinner and colder with height", () => {
    fc.assert(
      fc.property(heights, heights, (a, b) => {
        fc.pre(b - a > 0.001);
        expect(standardPressure(b)).toBeLessThan(standardPressure(a));
        expect(standardTemperature(b)).toBeLessThan(standardTemperature(a));
        expect(airAt(b, null, null).densityKgPerM3).toBeLessThan(airAt(a, null, null).densityKgPerM3);
      }),
      { numRuns: 300 },
    );
  });

  test("obeys the gas law and its own ratios", () => {
    fc.assert(
      fc.property(middleHeights, offsets, (height, offset) => {
        const temperature = inUnit(standardTemperature(height) + offset, "K");
        const air = airAt(height, temperature, null);
        expect(air.densityKgPerM3 * 287.05287 * air.temperature).toBeCloseTo(air.pressure, 6);
        expect(air.sigma * air.theta).toBeCloseTo(air.delta, 12);
        expect(air.isaDeviationK).toBeCloseTo(offset, 9);
      }),
      { numRuns: 300 },
    );
  });

  test("has no deviation at its own temperature, and standard values at sea level, exactly", () => {
    expect(airAt(metres(0), null, null)).toEqual({
      pressureAltitude: 0,
      densityAltitude: 0,
      pressure: 101_325,
      temperature: 288.15,
      densityKgPerM3: expect.closeTo(1.225, 6) as number,
      sigma: 1,
      delta: 1,
      theta: 1,
      soundSpeed: expect.closeTo(340.294, 4) as number,
      isaDeviationK: 0,
    });
  });
});

describe("density altitude", () => {
  test("never falls when it grows warmer, more humid or the pressure falls", () => {
    fc.assert(
      fc.property(
        middleHeights,
        offsets,
        fc.double({ min: 0, max: 15, noNaN: true }),
        fc.double({ min: 0, max: 40, noNaN: true }),
        (height, offset, warmer, spread) => {
          const temperature = inUnit(standardTemperature(height) + offset, "K");
          const hotter = inUnit(temperature + warmer, "K");
          const dewPoint = inUnit(temperature - spread, "K");
          const dry = airAt(height, temperature, null).densityAltitude;
          const drier = inUnit(dewPoint - 5, "K");
          const humid = airAt(height, temperature, dewPoint).densityAltitude;
          expect(airAt(height, hotter, null).densityAltitude).toBeGreaterThanOrEqual(dry);
          expect(humid).toBeGreaterThan(dry);
          expect(humid).toBeGreaterThan(airAt(height, temperature, drier).densityAltitude);
          expect(airAt(metres(height + 50), temperature, null).densityAltitude).toBeGreaterThan(dry);
        },
      ),
      { numRuns: 300 },
    );
  });
});

describe("pressure altitude of a place", () => {
  test("is its elevation at the standard setting, and higher when the setting is lower", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -300, max: 5000, noNaN: true }),
        fc.double({ min: 850, max: 1090, noNaN: true }),
        (m, qnh) => {
          const at = (hPa: number): number => pressureAltitudeOf(metres(m), hectopascals(hPa), paths);
          expect(at(1013.25)).toBe(m + 0);
          expect(at(qnh - 1)).toBeGreaterThan(at(qnh));
        },
      ),
      { numRuns: 300 },
    );
  });
});

describe("the atmosphere refuses, and names what", () => {
  test.each([
    ["a height below the tables", () => standardPressure(metres(-5000.001)), "height"],
    ["a height above the tropopause", () => standardTemperature(metres(11_000.001)), "height"],
    ["a height that is no number", () => standardPressure(metres(Number.NaN)), "height"],
    ["a pressure of nothing", () => pressureAltitude(inUnit(0, "Pa")), "pressure"],
    ["a pressure of the stratosphere", () => pressureAltitude(inUnit(10_000, "Pa")), "pressure"],
    ["a density of nothing", () => densityAltitude(0), "sigma"],
    [
      "a setting in inches taken for hPa",
      () => pressureAltitudeOf(metres(0), hectopascals(29.92), paths),
      "qnh_hPa",
    ],
    [
      "an elevation beyond the atmosphere",
      () => pressureAltitudeOf(metres(12_000), hectopascals(1013), paths),
      "elevation_ft",
    ],
    [
      "an elevation that the setting lifts out",
      () => pressureAltitudeOf(metres(10_990), hectopascals(950), paths),
      "elevation_ft",
    ],
    ["kelvins taken for °C", () => airAt(metres(0), celsius(288.15), null), "temperature"],
    ["a temperature that is no number", () => airAt(metres(0), inUnit(Number.NaN, "K"), null), "temperature"],
    ["a dew point above the temperature", () => airAt(metres(0), celsius(10), celsius(10.1)), "dewPoint"],
    ["a dew point of no air", () => airAt(metres(0), celsius(10), celsius(-150)), "dewPoint"],
    [
      "a day so hot that the air is a stratosphere's",
      () => airAt(metres(10_900), celsius(40), null),
      "temperature",
    ],
  ])("%s", (_, compute, path) => {
    expect(pathRefused(compute)).toBe(path);
  });
});

describe("humid air", () => {
  test("has a vapour pressure of 6.11 hPa at 0 °C and some 42 hPa at 30 °C", () => {
    expect(vapourPressure(celsius(0))).toBeCloseTo(611, 9);
    expect(vapourPressure(celsius(30)) / 100).toBeCloseTo(42.4, 0);
  });

  test("is lighter than dry air, as if it were warmer, and may be saturated", () => {
    const temperature = celsius(25);
    expect(virtualTemperature(temperature, temperature, hectopascals(1000))).toBeGreaterThan(temperature);
    expect(virtualTemperature(temperature, celsius(-60), hectopascals(1000))).toBeCloseTo(temperature, 2);
  });

  test("cannot be more vapour than there is pressure", () => {
    expect(pathRefused(() => virtualTemperature(celsius(90), celsius(90), hectopascals(500)))).toBe(
      "dewPoint",
    );
  });
});
