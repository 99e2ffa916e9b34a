// Geodesics against published lines: geodesic-tables.ts. The method is geographiclib-geodesic's, so what could be wrong
// here is the call: the order of coordinates, a unit, a swapped azimuth. Of the example on a sphere the cross-track
// distance, the crossing of two courses and the latitude at a longitude are not taken: the core computes none of them.

import * as geodesic from "../src/core/air/geodesic.ts";
import { geodesicTables } from "./geodesic-tables.ts";
import { holdTables, noticeChanges } from "./hold.ts";

holdTables("geodesics", geodesicTables(geodesic), {
  "Karney's test set": 67,
  "lines of 50 m to 1,500 km": 24,
  "GeographicLib's twenty lines": 20,
  "an example on a sphere": 1,
  "named cases": 17,
});

const file = "air/geodesic.ts";
noticeChanges(
  [
    {
      file,
      from: "earth = geodesic.Geodesic.WGS84",
      to: "earth = new geodesic.Geodesic.Geodesic(6378137, 1 / 298.25)",
    },
    {
      file,
      from: "earth.Inverse(from.lat_deg, from.lon_deg",
      to: "earth.Inverse(from.lon_deg / 2, from.lat_deg",
    },
    { file, from: "finite(line.azi1,", to: "finite(line.azi2," },
    { file, from: "finite(end.lon2,", to: "finite(end.azi2," },
  ],
  { file, from: "earth = geodesic.Geodesic.WGS84" },
  {
    folders: ["air", "quantity"],
    entry: file,
    tables: (module) => geodesicTables(module as typeof geodesic),
  },
);
