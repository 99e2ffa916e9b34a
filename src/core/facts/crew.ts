// What the records say of people who fly: papers, experience elsewhere, the operator's own figures, and a craft's shift.
// Nothing here is judged. People are opaque ids; the age rule needs a date of birth, which can be erased with its entry.
import type { OperationId } from "./reason.ts";

type Said = { readonly entry: string; readonly by: string; readonly at_ms: number };

export const paperKinds = [
  "licence",
  "typeRating",
  "instrumentRating",
  "medical",
  "proficiencyCheck",
  "lineCheck",
  "emergencyCheck",
  "nvisCheck",
  "hoistCheck",
] as const;
export type PaperKind = (typeof paperKinds)[number];

/** One paper or check: the day it was issued or passed, and the last day that it states itself. */
export type Paper = Said & {
  readonly person: string;
  readonly paper: PaperKind;
  /** YYYY-MM-DD. */
  readonly issuedOn: string;
  readonly lastDay: string | null;
};

export type PersonBorn = Said & { readonly person: string; readonly bornOn: string };

/** Flying that no craft of this operator's record shows, signed for by whoever keeps the training records. */
export type Experience = Said & {
  readonly person: string;
  readonly on: string;
  readonly landings: number;
  readonly nightLandings: number;
  readonly nvisFlights: number;
  readonly instrument_min: number;
  readonly hoistCycles: number;
  readonly nightHoistCycles: number;
  /** Flight time on that day, or in all before it; null where nobody stated it. */
  readonly flight_h: number | null;
};

/** Rest of at least some hours on end, as whoever keeps the duty records signed it. */
export type RestPeriod = Said & {
  readonly person: string;
  readonly from_ms: number;
  readonly until_ms: number;
};

/** Hours in command of a pilot, all told, as stated on a day; a later statement takes the place of the one before. */
export type CommandStated = Said & {
  readonly person: string;
  readonly on: string;
  readonly pic_h: number;
  readonly helicopterPic_h: number;
  /** In an environment like the one that is flown in. */
  readonly similar_h: number;
  /** By night and by sight. */
  readonly nightPic_h: number;
  /** Came to command as a co-pilot of HEMS flights, in the place of hours in command. */
  readonly asCoPilot: boolean;
};

export const recencyKinds = ["night", "nvis", "instrument", "hoist", "nightHoist"] as const;
export type RecencyKind = (typeof recencyKinds)[number];

/** The operator's own figures with their citation; sets made apart all hold. */
export type CrewRules = Said & {
  readonly ruleSet: "eu" | "us";
  /** Where national or the operator's own rules say so; null where a rule set's built-in figures are all there is. */
  readonly duty: { readonly duty_h: number; readonly rest_h: number; readonly cite: string } | null;
  /** Hoist cycles that a crew needs in so many days, by day and by night; null where the operator has set none. */
  readonly hoist: {
    readonly day: { readonly need: number; readonly days: number };
    readonly night: { readonly need: number; readonly days: number };
    readonly cite: string;
  } | null;
  /** US: by which section duty counts, 14 CFR 135.267 or 135.271 (hospital assignments). */
  readonly usDuty: "267" | "271";
  /** Whether one pilot with a technical crew member may fly by night in the areas that the operator has defined. */
  readonly singlePilotNight: { readonly allowed: boolean; readonly cite: string } | null;
  /** Recency that the operator asks beside the rule set's; both hold, so that it can only be stricter. */
  readonly stricter: readonly {
    readonly recency: "landings" | RecencyKind;
    readonly need: number;
    readonly days: number;
    readonly cite: string;
  }[];
  /** What an operation asks of its pilots beyond the papers that all need. */
  readonly asks: readonly {
    readonly operation: OperationId;
    readonly recency: readonly RecencyKind[];
    readonly papers: readonly PaperKind[];
  }[];
};

export type CrewKnown = {
  readonly papers: readonly Paper[];
  readonly born: readonly PersonBorn[];
  readonly experience: readonly Experience[];
  readonly rules: readonly CrewRules[];
  readonly rests: readonly RestPeriod[];
  readonly commands: readonly CommandStated[];
};

export const crewRoles = ["pilot", "technicalCrew", "hoistOperator", "medic"] as const;
export type CrewRole = (typeof crewRoles)[number];

/** Who is on duty with a craft, from when until when; `rested` is when each person's last duty ended. */
export type Shift = Said & {
  readonly from_ms: number;
  readonly until_ms: number;
  readonly people: readonly {
    readonly person: string;
    readonly roles: readonly CrewRole[];
    readonly lastDutyEnd_ms: number;
  }[];
};
