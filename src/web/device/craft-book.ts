// The ledgers as this device holds them: folded once, grown as entries come, and read as views of each craft.
// Entries come from the device's own store, which took only what hashed and verified.
import type { CraftState } from "../../core/facts/craft.ts";
import { instantToMs } from "../../core/facts/instant.ts";
import type { BaseSky, BaseState } from "../../core/facts/sky.ts";
import { noTrust } from "../../ledger/acceptance.ts";
import type { Trust } from "../../ledger/acceptance.ts";
import { baseOfCraft, basesHeld, skyOf } from "../../ledger/base/base-held.ts";
import type { BasePlace } from "../../ledger/base/base-held.ts";
import { baseLedger } from "../../ledger/base/base-ledger.ts";
import { craftLedger } from "../../ledger/craft/craft-ledger.ts";
import type { Known, StandingOfCraft } from "../../ledger/craft/craft-standing.ts";
import { sheetInForce } from "../../core/walk/craft-config.ts";
import type { StopDraft } from "../../ledger/craft/recorder.ts";
import { latestOf, stateHash } from "../../ledger/fold.ts";
import type { Folded, LedgerDefinition } from "../../ledger/fold.ts";
import { LedgerFold } from "../../ledger/ledger-fold.ts";
import { reopenEntry } from "../../ledger/open.ts";
import type { Opened } from "../../ledger/open.ts";
import type { StoredEntry } from "../../ledger/entry.ts";
import { operatorLedger } from "../../ledger/operator/operator-ledger.ts";
import type { OperatorState } from "../../ledger/operator/operator-ledger.ts";
import { statusInPast } from "../../ledger/past.ts";
import type { Past } from "../../ledger/past.ts";
import { foldWhole, openFold } from "../../store/kept-fold.ts";
import type { Store } from "../../store/store.ts";
import { webVerifier } from "../../crypto/web.ts";
import type { Judging } from "./judging.ts";
import type { CraftView, LedgerLine } from "./model.ts";

function lineOf(folded: Folded<CraftState>, { id, envelope, body, stored }: Opened): LedgerLine {
  // Erased by right, whether or not its text still stands in memory until the next start.
  const isErased = folded.erased.has(id);
  return {
    id,
    type: envelope.type,
    at_ms: instantToMs(envelope.at),
    by: envelope.by,
    status: folded.statuses.get(id) ?? statusInPast(folded, id) ?? "missingParent",
    seq: envelope.seq,
    key: envelope.key,
    critical: envelope.critical,
    body: isErased ? null : (body ?? null),
    said: isErased ? "" : (stored.body ?? ""),
    after: envelope.after,
  };
}

/** What views are computed from besides the record, and by whom; null while those are not at hand. */
export type KnownToBook = Known & { readonly standingOf: Judging["standingOf"] | null };

/** Computed on the first asking, then kept. */
function lazily<Value>(make: () => Value): () => Value {
  let kept: { readonly value: Value } | null = null;
  return () => (kept ??= { value: make() }).value;
}

/** What can be said of a craft's record by itself, and with what is known besides. */
type Seen = {
  readonly folded: Folded<CraftState>;
  readonly known: KnownToBook;
  readonly sheetHash: string | null;
  readonly sky: () => BaseSky | null;
  readonly judged: () => StandingOfCraft;
  readonly stateHash: () => string;
  readonly lines: () => readonly LedgerLine[] | null;
  readonly view: CraftView;
};

export class CraftBook {
  #operator: LedgerFold<OperatorState> | null = null;
  #operatorLedger: string | null = null;
  readonly #craft = new Map<string, LedgerFold<CraftState>>();
  readonly #bases = new Map<string, LedgerFold<BaseState>>();
  #basePlaces: readonly BasePlace[] = [];
  #fleet: readonly CraftState[] = [];
  readonly #seen = new Map<string, Seen>();
  /** Entries that were read beside a fold that went on without them. */
  readonly #records = new Map<
    string,
    { readonly past: Past<CraftState>; readonly entries: readonly Opened[] }
  >();
  /** How ledgers were opened so far. */
  readonly opened = { snapshot: 0, entries: 0, thrownAway: 0 };
  /** Entries of craft that came before the operator's ledger gave anybody's trust. */
  #trust = operatorLedger.initial.trust;
  readonly #erased = new Set<string>();
  #root: string | null = null;

  /** Entries whose body was erased by right and still lies here. */
  bodiesToErase(): readonly string[] {
    return this.#folds().flatMap((fold) =>
      [...fold.folded.erased].filter((id) => fold.entry(id)?.erased === false && !this.#erased.has(id)),
    );
  }

