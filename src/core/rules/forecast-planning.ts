// How the change groups of a forecast count when an arrival is planned, by rule set.
//
// EU: AMC1 NCO.OP.160 (Reg. (EU) 965/2012; "application of aerodrome forecasts", aeroplanes and helicopters; the same
// criteria stand with CAT.OP.MPA) [that it exists and how it begins: text; the criteria: memory]: what deteriorates in a
// BECMG counts from its start, what improves from its end; TEMPO and PROB count where their weather lasts, and may be left
// out where it passes in showers and thunderstorms; PROB with TEMPO may be left out; improvements of all three never count.
// The window of one hour either side of the arrival: CAT.OP.MPA.181(c)(1) [text, UK copy of 2021].
// US: FAA Order 8900.1, policy on conditional phrases in forecasts [secondary quotation]: the worst of any report or group
// controls; relief exists by exemption only. One hour either side: 14 CFR 135.223(b) [text].
//
// Two things stay stricter here than the EU criteria: gusts of a group that counts are counted, and weather itself (ice,
// thunderstorms) counts in every group (core/sky/planning-rule.ts). The rule holds only where the operator says so with
// its citation; otherwise every group counts. Checked in forecast-planning.test.ts.
import type { PlanningRule } from "../sky/planning-rule.ts";
import { everyGroupCounts } from "../sky/planning-rule.ts";
import type { Citation, RuleSetId } from "./cited.ts";

const hour = { before_min: 60, after_min: 60 } as const;

export const forecastPlanning: Readonly<
  Record<RuleSetId, { readonly rule: PlanningRule; readonly citation: Citation }>
> = {
  eu: {
    rule: {
      id: "eu",
      edition: "wording of 2016; to be confirmed by the operator",
      cite: "Reg. (EU) 965/2012, AMC1 NCO.OP.160; CAT.OP.MPA.181(c)(1)",
      becoming: "both",
      passing: {
        TEMPO: "persistent",
        PROB30: "persistent",
        PROB40: "persistent",
        PROB30_TEMPO: "never",
        PROB40_TEMPO: "never",
      },
      arrival: hour,
    },
    citation: {
      cite: "Reg. (EU) 965/2012, AMC1 NCO.OP.160; CAT.OP.MPA.181(c)(1)",
      edition: "wording of 2016; to be confirmed by the operator",
      status: "memory",
      toBeConfirmed: true,
    },
  },
  us: {
    rule: {
      ...everyGroupCounts,
      id: "us",
      edition: "as quoted 2010",
      cite: "FAA Order 8900.1, policy on conditional phrases; 14 CFR 135.223(b)",
      arrival: hour,
    },
    citation: {
      cite: "FAA Order 8900.1, policy on conditional phrases; 14 CFR 135.223(b)",
      edition: "as quoted 2010",
      status: "memory+secondary",
    },
  },
};

/** The rule set's planning rule where the operator's manual says that it is planned by it; every group counts otherwise. */
export function planningBy(ruleSet: RuleSetId, stated: { readonly cite: string } | null): PlanningRule {
  if (stated === null) return everyGroupCounts;
  const { rule } = forecastPlanning[ruleSet];
  return { ...rule, cite: `${stated.cite}; ${rule.cite}` };
}
