// The shipped minima say that they are to be confirmed, until somebody confirmed or replaced them.
import { expect, test } from "vitest";
import { assessRules } from "./assess-rules.ts";

const settings = { zone: "UTC", exchangeLimit_min: 60 } as const;
const minima = [{ how: "replaced", cite: "our manual, A 8.1", edition: "7", tables: [] }] as const;

test("the EU minima of 2012 are pointed out until the operator has settled them", () => {
  expect(assessRules({ ...settings, ruleSet: "eu" })).toMatchObject([
    { code: "rules.minimaUnconfirmed", effect: "advises", source: { rule: "SPA.HEMS.120" } },
  ]);
  expect(assessRules({ ...settings, ruleSet: "eu", minima })).toEqual([]);
  expect(assessRules({ ...settings, ruleSet: "us" })).toEqual([]);
  expect(assessRules(settings)).toEqual([]);
});