  /** Photos that were erased by right. */
  erasedPhotos(): ReadonlySet<string> {
    return new Set(this.#folds().flatMap((fold) => [...fold.folded.erasedPhotos]));
  }

  /** Every ledger that is held, of whatever kind. */
  #folds(): readonly Pick<LedgerFold<object>, "folded" | "entry">[] {
    const operators = this.#operator === null ? [] : [this.#operator];
    return [...operators, ...this.#craft.values(), ...this.#bases.values()];
  }

  /** They are gone from the disk. */
  bodiesErased(ids: readonly string[]): void {
    for (const id of ids) this.#erased.add(id);
  }

  get trust(): Trust {
    return this.#trust;
  }

  /** The operator's ledger as folded, and its name; null before anything of it came. */
  get operatorFold(): { readonly ledger: string; readonly fold: LedgerFold<OperatorState> } | null {
    const ledger = this.#operatorLedger;
    return this.#operator === null || ledger === null ? null : { ledger, fold: this.#operator };
  }

  get operator(): OperatorState {
    return this.#operator?.folded.state ?? operatorLedger.initial;
  }

  /**
   * Folds what the store holds, where there is a snapshot from that; in place of whatever was folded before. Everything that
   * the store holds now is in it.
   */
  async open(store: Store): Promise<void> {
    const ledgers = await store.ledgers();
    const operator = ledgers.find((ledger) => ledger.startsWith("operator:"));
    if (operator !== undefined) {
      this.#operatorLedger = operator;
      const entries = (await store.ofLedger(operator)).map(reopenEntry);
      this.#operator = new LedgerFold(operatorLedger, entries, { ...noTrust, root: this.#root });
      this.#trust = this.operator.trust;
    }
    const trust = this.#trust;
    for (const ledger of ledgers) {
      this.#records.delete(ledger);
      if (ledger.startsWith("craft:"))
        this.#craft.set(ledger, await this.#opened(store, { definition: craftLedger, ledger, trust }));
      if (ledger.startsWith("base:"))
        this.#bases.set(ledger, await this.#opened(store, { definition: baseLedger, ledger, trust }));
    }
  }

  async #opened<State extends object>(
    store: Store,
    kind: Parameters<typeof openFold<State>>[1],
  ): Promise<LedgerFold<State>> {
    const { fold, from } = await openFold(store, kind, webVerifier.sha256);
    this.opened[from] += 1;
    return fold;
  }

