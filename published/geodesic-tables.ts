// Geodesics beside Karney's test set, GeographicLib's own cases and others (geodesic.json has their sources and status).

import type * as Geodesic from "../src/core/air/geodesic.ts";
import { type Degrees, inUnit } from "../src/core/quantity/units.ts";
import data from "./geodesic.json" with { type: "json" };
import { measureTable, type Pair, type Table, type Tolerance } from "./table.ts";

type Row = readonly [
  lat1: number,
  lon1: number,
  azi1: number,
  lat2: number,
  lon2: number,
  azi2: number,
  s12: number,
];

/** The named cases give what their sources print: some of these, with how far the print can be off. */
type Named = {
  readonly name: string;
  readonly lat1: number;
  readonly lon1: number;
  readonly azi1?: number;
  readonly lat2: number;
  readonly lon2: number;
  readonly azi2?: number;
  readonly s12_m: number;
  readonly direct?: boolean;
  readonly tol_m?: number;
  readonly tol_deg?: number;
  readonly tol_azi_deg?: number;
};

const metres = (because: string): Tolerance => ({ within: 2e-8, unit: "m", because });
const degrees = (because: string): Tolerance => ({ within: 1e-9, unit: "deg", because });

const lineTolerances = {
  s12: metres("the method claims 1.5e-8 m, the tables are given to 1e-7 m or better"),
  arrives: metres("same, out along the computed azimuth"),
  end: metres("same, out along the published azimuth"),
  azi1: degrees("places to 1e-12 deg and better: 1e-9 m at the end of a line of 30 m"),
  azi2: degrees("same"),
  "azi2 of its end": degrees("same"),
};

/** Difference of two directions, as a pair that the table can subtract: −179.9 and 180.1 are the same. */
function directions(computed: Degrees | null, published: number): Pair {
  if (computed === null) throw new Error(`no azimuth where ${published} is published`);
  const difference = ((((computed - published) % 360) + 540) % 360) - 180;
  return [difference, 0];
}

export function geodesicTables({ geodesicBetween, geodesicFrom }: typeof Geodesic): Table[] {
  const inverse = ([lat1, lon1, azi1, lat2, lon2, azi2, s12]: Row): Record<string, Pair> => {
    const from = { lat_deg: lat1, lon_deg: lon1 };
    const to = { lat_deg: lat2, lon_deg: lon2 };
    const line = geodesicBetween(from, to);
    // The computed azimuth must lead to the place: this holds everywhere, also where many azimuths do.
    const { to: arrived, azimuth2 } = geodesicFrom(from, line.azimuth1 as Degrees, line.distance);
    const pairs: Record<string, Pair> = {
      s12: [line.distance, s12],
      arrives: [geodesicBetween(arrived, to).distance, 0],
    };
    // Towards the antipode the azimuth of the shortest line follows the last digits of the places.
    if (s12 < 19_900_000) {
      pairs["azi1"] = directions(line.azimuth1, azi1);
      pairs["azi2"] = directions(line.azimuth2, azi2);
      pairs["azi2 of its end"] = directions(azimuth2, azi2);
    }
    return pairs;
  };
  const direct = ([lat1, lon1, azi1, lat2, lon2, , s12]: Row): Record<string, Pair> => {
    const { to } = geodesicFrom({ lat_deg: lat1, lon_deg: lon1 }, inUnit(azi1, "deg"), inUnit(s12, "m"));
    const miss = geodesicBetween(to, { lat_deg: lat2, lon_deg: lon2 });
    return { end: [miss.distance, 0] };
  };
  const both = (row: readonly number[]): Record<string, Pair> => ({
    ...inverse(row as unknown as Row),
    ...direct(row as unknown as Row),
  });
  return [
    measureTable("Karney's test set", data.karney.rows, lineTolerances, both),
    measureTable("lines of 50 m to 1,500 km", data.medium.rows, lineTolerances, both),
    measureTable("GeographicLib's twenty lines", data.twenty.rows, lineTolerances, both),
    measureTable(
      "an example on a sphere",
      data.sphere.rows,
      {
        distance_nm: { within: 10.7, unit: "nm", because: "a sphere is up to 0.5 % off the ellipsoid" },
        course_deg: { within: 0.6, unit: "deg", because: "printed to the degree" },
        "point at 40 %": { within: 4300, unit: "m", because: "0.5 % of 40 % of the way" },
        "point at 100 nm": { within: 1000, unit: "m", because: "0.5 % of 100 nm, and places to 0.0001 deg" },
      },
      (row) => sphereCase(row as unknown as SphereRow, { geodesicBetween, geodesicFrom }),
    ),
    measureTable(
      "named cases",
      data.named as readonly Named[],
      {
        distance: {
          within: 1,
          unit: "of its print",
          because: "each source prints its own digits; half of the last",
        },
        azimuth: { within: 1, unit: "of its print", because: "same" },
        end: { within: 1, unit: "of its print", because: "same" },
      },
      (row) => namedCase(row, { geodesicBetween, geodesicFrom }),
    ),
  ];
}

