// Says where a rule set's figures still have to be confirmed or replaced by the operator: the EU minima that the program
// ships are those of 2012, and the cells in force since May 2024 are not in it.
import type { Reason } from "../facts/reason.ts";
import type { OperatorSettings } from "../facts/situation.ts";
import { euHemsCitation } from "./eu-minima.ts";

/** Said of the operations that the table binds; of all where nobody has said which it binds. */
export function assessRules({ ruleSet, minima = [], minimaUses = [] }: OperatorSettings): Reason[] {
  if (ruleSet !== "eu" || minima.length > 0) return [];
  const bound = [...new Set(minimaUses.map(({ operation }) => operation))].toSorted();
  return [
    {
      code: "rules.minimaUnconfirmed",
      effect: "advises",
      operations: bound.length === 0 ? "all" : bound,
      from_ms: null,
      until_ms: null,
      source: {
        kind: "rule",
        rule: "SPA.HEMS.120",
        edition: euHemsCitation.edition,
        cite: euHemsCitation.cite,
      },
      evidence: [],
      remedy: { code: "rules.confirm", clearance: "someone" },
      facts: {},
    },
  ];
}
