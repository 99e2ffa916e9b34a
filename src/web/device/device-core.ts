// What the device keeps, and how an action becomes an entry. One turn after another; a turn that writes holds a lock shared
// by all windows of this device, reads what another window wrote meanwhile, and only then seals, so that one key never
// writes two entries in one place. Nothing is shown as done before it is on the disk.
import { hour_ms } from "../../core/facts/instant.ts";
import { horizon_h } from "../../core/facts/situation.ts";
import type { Sheet } from "../../core/sheet/schema.ts";
import { signerOf, webVerifier } from "../../crypto/web.ts";
import type { StopDraft } from "../../ledger/craft/recorder.ts";
import type { StoredEntry } from "../../ledger/entry.ts";
import { settingsInForce } from "../../ledger/operator/operator-ledger.ts";
import type { OperatorState } from "../../ledger/operator/operator-ledger.ts";
import { systemRoles } from "../../ledger/system-entries.ts";
import { writeNext } from "../../ledger/write-next.ts";
import type { IndexedDbStore } from "../../store/indexeddb.ts";
import { reopenEntry } from "../../ledger/open.ts";
import type { Opened } from "../../ledger/open.ts";
import { SnapshotKeeper } from "./snapshot-keeper.ts";
import { StoreError } from "../../store/store-error.ts";
import type { Page } from "../../store/store.ts";
import type { DeviceState } from "../../sync/device.ts";
import type { Exchanger } from "../../sync/exchanger.ts";
import { CraftBook } from "./craft-book.ts";
import type { KnownToBook } from "./craft-book.ts";
import { craftLedger } from "../../ledger/craft/craft-ledger.ts";
import { baseLedger } from "../../ledger/base/base-ledger.ts";
import { operatorLedger } from "../../ledger/operator/operator-ledger.ts";
import { FallWatch } from "./fall-watch.ts";
import type { Judging } from "./judging.ts";
import type { Keys } from "./keys.ts";
import type { Enrolment } from "./keys.ts";
import type { CraftView, DeviceSnapshot, Person } from "./model.ts";
import type { Hello } from "./server-calls.ts";

/** What somebody may not record in any of their roles: it would be set aside, so it is not written at all. */
export class NotYours extends Error {
  override readonly name = "NotYours";
  constructor(type: string, roles: readonly string[], wanted: readonly string[]) {
    super(`${type} is signed as ${wanted.join(" or ")}; this person is ${roles.join(" and ") || "nothing"}`);
  }
}

const writeLock = "preen-write";
/** The database of this device. */
export const database = "preen-device";
const otherWindows = "preen-windows";
/** How often time is seen to pass. */
export const tick_ms = 15_000;

/** Entries in the store beyond those folded, above which they are folded beside the page. */
const muchBehind = 3_000;

/** From the source of chance of the browser. */
export const randomHex = (digits: number): string =>
  [...crypto.getRandomValues(new Uint8Array(digits / 2))]
    .map((byte) => byte.toString(16).padStart(2, "0"))
    .join("");

export type AppDeviceOptions = {
  readonly clock_ms: () => number;
  /** Takes the waiting version of the app over; null where there is none. */
  readonly takeUpdate: () => void;
};

export type Session = { readonly person: Person; readonly enrolment: Enrolment };

type KnownHere = KnownToBook & {
  readonly operator: OperatorState;
  readonly setAside: DeviceState["setAside"] | null;
  /** How many sheets are held; they only ever come. */
  readonly sheets: number;
};

/** What all groups of actions stand on. Fields without a # are theirs to read and, where not readonly, to set. */
export class DeviceCore {
  readonly store: IndexedDbStore;
  readonly keys: Keys;
  readonly options: AppDeviceOptions;
  readonly book = new CraftBook();
  readonly snapshots = new SnapshotKeeper(database);
  /** Entries that have come of a record that is being fetched for the first time; null when it is not. */
  arrived: number | null = null;
  readonly sheets = new Map<string, Sheet>();
  readonly drafts = new Map<string, StopDraft>();
  readonly #listeners = new Set<() => void>();
  readonly windows = new BroadcastChannel(otherWindows);
  judging: Judging | null = null;
  hello: Hello | null = null;
  session: Session | null = null;
  exchanger: Exchanger | null = null;
  position = 0;
  /** Positions of entries by keys of this device that the exchange has not looked at yet. */
  written: readonly number[] = [];
  ownKeys: ReadonlySet<string> = new Set();
  #known: KnownHere | null = null;
  /** Why the store cannot be used any more; from then on nothing is shown as kept. */
  failure: string | null = null;
  #turn: Promise<unknown> = Promise.resolve();
  readonly watch = new FallWatch();
  #lineTimer: ReturnType<typeof setTimeout> | null = null;
  shown: DeviceSnapshot;
  updateWaits = false;
  /** Offers what was written to the server. */
  #offer: () => void = () => undefined;

  constructor(store: IndexedDbStore, keys: Keys, options: AppDeviceOptions) {
    this.store = store;
    this.keys = keys;
    this.options = options;
    this.shown = this.#look("loading", true);
  }

