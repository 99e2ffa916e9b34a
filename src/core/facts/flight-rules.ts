// The operator's own figures for flying beyond minima and crew: its tolerance between record and hour meter, its worksheet
// of risk, what it asks over water, and whether a deferral may lapse in the air. Folded facts; nothing here is judged.
// Sets made apart all hold.
import type { OperationId } from "./reason.ts";

type Said = { readonly entry: string; readonly by: string; readonly at_ms: number };

/** What 14 CFR 135.617 groups: the flight itself, the people, the weather. */
export const riskGroups = ["flight", "human", "weather"] as const;
export type RiskGroup = (typeof riskGroups)[number];

export type RiskFactor = {
  readonly id: string;
  readonly group: RiskGroup;
  readonly words: string;
  /** Scored from nought to this. */
  readonly most: number;
};

export type OverWaterRules = {
  readonly operations: readonly OperationId[];
  /** The highest state of the sea (0 to 9) that the floats are certified for, by the operator's manual. */
  readonly seaStateAtMost: number;
  /** In water colder than this everybody aboard wears a suit. */
  readonly suitsBelow_C: number;
  /** How many people the rafts aboard hold. */
  readonly raftPlaces: number;
  /** How long a word on sea and suits stands. */
  readonly stands_min: number;
  readonly cite: string;
};

export type FlightRules = Said & {
  readonly meter: { readonly tolerance_h: number; readonly cite: string } | null;
  readonly worksheet: {
    readonly factors: readonly RiskFactor[];
    /** Above this sum the management releases. */
    readonly releaseAbove: number;
    readonly cite: string;
  } | null;
  readonly overWater: OverWaterRules | null;
  /** Whether a deferral by days may lapse between take-off and landing: where it may not, such a call is forbidden. */
  readonly lapseInFlight: "forbidden" | "pointedOut";
};