function namedCase(
  row: Named,
  { geodesicBetween, geodesicFrom }: Pick<typeof Geodesic, "geodesicBetween" | "geodesicFrom">,
): Record<string, Pair> {
  const from = { lat_deg: row.lat1, lon_deg: row.lon1 };
  if (row.direct === true) {
    const { to, azimuth2 } = geodesicFrom(from, inUnit(row.azi1 as number, "deg"), inUnit(row.s12_m, "m"));
    const within = row.tol_deg as number;
    const worst = Math.max(
      Math.abs(to.lat_deg - row.lat2),
      Math.abs(to.lon_deg - row.lon2),
      Math.abs(azimuth2 - (row.azi2 as number)),
    );
    return { end: [worst / within, 0] };
  }
  const line = geodesicBetween(from, { lat_deg: row.lat2, lon_deg: row.lon2 });
  const pairs: Record<string, Pair> = { distance: [(line.distance - row.s12_m) / (row.tol_m as number), 0] };
  // Where only the digits of the azimuth are printed, a unit of the sixth decimal.
  const within = row.tol_azi_deg ?? 1e-6;
  const misses = [
    [line.azimuth1, row.azi1],
    [line.azimuth2, row.azi2],
  ] as const;
  const given = misses.flatMap(([computed, printed]) =>
    printed === undefined ? [] : [directions(computed, printed)[0]],
  );
  if (given.length > 0) pairs["azimuth"] = [Math.max(...given.map(Math.abs)) / within, 0];
  return pairs;
}

type SphereRow = readonly [number, number, number, number, number, number, number, number, number, number];

function sphereCase(
  [lat1, lon1, lat2, lon2, distance, course, lat40, lon40, lat100, lon100]: SphereRow,
  { geodesicBetween, geodesicFrom }: Pick<typeof Geodesic, "geodesicBetween" | "geodesicFrom">,
): Record<string, Pair> {
  const from = { lat_deg: lat1, lon_deg: lon1 };
  const line = geodesicBetween(from, { lat_deg: lat2, lon_deg: lon2 });
  const { to } = geodesicFrom(from, line.azimuth1 as Degrees, inUnit(0.4 * line.distance, "m"));
  const { to: radial } = geodesicFrom(from, inUnit(course, "deg"), inUnit(185_200, "m"));
  return {
    distance_nm: [line.distance / 1852, distance],
    course_deg: directions(line.azimuth1, course),
    "point at 40 %": [geodesicBetween(to, { lat_deg: lat40, lon_deg: lon40 }).distance, 0],
    "point at 100 nm": [geodesicBetween(radial, { lat_deg: lat100, lon_deg: lon100 }).distance, 0],
  };
}
