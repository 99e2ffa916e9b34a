// What the screens see of the device, and what they may ask of it. Screens read a snapshot and call actions; they keep
// no facts of their own, do no arithmetic on time, and never touch the store, the network or a key.
import type {
  ClosureState,
  Conditions,
  CraftState,
  CustodyFact,
  FindingFacts,
  FindingKind,
  ForeignReference,
  HandoverFact,
  InterruptionCause,
  LevelSettled,
  LookAlikeDecided,
  Measure,
  MeasureAgain,
  Outcome,
  PhotoRef,
  ReadingFact,
  ReleaseFact,
  UpliftFact,
  VoidCause,
  WalkKind,
} from "../../core/facts/craft.ts";
import type { CrewRole } from "../../core/facts/crew.ts";
import type { ImportedReading, ImportedUplift } from "../../core/level/level-csv.ts";
import type { JudgingRole } from "../../core/finding/judgement.ts";
import type { StatedLoading } from "../../core/load/judge-loading.ts";
import type { WeighingFact } from "../../core/facts/load.ts";
import type { RuleSetId } from "../../core/rules/cited.ts";
import type { Sheet } from "../../core/sheet/schema.ts";
import type { BaseSky, ObservationFact, StationFact, WeatherSettings } from "../../core/facts/sky.ts";
import type { OperatorSettings } from "../../core/facts/situation.ts";
import type { Situation } from "../../core/facts/situation.ts";
import type { CraftStanding } from "../../core/standing/assess.ts";
import type { fasterThanHands } from "../../core/walk/pace.ts";
import type { OperatorState } from "../../ledger/operator/operator-ledger.ts";
import type { DraftMark, PaperStop, StopDraft } from "../../ledger/craft/recorder.ts";
import type { CraftFall } from "./fall-watch.ts";

export type Person = { readonly id: string; readonly name: string; readonly roles: readonly string[] };

/** How the exchange with the server stands; `failed` is the code of the last failure, null after a success. */
export type ExchangeState = {
  readonly last_ms: number | null;
  readonly unsent: number;
  readonly running: boolean;
  readonly failed: string | null;
  /** Entries that are here of a record that is being fetched for the first time; null when none is. */
  readonly arrived: number | null;
};

/** One line of the ledger as it is shown. */
export type LedgerLine = {
  readonly id: string;
  readonly type: string;
  readonly at_ms: number;
  readonly by: string;
  /** `accepted`, `pending` (not received by the server yet), or the code of why it was set aside. */
  readonly status: string;
  readonly seq: number;
  readonly key: string;
  readonly critical: boolean;
  /** Null once erased, or where it could not be read. */
  readonly body: unknown;
  /** The text of the body as it is stored; empty once erased. */
  readonly said: string;
  readonly after: readonly string[];
};

/** What stands behind one entry, proven on this device when it was asked. */
export type Evidence = {
  /** Envelope and body are what their hashes say. */
  readonly hashes: boolean;
  readonly signed: boolean;
  /** Who vouches for the key: the operator's own key, or a certificate; null when nobody does. */
  readonly voucher:
    | { readonly kind: "root" }
    | {
        readonly kind: "certificate";
        readonly entry: string;
        readonly roles: readonly string[];
        readonly from_ms: number;
      }
    | null;
  readonly revoked_ms: number | null;
  readonly receipt: { readonly received_ms: number; readonly verdict: string; readonly entry: string } | null;
  /** Entries that it names as those before it. */
  readonly before: readonly string[];
  /** Entries that name it, oldest first. */
  readonly namedBy: readonly string[];
};

/** A record proven on this device. Faults speak against it; doubts are entries that stand aside in it. */
export type RecordProof = {
  readonly proven: boolean;
  readonly entries: number;
  readonly faults: readonly { readonly kind: string; readonly code: string; readonly id: string | null }[];
  readonly doubts: readonly { readonly id: string; readonly code: string }[];
  /** How many that entries name are here and what their hash says, how many are not here, how many were erased. */
  readonly photos: { readonly proven: number; readonly missing: number; readonly erased: number };
};

export type AlikeWord = Pick<LookAlikeDecided, "matter" | "one" | "other" | "says" | "counts" | "words">;

