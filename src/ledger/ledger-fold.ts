// A fold that is kept and grown: what a device or a server holds of one ledger while it runs.
//
// The usual new entry was written by somebody who held everything, so it comes last in order and is run through the
// reducer alone. Everything else (a late entry, a fork, a refusal, a decision, a change of trust) folds again from the
// checkpoint before it by foldLedger, which is the reference: both give the same state, bytes and all (property tests).
import { actsIn, keyFault } from "./acceptance.ts";
import type { AsideCode, Receipt, Trust } from "./acceptance.ts";
import { canonicalText } from "./canonical.ts";
import { mostParents } from "./envelope.ts";
import type { Hash } from "./entry.ts";
import { asideOf, checkpointEvery, foldLedger, foldOne, kindsOf, newestOf } from "./fold.ts";
import type { Aside, Before, EntryStatus, Folded, LedgerDefinition, Result } from "./fold.ts";
import { placeOf } from "./judgement.ts";
import type { Kinds } from "./judgement.ts";
import type { Opened } from "./open.ts";
import { parentsOf } from "./order.ts";
import { isSystemType, receiptsIn, systemFault } from "./system-entries.ts";

type Growing<State extends object> = {
  -readonly [Key in keyof Folded<State>]: Folded<State>[Key];
};

export class LedgerFold<State extends object> {
  readonly #definition: LedgerDefinition<State>;
  readonly #kinds: Kinds<State>;
  readonly #entries = new Map<Hash, Opened>();
  readonly #places = new Set<string>();
  readonly #chains = new Map<string, Opened>();
  readonly #keepsStates: boolean;
  #folded: Growing<State>;
  /** What the reducers made since somebody last could look (entry-type.ts). */
  #owned = new WeakSet<object>();
  /** How often entries went the short way, and how often the fold began again from a checkpoint. */
  readonly counts = { appended: 0, refolded: 0 };

  /**
   * `before` may come from a snapshot. `keepsStates: false`: the caller looks at the state and keeps no part of it until
   * the next addition, which may then change it in place.
   */
  constructor(
    definition: LedgerDefinition<State>,
    entries: Iterable<Opened>,
    trust: Trust,
    before: Before<State> | null = null,
    { keepsStates = true } = {},
  ) {
    this.#definition = definition;
    this.#keepsStates = keepsStates;
    this.#kinds = kindsOf(definition);
    for (const opened of entries) this.#hold(opened);
    this.#folded = { ...foldLedger(definition, this.#entries.values(), trust, before) };
  }

  get folded(): Folded<State> {
    return this.#folded;
  }

  has(id: Hash): boolean {
    return this.#entries.has(id);
  }

  entry(id: Hash): Opened | undefined {
    return this.#entries.get(id);
  }

  get definition(): LedgerDefinition<State> {
    return this.#definition;
  }

  /** The newest entry of a key's chain; undefined before its first. */
  lastOf(key: string): Opened | undefined {
    return this.#chains.get(key);
  }

