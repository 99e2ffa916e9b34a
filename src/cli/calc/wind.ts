// `preen calc wind`: heading, ground speed and wind components for a track (core/air/wind).

import { type ImpossibleTrack, windTriangle } from "../../core/air/wind.ts";
import { convert } from "../../core/quantity/units.ts";
import { trackDirection, windDirection } from "./directions.ts";
import { givenKey, number, object, quantity } from "./fields.ts";
import { CalcIssue, type Topic } from "./topic.ts";

const input = object({
  track: trackDirection(),
  tas: quantity("speed", "kt", { above: 0 }),
  windFrom: windDirection(),
  wind: quantity("speed", "kt", { min: 0 }),
});

const output = object({
  heading_deg: number({ min: 0, max: 360 }),
  groundspeed_kt: number(),
  drift_deg: number({ min: -90, max: 90 }, "track less heading; to the right positive"),
  headwind_kt: number({}, "along the track; from ahead positive"),
  crosswind_kt: number({}, "across the track; from the right positive"),
});

const topic: Topic = {
  topic: "wind",
  summary: "heading, ground speed and wind components for a track",
  inputSchema: input.schema,
  outputSchema: output.schema,
  compute(element) {
    const { track, tas, windFrom, wind } = input.read(element, "");
    const solved = windTriangle(track, convert(tas, "kt", "ms"), {
      from: windFrom,
      speed: convert(wind, "kt", "ms"),
    });
    if (solved.kind === "impossible") throw new CalcIssue(windKey(element), impossibleTrack(solved, tas));
    return {
      heading_deg: solved.heading,
      groundspeed_kt: convert(solved.groundSpeed, "ms", "kt"),
      drift_deg: solved.drift,
      headwind_kt: convert(solved.components.head, "ms", "kt"),
      crosswind_kt: convert(solved.components.cross, "ms", "kt"),
    };
  },
};

export default topic;

export function windKey(element: unknown): string {
  return givenKey(element, "wind", "speed", "kt");
}

/** Why a wind makes a track impossible, in knots. */
export function impossibleTrack({ why, components }: ImpossibleTrack, tasKt: number): string {
  const kt = (ms: typeof components.head): string => `${convert(ms, "ms", "kt")} kt`;
  return why === "crosswindAboveAirspeed"
    ? `expected a wind across the track not above the airspeed of ${tasKt} kt, found ${kt(components.cross)} across`
    : `expected a wind that leaves ground speed along the track at ${tasKt} kt, found ${kt(components.head)} from ahead`;
}
