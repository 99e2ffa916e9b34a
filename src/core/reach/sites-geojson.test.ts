import { describe, expect, test } from "vitest";
import sitesFile from "../../../demo/sites.json" with { type: "json" };
import { Refusal } from "../quantity/refusal.ts";
import { isOnLand } from "./ask-about-place.ts";
import { readSites } from "./sites-geojson.ts";
import { siteFit, siteSizeNeeded } from "./site-questions.ts";

const point = (properties: object, coordinates: unknown = [12.5, 70.2]) => ({
  type: "Feature",
  properties: { id: "one", name: "One", kind: "landingSite", ...properties },
  geometry: { type: "Point", coordinates },
});
const collection = (...features: readonly unknown[]) => ({ type: "FeatureCollection", features });
const pathsOf = (file: unknown): readonly string[] => {
  try {
    readSites(file);
  } catch (error) {
    if (error instanceof Refusal) return error.issues.map(({ path }) => path);
    throw error;
  }
  return [];
};

describe("a file of sites", () => {
  test("has the demo's hospitals and landing sites, each on its land", () => {
    const { sites, land } = readSites(sitesFile);
    expect(sites.filter(({ kind }) => kind === "hospital")).toHaveLength(4);
    expect(sites.filter(({ kind }) => kind === "landingSite")).toHaveLength(12);
    expect(sites.every((site) => isOnLand(site, land))).toBe(true);
  });

  test("gives longitude first, elevation in feet or metres, and null for what it does not say", () => {
    const { sites } = readSites(collection(point({ elevation_m: 304.8 }, [12.5, 70.2, 99])));
    expect(sites).toEqual([
      {
        id: "one",
        name: "One",
        kind: "landingSite",
        lat_deg: 70.2,
        lon_deg: 12.5,
        elevation_ft: 1000,
        width_m: null,
        length_m: null,
        lit: null,
        fuel: null,
        notes: "",
      },
    ]);
  });

  test.each<[string, unknown, readonly string[]]>([
    ["no collection", { type: "Feature" }, [""]],
    ["latitude first", collection(point({}, [70.2, 112.5])), ["features[0].geometry.coordinates"]],
    ["an id given twice", collection(point({}), point({})), ["features[1].properties.id"]],
    [
      "an elevation given twice",
      collection(point({ elevation_ft: 1, elevation_m: 1 })),
      ["features[0].properties.elevation_m"],
    ],
    [
      "several mistakes at once",
      collection(point({ id: "", kind: "field", size_m: -1 }), { type: "Point" }),
      [
        "features[0].properties.id",
        "features[0].properties.kind",
        "features[0].properties.size_m",
        "features[1]",
      ],
    ],
    [
      "a size beside a width",
      collection(point({ size_m: 30, width_m: 30 })),
      ["features[0].properties.size_m"],
    ],
    [
      "a length without a width, or less than it",
      collection(point({ length_m: 30 }), point({ id: "two", width_m: 30, length_m: 20 })),
      ["features[0].properties.length_m", "features[1].properties.length_m"],
    ],
    [
      "an open ring",
      collection({
        type: "Feature",
        properties: { kind: "land" },
        geometry: {
          type: "Polygon",
          coordinates: [
            [
              [0, 0],
              [1, 0],
              [1, 1],
              [0, 1],
            ],
          ],
        },
      }),
      ["features[0].geometry.coordinates"],
    ],
  ])("with %s is refused, with its place", (_name, file, paths) => {
    expect(pathsOf(file)).toEqual(paths);
  });

  test("gives two sides: those said, or one size for both", () => {
    const sides = (properties: object) => {
      const [site] = readSites(collection(point(properties))).sites;
      return [site!.width_m, site!.length_m];
    };
    expect(sides({ width_m: 28, length_m: 60 })).toEqual([28, 60]);
    expect(sides({ width_m: 28 })).toEqual([28, 28]);
    expect(sides({ size_m: 30 })).toEqual([30, 30]);
  });

  test("land has holes, and several polygons", () => {
    const square = (low: number, high: number) => [
      [low, low],
      [high, low],
      [high, high],
      [low, high],
      [low, low],
    ];
    const { land } = readSites(
      collection({
        type: "Feature",
        properties: { kind: "land" },
        geometry: { type: "MultiPolygon", coordinates: [[square(0, 9), square(3, 6)], [square(20, 21)]] },
      }),
    );
    const on = (lat_deg: number, lon_deg: number) => isOnLand({ lat_deg, lon_deg }, land);
    expect([on(1, 1), on(4, 4), on(20.5, 20.5), on(10, 10)]).toEqual([true, false, true, false]);
  });
});

test("a site for a craft of 13.36 m measures two of it by day, four by two by night", () => {
  expect(siteSizeNeeded(13.36, "day")).toEqual({ width_m: 26.72, length_m: 26.72 });
  expect(siteSizeNeeded(13.36, "night")).toEqual({ width_m: 26.72, length_m: 53.44 });
});

test("both sides of a site are held against what is needed; on it is enough", () => {
  const fit = (width_m: number | null, length_m: number | null) =>
    siteFit({ kind: "landingSite", width_m, length_m }, 13.36);
  expect(fit(26.72, 53.44)).toBe("both");
  expect(fit(26.72, 53.4)).toBe("day");
  expect(fit(26.7, 80)).toBe("none");
  expect(fit(null, null)).toBe("open");
  expect(siteFit({ kind: "hospital", width_m: 10, length_m: 10 }, 13.36)).toBe("approved");
});