  /**
   * Adds entries, in any order; those already held are left alone, unless only a bodiless copy was held. Returns the
   * grown fold.
   */
  add(entries: Iterable<Opened>, trust: Trust = this.#folded.trust): Folded<State> {
    const fresh = [...entries].filter((opened) => isNews(this.#entries.get(opened.id), opened));
    const trustChanged = !isSameTrust(trust, this.#folded.trust);
    if (this.#keepsStates) this.#owned = new WeakSet();
    if (fresh.length === 0 && !trustChanged) return this.#folded;
    const short =
      !trustChanged &&
      this.#definition.trustSource === undefined &&
      fresh.every((opened) => this.#appendOne(opened));
    if (short) return this.#folded;
    for (const opened of fresh) this.#hold(opened);
    this.#owned = new WeakSet();
    this.counts.refolded += 1;
    this.#folded = { ...foldLedger(this.#definition, this.#entries.values(), trust, this.#folded) };
    return this.#folded;
  }

  #hold(opened: Opened): void {
    if (!isNews(this.#entries.get(opened.id), opened)) return;
    this.#entries.set(opened.id, opened);
    this.#places.add(placeOf(opened));
    const { key, seq } = opened.envelope;
    const last = this.#chains.get(key);
    if (last === undefined || last.envelope.seq < seq) this.#chains.set(key, opened);
  }

  /** Runs one entry that comes after everything held; false when it does not, or when it speaks about others' standing. */
  #appendOne(opened: Opened): boolean {
    if (this.#entries.has(opened.id) || !this.#comesLast(opened)) return false;
    const receipts = this.#receiptsOf(opened);
    if (receipts === null) return false;
    this.#hold(opened);
    this.counts.appended += 1;
    this.#run(opened, receipts);
    return true;
  }

  /** Whether the entry follows everything held, in its own place of its key's chain. */
  #comesLast(opened: Opened): boolean {
    const { heads, waiting } = this.#folded;
    // Where 32 heads are named there may be more of them, which the entry does not follow.
    if (waiting.length > 0 || heads.length >= mostParents || this.#places.has(placeOf(opened))) return false;
    const parents = parentsOf(opened);
    if (!heads.every((head) => parents.includes(head))) return false;
    if (!parents.every((parent) => this.#entries.has(parent))) return false;
    const { key, seq, prev } = opened.envelope;
    const before = prev === null ? undefined : this.#entries.get(prev)?.envelope;
    return prev === null || (before?.key === key && before.seq === seq - 1);
  }

  /** The accepting receipts that the entry carries; null when it needs the long way. */
  #receiptsOf(opened: Opened): ReadonlyMap<Hash, Receipt> | null {
    const { believed, statuses } = this.#folded;
    const { type } = opened.envelope;
    // A system entry with a fault says nothing to anybody.
    if (!isSystemType(type) || this.#faultOf(opened) !== null) return new Map();
    if (type !== "receipt") return null;
    const receipts = receiptsIn(believed, [opened]);
    const plain = [...receipts].every(
      ([id, { verdict }]) => verdict === "accepted" && statuses.get(id) === "pending",
    );
    return plain ? receipts : null;
  }

  #faultOf(opened: Opened): AsideCode | null {
    const { believed } = this.#folded;
    const { type, tv } = opened.envelope;
    const fault = keyFault(believed, opened, undefined);
    if (fault !== null) return fault;
    if (isSystemType(type)) return systemFault(believed, opened);
    const kind = this.#kinds.typed.get(type)?.get(tv);
    return kind === undefined || actsIn(believed, opened, kind.roles) ? null : "roleMissing";
  }

  #run(opened: Opened, receipts: ReadonlyMap<Hash, Receipt>): void {
    const folded = this.#folded;
    const { id, at_ms } = opened;
    const fault = this.#faultOf(opened);
    const result: Result<State> =
      fault === null
        ? foldOne(this.#kinds.typed, folded.state, opened, this.#owned)
        : { code: fault, detail: "" };
    const aside = folded.aside as Aside[];
    const statuses = folded.statuses as Map<Hash, EntryStatus>;
    if ("state" in result) {
      folded.state = result.state;
      statuses.set(id, "pending");
      folded.newest_ms = Math.max(folded.newest_ms ?? at_ms, at_ms);
    } else {
      statuses.set(id, result.code);
      if (result.code === "noted") (folded.noted as Hash[]).push(id);
      else aside.push(asideOf(opened, result.code, result.detail));
    }
    (folded.ordered as Opened[]).push(opened);
    (folded.admissions as string[]).push(`${id} ${fault ?? ""}${opened.erased ? " without body" : ""}`);
    folded.heads = [id];
    this.#receive(receipts);
    folded.ran = 1;
    const entries = folded.ordered.length;
    if (entries % checkpointEvery(this.#definition) === 0) {
      const { state, noted } = folded;
      folded.checkpoints = [...folded.checkpoints, { entries, state, aside: [...aside], noted: [...noted] }];
      this.#owned = new WeakSet();
    }
    // A new object each time, so that who compares by identity sees the change; the lists inside are shared and grow.
    this.#folded = { ...folded };
  }

  /** Takes in accepting receipts for entries that were pending. */
  #receive(receipts: ReadonlyMap<Hash, Receipt>): void {
    const folded = this.#folded;
    let newest = folded.newest_ms;
    let claimTakenBack = false;
    for (const [id, receipt] of receipts) {
      (folded.receipts as Map<Hash, Receipt>).set(id, receipt);
      (folded.statuses as Map<Hash, EntryStatus>).set(id, "accepted");
      const claimed_ms = this.#entries.get(id)?.at_ms;
      if (claimed_ms === folded.newest_ms && receipt.receivedAt_ms !== claimed_ms) claimTakenBack = true;
      newest = Math.max(newest ?? receipt.receivedAt_ms, receipt.receivedAt_ms);
    }
    // The newest instant was a claim, and what was received says another: the next newest has to be looked for.
    folded.newest_ms = claimTakenBack ? newestOf(folded.ordered, folded) : newest;
  }
}

/** Whether a copy of an entry tells more than the one that is held: a body that had been missing. */
function isNews(held: Opened | undefined, opened: Opened): boolean {
  return held === undefined || (held.erased && !opened.erased);
}

function isSameTrust(a: Trust, b: Trust): boolean {
  return a === b || canonicalText(a) === canonicalText(b);
}
