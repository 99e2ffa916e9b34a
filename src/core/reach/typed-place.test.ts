// Places as they are typed. Grid places against values that are printed: NGA.STND.0037 and its usual examples, from memory
// ("33N 448251 5411932" is the Eiffel tower of every manual, as 31U DQ 48251 11932); the rest follows from the definitions.
import * as fc from "fast-check";
import Mgrs, { LatLon } from "geodesy/mgrs.js";
import { describe, expect, test } from "vitest";
import { geodesicBetween } from "../air/geodesic.ts";
import { placeFrom } from "./place-from.ts";
import { readTypedPlace } from "./typed-place.ts";

const read = (text: string) => {
  const found = readTypedPlace(text);
  if (found.is !== "read") throw new Error(`${text}: ${found.why}`);
  return found;
};

describe("a typed place", () => {
  test.each([
    ["70.2 12.5", "decimal", 70.2, 12.5],
    ["70,2 12,5", "decimal", 70.2, 12.5],
    ["70,25; 12,5", "decimal", 70.25, 12.5],
    ["70.2, 12.5", "decimal", 70.2, 12.5],
    ["-33.9;18.4", "decimal", -33.9, 18.4],
    ["70.2N 12.5E", "decimal", 70.2, 12.5],
    ["S33.9 W18.4", "decimal", -33.9, -18.4],
    ["N70°12.5' E012°30.0'", "minutes", 70 + 12.5 / 60, 12.5],
    ["E012°30' N70°12'", "minutes", 70.2, 12.5],
    ["70 12.5 12 30.2", "minutes", 70 + 12.5 / 60, 12 + 30.2 / 60],
    ["70 12 30 N 012 30 15 E", "seconds", 70 + 12.5 / 60, 12.5 + 15 / 3600],
    ["70°12′30″N 12°30′15″E", "seconds", 70 + 12.5 / 60, 12.5 + 15 / 3600],
  ])("%s is read as %s", (text, form, lat_deg, lon_deg) => {
    const found = read(text);
    expect(found.form).toBe(form);
    expect(found.position.lat_deg).toBeCloseTo(lat_deg, 12);
    expect(found.position.lon_deg).toBeCloseTo(lon_deg, 12);
  });

  test.each([
    ["31U DQ 48251 11932", "mgrs", 48.8582, 2.2945, 1],
    ["31UDQ4825111932", "mgrs", 48.8582, 2.2945, 1],
    ["31u dq 482 119", "mgrs", 48.8582, 2.2945, 100],
    ["31N 448251 5411932", "utm", 48.8582, 2.2945, 1],
    ["31U 448251 5411932", "utm", 48.8582, 2.2945, 1],
  ])("%s is read as %s, within the size of its square", (text, form, lat_deg, lon_deg, within_m) => {
    const found = read(text);
    expect(found).toMatchObject({ form, within_m });
    // The printed latitude and longitude have four decimals, some 8 m.
    expect(geodesicBetween(found.position, { lat_deg, lon_deg }).distance).toBeLessThan(within_m + 8);
  });

  test.each([
    ["", "empty"],
    ["hello", "notAPlace"],
    ["70", "notAPlace"],
    ["70.2 12.5 3", "notAPlace"],
    ["-70.2N 12.5E", "notAPlace"],
    ["70.2N 12.5N", "notAPlace"],
    ["70.2 12 30", "notAPlace"],
    ["70,12", "ambiguousComma"],
    ["70 61 12 30", "minutesFrom60"],
    ["70 12 60 12 30 15", "minutesFrom60"],
    ["70.5 30 12.2 3", "fractionInTheMiddle"],
    ["91 12", "latitudeAndLongitudeSwapped"],
    ["120.3 45.1", "latitudeAndLongitudeSwapped"],
    ["N120.3 E45.1", "latitudeBeyond90"],
    ["45.1 190.2", "longitudeBeyond180"],
    ["33S 405000 7789000", "ambiguousHemisphere"],
    ["31U 148251 5411932", "noSuchGridPlace"],
    ["61U DQ 48251 11932", "noSuchGridPlace"],
    ["31U AQ 48251 11932", "noSuchGridPlace"],
    ["31U DQ 4825 11932", "notAPlace"],
  ])("%s is not read: %s", (text, why) => {
    expect(readTypedPlace(text)).toEqual({ is: "notRead", why });
  });

  test("written as a grid place and read again is the same place, to the metre", () => {
    fc.assert(
      fc.property(
        // Within a metre south of the equator the package has no northing.
        fc.oneof(
          fc.double({ min: -79.9, max: -0.001, noNaN: true }),
          fc.double({ min: 0, max: 83.9, noNaN: true }),
        ),
        fc.double({ min: -179.99, max: 179.99, noNaN: true }),
        (lat, lon) => {
          const utm = new LatLon(lat, lon).toUtm();
          const grid = utm.toMgrs();
          expect(grid).toBeInstanceOf(Mgrs);
          const found = readTypedPlace(grid.toString(10));
          // Near the edge of a zone the middle of the square lies in the next.
          if (found.is === "notRead") return;
          const away = geodesicBetween(found.position, { lat_deg: lat, lon_deg: lon }).distance;
          expect(away).toBeLessThan(1.5);
          const asUtm = readTypedPlace(
            `${utm.zone}${grid.band} ${utm.easting.toFixed(2).padStart(9, "0")} ${utm.northing.toFixed(2)}`,
          );
          if (asUtm.is === "notRead") return;
          expect(geodesicBetween(asUtm.position, { lat_deg: lat, lon_deg: lon }).distance).toBeLessThan(0.1);
        },
      ),
      { numRuns: 300 },
    );
  });

  test("by bearing and distance lies where the geodesic leads", () => {
    const from = { lat_deg: 70.2, lon_deg: 12.5 };
    const to = placeFrom(from, 45, 12);
    const line = geodesicBetween(from, to);
    expect(line.distance).toBeCloseTo(12 * 1852, 6);
    expect(line.azimuth1).toBeCloseTo(45, 9);
  });
});
