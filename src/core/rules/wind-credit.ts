// How much of a reported wind may be counted on when a mass limit is read from a chart, by rule set.
//
// Source: Reg. (EU) 965/2012, CAT.POL.H.105(c): mass, temperature, pressure and wind are accounted for [text]; at most
// 50 % of the reported headwind and at least 150 % of the tailwind, unless the flight manual has the factors in it
// [memory]. For the US no paragraph with such factors was found for helicopters: the same figures are taken there, as
// common practice. An operator can count on less headwind or more tailwind, never the other way.
import type { Citation, RuleSetId } from "./cited.ts";

export type WindCredit = {
  /** Of a reported headwind, at most. */
  readonly headwindShare: number;
  /** Of a reported tailwind, at least. */
  readonly tailwindShare: number;
  readonly citation: Citation;
};

export const windCredits: Readonly<Record<RuleSetId, WindCredit>> = {
  eu: {
    headwindShare: 0.5,
    tailwindShare: 1.5,
    citation: {
      cite: "Reg. (EU) 965/2012, CAT.POL.H.105(c)(3)",
      edition: "wording of 2012",
      status: "memory",
      toBeConfirmed: true,
    },
  },
  us: {
    headwindShare: 0.5,
    tailwindShare: 1.5,
    citation: {
      cite: "no paragraph found; half a headwind and one and a half times a tailwind",
      edition: "common practice",
      status: "commonPractice",
      toBeConfirmed: true,
    },
  },
};

/** The rule with the operator's own shares where they are stricter. */
export function stricterCredit(
  rule: WindCredit,
  own: { readonly headwindShare?: number; readonly tailwindShare?: number },
): WindCredit {
  const { headwindShare = rule.headwindShare, tailwindShare = rule.tailwindShare } = own;
  return {
    ...rule,
    headwindShare: Math.min(Math.max(headwindShare, 0), rule.headwindShare),
    tailwindShare: Math.max(tailwindShare, rule.tailwindShare),
  };
}