export const erasingRoles = ["administrator", "airworthiness"] as const;
export type ErasingRole = (typeof erasingRoles)[number];

export type CraftView = {
  readonly ledger: string;
  readonly name: string;
  readonly sheet: Sheet | null;
  readonly sheetHash: string | null;
  /** The folded record, without drafts. */
  readonly state: CraftState;
  /** What this person has tapped at the stop they stand at, not yet sealed; null when nothing is begun. */
  readonly draft: StopDraft | null;
  /** The base it stands at, with what is recorded of the sky there; null where it is not known at which. */
  readonly sky: BaseSky | null;
  readonly standing: CraftStanding;
  /** What the standing was judged in: the time, the operator's settings, how whole the record is. */
  readonly situation: Situation;
  readonly stateHash: string;
  /** How many entries stand aside. */
  readonly aside: number;
  /** Every entry; null while the older ones have not been read (`readRecord`). */
  readonly lines: readonly LedgerLine[] | null;
};

export type DeviceSnapshot = {
  /** `failed`: the device's store cannot be used; nothing may be called saved. */
  readonly phase: "loading" | "ready" | "failed";
  readonly failure: string | null;
  readonly mode: "demo" | "operator";
  readonly now_ms: number;
  readonly horizon_ms: number;
  readonly zone: string;
  /** The operator's rule set; null where it is not known. */
  readonly ruleSet: RuleSetId | null;
  readonly base: string;
  /** The operator's settings; null where they are missing or contradict each other. */
  readonly settings: OperatorSettings | null;
  /** Every base of the operator, by its ledger. */
  readonly bases: readonly { readonly base: string; readonly name: string }[];
  /** Everyone in the directory as last heard. */
  readonly people: readonly Person[];
  /** Who holds the device now; null until somebody has chosen themselves and given the PIN. */
  readonly me: Person | null;
  readonly craft: readonly CraftView[];
  /** The operator's ledger and what it says. */
  readonly operator: { readonly ledger: string; readonly state: OperatorState };
  readonly exchange: ExchangeState;
  /** What fell of the craft that this person has, until it is acknowledged. */
  readonly falls: readonly CraftFall[];
  /** A newer version of the app waits for consent. */
  readonly updateWaits: boolean;
};

export type PinAnswer =
  | { readonly ok: true }
  | {
      readonly ok: false;
      readonly why: "wrong" | "locked" | "noConnection" | "failed";
      readonly wait_ms: number;
    };

export type NewFinding = {
  readonly kind: FindingKind;
  readonly stop: string;
  readonly item: string | null;
  readonly walk: string | null;
  readonly measure: Measure | null;
  readonly words: string;
  readonly damage?: string | null;
  readonly photos?: readonly PhotoRef[];
  /** Left out, or null: seen now. */
  readonly seenOn?: FindingFacts["raised"]["seenOn"];
  /** It was written in the technical log when it was seen: the days of a deferral count from then. */
  readonly writtenThen?: boolean;
};

export type NewMeasure = {
  readonly measure: Measure;
  readonly photos: readonly PhotoRef[];
  readonly words: string;
};

export type NewReading = Pick<ReadingFact, "value" | "unit" | "typed" | "conditions">;

/** Something filled; when it happened may lie back, so that what was forgotten can be written. */
export type NewUplift = Pick<
  UpliftFact,
  "fluid" | "gauge" | "amount" | "unit" | "typed" | "grade" | "batch" | "at_ms"
>;

/** Readings and uplifts of a file, whole or not at all. */
export type NewLevels = {
  readonly from: string;
  readonly readings: readonly ImportedReading[];
  readonly uplifts: readonly ImportedUplift[];
};

export type LevelWord = Pick<LevelSettled, "gauge" | "settles" | "entries" | "words">;

/** What a commander saw at a place just now, at the base or elsewhere; it counts for `minutes`. */
export type NewObservation = Pick<
  ObservationFact,
  "place" | "ceiling_ft" | "visibility_m" | "weather" | "temperature_C" | "wind"
> & { readonly minutes: number };

export type NewStation = Pick<
  StationFact,
  "station" | "name" | "lat_deg" | "lon_deg" | "elevation_ft" | "gives"
>;

export type NewWeatherLimits = Omit<WeatherSettings, "entry" | "by" | "at_ms">;

