// The device: what it keeps, who holds it, and every action of the screens. One turn after another; a turn that writes
// holds a lock shared by all windows of this device, reads what another window wrote meanwhile, and only then seals, so
// that one key never writes two entries in one place. Nothing is shown as done before it is on the disk.
import { hour_ms, minute_ms } from "../../core/facts/instant.ts";
import { horizon_h } from "../../core/facts/situation.ts";
import type {
  ClosureState,
  Conditions,
  FindingFacts,
  ForeignReference,
  InterruptionCause,
  PhotoRef,
  VoidCause,
  WalkFacts,
  WalkKind,
} from "../../core/facts/craft.ts";
import { wordsOn } from "../../core/facts/look-alikes.ts";
import { own } from "../../core/facts/own.ts";
import { airframeHours } from "../../core/level/airframe-hours.ts";
import type { JudgingRole } from "../../core/finding/judgement.ts";
import type { StatedLoading } from "../../core/load/judge-loading.ts";
import { planOf, planToHash, planWalk } from "../../core/walk/plan.ts";
import type { WalkPlan } from "../../core/walk/plan.ts";
import { finishHindrances, walkProgress } from "../../core/walk/progress.ts";
import { fasterThanHands } from "../../core/walk/pace.ts";
import type { OwnTap } from "../../core/walk/pace.ts";
import { paperCode } from "../../core/walk/paper-code.ts";
import { reopenedOnResume, standingInterruption, walkedAway } from "../../core/walk/resume.ts";
import { msToInstant } from "../../core/facts/instant.ts";
import { makeKey, signerOf, webVerifier } from "../../crypto/web.ts";
import { canonicalText } from "../../ledger/canonical.ts";
import { hashText } from "../../ledger/crypto.ts";
import { baseLedger } from "../../ledger/base/base-ledger.ts";
import { systemRoles } from "../../ledger/system-entries.ts";
import { craftLedger } from "../../ledger/craft/craft-ledger.ts";
import {
  closureBody,
  emptyDraft,
  isEmptyDraft,
  pageBody,
  paperPages,
  takenBackBody,
  tapped,
} from "../../ledger/craft/recorder.ts";
import type { DraftMark, StopDraft, Tap } from "../../ledger/craft/recorder.ts";
import type { StoredEntry } from "../../ledger/entry.ts";
import { isRefusal } from "../../ledger/entry-type.ts";
import type { LedgerFold } from "../../ledger/ledger-fold.ts";
import type { BaseHeld } from "../../ledger/base/base-held.ts";
import { isOpened, isSigned, openEntry } from "../../ledger/open.ts";
import { operatorLedger, settingsInForce } from "../../ledger/operator/operator-ledger.ts";
import type { OperatorState } from "../../ledger/operator/operator-ledger.ts";
import { writeNext } from "../../ledger/write-next.ts";
import { IndexedDbStore } from "../../store/indexeddb.ts";
import { StoreError } from "../../store/store-error.ts";
import type { Page } from "../../store/store.ts";
import { CallError, Exchanger } from "../../sync/exchanger.ts";
import type { Screened } from "../../sync/exchanger.ts";
import type { DeviceState } from "../../sync/device.ts";
import type { Sheet } from "../../core/sheet/schema.ts";
import { CraftBook } from "./craft-book.ts";
import { FallWatch } from "./fall-watch.ts";
import type { KnownToBook } from "./craft-book.ts";
import type { Judging } from "./judging.ts";
import { Keys, newSalt, pinHash } from "./keys.ts";
import type { Enrolment } from "./keys.ts";
import type {
  AlikeWord,
  CraftView,
  Device,
  DeviceSnapshot,
  ErasingRole,
  Evidence,
  RecordProof,
  LevelWord,
  NewFinding,
  NewMeasure,
  NewFlight,
  NewObservation,
  NewLevels,
  NewPage,
  NewReading,
  NewUplift,
  NewWeighing,
  NewShift,
  NewStation,
  NewWeatherLimits,
  Person,
  PinAnswer,
  NewHandover,
  NewRelease,
  OwnPace,
  PaperHead,
  PaperWalk,
  ProceduresDone,
  SignRefusal,
  SignedType,
} from "./model.ts";
import type { Photos } from "./photos.ts";
import { enrol, exchangeCall, fetchSheet, hello, ServerRefusal } from "./server-calls.ts";
import type { Hello } from "./server-calls.ts";

/** What somebody may not record in any of their roles: it would be set aside, so it is not written at all. */
export class NotYours extends Error {
  override readonly name = "NotYours";
  constructor(type: string, roles: readonly string[], wanted: readonly string[]) {
    super(`${type} is signed as ${wanted.join(" or ")}; this person is ${roles.join(" and ") || "nothing"}`);
  }
}

/** A walk cannot be finished: what is blank and what stands open, by id. Screens say it by name. */
export class NotFinished extends Error {
  override readonly name = "NotFinished";
  readonly blank: readonly string[];
  readonly open: readonly string[];
  constructor(blank: readonly string[], open: readonly string[]) {
    super(`the walk has ${blank.length} items unmarked and ${open.length} closures open`);
    this.blank = blank;
    this.open = open;
  }
}

const writeLock = "preen-write";
const otherWindows = "preen-windows";
const tick_ms = 15_000;
const exchangeEvery_ms = 60_000;

const randomHex = (digits: number): string =>
  [...crypto.getRandomValues(new Uint8Array(digits / 2))]
    .map((byte) => byte.toString(16).padStart(2, "0"))
    .join("");

export type AppDeviceOptions = {
  readonly clock_ms: () => number;
  /** Takes the waiting version of the app over; null where there is none. */
  readonly takeUpdate: () => void;
};

type Session = { readonly person: Person; readonly enrolment: Enrolment };

type KnownHere = KnownToBook & {
  readonly operator: OperatorState;
  readonly setAside: DeviceState["setAside"] | null;
  /** How many sheets are held; they only ever come. */
  readonly sheets: number;
};

export class AppDevice implements Device {
  readonly #store: IndexedDbStore;
  readonly #keys: Keys;
  readonly #options: AppDeviceOptions;
  readonly #book = new CraftBook();
  readonly #sheets = new Map<string, Sheet>();
  readonly #drafts = new Map<string, StopDraft>();
  readonly #listeners = new Set<() => void>();
  readonly #windows = new BroadcastChannel(otherWindows);
  /** Single marks at the stop at hand with their times: for this person's own pace, never kept and never sent. */
  readonly #taps: OwnTap[] = [];
  #judging: Judging | null = null;
  #hello: Hello | null = null;
  #session: Session | null = null;
  #exchanger: Exchanger | null = null;
  #photos: Promise<Photos> | null = null;
  #position = 0;
  /** Positions of entries by keys of this device that the exchange has not looked at yet. */
  #written: readonly number[] = [];
  #ownKeys: ReadonlySet<string> = new Set();
  #known: KnownHere | null = null;
  /** Why the store cannot be used any more; from then on nothing is shown as kept. */
  #failure: string | null = null;
  #turn: Promise<unknown> = Promise.resolve();
  readonly #watch = new FallWatch();
  #lineTimer: ReturnType<typeof setTimeout> | null = null;
  #snapshot: DeviceSnapshot;
  #updateWaits = false;
  #wakeTimer: ReturnType<typeof setTimeout> | null = null;

