// `preen calc variation`: magnetic variation and the field, by the World Magnetic Model (core/air/magnetic-field).

import { magneticField } from "../../core/air/magnetic-field.ts";
import { convert } from "../../core/quantity/units.ts";
import { givenKey, number, object, quantity, text, word } from "./fields.ts";
import type { Topic } from "./topic.ts";

const input = object({
  lat: quantity("angle", "deg", { min: -90, max: 90 }, "north positive"),
  lon: quantity("angle", "deg", { min: -360, max: 360 }, "east positive"),
  height: quantity("length", "km", { min: -1, max: 850 }, "above the WGS84 ellipsoid"),
  year: number({}, "decimal: year + (day of year − 1)/days in the year; only the model's years are answered"),
});

const output = object({
  declination_deg: number({ min: -180, max: 180 }, "variation: magnetic from true north, east positive"),
  inclination_deg: number({ min: -90, max: 90 }, "down positive"),
  north_nT: number(),
  east_nT: number(),
  down_nT: number(),
  total_nT: number(),
  model: text(),
  zone: word(
    ["normal", "caution", "blackout"],
    "how far a compass can be trusted: caution below 6,000 nT of horizontal field, blackout below 2,000 nT",
  ),
});

const topic: Topic = {
  topic: "variation",
  summary: "magnetic variation and field by the World Magnetic Model",
  inputSchema: input.schema,
  outputSchema: output.schema,
  compute(element) {
    const { lat, lon, height, year } = input.read(element, "");
    const paths = { height: givenKey(element, "height", "length", "km"), year: "year" };
    const field = magneticField({ lat_deg: lat, lon_deg: lon }, convert(height, "km", "m"), year, paths);
    return {
      declination_deg: field.declination,
      inclination_deg: field.inclination,
      north_nT: field.northNt,
      east_nT: field.eastNt,
      down_nT: field.downNt,
      total_nT: field.totalNt,
      model: field.model,
      zone: field.zone,
    };
  },
};

export default topic;
