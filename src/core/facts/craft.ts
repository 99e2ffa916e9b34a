// What the ledger of one craft says, folded: plain data that can be hashed, sent and compared byte for byte.
//
// Nothing here is judged. Where two devices recorded a matter without knowing of each other, both facts stand side by
// side in a list, in the order of the fold; a later fact that names them in `replaces` takes their place. Every
// assessor takes the worse of what stands. `entry` is the id of the entry that said it; `at_ms` is when it happened.
import { nothingDue } from "./due.ts";
import type { DueFacts } from "./due.ts";
import type { CallKept, FuelChecked, FuelFilled, FuelSampled } from "./call.ts";
import type { Shift } from "./crew.ts";
import { nothingLoaded } from "./load.ts";
import type { LoadFacts } from "./load.ts";
import type { OperationId } from "./reason.ts";

export type EntryId = string;
export type PersonId = string;

type Said = {
  readonly entry: EntryId;
  readonly by: PersonId;
  readonly at_ms: number;
};

export type Opened = Said & {
  readonly name: string;
  readonly variant: string;
  readonly sheet: string;
};

/** The sheet (by hash) that holds for the craft from an instant. */
export type SheetAdopted = Said & { readonly sheet: string; readonly holdsFrom_ms: number };

export type EquipmentFact = Said & { readonly installed: boolean };

export const custodies = ["crew", "maintenance", "outOfService"] as const;
export type Custody = (typeof custodies)[number];
export type CustodyFact = Said & {
  readonly custody: Custody;
  readonly people: readonly PersonId[];
  readonly words: string;
  readonly expectedEnd_ms: number | null;
};

export const walkKinds = ["full", "launch", "parking"] as const;
export type WalkKind = (typeof walkKinds)[number];

/** `notReached` carries why. A blank is the absence of a mark. Worse last. */
export const marks = ["good", "notReached", "finding"] as const;
export type Mark = (typeof marks)[number];
export type MarkFact = Said & {
  readonly mark: Mark;
  readonly why: string | null;
  readonly finding: string | null;
};

export type StopVisit = Said & {
  readonly stop: string;
  readonly arrived_ms: number;
  readonly left_ms: number;
  readonly sealedBy: "left" | "interrupted";
};

/** `walkAway`: nobody touched the walk for longer than a person stands at one item. */
export const interruptionCauses = ["callOut", "phone", "weather", "other", "walkAway"] as const;
export type InterruptionCause = (typeof interruptionCauses)[number];
export type Interruption = Said & {
  readonly cause: InterruptionCause;
  readonly stop: string | null;
  readonly words: string;
  readonly resumed: (Said & { readonly reopened: readonly string[] }) | null;
};

/** What the person beginning said of the conditions that decide which items apply; null = not known. */
export type Conditions = Readonly<Record<string, boolean | null>>;

/** Why a person declares a walk void. */
export const voidCauses = ["frostAfterFreezing", "storm", "other"] as const;
export type VoidCause = (typeof voidCauses)[number];

export type WalkFacts = {
  readonly walk: string;
  readonly kind: WalkKind;
  readonly begun: Said & { readonly sheet: string; readonly plan: string; readonly conditions: Conditions };
  /** Standing marks by item; more than one where people marked apart. */
  readonly marks: Readonly<Record<string, readonly MarkFact[]>>;
  readonly visits: readonly StopVisit[];
  readonly interruptions: readonly Interruption[];
  /** What changed outside while the walk was under way, as it was said later. */
  readonly weather: readonly (Said & { readonly conditions: Conditions })[];
  /** Marks that their writer took back after the page was sealed. */
  readonly takenBack: readonly (Said & { readonly page: EntryId; readonly items: readonly string[] })[];
  readonly finished: readonly Said[];
  readonly voided: readonly (Said & { readonly cause: VoidCause; readonly words: string })[];
  readonly paper: boolean;
};

/** `open`: not as it must be for flight (a door open, a cover on, ground power in). `closed`: as it must be. */
export type ClosureState = "open" | "closed";
export type ClosureFact = Said & { readonly state: ClosureState; readonly walk: string | null };