export type NewShift = {
  readonly from_ms: number;
  readonly until_ms: number;
  readonly people: readonly {
    readonly person: string;
    readonly roles: readonly CrewRole[];
    readonly lastDutyEnd_ms: number;
  }[];
};

/** Why the record does not take an entry: by which path, what was found and what was wanted. Nothing was written. */
export type SignRefusal = {
  readonly code: string;
  readonly path: string;
  readonly found: string;
  readonly wanted: string;
};

/** Entries that a form signs as they are, besides the actions below. */
export type SignedType =
  | "balance.signed"
  | "counters.stepped"
  | "task.done"
  | "component.fitted"
  | "component.removed"
  | "obligation.set"
  | "deferral.extended"
  | "deferral.reEntered"
  | "flight.dropped"
  | "worksheet.signed"
  | "worksheet.released"
  | "water.said"
  | "paper.recorded"
  | "person.born"
  | "experience.recorded"
  | "rest.recorded"
  | "command.stated"
  | "crewRules.set"
  | "flightRules.set"
  | "minima.settled"
  | "minima.applied"
  | "call.kept"
  | "fuel.checked"
  | "fuel.filled"
  | "fuel.sampled"
  | "fuel.schemeSet"
  | "tank.described"
  | "tank.delivered"
  | "tank.checked"
  | "tank.filterChanged"
  | "tank.shut"
  | "tank.opened"
  | "tank.drawn"
  | "sites.proposed"
  | "sites.released"
  | "sites.declined"
  | "site.noticed";

export type NewFlight = {
  /** Of a flight that was begun; null for one that nobody announced. */
  readonly flight: string | null;
  readonly off_ms: number;
  readonly on_ms: number;
  readonly flight_h: number;
  /** More than one for a series until back at the base. */
  readonly legs: number;
  readonly landings: number;
  readonly nightLandings: number;
  readonly starts: number;
  readonly hoistCycles: number;
  readonly nightHoistCycles: number;
  /** Null: not answered. */
  readonly exceedance: "none" | { readonly event: string | null; readonly words: string } | null;
  readonly instrument_min: number;
  readonly nvis: boolean;
  readonly operation: string;
  readonly crew: readonly string[];
};

export type ProceduresDone = {
  readonly operational: boolean;
  readonly maintenance: string | null;
  readonly logPage: string;
  readonly workOrder: string;
};

export type NewWeighing = Pick<WeighingFact, "mass_kg" | "x_m" | "y_m" | "included" | "role" | "report">;

export type NewHandover = Pick<CustodyFact, "custody" | "words" | "expectedEnd_ms">;

/** A page as it was read and is signed: see HandoverFact. */
export type NewPage = Pick<
  HandoverFact,
  "to" | "since_ms" | "shiftEnds_ms" | "changed" | "ending" | "open" | "flightsOpen" | "words"
>;

/** Work that an engineer releases; `opened`: closures that it left other than for flight. */
export type NewRelease = Pick<
  ReleaseFact,
  "licence" | "dataRevision" | "limitations" | "takesAway" | "lifts" | "worked" | "words"
> & { readonly opened: readonly string[] };

export type OwnPace = NonNullable<ReturnType<typeof fasterThanHands>>;

/** The plan's hash, as in the entry that begins a walk, and the code by which a paper is typed in. */
export type PaperHead = { readonly plan: string; readonly code: string };

export type PaperWalk = {
  readonly kind: WalkKind;
  readonly conditions: Conditions;
  readonly begun_ms: number;
  readonly ended_ms: number;
  readonly stops: readonly PaperStop[];
};

/** Every action resolves once what it says is durable on this device; it rejects, with nothing half done, if it is not. */
export interface Device {
  snapshot(): DeviceSnapshot;
  subscribe(listener: () => void): () => void;

  /** Becomes this person on this device: enrols with the server the first time, checks the PIN locally afterwards. */
  enter(person: string, pin: string): Promise<PinAnswer>;
  leave(): Promise<void>;
  /** The PIN again, before a signature. */
  checkPin(pin: string): Promise<PinAnswer>;

  exchangeNow(): Promise<void>;
  confirmExchange(ledger: string, words: string): Promise<void>;
  takeUpdate(): void;
  /** Somebody has seen what fell. */
  acknowledgeFalls(): void;

