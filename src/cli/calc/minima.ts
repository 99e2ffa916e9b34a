// `preen calc minima`: a ceiling and a visibility against a rule set's minima (core/rules/minima).

import { ruleSetIds } from "../../core/rules/cited.ts";
import { phases } from "../../core/rules/minima-table.ts";
import { judgeMinima } from "../../core/rules/minima.ts";
import { flag, list, number, object, optional, orNull, quantity, text, word } from "./fields.ts";
import type { Topic } from "./topic.ts";

const length = (description: string) => quantity("length", "ft", { min: 0 }, description);
const distance = (description: string) => quantity("length", "m", { min: 0 }, description);

const input = object({
  ruleset: word(ruleSetIds),
  operation: word(["hems"], "helicopter emergency medical service, or air ambulance"),
  pilots: optional(number({ min: 1, max: 4, integer: true }, "needed for eu")),
  light: word(["day", "night"]),
  nvis: optional(flag("needed for us by night")),
  performanceClass: optional(number({ min: 1, max: 3, integer: true }, "needed for eu")),
  ceiling: length("cloud ceiling above the ground"),
  visibility: distance("flight visibility"),
  airspaceVisibility: optional(distance("minimum of the airspace; needed for eu by day from 500 ft up")),
  phase: word(phases),
  mountainous: optional(flag("needed for us")),
  local: optional(flag("inside the local flying area; needed for us")),
  htaws: optional(flag("terrain awareness aboard; needed for us by night")),
});

const output = object({
  ok: flag(),
  short: list(word(["ceiling", "visibility"]), {}, "what is below the minimum"),
  row: object({
    ceilingFrom_ft: number({}, "the step holds from this ceiling …"),
    ceilingBelow_ft: orNull(number({}, "… to below this one; null in the uppermost")),
    visibility_m: number(),
    shortPeriods: flag("met only by what the en-route phase allows for short periods, as a person judges"),
  }),
  edition: text(),
  cite: text(),
});

const topic: Topic = {
  topic: "minima",
  summary: "whether a ceiling and a visibility meet a rule set's minima, and by which row",
  inputSchema: input.schema,
  outputSchema: output.schema,
  compute(element) {
    const { ruleset, ceiling, visibility, airspaceVisibility, ...given } = input.read(element, "");
    const { ok, short, row, citation } = judgeMinima({
      ...given,
      ruleSet: ruleset,
      ceiling_ft: ceiling,
      visibility_m: visibility,
      airspaceVisibility_m: airspaceVisibility,
    });
    return { ok, short, row, edition: citation.edition, cite: citation.cite };
  },
};

export default topic;