export const findingKinds = [
  "crack",
  "dent",
  "nick",
  "scratch",
  "wear",
  "leak",
  "play",
  "chafe",
  "loose",
  "missing",
  "corrosion",
  "debond",
  "chip",
  "frost",
  "foreignObject",
  "outOfBand",
  "other",
] as const;
export type FindingKind = (typeof findingKinds)[number];

/** Milder first: a later one in this list is the worse outcome. */
export const outcomes = ["accept", "watch", "defer", "ground"] as const;
export type Outcome = (typeof outcomes)[number];

/** After how many days or flight hours a watched finding is measured again, whichever comes first; null: not stated. */
export type MeasureAgain = { readonly days: number | null; readonly flight_h: number | null };

export type Judgement = Said & {
  readonly outcome: Outcome;
  readonly role: string;
  readonly words: string;
  readonly deferral: string | null;
  /** Null where nobody stated it. */
  readonly again: MeasureAgain | null;
  /** Reopenings that stood on the screen of whoever judged. */
  readonly seen: readonly EntryId[];
};

/** `value` in `unit` is what is used; `typed` is what was entered, letter for letter. */
export type Measure = { readonly value: number; readonly unit: string; readonly typed: string };

/** Bytes of a photo after scaling, at most: what a weak link carries in a minute. */
export const mostPhotoBytes = 1_500_000;

/** A photo, known by the hash of its bytes; these lie beside the record and may be gone. */
export type PhotoRef = {
  readonly hash: string;
  readonly mime: "image/jpeg";
  readonly bytes: number;
  readonly width_px: number;
  readonly height_px: number;
};

/** The same matter measured again; `hours_h` are the airframe hours then, where known. */
export type Remeasured = Said & {
  readonly measure: Measure;
  readonly hours_h: number | null;
  readonly photos: readonly PhotoRef[];
  readonly words: string;
};

/** What happened to a finding on its way out, besides judgements and closing; `licence` where a release was signed. */
export type LifeStep = Said & {
  readonly step: "toBeFixed" | "fixed" | "released";
  readonly licence: string | null;
  readonly words: string;
};

export const referenceKinds = ["logPage", "workOrder", "other"] as const;
/** Where the same matter stands in somebody else's papers. */
export type ForeignReference = Said & {
  readonly kind: (typeof referenceKinds)[number];
  readonly number: string;
};

/** What belongs to a deferral beside its judgement: procedures done, an extension, the earlier record of the same defect. */
export type DeferralStep = Said &
  (
    | {
        readonly step: "confirmed";
        readonly operational: boolean;
        /** The licence of whoever did the maintenance procedure; null where it was not done. */
        readonly maintenance: string | null;
        readonly logPage: string;
        readonly workOrder: string;
      }
    | {
        readonly step: "extended";
        readonly role: string;
        readonly beyondControl: boolean;
        readonly authorityNotified: boolean;
        readonly planMade: boolean;
        readonly words: string;
      }
    | { readonly step: "reEntered"; readonly firstRecorded_ms: number; readonly words: string }
  );

export type FindingFacts = {
  readonly finding: string;
  readonly raised: Said & {
    readonly kind: FindingKind;
    readonly stop: string;
    readonly item: string | null;
    readonly walk: string | null;
    readonly measure: Measure | null;
    readonly words: string;
    /** The damage limit of the sheet (part and zone) that it falls under; null where none was named. */
    readonly damage: string | null;
    readonly photos: readonly PhotoRef[];
    /** When it was seen, where that was said to lie before the record; deferrals count from the record. */
    readonly seenOn: { readonly at_ms: number; readonly typed: string } | null;
  };
  /** Judgements that stand; more than one where people judged apart. */
  readonly judgements: readonly Judgement[];
  readonly deferralSteps: readonly DeferralStep[];
  readonly seenAgain: readonly (Said & { readonly words: string; readonly photos: readonly PhotoRef[] })[];
  readonly measured: readonly Remeasured[];
  readonly steps: readonly LifeStep[];
  readonly references: readonly ForeignReference[];
  /** `replaces`: the reopenings that stood on the screen and end with it. */
  readonly closed: readonly (Said & {
    readonly role: string;
    readonly words: string;
    readonly replaces: readonly EntryId[];
  })[];
  readonly reopened: readonly (Said & { readonly words: string })[];
};