  /** Records a report of the weather at a base, as it was typed or pasted; `instead` of reports that were mistyped. */
  hearReport(
    base: string,
    text: string,
    source: "typed" | "pasted",
    instead: readonly string[],
  ): Promise<void>;
  observe(base: string, seen: NewObservation): Promise<void>;
  /** Takes a typed report, or one's own observation, back, with why. */
  withdrawWeather(base: string, entry: string, why: string): Promise<void>;
  /** Describes a station that speaks for a base; takes the place of what was said of it before. */
  describeStation(base: string, station: NewStation): Promise<void>;
  /** Sets the limits by which weather is judged at a base; takes the place of all that stood. */
  setWeatherLimits(base: string, limits: NewWeatherLimits): Promise<void>;
  /** Says at which of the operator's bases the craft stands. */
  assignBase(ledger: string, base: string): Promise<void>;

  /** Reads all entries of a craft, so that its view has `lines`. */
  readRecord(ledger: string): Promise<void>;
  /** Of one entry that is held here; null for another. */
  evidence(ledger: string, id: string): Promise<Evidence | null>;
  /** Proves what is held of a craft and of the operator: hashes, signatures, chains, certificates. */
  prove(ledger: string): Promise<RecordProof>;
  /** The same entries as lines that prove themselves elsewhere, with the photos that are on this device. */
  exportRecord(ledger: string): Promise<string>;
  /** Somebody with the role has dealt with entries that stand aside. */
  settleAside(ledger: string, entries: readonly string[], words: string): Promise<void>;
  /** Of two entries that one key wrote in one place, the one that counts. */
  decideFork(ledger: string, counts: string, words: string): Promise<void>;
  decideAlike(ledger: string, word: AlikeWord): Promise<void>;
  /**
   * Erases what an entry says, and the photos that it alone names, for good, here and wherever this is heard; that it was
   * there stays.
   */
  eraseEntry(ledger: string, entry: string, role: ErasingRole, legalReason: string): Promise<void>;
  /** Erases the bytes of a photo; what entries say of it stays. */
  erasePhoto(ledger: string, photo: string, role: ErasingRole, legalReason: string): Promise<void>;

  takeOver(ledger: string, people: readonly string[]): Promise<void>;
  /** Gives the craft to maintenance, or takes it out of service. */
  handOver(ledger: string, handover: NewHandover): Promise<void>;
  /** Signs the page for the next crew. */
  givePage(ledger: string, page: NewPage): Promise<void>;
  /** Signs a page that was given to this person as read. */
  takePage(ledger: string, given: string, words: string): Promise<void>;
  releaseWork(ledger: string, release: NewRelease): Promise<void>;
  inspectWork(ledger: string, release: string, licence: string, words: string): Promise<void>;
  /** Who is on duty with the craft; takes the place of the shifts that stood on the screen. */
  declareShift(ledger: string, shift: NewShift): Promise<void>;
  /** It has just taken off. */
  beginFlight(ledger: string, operation: string, crew: readonly string[]): Promise<SignRefusal | null>;
  /** A flight, or a series, as its crew state it. */
  logFlight(ledger: string, flight: NewFlight): Promise<SignRefusal | null>;
  /** Another word on a flight that was logged: what takes its place, or null where it was not flown. */
  correctFlight(
    ledger: string,
    replaced: string,
    instead: NewFlight | null,
    why: string,
  ): Promise<SignRefusal | null>;
  /**
   * Signs one entry of a craft's, a base's or the operator's ledger as a form has it, with the time of now unless it says
   * when it happened. Answers with why it would
   * not count; then nothing is written, and what was typed stands.
   */
  sign(ledger: string, type: SignedType, body: object): Promise<SignRefusal | null>;
  /** Procedures of a deferral, done and by whom. */
  confirmDeferral(ledger: string, finding: string, done: ProceduresDone): Promise<void>;

