// The wind triangle, radius of action and wind components against printed examples: wind-tables.ts.

import * as wind from "../src/core/air/wind.ts";
import { holdTables, noticeChanges } from "./hold.ts";
import { windTables } from "./wind-tables.ts";

holdTables("the wind", windTables(wind), {
  "heading and ground speed for a track": 4,
  "track and ground speed for a heading": 1,
  "wind from heading and track": 2,
  "radius of action": 5,
  "equal-time point": 3,
  "wind components": 8,
  "wind components as printed": 2,
  "component factors": 10,
});

const file = "air/wind.ts";
noticeChanges(
  [
    { file, from: "forward - along.head", to: "forward + along.head" },
    { file, from: "compass(track + correction)", to: "compass(track - correction)" },
    { file, from: "atan2Deg(0 - cross,", to: "atan2Deg(cross," },
    { file, from: "(endurance * backSpeed)", to: "(endurance * outSpeed)" },
    { file, from: "(distance * backSpeed)", to: "(distance * onSpeed)" },
    { file, from: "sinDeg(heading - track)", to: "sinDeg(track - heading)" },
  ],
  { file, from: "forward - along.head" },
  { folders: ["air", "quantity"], entry: file, tables: (module) => windTables(module as typeof wind) },
);