/** A number read at the craft, with its conditions; `typed` is what was entered, letter for letter. */
export type ReadingFact = Said & {
  readonly gauge: string;
  readonly value: number;
  readonly unit: string;
  readonly typed: string;
  readonly walk: string | null;
  readonly conditions: {
    readonly minutesAfterShutdown?: number;
    readonly oat_C?: number;
    readonly bottle_C?: number;
    readonly hot?: boolean;
    readonly level?: boolean;
  };
  /** Airframe hours at the reading, where known. */
  readonly hours_h: number | null;
  /** Said to be no reading at all, a slip of the finger: kept, never counted again. */
  readonly withdrawn?: Said & { readonly words: string };
};

export type FlightFact = Said & {
  readonly flight: string;
  readonly off_ms: number;
  readonly on_ms: number;
  readonly flight_h: number;
  readonly landings: number;
  readonly hoistCycles: number;
  /** Null where nobody stated them. */
  readonly starts: number | null;
  readonly nightLandings: number | null;
  readonly nvis: boolean | null;
  readonly instrument_min: number | null;
  readonly nightHoistCycles: number | null;
  /** Flights in it: more than one for a series until back at the base, closed together. */
  readonly legs: number;
  /** Whether a limit was exceeded, as its crew answered; null where nobody was asked. What was, stands among the events. */
  readonly exceedance: "none" | "said" | null;
  readonly operation: OperationId;
  readonly crew: readonly PersonId[];
};

/** A flight that took off and that nobody has logged yet. */
export type FlightBegun = Said & {
  readonly flight: string;
  readonly off_ms: number;
  readonly operation: OperationId;
  readonly crew: readonly PersonId[];
};

/** The worksheet of risk of a flight to come, signed by the pilot; `released` where management did. */
export type Worksheet = Said & {
  readonly scores: Readonly<Record<string, number>>;
  /** Whether another operator refused the flight; null where it was not answered. */
  readonly refusedElsewhere: boolean | null;
  readonly mitigation: string;
  readonly released: (Said & { readonly words: string }) | null;
};

/** What somebody says of the sea that is flown over, and of what the people aboard wear. */
export type WaterSaid = Said & {
  readonly seaState: number;
  readonly water_C: number;
  /** Suits worn, or ready to be worn, by those aboard. */
  readonly suits: number;
};

/** Something filled in; `gauge` is null where nobody said which one rises by it, grade and batch where nobody said. */
export type UpliftFact = Said & {
  readonly uplift: string;
  readonly fluid: string;
  readonly gauge: string | null;
  readonly amount: number;
  readonly unit: string;
  readonly typed: string;
  readonly grade: string | null;
  readonly batch: string | null;
  /** Airframe hours when it was filled, where known. */
  readonly hours_h: number | null;
};

/** A person's word on two records that look alike: one matter written twice, or two. `counts`: of one matter, which record. */
export type LookAlikeDecided = Said & {
  readonly matter: "flight" | "uplift";
  readonly one: string;
  readonly other: string;
  readonly says: "same" | "two";
  readonly counts: string | null;
  readonly words: string;
};

/**
 * A word on a gauge by somebody who may: what is asked about these entries is answered, or its trend starts anew from here
 * (an engine changed, a leak mended).
 */
export type LevelSettled = Said & {
  readonly gauge: string;
  readonly settles: "questions" | "trend";
  readonly entries: readonly EntryId[];
  readonly words: string;
};

/** Something that happened to the craft and that the sheet lists (hard landing, lightning, …), until an engineer clears it. */
export type EventFact = Said & {
  readonly event: string;
  readonly words: string;
  /** All that was written to clear it; whose word is enough, the sheet says. */
  readonly cleared: readonly (Said & { readonly role: string; readonly words: string })[];
};

/** Work done at the craft and released to service by who may. */
export type ReleaseFact = Said & {
  readonly licence: string;
  /** Revision of the maintenance data that the work was done by. */
  readonly dataRevision: string;
  /** What may not be done until something else is done; empty for none. */
  readonly limitations: string;
  /** Kinds of flying that the limitations take away, by id. */
  readonly takesAway: readonly OperationId[];
  /** Earlier releases whose limitations end with this one. */
  readonly lifts: readonly EntryId[];
  /** Stops at which work was done. */
  readonly worked: readonly string[];
  readonly words: string;
};