  /** Reads the entries of a craft that its fold went on from without holding them. */
  async readRecord(store: Store, ledger: string): Promise<void> {
    const { past } = this.fold(ledger).folded;
    if (past === null || this.#records.get(ledger)?.past === past) return;
    const held = new Map((await store.ofLedger(ledger)).map((stored) => [stored.id, stored]));
    const entries = [...past.ids].flatMap((id) => (held.has(id) ? reopenEntry(held.get(id)!) : []));
    this.#records.set(ledger, { past, entries });
    this.#seen.delete(ledger);
  }

  /** All entries of a craft in order; null until `readRecord` has read them. */
  record(ledger: string): readonly Opened[] | null {
    const { past, ordered, waiting } = this.fold(ledger).folded;
    if (past === null) return [...ordered, ...waiting];
    const read = this.#records.get(ledger);
    return read?.past === past ? [...read.entries, ...ordered, ...waiting] : null;
  }

  fold(ledger: string): LedgerFold<CraftState> {
    let fold = this.#craft.get(ledger);
    if (fold === undefined) {
      fold = new LedgerFold(craftLedger, [], this.#trust);
      this.#craft.set(ledger, fold);
    }
    return fold;
  }

  baseFold(ledger: string): LedgerFold<BaseState> {
    let fold = this.#bases.get(ledger);
    if (fold === undefined) {
      fold = new LedgerFold(baseLedger, [], this.#trust);
      this.#bases.set(ledger, fold);
    }
    return fold;
  }

  /** The operator's bases, the same list while nothing of them changes. */
  get bases(): readonly BasePlace[] {
    const before = this.#basePlaces;
    const next = basesHeld(this.operator.bases, (ledger) => this.baseFold(ledger).folded);
    const isSame =
      next.length === before.length &&
      next.every(
        ({ base, held }, index) =>
          base === before[index]?.base &&
          held?.folded === before[index].held?.folded &&
          held?.described === before[index].held?.described,
      );
    if (!isSame) this.#basePlaces = next;
    return this.#basePlaces;
  }

  /** The states of all craft: the same list while none of them changes. */
  get fleet(): readonly CraftState[] {
    const next = [...this.#craft.values()].map(({ folded }) => folded.state);
    const isSame =
      next.length === this.#fleet.length && next.every((state, index) => state === this.#fleet[index]);
    if (!isSame) this.#fleet = next;
    return this.#fleet;
  }

  get ledgers(): readonly string[] {
    return [...this.#craft.keys()].toSorted();
  }

  /**
   * The latest instant that the server vouches for in any ledger, by what a receipt says or by when it was written, which
   * is a moment later; null without one. A device whose clock is slow by less is not set back by its own receipts.
   */
  latestReceipt_ms(): number | null {
    const folds = [...this.#craft.values(), ...this.#bases.values()];
    return latestOf(folds.map(({ folded }) => folded.vouched_ms));
  }

  /** Takes entries in that the store holds; returns them opened, in the same order. */
  async add(store: Store, entries: readonly StoredEntry[]): Promise<readonly Opened[]> {
    const all = entries.map(reopenEntry);
    const byLedger = Map.groupBy(all, ({ envelope }) => envelope.ledger);
    for (const [ledger, opened] of byLedger) {
      if (!ledger.startsWith("operator:")) continue;
      this.#operatorLedger ??= ledger;
      if (this.#operator === null)
        this.#operator = new LedgerFold(operatorLedger, opened, { ...noTrust, root: this.#root });
      else this.#operator.add(opened);
    }
    await this.#spreadTrust(store);
    for (const [ledger, opened] of byLedger) {
      if (ledger.startsWith("craft:")) await this.#grow(store, craftLedger, this.#craft, ledger, opened);
      if (ledger.startsWith("base:")) await this.#grow(store, baseLedger, this.#bases, ledger, opened);
    }
    return all;
  }

  /** Says whose key the operator's is, as the server gave it at the first meeting; nobody else opens a record. */
  async pin(store: Store, root: string): Promise<void> {
    if (this.#root === root) return;
    this.#root = root;
    this.#operator?.add([], { ...noTrust, root });
    await this.#spreadTrust(store);
  }

  async #spreadTrust(store: Store): Promise<void> {
    const { trust } = this.operator;
    if (trust === this.#trust) return;
    this.#trust = trust;
    for (const ledger of this.#craft.keys()) await this.#grow(store, craftLedger, this.#craft, ledger, []);
    for (const ledger of this.#bases.keys()) await this.#grow(store, baseLedger, this.#bases, ledger, []);
  }

  /** Onto what is folded, or from all entries that the store holds where these speak about some that are not held here. */
  async #grow<State extends object>(
    store: Store,
    definition: LedgerDefinition<State>,
    folds: Map<string, LedgerFold<State>>,
    ledger: string,
    entries: readonly Opened[],
  ): Promise<void> {
    const trust = this.#trust;
    const fold = folds.get(ledger) ?? new LedgerFold(definition, [], trust);
    if (fold.takes(entries, trust)) {
      fold.add(entries, trust);
      folds.set(ledger, fold);
    } else folds.set(ledger, await foldWhole(store, { definition, ledger, trust }));
  }

  /**
   * The view of a craft: the same object as before while its record, its draft and `known` (by identity) are the same.
   * A tap changes the draft alone, and must not cost a standing.
   */
  view(ledger: string, draft: StopDraft | null, known: KnownToBook): CraftView {
    const { folded } = this.fold(ledger);
    const before = this.#seen.get(ledger);
    const isSame = before?.folded === folded && before.known === known;
    if (isSame && before.view.draft === draft) return before.view;
    const lines = (): readonly LedgerLine[] | null =>
      this.record(ledger)?.map((opened) => lineOf(folded, opened)) ?? null;
    const seen = isSame ? before : see(folded, known, before, lines);
    const view = viewOf(ledger, draft, seen);
    this.#seen.set(ledger, { ...seen, view });
    return view;
  }

  /** Sheets that the craft need, by hash. */
  sheetsWanted(): ReadonlySet<string> {
    const wanted = new Set<string>();
    for (const { folded } of this.#craft.values())
      for (const { sheet } of folded.state.sheets) wanted.add(sheet);
    return wanted;
  }
}

function see(
  folded: Folded<CraftState>,
  known: KnownToBook,
  before: Seen | undefined,
  lines: () => readonly LedgerLine[] | null,
): Omit<Seen, "view"> {
  const record =
    before?.folded === folded
      ? before
      : {
          stateHash: lazily(() => stateHash(folded, webVerifier.sha256)),
          lines: lazily(lines),
        };
  return {
    folded,
    known,
    sheetHash: sheetInForce(folded.state, known.now_ms),
    sky: lazily(() => {
      const base = baseOfCraft(known.bases, folded.state.based);
      return base === null ? null : skyOf(base);
    }),
    judged: lazily(() => judgedBy(known, folded)),
    stateHash: record.stateHash,
    lines: record.lines,
  };
}

function judgedBy(known: KnownToBook, folded: Folded<CraftState>): StandingOfCraft {
  // No screen asks before: until then the app says that it is loading (device-core.ts).
  if (known.standingOf === null) throw new Error("nobody who judges is at hand yet");
  return known.standingOf(folded, known);
}

function viewOf(ledger: string, draft: StopDraft | null, seen: Omit<Seen, "view">): CraftView {
  const { folded, known, sheetHash } = seen;
  return {
    ledger,
    name: folded.state.opened?.name ?? ledger.replace("craft:", ""),
    sheet: sheetHash === null ? null : known.sheetOf(sheetHash),
    sheetHash,
    state: folded.state,
    draft,
    aside: folded.aside.length,
    get sky() {
      return seen.sky();
    },
    // Each of these is worth more time than a tap has, and no screen asks for all of them.
    get standing() {
      return seen.judged().standing;
    },
    get situation() {
      return seen.judged().situation;
    },
    get stateHash() {
      return seen.stateHash();
    },
    get lines() {
      return seen.lines();
    },
  };
}