  /** `listener` is called after each turn that wrote. */
  afterWriting(listener: () => void): void {
    this.#offer = listener;
  }

  subscribe(listener: () => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  now_ms(): number {
    return Math.max(this.options.clock_ms(), this.book.latestReceipt_ms() ?? 0);
  }

  /**
   * What views are computed from besides the record: one object as long as nothing in it changes, so that a tap computes
   * no standing anew. `later`: the clock moves on as well.
   */
  #renewKnown(later: boolean): KnownHere {
    const state = this.exchanger?.state ?? null;
    const next: KnownHere = {
      now_ms: later || this.#known === null ? this.now_ms() : this.#known.now_ms,
      operator: this.book.operator,
      settings: settingsInForce(this.book.operator),
      exchanged_ms: state?.lastDone?.device_ms ?? null,
      unsent: this.#unsent(state),
      setAside: state?.setAside ?? null,
      sheets: this.sheets.size,
      sheetOf: (hash: string) => this.sheets.get(hash) ?? null,
      bases: this.book.bases,
      judge: this.judging?.judge ?? null,
      standingOf: this.judging?.standingOf ?? null,
      fleet: this.book.fleet,
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
    if (state === null) return this.written.length;
    this.written = this.written.filter((position) => position > state.scanned);
    return state.pending.length + this.written.length;
  }

  #look(phase: DeviceSnapshot["phase"], later: boolean): DeviceSnapshot {
    const known = this.#renewKnown(later);
    const { now_ms, settings, exchanged_ms, unsent } = known;
    const isJudged = this.session === null || this.judging !== null;
    const state = this.exchanger?.state ?? null;
    const failed = state?.last != null && state.last.ending !== "done" && state.last.ending !== "stopped";
    return {
      phase: this.failure === null ? (isJudged ? phase : "loading") : "failed",
      failure: this.failure,
      mode: this.hello?.mode ?? "demo",
      now_ms,
      horizon_ms: now_ms + horizon_h * hour_ms,
      zone: settings?.zone ?? "UTC",
      ruleSet: settings?.ruleSet ?? null,
      base: this.hello?.bases[0]?.name ?? "",
      settings,
      bases: known.bases.map(({ base, held }) => ({ base, name: held?.described.name ?? base })),
      people: this.hello?.people ?? [],
      me: this.session?.person ?? null,
      craft: this.book.ledgers.map((ledger) => this.book.view(ledger, this.draftOf(ledger), known)),
      operator: { ledger: this.book.operatorFold?.ledger ?? "", state: known.operator },
      exchange: {
        last_ms: exchanged_ms,
        unsent,
        running: state !== null && state.phase.kind !== "idle",
        arrived: this.arrived,
        failed: failed ? (state.last?.ending ?? null) : null,
      },
      falls: this.watch.falls,
      updateWaits: this.updateWaits,
    };
  }

  /** `later`: time has passed as well. `written`: what is new was written here just now. */
  show(later = true, written = false): void {
    this.shown = this.#look("ready", later);
    if (later && this.judging !== null) this.#watchMine(written);
    for (const listener of this.#listeners) listener();
    if (later) this.#wakeAtNextChange();
  }

  /** Sees what fell of the craft that this person has. */
  #watchMine(written: boolean): void {
    const me = this.session?.person.id;
    if (me === undefined) return;
    const mine = this.shown.craft.filter(({ state }) =>
      state.custody.some(({ custody, people }) => custody === "crew" && people.includes(me)),
    );
    const before = this.watch.falls;
    this.watch.look(mine, written);
    if (this.watch.falls !== before) this.shown = { ...this.shown, falls: this.watch.falls };
  }