  private constructor(store: IndexedDbStore, keys: Keys, options: AppDeviceOptions) {
    this.#store = store;
    this.#keys = keys;
    this.#options = options;
    this.#snapshot = this.#look("loading", true);
  }

  /** Opens the device's own store and reads everything in it. Rejects (StoreError) when it cannot be used. */
  static async open(options: AppDeviceOptions): Promise<AppDevice> {
    const device = new AppDevice(await IndexedDbStore.open("preen-device"), await Keys.open(), options);
    await device.#readAll();
    device.#listen();
    void device.#greet();
    return device;
  }

  // --- what screens read -------------------------------------------------------------------------------------------

  snapshot(): DeviceSnapshot {
    return this.#snapshot;
  }

  subscribe(listener: () => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  announceUpdate(): void {
    this.#updateWaits = true;
    this.#show();
  }

  #now_ms(): number {
    return Math.max(this.#options.clock_ms(), this.#book.latestReceipt_ms() ?? 0);
  }

  /**
   * What views are computed from besides the record: one object as long as nothing in it changes, so that a tap computes
   * no standing anew. `later`: the clock moves on as well.
   */
  #renewKnown(later: boolean): KnownHere {
    const state = this.#exchanger?.state ?? null;
    const next: KnownHere = {
      now_ms: later || this.#known === null ? this.#now_ms() : this.#known.now_ms,
      operator: this.#book.operator,
      settings: settingsInForce(this.#book.operator),
      exchanged_ms: state?.lastDone?.device_ms ?? null,
      unsent: this.#unsent(state),
      setAside: state?.setAside ?? null,
      sheets: this.#sheets.size,
      sheetOf: (hash: string) => this.#sheets.get(hash) ?? null,
      bases: this.#book.bases,
      judge: this.#judging?.judge ?? null,
      standingOf: this.#judging?.standingOf ?? null,
      fleet: this.#book.fleet,
    };
    const before = this.#known;
    const isSame =
      before !== null &&
      before.now_ms === next.now_ms &&
      before.operator === next.operator &&
      before.exchanged_ms === next.exchanged_ms &&
      before.unsent === next.unsent &&
      before.setAside === next.setAside &&
      before.sheets === next.sheets &&
      before.bases === next.bases &&
      before.fleet === next.fleet &&
      before.judge === next.judge;
    if (!isSame) this.#known = next;
    return isSame ? before : next;
  }

  /** Entries that have not gone up: those that the exchange knows of, and those of ours that it has not looked at yet. */
  #unsent(state: DeviceState | null): number {
    if (state === null) return this.#written.length;
    this.#written = this.#written.filter((position) => position > state.scanned);
    return state.pending.length + this.#written.length;
  }

  #look(phase: DeviceSnapshot["phase"], later: boolean): DeviceSnapshot {
    const known = this.#renewKnown(later);
    const { now_ms, settings, exchanged_ms, unsent } = known;
    const isJudged = this.#session === null || this.#judging !== null;
    const state = this.#exchanger?.state ?? null;
    const failed = state?.last != null && state.last.ending !== "done" && state.last.ending !== "stopped";
    return {
      phase: this.#failure === null ? (isJudged ? phase : "loading") : "failed",
      failure: this.#failure,
      mode: this.#hello?.mode ?? "demo",
      now_ms,
      horizon_ms: now_ms + horizon_h * hour_ms,
      zone: settings?.zone ?? "UTC",
      ruleSet: settings?.ruleSet ?? null,
      base: this.#hello?.bases[0]?.name ?? "",
      settings,
      bases: known.bases.map(({ base, held }) => ({ base, name: held?.described.name ?? base })),
      people: this.#hello?.people ?? [],
      me: this.#session?.person ?? null,
      craft: this.#book.ledgers.map((ledger) => this.#book.view(ledger, this.#draftOf(ledger), known)),
      operator: { ledger: this.#book.operatorFold?.ledger ?? "", state: known.operator },
      exchange: {
        last_ms: exchanged_ms,
        unsent,
        running: state !== null && state.phase.kind !== "idle",
        failed: failed ? (state.last?.ending ?? null) : null,
      },
      falls: this.#watch.falls,
      updateWaits: this.#updateWaits,
    };
  }

  /** `later`: time has passed as well. `written`: what is new was written here just now. */
  #show(later = true, written = false): void {
    this.#snapshot = this.#look("ready", later);
    if (later && this.#judging !== null) this.#watchMine(written);
    for (const listener of this.#listeners) listener();
    if (later) this.#wakeAtNextChange();
  }

  /** Sees what fell of the craft that this person has. */
  #watchMine(written: boolean): void {
    const me = this.#session?.person.id;
    if (me === undefined) return;
    const mine = this.#snapshot.craft.filter(({ state }) =>
      state.custody.some(({ custody, people }) => custody === "crew" && people.includes(me)),
    );
    const before = this.#watch.falls;
    this.#watch.look(mine, written);
    if (this.#watch.falls !== before) this.#snapshot = { ...this.#snapshot, falls: this.#watch.falls };
  }

