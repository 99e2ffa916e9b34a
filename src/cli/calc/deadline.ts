// `preen calc deadline`: the last day of a deferral in the operator's zone, and when it lapses (core/due/deferral-deadline).

import { deferralDeadline } from "../../core/due/deferral-deadline.ts";
import { deferralCategories, deferralRulesOf } from "../../core/rules/deferral-rules.ts";
import { ruleSetIds } from "../../core/rules/cited.ts";
import { number, object, optional, text, word } from "./fields.ts";
import { instant, instantText } from "./instants.ts";
import { CalcIssue, type Topic } from "./topic.ts";
import { zoneName } from "./zones.ts";

const input = object({
  recorded: instant("when the defect was entered in the record"),
  zone: zoneName(),
  category: word(deferralCategories),
  days: optional(number({ min: 1, max: 36_500, integer: true }, "category A only, and needed there")),
  ruleset: word(ruleSetIds),
});

const day = text({ pattern: /^\d{4}-\d\d-\d\d$/u, wanted: "a date" }, "a calendar day in the zone");

const output = object({
  firstDay: day,
  lastDay: day,
  expires: instant("the deferral no longer holds from here on"),
  cite: text(),
});

const topic: Topic = {
  topic: "deadline",
  summary: "first and last day of a deferral, and the instant at which it lapses",
  inputSchema: input.schema,
  outputSchema: output.schema,
  compute(element) {
    const { recorded, zone, category, days, ruleset } = input.read(element, "");
    if (category === "A" && days === undefined)
      throw new CalcIssue("days", "expected the days that the list gives for category A, found nothing");
    if (category !== "A" && days !== undefined)
      throw new CalcIssue("days", `expected days with category A only, found them with ${category}`);
    const { firstDay, lastDay, expires_ms } = deferralDeadline(recorded, zone, category, days);
    const { interval } = deferralRulesOf(ruleset);
    return { firstDay, lastDay, expires: instantText(expires_ms), cite: interval.cite };
  },
};

export default topic;