  /** Shows the standings anew at the very instant at which the next of them changes, where that is before the next tick. */
  #wakeAtNextChange(): void {
    if (this.#lineTimer !== null) clearTimeout(this.#lineTimer);
    this.#lineTimer = setTimeout(() => {
      if (this.session === null || this.judging === null) return;
      const now_ms = this.now_ms();
      const changes = this.shown.craft.flatMap(({ standing }) =>
        standing.operations.flatMap(({ next }) => next?.at_ms ?? []),
      );
      const wait_ms = Math.min(...changes) - now_ms;
      if (wait_ms > tick_ms) return;
      this.#lineTimer = setTimeout(() => this.show(), Math.max(0, wait_ms));
    });
  }

  view(ledger: string): CraftView {
    const view = this.shown.craft.find((craft) => craft.ledger === ledger);
    if (view === undefined) throw new Error(`this device holds no craft ${ledger}`);
    return view;
  }

  /** One action after another, in this window and across windows. */
  inTurn<Result>(work: () => Promise<Result>): Promise<Result> {
    return this.afterThose(() => navigator.locks.request(writeLock, work));
  }

  /** Once the actions so far are done, also those that failed. */
  async settled(): Promise<void> {
    await this.#turn;
  }

  /** After the actions before it in this window. A store that fails is said, whoever asked. */
  afterThose<Result>(work: () => Promise<Result>): Promise<Result> {
    const turn = this.#turn.then(work);
    this.#turn = turn.catch((error: unknown) => {
      if (!(error instanceof StoreError)) return;
      this.failure = error.message;
      this.show();
    });
    return turn;
  }

  /** Who judges comes once somebody has the device: half of the app, and not needed to ask who is there. */
  async bringJudges(): Promise<void> {
    try {
      this.judging ??= (await import("./judging.ts")).judging;
    } catch {
      // Not at hand: nothing is shown until it is (phase "loading"), and every tick asks again.
    }
  }

  async readKeys(): Promise<void> {
    this.ownKeys = new Set((await this.keys.all()).map(({ key }) => key.publicKey));
  }

  /** Opens the record as the store holds it, from its snapshots where they fit. */
  async openRecord(): Promise<void> {
    // First where it ends, and then what is in it: what comes in between is caught up with.
    const head = await this.store.head();
    await this.book.open(this.store);
    this.position = head?.position ?? 0;
    await this.catchUp();
  }

  /** Folds what the store got since we last looked, from the exchange or from another window. */
  async catchUp(): Promise<void> {
    for (;;) {
      const page = await this.store.since(this.position, 2_000);
      if (page.more && (await this.#openedBeside())) continue;
      if (page.rows.length > 0) await this.#take(page.rows);
      this.position = page.next;
      if (!page.more) break;
    }
    // What was erased by right must not live on here.
    const ids = this.book.bodiesToErase();
    if (ids.length === 0) return;
    await this.store.erase(ids);
    this.book.bodiesErased(ids);
  }

  /** So much has come that it is folded beside the page, and then opened as at a start. */
  async #openedBeside(): Promise<boolean> {
    const head = await this.store.head();
    if (head === null || head.position - this.position <= muchBehind) return false;
    if ((await this.snapshots.tend(this.hello?.operator?.publicKey ?? null)) === null) return false;
    await this.book.open(this.store);
    this.position = head.position;
    await this.noteUnsent();
    return true;
  }

  async #take(rows: Page["rows"]): Promise<void> {
    const opened = await this.book.add(
      this.store,
      rows.map(({ entry }) => entry),
    );
    this.#noteWritten(rows, opened);
  }

  /** What this device wrote and the exchange has not looked at yet, of a record that was opened from snapshots. */
  async noteUnsent(): Promise<void> {
    let position = this.exchanger?.state.scanned ?? 0;
    this.written = [];
    for (let more = true; more && position < this.position;) {
      const page = await this.store.since(position, 2_000);
      this.#noteWritten(
        page.rows,
        page.rows.map(({ entry }) => reopenEntry(entry)),
      );
      ({ next: position, more } = page);
    }
  }

  #noteWritten(rows: Page["rows"], opened: readonly Opened[]): void {
    const ours = rows.filter((_, index) => this.ownKeys.has(opened[index]?.envelope.key ?? ""));
    this.written = [...this.written, ...ours.map(({ position }) => position)];
  }

  async readDrafts(): Promise<void> {
    const held = await this.store.drafts("walk/");
    // In one step: a look at the device in between would show a walk at no stop.
    this.drafts.clear();
    for (const { name, text } of held) this.drafts.set(name, JSON.parse(text) as StopDraft);
  }

  mySession(): Session {
    if (this.session === null) throw new Error("nobody holds this device");
    return this.session;
  }

  /** Seals one entry and stores it. Only inside a turn. */
  async write(ledger: string, type: string, body: unknown): Promise<void> {
    await this.catchUp();
    await this.store.append([await this.seal(ledger, type, body)]);
    await this.catchUp();
  }

  async seal(ledger: string, type: string, body: unknown): Promise<StoredEntry> {
    const { person, enrolment } = this.mySession();
    const wanted =
      [...craftLedger.types, ...baseLedger.types, ...operatorLedger.types].find((kind) => kind.type === type)
        ?.roles ?? systemRoles(type);
    if (!wanted.some((role) => person.roles.includes(role))) throw new NotYours(type, person.roles, wanted);
    const sheet = this.shown.craft.find((craft) => craft.ledger === ledger)?.sheetHash;
    const at_ms = this.now_ms();
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
    const { operatorFold } = this.book;
    if (operatorFold !== null && ledger === operatorFold.ledger)
      return writeNext(operatorFold.fold, next, signer, webVerifier.sha256);
    return ledger.startsWith("base:")
      ? writeNext(this.book.baseFold(ledger), next, signer, webVerifier.sha256)
      : writeNext(this.book.fold(ledger), next, signer, webVerifier.sha256);
  }

  /** A turn that writes: shows the result, tells other windows, and offers it to the server. */
  record<Result>(work: () => Promise<Result>): Promise<Result> {
    return this.inTurn(async () => {
      // Another window may have tapped: what it kept is sealed, not what this one remembers.
      await this.readDrafts();
      const result = await work();
      this.show(true, true);
      this.windows.postMessage("written");
      this.#offer();
      return result;
    });
  }

  draftName(ledger: string): string {
    return `walk/${ledger}/${this.session?.person.id ?? ""}`;
  }

  draftOf(ledger: string): StopDraft | null {
    return this.session === null ? null : (this.drafts.get(this.draftName(ledger)) ?? null);
  }
}
