// What an assessor is told beside the craft's record: the time, the operator's settings, and how whole the record is.
// Assembled at the rim (server, app, command line); nothing in it is computed from a clock inside the core.
import type { ZoneId } from "./calendar.ts";
import type { TankFacts } from "./base-tank.ts";
import type { FuelFilled } from "./call.ts";
import type { FlightFact } from "./craft.ts";
import type { CrewKnown, Shift } from "./crew.ts";
import type { FlightRules } from "./flight-rules.ts";
import type { OperationId } from "./reason.ts";

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

export type MinimaLight = "day" | "night";

/** One step of an operator's own table: from this ceiling on, this visibility. */
export type OwnMinimaStep = { readonly ceilingFrom_ft: number; readonly visibility_m: number };

/**
 * Figures of the operator's own approved manual, for these operations in this light with this many pilots (null: with any).
 * `instead` takes the place of the rule set's table, `stricter` holds beside it. Steps in falling order of their floors.
 */
export type OwnMinima = {
  readonly kind: "instead" | "stricter";
  readonly operations: "all" | readonly OperationId[];
  readonly light: MinimaLight;
  readonly pilots: number | null;
  readonly steps: readonly OwnMinimaStep[];
};

/** What a person said of the rule set's minima; `tables` are empty where they were confirmed as they are. */
export type MinimaSettled = {
  readonly how: "confirmed" | "replaced";
  readonly cite: string;
  readonly edition: string;
  readonly tables: readonly OwnMinima[];
};

/** That a rule set's table of minima binds an operation, and what the table has to be told besides crew and light. */
export type MinimaUse = {
  readonly operation: OperationId;
  readonly cite: string;
} & (
  | {
      readonly ruleSet: "eu";
      readonly performanceClass: 1 | 2 | 3;
      /** Minimum of the airspace that is flown in, which holds by day from 500 ft up. */
      readonly airspaceVisibility_m: number;
    }
  | {
      readonly ruleSet: "us";
      readonly mountainous: boolean;
      readonly local: boolean;
      /** Night-vision imaging or terrain awareness aboard. */
      readonly aided: boolean;
    }
);

export type OperatorSettings = {
  /** The zone in which the operator counts calendar days. */
  readonly zone: ZoneId;
  /** After how many minutes without an exchange the standing is not known. */
  readonly exchangeLimit_min: number;
  /** Under which rules the operator works; null or left out where nobody has said. */
  readonly ruleSet?: "eu" | "us" | null;
  /** By which source the operator confirmed or replaced the weather minima of its rule set. */
  readonly minima?: readonly MinimaSettled[];
  /** Which operations the rule set's table of minima binds; without any it binds none, and the operator's figures stand alone. */
  readonly minimaUses?: readonly MinimaUse[];
  /** What the operator's record says of its people; left out where it says nothing. */
  readonly crew?: CrewKnown;
  /** The operator's own figures for flying: meter, worksheet, water. */
  readonly flightRules?: readonly FlightRules[];
};

/** Who is on duty with another craft of the operator, what it flew, and what fuel it took. */
export type OtherCraft = {
  readonly name: string;
  readonly shifts: readonly Shift[];
  readonly flights: readonly FlightFact[];
  readonly fuelFilled?: readonly FuelFilled[];
};

/** How far the standing line looks ahead. */
export const horizon_h = 72;

export type Situation = {
  readonly now_ms: number;
  /** How far ahead assessors need to look. */
  readonly horizon_ms: number;
  readonly settings: OperatorSettings;
  readonly record: RecordStanding;
  /** The operator's other craft, as far as they are known here. */
  readonly others?: readonly OtherCraft[];
  /** What is recorded of the fuel stored at any of the operator's bases; left out where nothing is. */
  readonly tanks?: TankFacts;
};
