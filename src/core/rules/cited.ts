// A figure of a rule with where it stands, and how surely it was seen there. Every figure of a rule set carries one.

/** How surely a figure was seen: `memory+secondary` agrees with one unofficial transcription that was seen. */
export type Status = "text" | "memory" | "memory+secondary" | "computed" | "commonPractice" | "operator";

export const ruleSetIds = ["eu", "us"] as const;
export type RuleSetId = (typeof ruleSetIds)[number];

export type Citation = {
  readonly cite: string;
  readonly edition: string;
  readonly status: Status;
  /** True where a person of the operator has to confirm or replace the figures before they may be relied on. */
  readonly toBeConfirmed?: boolean;
};