/** A second person's inspection of work that was released, independent of who released it. */
export type InspectionFact = Said & {
  readonly release: EntryId;
  readonly licence: string;
  readonly words: string;
};

/** At which of the operator's bases the craft stands. */
export type BasedFact = Said & { readonly base: string };

/** A pilot's word that no other device was used while this one could not exchange. */
export type ExchangeConfirmed = Said & { readonly words: string };

/**
 * A page that one crew handed to the next, as it was signed: its lines are text, in the language in which they were read.
 * `flightsOpen`: which flights are not logged, in words; empty where the giver says that every one is.
 */
export type HandoverFact = Said & {
  readonly handover: string;
  readonly to: PersonId;
  readonly since_ms: number | null;
  readonly shiftEnds_ms: number;
  readonly changed: readonly string[];
  readonly ending: readonly string[];
  readonly open: readonly string[];
  readonly flightsOpen: string;
  readonly words: string;
  /** Signed by whoever it was for. */
  readonly taken: readonly (Said & { readonly words: string })[];
};

export type CraftState = {
  readonly opened: Opened | null;
  readonly sheets: readonly SheetAdopted[];
  readonly equipment: Readonly<Record<string, readonly EquipmentFact[]>>;
  /** Who has it: more than one where it was recorded apart. */
  readonly custody: readonly CustodyFact[];
  /** Every custody ever taken, in the order of the fold. */
  readonly handovers: readonly CustodyFact[];
  readonly walks: Readonly<Record<string, WalkFacts>>;
  readonly closures: Readonly<Record<string, readonly ClosureFact[]>>;
  readonly findings: Readonly<Record<string, FindingFacts>>;
  /** By gauge, oldest first as folded. */
  readonly readings: Readonly<Record<string, readonly ReadingFact[]>>;
  readonly flights: readonly FlightFact[];
  readonly underway: readonly FlightBegun[];
  readonly worksheets: readonly Worksheet[];
  readonly water: readonly WaterSaid[];
  readonly load: LoadFacts;
  /** Calls as they were answered, the newest last. */
  readonly calls: readonly CallKept[];
  readonly fuelChecks: readonly FuelChecked[];
  readonly fuelFilled: readonly FuelFilled[];
  readonly fuelSampled: readonly FuelSampled[];
  readonly due: DueFacts;
  readonly shifts: readonly Shift[];
  readonly uplifts: readonly UpliftFact[];
  /** Words that stand on records that look alike. */
  readonly lookAlikesDecided: readonly LookAlikeDecided[];
  /** Second records of a flight or an uplift, by such a word: kept, and counted nowhere. */
  readonly flightsTwice: readonly FlightFact[];
  readonly upliftsTwice: readonly UpliftFact[];
  readonly levelsSettled: readonly LevelSettled[];
  readonly events: readonly EventFact[];
  readonly releases: readonly ReleaseFact[];
  readonly inspections: readonly InspectionFact[];
  readonly exchangeConfirmed: readonly ExchangeConfirmed[];
  /** Pages handed over, oldest first as folded. */
  readonly pagesHanded: readonly HandoverFact[];
  /** More than one where it was said apart; none where nobody has said it. */
  readonly based: readonly BasedFact[];
};

export const emptyCraft: CraftState = {
  opened: null,
  sheets: [],
  equipment: {},
  custody: [],
  handovers: [],
  walks: {},
  closures: {},
  findings: {},
  readings: {},
  flights: [],
  underway: [],
  worksheets: [],
  water: [],
  load: nothingLoaded,
  calls: [],
  fuelChecks: [],
  fuelFilled: [],
  fuelSampled: [],
  due: nothingDue,
  shifts: [],
  uplifts: [],
  lookAlikesDecided: [],
  flightsTwice: [],
  upliftsTwice: [],
  levelsSettled: [],
  events: [],
  releases: [],
  inspections: [],
  exchangeConfirmed: [],
  pagesHanded: [],
  based: [],
};
