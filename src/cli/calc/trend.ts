// `preen calc trend`: consumption with uplifts accounted for, hours to the lower mark, and whether it has changed
// (core/level/trend).

import { trendOf } from "../../core/level/trend.ts";
import { list, number, object, orNull, quantity, word } from "./fields.ts";
import type { Topic } from "./topic.ts";

const input = object({
  readings: list(
    object({
      hours: quantity("time", "h", { min: 0 }, "airframe hours; never less than those before"),
      level: number({ min: 0 }),
    }),
    { min: 3 },
    "by rising hours; readings of one hour in any order",
  ),
  added: list(
    object({
      hours: quantity(
        "time",
        "h",
        { min: 0 },
        "airframe hours; a single reading at the same hour is taken on the side of the uplift where it fits better",
      ),
      amount: number({ above: 0 }, "in the unit of the levels"),
    }),
    {},
    "every uplift since the first reading, in any order",
  ),
  min: number({}, "the lower mark, in the unit of the levels"),
  confidence: number({}, "of the interval and of the pessimistic forecast: between 0 and 1, both excluded"),
});

const hoursLeft = orNull(
  number({ min: 0 }, "hours after the last reading; null where the mark is never reached"),
);

const output = object({
  perHour: number({}, "consumption per hour: positive where the level falls"),
  low: number({}, "lower end of its interval"),
  high: number({}, "upper end of its interval"),
  hoursToMin: object({ expected: hoursLeft, pessimistic: hoursLeft }),
  alarm: orNull(
    object({
      since_h: number({ min: 0 }, "hour of the last reading that still looked normal, or of the rise"),
      reason: word(["faster", "slower", "rose"]),
    }),
  ),
});

const topic: Topic = {
  topic: "trend",
  summary: "consumption per hour with uplifts accounted for, hours to the mark, and whether it has changed",
  inputSchema: input.schema,
  outputSchema: output.schema,
  compute(element) {
    const given = input.read(element, "");
    const { rate, forecast, alarm } = trendOf({
      readings: given.readings.map(({ hours, level }) => ({ hours_h: hours, level })),
      added: given.added.map(({ hours, amount }) => ({ hours_h: hours, amount })),
      mark: given.min,
      confidence: given.confidence,
    });
    const { expected_h: expected, pessimistic_h: pessimistic } = forecast;
    return { ...rate, hoursToMin: { expected, pessimistic }, alarm };
  },
};

export default topic;