  /** Shows the standings anew at the very instant at which the next of them changes, where that is before the next tick. */
  #wakeAtNextChange(): void {
    if (this.#lineTimer !== null) clearTimeout(this.#lineTimer);
    this.#lineTimer = setTimeout(() => {
      if (this.#session === null || this.#judging === null) return;
      const now_ms = this.#now_ms();
      const changes = this.#snapshot.craft.flatMap(({ standing }) =>
        standing.operations.flatMap(({ next }) => next?.at_ms ?? []),
      );
      const wait_ms = Math.min(...changes) - now_ms;
      if (wait_ms > tick_ms) return;
      this.#lineTimer = setTimeout(() => this.#show(), Math.max(0, wait_ms));
    });
  }

  acknowledgeFalls(): void {
    this.#watch.acknowledge();
    this.#show(false);
  }

  #view(ledger: string): CraftView {
    const view = this.#snapshot.craft.find((craft) => craft.ledger === ledger);
    if (view === undefined) throw new Error(`this device holds no craft ${ledger}`);
    return view;
  }

  // --- turns ---------------------------------------------------------------------------------------------------------

  /** One action after another, in this window and across windows. */
  #inTurn<Result>(work: () => Promise<Result>): Promise<Result> {
    return this.#afterThose(() => navigator.locks.request(writeLock, work));
  }

  /** After the actions before it in this window. A store that fails is said, whoever asked. */
  #afterThose<Result>(work: () => Promise<Result>): Promise<Result> {
    const turn = this.#turn.then(work);
    this.#turn = turn.catch((error: unknown) => {
      if (!(error instanceof StoreError)) return;
      this.#failure = error.message;
      this.#show();
    });
    return turn;
  }

  /** Who judges comes once somebody has the device: half of the app, and not needed to ask who is there. */
  async #bringJudges(): Promise<void> {
    try {
      this.#judging ??= (await import("./judging.ts")).judging;
    } catch {
      // Not at hand: nothing is shown until it is (phase "loading"), and every tick asks again.
    }
  }

  async #readAll(): Promise<void> {
    const text = await this.#store.readNote("hello");
    if (text !== null) this.#hear(JSON.parse(text) as Hello);
    await this.#readKeys();
    await this.#catchUp();
    for (const hash of this.#book.sheetsWanted()) await this.#takeSheetFromNote(hash);
    await this.#readDrafts();
    await this.#resumeSession();
    await this.#startExchange();
    this.#show();
    if (this.#session !== null) void this.#bringJudges().then(() => this.#show());
  }

  async #readKeys(): Promise<void> {
    this.#ownKeys = new Set((await this.#keys.all()).map(({ key }) => key.publicKey));
  }

  /** Folds what the store got since we last looked, from the exchange or from another window. */
  async #catchUp(): Promise<void> {
    for (;;) {
      const page = await this.#store.since(this.#position, 2_000);
      if (page.rows.length > 0) this.#take(page.rows);
      this.#position = page.next;
      if (!page.more) break;
    }
    // What was erased by right must not live on here.
    const ids = this.#book.bodiesToErase();
    if (ids.length === 0) return;
    await this.#store.erase(ids);
    this.#book.bodiesErased(ids);
  }

  #take(rows: Page["rows"]): void {
    const opened = this.#book.add(rows.map(({ entry }) => entry));
    const ours = rows.filter((_, index) => this.#ownKeys.has(opened[index]?.envelope.key ?? ""));
    this.#written = [...this.#written, ...ours.map(({ position }) => position)];
  }

  async #readDrafts(): Promise<void> {
    const held = await this.#store.drafts("walk/");
    // In one step: a look at the device in between would show a walk at no stop.
    this.#drafts.clear();
    for (const { name, text } of held) this.#drafts.set(name, JSON.parse(text) as StopDraft);
  }

  #listen(): void {
    this.#windows.addEventListener("message", () => {
      void this.#inTurn(async () => {
        await this.#catchUp();
        await this.#readDrafts();
        this.#show();
      });
    });
    setInterval(() => {
      this.#leaveBehind();
      if (this.#session === null || this.#judging !== null) this.#show();
      else void this.#bringJudges().then(() => this.#show());
    }, tick_ms);
    setInterval(() => void this.#exchanger?.wake().then(() => this.#sendPhotos()), exchangeEvery_ms);
    addEventListener("online", () => void this.#greet());
    // A try that must fail says so at once, and not only at the next usual one.
    addEventListener("offline", () => void this.#exchanger?.wake(true));
    document.addEventListener("visibilitychange", () => {
      if (document.visibilityState === "visible") void this.#greet();
    });
  }

  // --- exchange ------------------------------------------------------------------------------------------------------

  async #startExchange(): Promise<void> {
    this.#exchanger = await Exchanger.start({
      log: {
        append: async (entries) => {
          const appended = await this.#store.append(entries);
          void this.#inTurn(async () => {
            await this.#catchUp();
            await this.#freezeDrafts();
            this.#show();
          });
          return appended;
        },
        since: (position, limit) => this.#store.since(position, limit),
        get: (id) => this.#store.get(id),
        readNote: (name) => this.#store.readNote(name),
        writeNote: (name, text) => this.#store.writeNote(name, text),
      },
      call: async (call) => {
        const enrolment = this.#session?.enrolment ?? (await this.#keys.all())[0];
        if (enrolment === undefined) throw new CallError("stopped");
        return exchangeCall(call, enrolment.token);
      },
      screen: screenEntries,
      now_ms: () => this.#options.clock_ms(),
      chance: Math.random,
      wakeAt: (at_ms) => {
        if (this.#wakeTimer !== null) clearTimeout(this.#wakeTimer);
        this.#wakeTimer = setTimeout(
          () => void this.#exchanger?.wake(),
          Math.max(0, at_ms - this.#options.clock_ms()),
        );
      },
      onChange: () => this.#show(false),
    });
  }

  #hear(heard: Hello): void {
    this.#hello = heard;
    if (heard.operator !== null) this.#book.pin(heard.operator.publicKey);
  }

  /** Hears who is there, then exchanges, then fetches the sheets that are missing. No connection is no error. */
  async #greet(): Promise<void> {
    try {
      const heard = await hello();
      const held = this.#hello?.operator?.publicKey;
      // Another root key is another operator: this device's record must not be mixed with theirs.
      if (held !== undefined && held !== heard.operator?.publicKey) return;
      this.#hear(heard);
      await this.#store.writeNote("hello", JSON.stringify(heard));
      this.#show();
    } catch (error) {
      if (!(error instanceof CallError) && !(error instanceof ServerRefusal)) throw error;
      // An exchange that must fail says so: a page that was opened without a network tells it at once.
      if (this.#ownKeys.size > 0) await this.#exchanger?.wake(true);
      return;
    }
    if ((await this.#keys.all()).length === 0) return;
    await this.#exchanger?.wake(true);
    await this.#turn;
    await this.#fetchSheets();
    await this.#sendPhotos();
  }

  async #fetchSheets(): Promise<void> {
    for (const hash of this.#book.sheetsWanted()) {
      if (this.#sheets.has(hash)) continue;
      try {
        const sheet = await fetchSheet(hash);
        const text = canonicalText(sheet);
        // Only what the signed record names by its hash is a sheet.
        if (hashText(webVerifier.sha256, text) !== hash) continue;
        await this.#store.writeNote(`sheet/${hash}`, text);
        this.#sheets.set(hash, sheet as Sheet);
      } catch (error) {
        if (!(error instanceof CallError) && !(error instanceof ServerRefusal)) throw error;
      }
    }
    this.#show();
  }

  async #takeSheetFromNote(hash: string): Promise<void> {
    const text = await this.#store.readNote(`sheet/${hash}`);
    if (text !== null && hashText(webVerifier.sha256, text) === hash)
      this.#sheets.set(hash, JSON.parse(text) as Sheet);
  }

  exchangeNow(): Promise<void> {
    return this.#greet();
  }

  // --- who holds the device --------------------------------------------------------------------------------------------

  async enter(id: string, pin: string): Promise<PinAnswer> {
    const person = this.#hello?.people.find((candidate) => candidate.id === id);
    if (person === undefined) return { ok: false, why: "failed", wait_ms: 0 };
    const held = await this.#keys.of(id);
    if (held !== null) {
      const { right, wait_ms } = await this.#keys.check(held, pin, this.#options.clock_ms());
      if (!right) return { ok: false, why: wait_ms > 0 ? "locked" : "wrong", wait_ms };
      await this.#begin(person, held);
      return { ok: true };
    }
    return this.#enrol(person, pin);
  }

  async #enrol(person: Person, pin: string): Promise<PinAnswer> {
    const key = await makeKey();
    const pinSalt = newSalt();
    try {
      const body = {
        person: person.id,
        pin,
        publicKey: key.publicKey,
        deviceName: navigator.userAgent.slice(0, 80),
      };
      const { token } = await enrol(body);
      const hash = await pinHash(pin, pinSalt);
      const enrolment = {
        person: person.id,
        key,
        token,
        pinSalt,
        pinHash: hash,
        wrong: 0,
        lockedUntil_ms: 0,
      };
      await this.#keys.put(enrolment);
      await this.#begin(person, enrolment);
      // Not waited for: who has the device may go on while the record arrives.
      void this.#greet();
      return { ok: true };
    } catch (error) {
      if (error instanceof CallError) return { ok: false, why: "noConnection", wait_ms: 0 };
      if (!(error instanceof ServerRefusal)) throw error;
      const { code, retryAfter_s = 0 } = error.problem;
      if (code === "pinWrong") return { ok: false, why: "wrong", wait_ms: 0 };
      return { ok: false, why: code === "pinLocked" ? "locked" : "failed", wait_ms: retryAfter_s * 1_000 };
    }
  }

  async #begin(person: Person, enrolment: Enrolment): Promise<void> {
    this.#session = { person, enrolment };
    this.#watch.forget();
    await Promise.all([this.#readKeys(), this.#bringJudges()]);
    await this.#store.writeNote("me", person.id);
    this.#show();
    void this.#exchanger?.wake(true);
  }

  /** The person who held the device before a reload still holds it; a signature asks for the PIN all the same. */
  async #resumeSession(): Promise<void> {
    const id = await this.#store.readNote("me");
    const person = this.#hello?.people.find((candidate) => candidate.id === id);
    const enrolment = id === null ? null : await this.#keys.of(id);
    if (person !== undefined && enrolment !== null) this.#session = { person, enrolment };
  }

  /** Who gives the device away leaves the stop: what was marked there must be on the next person's screen. */
  async leave(): Promise<void> {
    if (this.#session === null) return;
    await this.#record(async () => {
      for (const ledger of this.#book.ledgers) await this.#sealDraft(ledger, "left");
      await this.#store.writeNote("me", null);
      this.#session = null;
      this.#watch.forget();
    });
  }

  async checkPin(pin: string): Promise<PinAnswer> {
    const { person } = this.#mySession();
    const held = await this.#keys.of(person.id);
    if (held === null) return { ok: false, why: "failed", wait_ms: 0 };
    const { right, wait_ms } = await this.#keys.check(held, pin, this.#options.clock_ms());
    return right ? { ok: true } : { ok: false, why: wait_ms > 0 ? "locked" : "wrong", wait_ms };
  }

  #mySession(): Session {
    if (this.#session === null) throw new Error("nobody holds this device");
    return this.#session;
  }

  takeUpdate(): void {
    this.#options.takeUpdate();
  }

  // --- writing ---------------------------------------------------------------------------------------------------------

  /** Seals one entry and stores it. Only inside a turn. */
  async #write(ledger: string, type: string, body: unknown): Promise<void> {
    await this.#catchUp();
    await this.#store.append([await this.#seal(ledger, type, body)]);
    await this.#catchUp();
  }

  async #seal(ledger: string, type: string, body: unknown): Promise<StoredEntry> {
    const { person, enrolment } = this.#mySession();
    const wanted =
      [...craftLedger.types, ...baseLedger.types, ...operatorLedger.types].find((kind) => kind.type === type)
        ?.roles ?? systemRoles(type);
    if (!wanted.some((role) => person.roles.includes(role))) throw new NotYours(type, person.roles, wanted);
    const sheet = this.#snapshot.craft.find((craft) => craft.ledger === ledger)?.sheetHash;
    const at_ms = this.#now_ms();
    const next = {
      ledger,
      type,
      body,
      by: person.id,
      at_ms,
      basis: sheet == null ? {} : { sheet },
      salt: randomHex(32),
    };
    const signer = signerOf(enrolment.key);
    const { operatorFold } = this.#book;
    if (operatorFold !== null && ledger === operatorFold.ledger)
      return writeNext(operatorFold.fold, next, signer, webVerifier.sha256);
    return ledger.startsWith("base:")
      ? writeNext(this.#book.baseFold(ledger), next, signer, webVerifier.sha256)
      : writeNext(this.#book.fold(ledger), next, signer, webVerifier.sha256);
  }

  /** A turn that writes: shows the result, tells other windows, and offers it to the server. */
  #record<Result>(work: () => Promise<Result>): Promise<Result> {
    return this.#inTurn(async () => {
      // Another window may have tapped: what it kept is sealed, not what this one remembers.
      await this.#readDrafts();
      const result = await work();
      this.#show(true, true);
      this.#windows.postMessage("written");
      void this.#exchanger?.wake().then(() => this.#sendPhotos());
      return result;
    });
  }

  // --- the record ----------------------------------------------------------------------------------------------------

  /** A craft's entries as they lie on the disk, and the operator's, which say whom to believe. */
  async #stored(ledger: string): Promise<readonly StoredEntry[]> {
    const operators = (await this.#store.ledgers()).filter((name) => name.startsWith("operator:"));
    return (await Promise.all([...operators, ledger].map((name) => this.#store.ofLedger(name)))).flat();
  }

  async evidence(ledger: string, id: string): Promise<Evidence | null> {
    const stored = await this.#store.get(id);
    if (stored === null) return null;
    const { evidenceOf } = await import("./record-proof.ts");
    return evidenceOf(stored, this.#book.fold(ledger).folded, this.#book.trust);
  }

  async prove(ledger: string): Promise<RecordProof> {
    const [entries, { proveRecord }] = await Promise.all([this.#stored(ledger), import("./record-proof.ts")]);
    return proveRecord(entries, this.#now_ms(), this.#hello?.operator?.publicKey ?? null);
  }

  async exportRecord(ledger: string): Promise<string> {
    const [entries, { exportText }] = await Promise.all([this.#stored(ledger), import("./record-proof.ts")]);
    return exportText(entries, this.#now_ms());
  }

  async settleAside(ledger: string, entries: readonly string[], words: string): Promise<void> {
    await this.#record(() => this.#write(ledger, "aside.settled", { entries, words }));
  }

  async decideFork(ledger: string, counts: string, words: string): Promise<void> {
    await this.#record(() => this.#write(ledger, "fork.decided", { counts, words }));
  }

  async decideAlike(ledger: string, word: AlikeWord): Promise<void> {
    await this.#record(() => {
      const { state } = this.#view(ledger);
      const replaces = wordsOn(state, word.matter, word.one, word.other).map(({ entry }) => entry);
      const at = msToInstant(this.#now_ms());
      return this.#write(ledger, "lookAlike.decided", { ...word, at, replaces });
    });
  }

  async eraseEntry(ledger: string, entry: string, role: ErasingRole, legalReason: string): Promise<void> {
    await this.#record(() => this.#write(ledger, "erase", { entry, role, legalReason }));
  }

  async confirmExchange(ledger: string, words: string): Promise<void> {
    await this.#record(() =>
      this.#write(ledger, "exchange.confirmed", { words, at: msToInstant(this.#now_ms()) }),
    );
  }

  async takeOver(ledger: string, people: readonly string[]): Promise<void> {
    await this.#record(() => {
      const replaces = this.#view(ledger).state.custody.map(({ entry }) => entry);
      const at = msToInstant(this.#now_ms());
      return this.#write(ledger, "custody.taken", {
        custody: "crew",
        people,
        words: "",
        expectedEnd: null,
        at,
        replaces,
      });
    });
  }

  async handOver(ledger: string, { custody, words, expectedEnd_ms }: NewHandover): Promise<void> {
    await this.#record(() => {
      const replaces = this.#view(ledger).state.custody.map(({ entry }) => entry);
      const expectedEnd = expectedEnd_ms === null ? null : msToInstant(expectedEnd_ms);
      const said = { custody, people: [], words, expectedEnd, at: msToInstant(this.#now_ms()), replaces };
      return this.#write(ledger, "custody.taken", said);
    });
  }

  async givePage(ledger: string, { since_ms, shiftEnds_ms, ...page }: NewPage): Promise<void> {
    await this.#record(() =>
      this.#write(ledger, "handover.given", {
        handover: `handover-${randomHex(12)}`,
        since: since_ms === null ? null : msToInstant(since_ms),
        shiftEnds: msToInstant(shiftEnds_ms),
        ...page,
        at: msToInstant(this.#now_ms()),
      }),
    );
  }

  async takePage(ledger: string, given: string, words: string): Promise<void> {
    await this.#record(() =>
      this.#write(ledger, "handover.taken", { given, words, at: msToInstant(this.#now_ms()) }),
    );
  }

  async releaseWork(ledger: string, { opened, ...release }: NewRelease): Promise<void> {
    await this.#record(() => {
      const { state } = this.#view(ledger);
      const closures = opened.map((closure) => closureBody(state, closure, "open"));
      return this.#write(ledger, "release.signed", { ...release, closures, at: msToInstant(this.#now_ms()) });
    });
  }

  async inspectWork(ledger: string, release: string, licence: string, words: string): Promise<void> {
    await this.#record(() =>
      this.#write(ledger, "inspection.signed", { release, licence, words, at: msToInstant(this.#now_ms()) }),
    );
  }

  // --- the sky -------------------------------------------------------------------------------------------------------

  #base(base: string): BaseHeld {
    const held = this.#book.bases.find((each) => each.base === base)?.held ?? null;
    if (held === null) throw new Error(`this device holds no base ${base}`);
    return held;
  }

  /** An action that writes one entry of a base, made from what the base holds. */
  #ofBase(base: string, type: string, bodyFrom: (held: BaseHeld, now_ms: number) => object): Promise<void> {
    return this.#record(() => this.#write(base, type, bodyFrom(this.#base(base), this.#now_ms())));
  }

  hearReport(
    base: string,
    text: string,
    source: "typed" | "pasted",
    instead: readonly string[],
  ): Promise<void> {
    return this.#ofBase(base, "weather.heard", (_held, now_ms) => ({
      text,
      source,
      at: msToInstant(now_ms),
      replaces: instead,
    }));
  }

  observe(base: string, { minutes, ...seen }: NewObservation): Promise<void> {
    return this.#ofBase(base, "weather.seen", ({ folded }, now_ms) => {
      // What the same person saw here before is replaced; what others saw stands beside it.
      const replaces = folded.state.observations
        .filter(({ by, place }) => by === this.#mySession().person.id && place === seen.place)
        .map(({ entry }) => entry);
      const [at, expires] = [msToInstant(now_ms), msToInstant(now_ms + minutes * minute_ms)];
      return { at, expires, ...seen, replaces: replaces.slice(-256) };
    });
  }

  withdrawWeather(base: string, entry: string, why: string): Promise<void> {
    return this.#ofBase(base, "weather.withdrawn", (_held, now_ms) => ({
      withdrawn: entry,
      why,
      at: msToInstant(now_ms),
    }));
  }

  describeStation(base: string, station: NewStation): Promise<void> {
    return this.#ofBase(base, "weather.stationDescribed", ({ folded }) => ({
      ...station,
      replaces: folded.state.stations
        .filter((each) => each.station === station.station)
        .map(({ entry }) => entry),
    }));
  }

  setWeatherLimits(base: string, limits: NewWeatherLimits): Promise<void> {
    return this.#ofBase(base, "weather.settingsSet", ({ folded }) => ({
      ...limits,
      replaces: folded.state.settings.map(({ entry }) => entry),
    }));
  }

  async assignBase(ledger: string, base: string): Promise<void> {
    await this.#record(() => {
      const replaces = this.#view(ledger).state.based.map(({ entry }) => entry);
      return this.#write(ledger, "base.assigned", { base, at: msToInstant(this.#now_ms()), replaces });
    });
  }

  // --- the walk --------------------------------------------------------------------------------------------------------

  #draftName(ledger: string): string {
    return `walk/${ledger}/${this.#session?.person.id ?? ""}`;
  }

  #draftOf(ledger: string): StopDraft | null {
    return this.#session === null ? null : (this.#drafts.get(this.#draftName(ledger)) ?? null);
  }

  async #keepDraft(ledger: string, draft: StopDraft): Promise<void> {
    const name = this.#draftName(ledger);
    await this.#store.putDraft(name, JSON.stringify(draft));
    this.#drafts.set(name, draft);
  }

  /**
   * Changes the draft of the stop that the person stands at; shown once it is on the disk. Needs no lock: the store
   * changes the draft in one step, and a page is sealed only from the draft as it is.
   */
  #tap(ledger: string, tap: Tap): Promise<void> {
    return this.#afterThose(async () => {
      const name = this.#draftName(ledger);
      const { state } = this.#view(ledger);
      const touched_ms = this.#now_ms();
      const text = await this.#store.changeDraft(name, (held) =>
        JSON.stringify({ ...tapped(JSON.parse(held) as StopDraft, tap, state), touched_ms }),
      );
      if (text === null) throw new Error(`nobody stands at a stop of ${ledger}`);
      this.#drafts.set(name, JSON.parse(text) as StopDraft);
      this.#show(false);
      this.#windows.postMessage("tapped");
    });
  }

  #walkOf(ledger: string, walk: string): { facts: WalkFacts; plan: WalkPlan; view: CraftView; sheet: Sheet } {
    const view = this.#view(ledger);
    const facts = own(this.#book.fold(ledger).folded.state.walks, walk);
    if (facts === undefined || view.sheet === null)
      throw new Error(`no walk ${walk} with its sheet on this device`);
    const state = this.#book.fold(ledger).folded.state;
    return {
      facts,
      plan: planOf(view.sheet, state, facts),
      view,
      sheet: view.sheet,
    };
  }

  /**
   * A walk that its walker left without a word stands still, from the last touch on: who comes back does not know any more
   * where they were. Looked for whenever time has passed.
   */
  #leaveBehind(): void {
    for (const [name, draft] of this.#drafts) {
      const ledger = this.#book.ledgers.find((each) => this.#draftName(each) === name);
      const left = walkedAway(draft.touched_ms ?? draft.arrived_ms, this.#now_ms());
      if (ledger === undefined || left === null) continue;
      void this.#record(async () => {
        const held = this.#draftOf(ledger);
        if (held === null || walkedAway(held.touched_ms ?? held.arrived_ms, this.#now_ms()) === null) return;
        await this.#stop(ledger, held.walk, "walkAway", "", left.at_ms);
      });
    }
  }

  /** Somebody else was called away and the walk stands still here as well: what was tapped so far becomes a page. */
  async #freezeDrafts(): Promise<void> {
    if (this.#session === null) return;
    for (const [name, { walk }] of this.#drafts) {
      const ledger = this.#book.ledgers.find((each) => this.#draftName(each) === name);
      if (ledger === undefined) continue;
      const facts = own(this.#book.fold(ledger).folded.state.walks, walk);
      if (facts !== undefined && standingInterruption(facts) !== null)
        await this.#sealDraft(ledger, "interrupted");
    }
  }

  beginWalk(ledger: string, kind: WalkKind, conditions: Conditions): Promise<string> {
    return this.#record(async () => {
      const { sheet, sheetHash, state } = this.#view(ledger);
      if (sheet === null || sheetHash === null)
        throw new Error("a walk needs its sheet, which is not on this device");
      const walk = `walk-${randomHex(12)}`;
      const plan = planWalk(sheet, state, kind, conditions);
      const hash = hashText(webVerifier.sha256, canonicalText(planToHash(plan, conditions)));
      const begunAt = msToInstant(this.#now_ms());
      await this.#write(ledger, "walk.begun", {
        walk,
        kind,
        sheet: sheetHash,
        plan: hash,
        conditions,
        begunAt,
        paper: false,
      });
      return walk;
    });
  }

  async arriveAt(ledger: string, walk: string, stop: string): Promise<void> {
    await this.#record(async () => {
      const held = this.#draftOf(ledger);
      if (held !== null && held.walk === walk && held.stop === stop) return;
      await this.#sealDraft(ledger, "left");
      // A launch walk is one circuit: its pace is that of the whole.
      if (own(this.#view(ledger).state.walks, walk)?.kind !== "launch" || held?.walk !== walk)
        this.#taps.length = 0;
      await this.#keepDraft(ledger, emptyDraft(walk, stop, this.#now_ms()));
    });
  }

  markItem(ledger: string, item: string, mark: DraftMark | null): Promise<void> {
    if (mark !== null) this.#taps.push({ item, at_ms: this.#options.clock_ms() });
    return this.#tap(ledger, { marks: { [item]: mark }, closuresBy: (id) => this.#closuresBy(ledger, id) });
  }

  /** Marks several items of the stop good at once: those that the sheet lets go together. */
  sweep(ledger: string, items: readonly string[]): Promise<void> {
    const good = { mark: "good", why: null, finding: null } as const;
    return this.#tap(ledger, { marks: Object.fromEntries(items.map((item) => [item, good])) });
  }

  pace(ledger: string): OwnPace | null {
    const { sheet } = this.#view(ledger);
    return sheet === null ? null : fasterThanHands(sheet, this.#taps);
  }

  async takeBack(ledger: string, walk: string, items: readonly string[]): Promise<void> {
    await this.#record(async () => {
      const { facts, sheet } = this.#walkOf(ledger, walk);
      const me = this.#mySession().person.id;
      const closes = (id: string): readonly string[] =>
        sheet.items.find((item) => item.id === id)?.closes ?? [];
      const pages = new Map<string, string[]>();
      for (const item of items) {
        const mine = (own(facts.marks, item) ?? []).filter(({ by }) => by === me);
        for (const { entry } of mine) pages.set(entry, [...(pages.get(entry) ?? []), item]);
      }
      for (const [page, marked] of pages) {
        const { state } = this.#book.fold(ledger).folded;
        const body = takenBackBody(state, facts, page, marked, closes, this.#now_ms());
        await this.#write(ledger, "walk.takenBack", body);
      }
    });
  }

  async weatherChanged(ledger: string, walk: string, conditions: Conditions): Promise<void> {
    await this.#record(() =>
      this.#write(ledger, "walk.weather", { walk, conditions, at: msToInstant(this.#now_ms()) }),
    );
  }

  async voidWalk(ledger: string, walk: string, cause: VoidCause, words: string): Promise<void> {
    await this.#record(async () => {
      if (this.#draftOf(ledger)?.walk === walk) await this.#sealDraft(ledger, "left");
      await this.#write(ledger, "walk.voided", { walk, cause, words, at: msToInstant(this.#now_ms()) });
    });
  }

  /** What stands on paper: another machine's, another sheet's or another plan has another code. */
  paperHead(ledger: string, kind: WalkKind, conditions: Conditions): PaperHead | null {
    const { sheet, sheetHash, state } = this.#view(ledger);
    if (sheet === null || sheetHash === null) return null;
    const told = planToHash(planWalk(sheet, state, kind, conditions), conditions);
    const hash = (of: unknown): string => hashText(webVerifier.sha256, canonicalText(of));
    return { plan: hash(told), code: paperCode(hash({ ledger, sheet: sheetHash, plan: told })) };
  }

  async typeWalk(ledger: string, { begun_ms, ended_ms, stops, kind, conditions }: PaperWalk): Promise<void> {
    await this.#record(() => {
      const { sheet, sheetHash, state } = this.#view(ledger);
      if (sheet === null || sheetHash === null)
        throw new Error("a walk needs its sheet, which is not on this device");
      const plan = planWalk(sheet, state, kind, conditions);
      const items = plan.rows.map(({ item }) => item);
      return this.#write(ledger, "walk.typed", {
        walk: `walk-${randomHex(12)}`,
        kind,
        sheet: sheetHash,
        plan: hashText(webVerifier.sha256, canonicalText(planToHash(plan, conditions))),
        conditions,
        begunAt: msToInstant(begun_ms),
        endedAt: msToInstant(ended_ms),
        pages: paperPages(stops, items, state),
      });
    });
  }

  /** An item that opens or closes something says so by its mark. */
  #closuresBy(ledger: string, item: string): StopDraft["closures"] {
    const listed = this.#view(ledger).sheet?.items.find(({ id }) => id === item);
    return Object.fromEntries([
      ...(listed?.opens ?? []).map((closure) => [closure, "open"] as const),
      ...(listed?.closes ?? []).map((closure) => [closure, "closed"] as const),
    ]);
  }

  /** At a stop it goes into the page, elsewhere it is an entry of its own. */
  async setClosure(ledger: string, closure: string, to: ClosureState): Promise<void> {
    if (this.#draftOf(ledger) !== null) {
      await this.#tap(ledger, { closures: { [closure]: to } });
      return;
    }
    await this.#record(() => {
      const body = closureBody(this.#view(ledger).state, closure, to);
      return this.#write(ledger, "closure.set", { ...body, at: msToInstant(this.#now_ms()) });
    });
  }

  /** Airframe hours now, as far as the record tells them. */
  #hours_h(ledger: string): number | null {
    const { sheet, state } = this.#view(ledger);
    const hours = sheet === null ? null : airframeHours(sheet, state)(this.#now_ms());
    return hours === null ? null : Number(hours.toFixed(2));
  }

  async read(ledger: string, gauge: string, taken: NewReading): Promise<void> {
    const reading = { ...taken, hours_h: this.#hours_h(ledger) };
    if (this.#draftOf(ledger) !== null) {
      await this.#tap(ledger, { readings: { [gauge]: reading } });
      return;
    }
    await this.#record(() =>
      this.#write(ledger, "reading.taken", { gauge, ...reading, at: msToInstant(this.#now_ms()) }),
    );
  }

  async fill(ledger: string, { at_ms, ...filled }: NewUplift): Promise<void> {
    await this.#record(() => {
      const { sheet, state } = this.#view(ledger);
      const hours = sheet === null ? null : airframeHours(sheet, state)(at_ms);
      const hours_h = hours === null ? null : Number(hours.toFixed(2));
      const uplift = `uplift-${randomHex(12)}`;
      return this.#write(ledger, "uplift.added", { uplift, ...filled, hours_h, at: msToInstant(at_ms) });
    });
  }

  async importLevels(ledger: string, { from, readings, uplifts }: NewLevels): Promise<void> {
    await this.#record(() =>
      this.#write(ledger, "readings.imported", {
        import: `import-${randomHex(12)}`,
        from,
        readings,
        uplifts: uplifts.map((uplift) => ({ uplift: `uplift-${randomHex(12)}`, ...uplift })),
      }),
    );
  }

  async withdrawReading(ledger: string, gauge: string, reading: string, words: string): Promise<void> {
    await this.#record(() =>
      this.#write(ledger, "reading.withdrawn", { gauge, reading, words, at: msToInstant(this.#now_ms()) }),
    );
  }

  async settleLevel(ledger: string, word: LevelWord): Promise<void> {
    await this.#record(() =>
      this.#write(ledger, "level.settled", { ...word, at: msToInstant(this.#now_ms()) }),
    );
  }

  /** Seals what was tapped at the stop into a page. Only inside a turn, with the drafts as they are on the disk. */
  async #sealDraft(ledger: string, sealedBy: "left" | "interrupted"): Promise<void> {
    const name = this.#draftName(ledger);
    for (;;) {
      await this.#catchUp();
      const text = await this.#store.draft(name);
      if (text === null) break;
      const draft = JSON.parse(text) as StopDraft;
      const state = this.#book.fold(ledger).folded.state;
      const facts = own(state.walks, draft.walk);
      const page =
        facts === undefined || isEmptyDraft(draft)
          ? []
          : [await this.#seal(ledger, "walk.page", pageBody(draft, state, facts, this.#now_ms(), sealedBy))];
      // Null: another window tapped in between, and the page is made again with that tap in it.
      if ((await this.#store.sealDraft(name, text, page)) !== null) break;
    }
    this.#drafts.delete(name);
    await this.#catchUp();
  }

  leaveStop(ledger: string): Promise<void> {
    return this.#record(() => this.#sealDraft(ledger, "left"));
  }

  async interrupt(ledger: string, walk: string, cause: InterruptionCause, words: string): Promise<void> {
    await this.#record(() => this.#stop(ledger, walk, cause, words, this.#now_ms()));
  }

  async #stop(
    ledger: string,
    walk: string,
    cause: InterruptionCause,
    words: string,
    at_ms: number,
  ): Promise<void> {
    const stop = this.#draftOf(ledger)?.stop ?? null;
    await this.#sealDraft(ledger, "interrupted");
    await this.#write(ledger, "walk.interrupted", { walk, cause, stop, words, at: msToInstant(at_ms) });
  }

  async resume(ledger: string, walk: string): Promise<void> {
    await this.#record(async () => {
      // Somebody else may have been called away: what this person tapped meanwhile is kept before anything is asked again.
      await this.#sealDraft(ledger, "interrupted");
      const { facts, plan, view } = this.#walkOf(ledger, walk);
      const interruption = standingInterruption(facts);
      if (interruption === null) return;
      const reopened = reopenedOnResume(plan, facts, view.state, interruption);
      const at = msToInstant(this.#now_ms());
      await this.#write(ledger, "walk.resumed", { walk, interruption: interruption.entry, reopened, at });
      const [first] = plan.rows.filter(({ item }) => reopened.includes(item.id));
      const stop = first?.item.stop ?? interruption.stop;
      if (stop !== null) await this.#keepDraft(ledger, emptyDraft(walk, stop, this.#now_ms()));
    });
  }

  async finishWalk(ledger: string, walk: string): Promise<void> {
    await this.#record(async () => {
      await this.#sealDraft(ledger, "left");
      const { facts, plan, sheet } = this.#walkOf(ledger, walk);
      const progress = walkProgress(sheet, plan, facts, this.#book.fold(ledger).folded.state);
      const { blank, open } = finishHindrances(plan, progress);
      if (blank.length > 0 || open.length > 0) {
        this.#show();
        throw new NotFinished(
          blank.map(({ row }) => row.item.id),
          open,
        );
      }
      await this.#write(ledger, "walk.finished", { walk, at: msToInstant(this.#now_ms()) });
    });
  }

  // --- duty and deferrals --------------------------------------------------------------------------------------------

  async declareShift(ledger: string, { from_ms, until_ms, people }: NewShift): Promise<void> {
    await this.#record(() =>
      this.#write(ledger, "shift.declared", {
        from: msToInstant(from_ms),
        until: msToInstant(until_ms),
        people: people.map(({ person, roles, lastDutyEnd_ms }) => ({
          person,
          roles,
          lastDutyEnd: msToInstant(lastDutyEnd_ms),
        })),
        replaces: this.#view(ledger).state.shifts.map(({ entry }) => entry),
      }),
    );
  }

  beginFlight(ledger: string, operation: string, crew: readonly string[]): Promise<SignRefusal | null> {
    const flight = `flight-${randomHex(12)}`;
    return this.#signed(ledger, "flight.begun", (at) => ({ flight, offAt: at, operation, crew: [...crew] }));
  }

  logFlight(ledger: string, flight: NewFlight): Promise<SignRefusal | null> {
    return this.#signed(ledger, "flight.logged", () => flightBody(flight));
  }

  correctFlight(
    ledger: string,
    replaced: string,
    instead: NewFlight | null,
    why: string,
  ): Promise<SignRefusal | null> {
    const body = instead === null ? null : flightBody(instead);
    return this.#signed(ledger, "flight.corrected", (at) => ({
      instead: body,
      why,
      at,
      replaces: [replaced],
    }));
  }

  sign(ledger: string, type: SignedType, body: object): Promise<SignRefusal | null> {
    return this.#signed(ledger, type, (at) => ({ ...body, at }));
  }

  /** Tries the entry on the record as it stands, and writes it only where it counts. */
  #signed(ledger: string, type: string, bodyAt: (at: string) => object): Promise<SignRefusal | null> {
    return this.#record(async () => {
      const now_ms = this.#now_ms();
      const body = bodyAt(msToInstant(now_ms));
      const { person, enrolment } = this.#mySession();
      const by = { by: person.id, key: enrolment.key.publicKey, now_ms };
      const { operatorFold } = this.#book;
      const refusal =
        ledger === operatorFold?.ledger
          ? refusalOf(operatorFold.fold, ledger, type, body, by)
          : refusalOf(this.#book.fold(ledger), ledger, type, body, by);
      if (refusal === null) await this.#write(ledger, type, body);
      return refusal;
    });
  }

  async confirmDeferral(ledger: string, finding: string, done: ProceduresDone): Promise<void> {
    await this.#record(() =>
      this.#write(ledger, "deferral.confirmed", { finding, ...done, at: msToInstant(this.#now_ms()) }),
    );
  }

  // --- findings --------------------------------------------------------------------------------------------------------

  raiseFinding(
    ledger: string,
    { seenOn = null, writtenThen = false, ...found }: NewFinding,
  ): Promise<string> {
    return this.#record(async () => {
      const finding = `finding-${randomHex(12)}`;
      const at = msToInstant(this.#now_ms());
      const seen = seenOn === null ? null : { at: msToInstant(seenOn.at_ms), typed: seenOn.typed };
      await this.#write(ledger, "finding.raised", { finding, ...found, seenOn: seen, at });
      if (seen !== null && writtenThen)
        await this.#write(ledger, "deferral.reEntered", {
          finding,
          firstRecorded: seen.at,
          words: seen.typed,
          at,
        });
      return finding;
    });
  }

  #findingOf(ledger: string, finding: string): FindingFacts | undefined {
    return own(this.#view(ledger).state.findings, finding);
  }

  async judgeFinding(
    ledger: string,
    finding: string,
    judgement: Parameters<Device["judgeFinding"]>[2],
  ): Promise<void> {
    const { judgements = [], reopened = [] } = this.#findingOf(ledger, finding) ?? {};
    await this.#writeOf(ledger, "finding.judged", finding, {
      ...judgement,
      seen: reopened.map(({ entry }) => entry),
      replaces: judgements.map(({ entry }) => entry),
    });
  }

  /** An entry about a finding, with the time of now. */
  async #writeOf(ledger: string, type: string, finding: string, body: object): Promise<void> {
    await this.#record(() =>
      this.#write(ledger, type, { finding, ...body, at: msToInstant(this.#now_ms()) }),
    );
  }

  seenAgain(ledger: string, finding: string, words: string, photos: readonly PhotoRef[]): Promise<void> {
    return this.#writeOf(ledger, "finding.seenAgain", finding, { words, photos });
  }

  measureFinding(ledger: string, finding: string, measured: NewMeasure): Promise<void> {
    return this.#writeOf(ledger, "finding.measured", finding, {
      ...measured,
      hours_h: this.#hours_h(ledger),
    });
  }

  referFinding(
    ledger: string,
    finding: string,
    kind: ForeignReference["kind"],
    number: string,
  ): Promise<void> {
    return this.#writeOf(ledger, "finding.referenced", finding, { kind, number });
  }

  stepFinding(
    ledger: string,
    finding: string,
    step: "plan" | "fix" | "release",
    words: string,
    licence: string | null,
  ): Promise<void> {
    const type = { plan: "finding.planned", fix: "finding.fixed", release: "finding.released" }[step];
    return this.#writeOf(ledger, type, finding, { words, licence });
  }

  closeFinding(ledger: string, finding: string, role: JudgingRole, words: string): Promise<void> {
    const reopened = this.#findingOf(ledger, finding)?.reopened ?? [];
    const replaces = reopened.map(({ entry }) => entry);
    return this.#writeOf(ledger, "finding.closed", finding, { role, words, replaces });
  }

  reopenFinding(ledger: string, finding: string, words: string): Promise<void> {
    return this.#writeOf(ledger, "finding.reopened", finding, { words });
  }

  async noteEvent(ledger: string, event: string, words: string): Promise<void> {
    await this.#record(() =>
      this.#write(ledger, "event.noted", { event, words, at: msToInstant(this.#now_ms()) }),
    );
  }

  async clearEvent(ledger: string, noted: string, role: JudgingRole, words: string): Promise<void> {
    await this.#record(() =>
      this.#write(ledger, "event.cleared", { noted, role, words, at: msToInstant(this.#now_ms()) }),
    );
  }

  // --- photos --------------------------------------------------------------------------------------------------------

  /** Opened with the first photo that is taken or looked at: the first screen needs none. */
  async #photoBook(): Promise<Photos> {
    this.#photos ??= import("./photos.ts").then(({ Photos: book }) => book.open());
    return this.#photos;
  }

  async keepPhoto(file: File): Promise<PhotoRef> {
    const [{ scalePhoto }, photos] = await Promise.all([import("./scale-photo.ts"), this.#photoBook()]);
    const scaled = await scalePhoto(file);
    await photos.keep(scaled);
    return scaled.ref;
  }

  async photoUrl(hash: string): Promise<string | null> {
    return (await this.#photoBook()).url(hash, this.#session?.enrolment.token ?? null);
  }

  /** Hands over the photos that entries of this device's record name; others were taken and left out. */
  async #sendPhotos(): Promise<void> {
    const token = this.#session?.enrolment.token;
    if (token === undefined) return;
    const named = new Set(
      this.#snapshot.craft.flatMap(({ state }) =>
        Object.values(state.findings).flatMap(({ raised, seenAgain, measured }) =>
          [raised, ...seenAgain, ...measured].flatMap(({ photos }) => photos.map(({ hash }) => hash)),
        ),
      ),
    );
    if (named.size > 0) await (await this.#photoBook()).send(token, named);
  }

  // --- the load ------------------------------------------------------------------------------------------------------

  async sayLoading(ledger: string, loading: StatedLoading, replaces: readonly string[]): Promise<void> {
    const { persons, patients, kit, kitList, fuel_kg, fuelAtEnd_kg } = loading;
    const by = kitList === undefined ? {} : { kitList };
    const said = { persons, patients, kit, ...by, fuel_kg, fuelAtEnd_kg };
    await this.#record(() =>
      this.#write(ledger, "loading.said", { ...said, at: msToInstant(this.#now_ms()), replaces }),
    );
  }

  async recordWeighing(ledger: string, weighing: NewWeighing, replaces: readonly string[]): Promise<void> {
    await this.#record(() =>
      this.#write(ledger, "craft.weighed", { ...weighing, at: msToInstant(this.#now_ms()), replaces }),
    );
  }

  async moveKit(ledger: string, kit: string, aboard: boolean, replaces: readonly string[]): Promise<void> {
    await this.#record(() => {
      const at = msToInstant(this.#now_ms());
      return this.#write(ledger, "kit.moved", { kit, aboard, words: "", at, replaces });
    });
  }
}

