// The standard atmosphere and density altitude against printed and independently computed values: atmosphere-tables.ts.

import * as atmosphere from "../src/core/air/atmosphere.ts";
import { atmosphereTables } from "./atmosphere-tables.ts";
import { holdTables, noticeChanges } from "./hold.ts";

holdTables("the atmosphere", atmosphereTables(atmosphere), {
  "standard atmosphere by feet": 43,
  "standard atmosphere by metres": 27,
  "U.S. Standard Atmosphere 1976 by feet": 14,
  "ICAO Doc 7488 by geometric height": 5,
  "U.S. Standard Atmosphere 1976 by geometric height": 5,
  "standard pressure levels": 9,
  "density altitude of dry air": 27,
  "pressure altitude and QFE from elevation and QNH": 24,
  "altimeter settings in inches": 9,
  "altimeter settings by the NWS formula": 22,
  "altimeter settings as printed": 4,
  "station pressure by the Smithsonian formula": 2,
  "density altitude as printed": 1,
  "density altitude to the foot": 10,
  "density altitude by rule of thumb": 2,
  "density of humid air": 1,
});

noticeChanges(
  [
    { file: "air/atmosphere.ts", from: "seaLevelTemperatureK: 288.15", to: "seaLevelTemperatureK: 288.16" },
    { file: "air/atmosphere.ts", from: "seaLevelPressurePa: 101_325", to: "seaLevelPressurePa: 101_326" },
    { file: "air/atmosphere.ts", from: "lapseKPerM: 0.0065", to: "lapseKPerM: 0.006501" },
    { file: "air/atmosphere.ts", from: "gravityMPerS2: 9.80665", to: "gravityMPerS2: 9.80666" },
    { file: "air/atmosphere.ts", from: "gasConstantJPerKgK: 287.05287", to: "gasConstantJPerKgK: 287.0529" },
    { file: "air/atmosphere.ts", from: "heatRatio: 1.4", to: "heatRatio: 1.4001" },
    { file: "air/humid-air.ts", from: "vapourRatio = 0.622", to: "vapourRatio = 0.63" },
    { file: "air/humid-air.ts", from: "237.7 + dewPointC", to: "230 + dewPointC" },
    { file: "air/humid-air.ts", from: "611 * 10", to: "631 * 10" },
  ],
  { file: "air/atmosphere.ts", from: "heatRatio: 1.4" },
  {
    folders: ["air", "quantity"],
    entry: "air/atmosphere.ts",
    tables: (module) => atmosphereTables(module as typeof atmosphere),
  },
);