  beginWalk(ledger: string, kind: WalkKind, conditions: Conditions): Promise<string>;
  /** Stands at a stop: seals the draft of another stop first. */
  arriveAt(ledger: string, walk: string, stop: string): Promise<void>;
  markItem(ledger: string, item: string, mark: DraftMark | null): Promise<void>;
  /** Marks several items of the stop good at once: those that the sheet lets go together. */
  sweep(ledger: string, items: readonly string[]): Promise<void>;
  setClosure(ledger: string, closure: string, state: ClosureState): Promise<void>;
  read(ledger: string, gauge: string, reading: NewReading): Promise<void>;
  fill(ledger: string, uplift: NewUplift): Promise<void>;
  importLevels(ledger: string, levels: NewLevels): Promise<void>;
  /** An engineer's word: questions about these entries are answered, or the trend starts anew. */
  settleLevel(ledger: string, word: LevelWord): Promise<void>;
  /** Takes a reading back as mistyped; `reading` is the entry that it came with. */
  withdrawReading(ledger: string, gauge: string, reading: string, words: string): Promise<void>;
  /** Seals the draft of the stop, if there is one. */
  leaveStop(ledger: string): Promise<void>;
  /** Takes marks of this person back that are sealed into pages already. */
  takeBack(ledger: string, walk: string, items: readonly string[]): Promise<void>;
  /** It is like this outside now, other than when the walk began. */
  weatherChanged(ledger: string, walk: string, conditions: Conditions): Promise<void>;
  voidWalk(ledger: string, walk: string, cause: VoidCause, words: string): Promise<void>;
  /** How fast this person marks, where that is faster than hands move. Kept on this device, in memory, and nowhere else. */
  pace(ledger: string): OwnPace | null;
  /** What stands at the head of the paper of this plan, as it would be printed now. */
  paperHead(ledger: string, kind: WalkKind, conditions: Conditions): PaperHead | null;
  /** A walk that was made on paper, whole. */
  typeWalk(ledger: string, walk: PaperWalk): Promise<void>;
  interrupt(ledger: string, walk: string, cause: InterruptionCause, words: string): Promise<void>;
  resume(ledger: string, walk: string): Promise<void>;
  /** Finishes and signs; refuses while an item is blank or a closure stands open. */
  finishWalk(ledger: string, walk: string): Promise<void>;

  raiseFinding(ledger: string, finding: NewFinding): Promise<string>;
  judgeFinding(
    ledger: string,
    finding: string,
    judgement: {
      readonly outcome: Outcome;
      readonly role: JudgingRole;
      readonly words: string;
      readonly deferral: string | null;
      readonly again: MeasureAgain | null;
    },
  ): Promise<void>;
  seenAgain(ledger: string, finding: string, words: string, photos: readonly PhotoRef[]): Promise<void>;
  measureFinding(ledger: string, finding: string, measured: NewMeasure): Promise<void>;
  referFinding(
    ledger: string,
    finding: string,
    kind: ForeignReference["kind"],
    number: string,
  ): Promise<void>;
  /** Work on it planned, done, released; a release with its licence. */
  stepFinding(
    ledger: string,
    finding: string,
    step: "plan" | "fix" | "release",
    words: string,
    licence: string | null,
  ): Promise<void>;
  closeFinding(ledger: string, finding: string, role: JudgingRole, words: string): Promise<void>;
  reopenFinding(ledger: string, finding: string, words: string): Promise<void>;
  /** Scales a picture and keeps it on this device; rejects with PhotoRefused, which names the file. */
  keepPhoto(file: File): Promise<PhotoRef>;
  /** An address under which a photo of the record can be shown; null where it cannot be had now. */
  photoUrl(hash: string): Promise<string | null>;
  /** Whether somebody with the role erased it: then nobody has it any more. */
  isPhotoErased(hash: string): boolean;
  noteEvent(ledger: string, event: string, words: string): Promise<void>;
  clearEvent(ledger: string, noted: string, role: JudgingRole, words: string): Promise<void>;

  /** Says what is on board today; `replaces` are the entries that stood on the screen when it was begun. */
  sayLoading(ledger: string, loading: StatedLoading, replaces: readonly string[]): Promise<void>;
  /** A piece of the load was left behind, or is back aboard. */
  moveKit(ledger: string, kit: string, aboard: boolean, replaces: readonly string[]): Promise<void>;
  /** The craft as weighed just now, by who may sign it. */
  recordWeighing(ledger: string, weighing: NewWeighing, replaces: readonly string[]): Promise<void>;
}