/** What a form says of a flight as the record holds it. */
function flightBody({ flight, off_ms, on_ms, ...flown }: NewFlight): object {
  return {
    flight: flight ?? `flight-${randomHex(12)}`,
    offAt: msToInstant(off_ms),
    onAt: msToInstant(on_ms),
    ...flown,
  };
}

type Writer = { readonly by: string; readonly key: string; readonly now_ms: number };

/** Why an entry would be set aside if it were written now; null where it would count. */
function refusalOf<State extends object>(
  fold: LedgerFold<State>,
  ledger: string,
  type: string,
  body: object,
  { by, key, now_ms }: Writer,
): SignRefusal | null {
  const kind = fold.definition.types.find((one) => one.type === type);
  if (kind === undefined) return { code: "unknownType", path: "", found: type, wanted: "a known type" };
  const meta = {
    id: "0".repeat(64),
    ledger,
    type,
    key,
    by,
    at: msToInstant(now_ms),
    at_ms: now_ms,
    seq: 0,
    basis: {},
  };
  const folded = kind.fold(fold.folded.state, body, meta);
  return isRefusal(folded) ? folded.refused : null;
}

/** Of entries that came over the network: those that hash and verify, and the others with why. */
async function screenEntries(entries: readonly StoredEntry[]): Promise<Screened> {
  const readable: StoredEntry[] = [];
  const unreadable: Record<string, string> = {};
  for (const entry of entries) {
    const opened = openEntry(entry, webVerifier.sha256);
    if (!isOpened(opened)) unreadable[entry.id] = opened.code;
    else if (await isSigned(opened, webVerifier)) readable.push(entry);
    else unreadable[entry.id] = "unsigned";
  }
  return { readable, unreadable };
}
