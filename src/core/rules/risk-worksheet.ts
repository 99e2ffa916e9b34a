// The risk worksheet of US air ambulance flights before the first leg: what it must cover, and whether it is whole.
// Source: 14 CFR 135.617 (text): factors, another operator's refusal, release by management above the operator's level,
// the pilot's signature with date and time, kept 90 days. How the factors are scored is the operator's own.
export const riskFactors = ["flight", "human", "weather"] as const;
export type RiskFactor = (typeof riskFactors)[number];

export type RiskWorksheet = {
  readonly scores: Partial<Readonly<Record<RiskFactor, number>>>;
  /** Whether another operator refused the flight; null while nobody has answered. */
  readonly refusedElsewhere: boolean | null;
  /** Above this sum the management releases. */
  readonly releaseAbove: number;
  readonly released: boolean;
  readonly signed_ms: number | null;
};

export type RiskLack = "factor" | "refusal" | "release" | "signature";

/** What is missing before the first leg; nothing for a whole one. Unanswered is missing, never no. */
export function riskLacks(sheet: RiskWorksheet, off_ms: number): readonly RiskLack[] {
  const scores = riskFactors.map((factor) => sheet.scores[factor]);
  const sum = scores.reduce<number>((all, score) => all + (score ?? 0), 0);
  return [
    ...(scores.includes(undefined) ? (["factor"] as const) : []),
    ...(sheet.refusedElsewhere === null ? (["refusal"] as const) : []),
    ...(sum > sheet.releaseAbove && !sheet.released ? (["release"] as const) : []),
    ...(sheet.signed_ms === null || sheet.signed_ms > off_ms ? (["signature"] as const) : []),
  ];
}
