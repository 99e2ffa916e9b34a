// `preen calc regression`: the least-squares line through points, and where a further point is to be expected
// (core/level/regression).

import { fitLine, predictAt } from "../../core/level/regression.ts";
import { flag, list, number, object, optional, orNull } from "./fields.ts";
import type { Topic } from "./topic.ts";

const usualConfidence = 0.95;

const input = object({
  x: list(number(), { min: 2 }),
  y: list(number(), { min: 2 }),
  intercept: flag("false makes the line pass through zero"),
  confidence: optional(number({}, `between 0 and 1, both excluded; ${usualConfidence} if left out`)),
  predictAt: optional(number({}, "the x of a further point")),
});

const output = object({
  slope: number(),
  intercept: number({}, "0 where the line was made to pass through zero"),
  slopeSd: number({ min: 0 }),
  interceptSd: orNull(number({ min: 0 })),
  residualSd: number({ min: 0 }),
  r2: orNull(number({}, "null where y does not vary; about zero without an intercept")),
  prediction: optional(object({ value: number(), low: number(), high: number() })),
});

const topic: Topic = {
  topic: "regression",
  summary: "least-squares line, its standard deviations and a prediction interval",
  inputSchema: input.schema,
  outputSchema: output.schema,
  compute(element) {
    const given = input.read(element, "");
    const fit = fitLine(given.x, given.y, given.intercept);
    const { slope, intercept, slopeSd, interceptSd, residualSd, r2 } = fit;
    const line = { slope, intercept, slopeSd, interceptSd, residualSd, r2 };
    // Also without a prediction, so that a wrong confidence never passes.
    const paths = { x: "predictAt", confidence: "confidence" };
    const prediction = predictAt(
      fit,
      given.predictAt ?? 0,
      given.confidence ?? usualConfidence,
      "point",
      paths,
    );
    return given.predictAt === undefined ? line : { ...line, prediction };
  },
};

export default topic;
