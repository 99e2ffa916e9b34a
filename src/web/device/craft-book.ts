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
import { stateHash } from "../../ledger/fold.ts";
import type { Folded } from "../../ledger/fold.ts";
import { LedgerFold } from "../../ledger/ledger-fold.ts";
import { reopenEntry } from "../../ledger/open.ts";
import type { Opened } from "../../ledger/open.ts";
import type { StoredEntry } from "../../ledger/entry.ts";
import { operatorLedger } from "../../ledger/operator/operator-ledger.ts";
import type { OperatorState } from "../../ledger/operator/operator-ledger.ts";
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
    status: folded.statuses.get(id) ?? "missingParent",
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
  readonly lines: () => readonly LedgerLine[];
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
  /** Entries of craft that came before the operator's ledger gave anybody's trust. */
  #trust = operatorLedger.initial.trust;
  readonly #erased = new Set<string>();
  #root: string | null = null;

  /** Says whose key the operator's is, as the server gave it at the first meeting; nobody else opens a record. */
  pin(root: string): void {
    if (this.#root === root) return;
    this.#root = root;
    this.#operator?.add([], { ...noTrust, root });
    this.#spreadTrust();
  }

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
    let latest: number | null = null;
    for (const fold of [...this.#craft.values(), ...this.#bases.values()]) {
      for (const { receivedAt_ms, entry } of fold.folded.receipts.values()) {
        const vouched_ms = Math.max(receivedAt_ms, fold.entry(entry)?.at_ms ?? receivedAt_ms);
        if (latest === null || vouched_ms > latest) latest = vouched_ms;
      }
    }
    return latest;
  }

  /** Takes entries in; returns them opened, in the same order. */
  add(entries: readonly StoredEntry[]): readonly Opened[] {
    const all = entries.map(reopenEntry);
    const byLedger = Map.groupBy(all, ({ envelope }) => envelope.ledger);
    for (const [ledger, opened] of byLedger) {
      if (!ledger.startsWith("operator:")) continue;
      this.#operatorLedger ??= ledger;
      if (this.#operator === null)
        this.#operator = new LedgerFold(operatorLedger, opened, { ...noTrust, root: this.#root });
      else this.#operator.add(opened);
    }
    this.#spreadTrust();
    const trust = this.#trust;
    for (const [ledger, opened] of byLedger) {
      if (ledger.startsWith("craft:")) this.fold(ledger).add(opened, trust);
      if (ledger.startsWith("base:")) this.baseFold(ledger).add(opened, trust);
    }
    return all;
  }

  #spreadTrust(): void {
    const { trust } = this.operator;
    if (trust === this.#trust) return;
    this.#trust = trust;
    for (const fold of this.#craft.values()) fold.add([], trust);
    for (const fold of this.#bases.values()) fold.add([], trust);
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
    const seen = isSame ? before : see(folded, known, before);
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

function see(folded: Folded<CraftState>, known: KnownToBook, before: Seen | undefined): Omit<Seen, "view"> {
  const record =
    before?.folded === folded
      ? before
      : {
          stateHash: lazily(() => stateHash(folded, webVerifier.sha256)),
          lines: lazily(() => [...folded.ordered, ...folded.waiting].map((opened) => lineOf(folded, opened))),
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
