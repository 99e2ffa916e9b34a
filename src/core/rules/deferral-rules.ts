// What each rule set says of deferrals: the interval's citation, and who may extend what, how often.
//
// EU: ORO.MLR.105(e)(f), Reg. (EU) 965/2012 (text); the intervals of CS MMEL.105 (day of recording and calendar day as
// text, figures from memory). US: FAA Policy Letter 25 Rev 24, pp. 5 and 7 (text); extension: FAA Order 8900.1 Vol 4
// Ch 4 Sec 3, D095 (text). Checked in published/deferral.test.ts.
import type { Citation, RuleSetId } from "./cited.ts";

export const deferralCategories = ["A", "B", "C", "D"] as const;
export type DeferralCategory = (typeof deferralCategories)[number];

export type DeferralRules = {
  readonly interval: Citation;
  readonly extension: Citation & {
    readonly categories: readonly DeferralCategory[];
    readonly times: number;
    /** What the person who extends has to have: said one by one. */
    readonly conditions: readonly ("beyondControl" | "authorityNotified" | "planMade")[];
  };
};

const rules: Readonly<Record<RuleSetId, DeferralRules>> = {
  eu: {
    interval: {
      cite: "CS MMEL.105; ORO.MLR.105(e)",
      edition: "Reg. (EU) 965/2012",
      status: "memory",
    },
    extension: {
      cite: "ORO.MLR.105(f)",
      edition: "Reg. (EU) 965/2012",
      status: "text",
      categories: ["B", "C", "D"],
      times: 1,
      conditions: ["beyondControl", "authorityNotified", "planMade"],
    },
  },
  us: {
    interval: { cite: "FAA Policy Letter 25, p. 7", edition: "Rev 24", status: "text" },
    extension: {
      cite: "FAA Order 8900.1 Vol 4 Ch 4 Sec 3, D095",
      edition: "as stored 2025",
      status: "text",
      categories: ["B", "C"],
      times: 1,
      conditions: ["beyondControl", "authorityNotified", "planMade"],
    },
  },
};

export function deferralRulesOf(ruleSet: RuleSetId): DeferralRules {
  return rules[ruleSet];
}
