// What an assessor is told beside the craft's record: the time, the operator's settings, and how whole the record is.
// Assembled at the rim (server, app, command line); nothing in it is computed from a clock inside the core.
import type { ZoneId } from "./calendar.ts";
import type { CrewKnown } from "./crew.ts";

export type AsideEntry = {
  readonly id: string;
  readonly type: string;
  readonly code: string;
  readonly by: string;
  readonly at_ms: number;
};

/** How whole the record is, as this device knows it. */
export type RecordStanding = {
  /** The latest instant that any entry claims, or that a receipt gives; null for an empty record. */
  readonly newest_ms: number | null;
  /** Entries kept apart from the fold, each with the code of why. */
  readonly aside: readonly AsideEntry[];
  /** When this device last exchanged everything with the server; null = never. The server itself gives its own now. */
  readonly exchanged_ms: number | null;
  /** Entries of this craft that have not gone up yet. */
  readonly unsent: number;
};

export type MinimaSettled = {
  readonly how: "confirmed" | "replaced";
  readonly cite: string;
  readonly edition: string;
};

export type OperatorSettings = {
  /** The zone in which the operator counts calendar days. */
  readonly zone: ZoneId;
  /** After how many minutes without an exchange the standing is not known. */
  readonly exchangeLimit_min: number;
  /** Under which rules the operator works; null or left out where nobody has said. */
  readonly ruleSet?: "eu" | "us" | null;
  /** By which source the operator confirmed or replaced the weather minima of its rule set. */
  readonly minima?: readonly MinimaSettled[];
  /** What the operator's record says of its people; left out where it says nothing. */
  readonly crew?: CrewKnown;
};

export type Situation = {
  readonly now_ms: number;
  /** How far ahead assessors need to look. */
  readonly horizon_ms: number;
  readonly settings: OperatorSettings;
  readonly record: RecordStanding;
};
