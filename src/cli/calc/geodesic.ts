// `preen calc geodesic`: distance and azimuths of the shortest line between two places on WGS84 (core/air/geodesic).

import { geodesicBetween } from "../../core/air/geodesic.ts";
import { number, object, orNull, tuple } from "./fields.ts";
import type { Topic } from "./topic.ts";

const latitude = number({ min: -90, max: 90 }, "latitude in degrees, north positive");
const longitude = number({ min: -360, max: 360 }, "longitude in degrees, east positive");
const place = tuple([latitude, longitude], "[latitude, longitude]");

const input = object({ from: place, to: place });

const azimuth = number({ min: -180, max: 180 }, "clockwise from true north; null where the places coincide");
const output = object({
  distance_m: number({ min: 0 }),
  azimuth1_deg: orNull(azimuth),
  azimuth2_deg: orNull(azimuth),
});

const topic: Topic = {
  topic: "geodesic",
  summary: "distance and azimuths of the shortest line between two places on WGS84",
  inputSchema: input.schema,
  outputSchema: output.schema,
  compute(element) {
    const { from, to } = input.read(element, "");
    const line = geodesicBetween({ lat_deg: from[0], lon_deg: from[1] }, { lat_deg: to[0], lon_deg: to[1] });
    return { distance_m: line.distance, azimuth1_deg: line.azimuth1, azimuth2_deg: line.azimuth2 };
  },
};

export default topic;
