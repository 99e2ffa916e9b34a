// `preen calc radius`: how far out along a track and still back after the endurance (core/air/wind).

import { radiusOfAction } from "../../core/air/wind.ts";
import { convert } from "../../core/quantity/units.ts";
import { trackDirection, windDirection } from "./directions.ts";
import { number, object, quantity } from "./fields.ts";
import { CalcIssue, type Topic } from "./topic.ts";
import { impossibleTrack, windKey } from "./wind.ts";

const input = object({
  endurance: quantity("time", "h", { min: 0 }),
  tas: quantity("speed", "kt", { above: 0 }),
  track: trackDirection(),
  windFrom: windDirection(),
  wind: quantity("speed", "kt", { min: 0 }),
});

const output = object({
  out_kt: number({}, "ground speed outbound"),
  back_kt: number({}, "ground speed on the way back"),
  radius_nm: number(),
  turnAfter_h: number(),
});

const topic: Topic = {
  topic: "radius",
  summary: "radius of action out along a track and back, and when to turn",
  inputSchema: input.schema,
  outputSchema: output.schema,
  compute(element) {
    const { endurance, tas, track, windFrom, wind } = input.read(element, "");
    const solved = radiusOfAction(convert(endurance, "h", "s"), convert(tas, "kt", "ms"), track, {
      from: windFrom,
      speed: convert(wind, "kt", "ms"),
    });
    if (solved.kind === "impossible") {
      const leg = solved.leg === "out" ? "outbound" : "on the way back";
      throw new CalcIssue(windKey(element), `${leg}: ${impossibleTrack(solved, tas)}`);
    }
    return {
      out_kt: convert(solved.outSpeed, "ms", "kt"),
      back_kt: convert(solved.backSpeed, "ms", "kt"),
      radius_nm: convert(solved.radius, "m", "nm"),
      turnAfter_h: convert(solved.turnAfter, "s", "h"),
    };
  },
};

export default topic;
