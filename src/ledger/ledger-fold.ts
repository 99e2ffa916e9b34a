// A fold that is kept and grown: what a device or a server holds of one ledger while it runs.
//
// The usual new entry was written by somebody who held everything, so it comes last in order and is run through the
// reducer alone. One that was written beside others (two devices, neither holding the other's) is put into its place, and
// what stands after it is run again from the checkpoint before. Everything else (a fork, a refusal, a decision, a parent
// that is missing, a change of trust) is judged and folded again by foldLedger, which is the reference: all ways give the
// same state, bytes and all (property tests).
import { actsIn, keyFault } from "./acceptance.ts";
import type { AsideCode, Receipt, Trust } from "./acceptance.ts";
import { canonicalText } from "./canonical.ts";
import { mostParents } from "./envelope.ts";
import type { Hash } from "./entry.ts";
import {
  admissionText,
  asideOf,
  checkpointEvery,
  foldOne,
  foldWhole,
  kindsOf,
  newestOf,
  runFrom,
} from "./fold.ts";
import type { Aside, Before, EntryStatus, Folded, LedgerDefinition, Result } from "./fold.ts";
import { placeOf } from "./judgement.ts";
import type { Judgement, Kinds, Outcome } from "./judgement.ts";
import type { Opened } from "./open.ts";
import { compareFree, parentsOf } from "./order.ts";
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
  #outcomes: Outcome[];
  #judgement: Judgement;
  /** First place in order whose state has still to be run, after something was put before it. */
  #staleFrom: number | null = null;
  /** How often entries were run alone, were put between others, and how often all was judged again. */
  readonly counts = { appended: 0, inserted: 0, refolded: 0 };

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
    const { folded, outcomes, judgement } = foldWhole(definition, this.#entries.values(), trust, before);
    this.#folded = { ...folded };
    this.#outcomes = [...outcomes];
    this.#judgement = judgement;
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
      fresh.every((opened) => this.#appendOne(opened) || this.#insertOne(opened));
    if (short) this.#runStale();
    else this.#foldAll(fresh, trust);
    return this.#folded;
  }

  #foldAll(fresh: readonly Opened[], trust: Trust): void {
    for (const opened of fresh) this.#hold(opened);
    this.#owned = new WeakSet();
    this.#staleFrom = null;
    this.counts.refolded += 1;
    const whole = foldWhole(this.#definition, this.#entries.values(), trust, this.#folded);
    this.#folded = { ...whole.folded };
    this.#outcomes = [...whole.outcomes];
    this.#judgement = whole.judgement;
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
    if (this.#staleFrom !== null || !this.#isPlain(opened)) return false;
    const { heads } = this.#folded;
    const parents = parentsOf(opened);
    if (!heads.every((head) => parents.includes(head))) return false;
    const receipts = this.#receiptsOf(opened);
    if (receipts === null) return false;
    this.#hold(opened);
    this.counts.appended += 1;
    this.#run(opened, receipts);
    return true;
  }

  /** Puts an entry that was written beside others into its place; what stands from there on is run later. */
  #insertOne(opened: Opened): boolean {
    if (!this.#isPlain(opened)) return false;
    const receipts = this.#receiptsOf(opened);
    if (receipts === null) return false;
    const folded = this.#folded;
    const place = this.#placeInOrder(opened);
    const fault = this.#faultOf(opened);
    const admission = admissionText(opened, fault, this.#judgement);
    this.#hold(opened);
    this.counts.inserted += 1;
    const parents = parentsOf(opened);
    folded.ordered = folded.ordered.toSpliced(place, 0, opened);
    folded.admissions = folded.admissions.toSpliced(place, 0, admission);
    this.#outcomes.splice(place, 0, fault);
    folded.checkpoints = folded.checkpoints.filter(({ entries }) => entries <= place);
    folded.heads = [...folded.heads.filter((head) => !parents.includes(head)), opened.id].sort();
    (folded.statuses as Map<Hash, EntryStatus>).set(opened.id, "pending");
    this.#receive(receipts);
    this.#staleFrom = Math.min(this.#staleFrom ?? place, place);
    return true;
  }

  /**
   * Where an entry whose parents are all held goes: after its parents, and before the first of what follows them that is
   * free later than it. Nothing held waits for it, so that nothing else moves (order.ts).
   */
  #placeInOrder(opened: Opened): number {
    const { ordered } = this.#folded;
    const parents = new Set(parentsOf(opened));
    let after = ordered.length;
    while (after > 0 && !parents.has(ordered[after - 1]!.id)) after -= 1;
    while (after < ordered.length && compareFree(ordered[after]!, opened) < 0) after += 1;
    return after;
  }

  /** Runs again what stands after something that was put between. */
  #runStale(): void {
    if (this.#staleFrom === null) return;
    this.#staleFrom = null;
    this.#owned = new WeakSet();
    const folded = this.#folded;
    const { ordered, checkpoints, receipts } = folded;
    const start = checkpoints.at(-1) ?? { entries: 0, state: this.#definition.initial, aside: [], noted: [] };
    const run = runFrom(this.#definition, this.#kinds.typed, start, ordered, this.#outcomes, this.#judgement);
    const statuses = folded.statuses as Map<Hash, EntryStatus>;
    for (const { id } of ordered.slice(start.entries))
      statuses.set(id, receipts.has(id) ? "accepted" : "pending");
    for (const { id, code } of run.aside.slice(start.aside.length)) statuses.set(id, code);
    for (const id of run.noted.slice(start.noted.length)) statuses.set(id, "noted");
    this.#folded = {
      ...folded,
      state: run.state,
      aside: run.aside,
      noted: run.noted,
      checkpoints: [...checkpoints, ...run.checkpoints],
      newest_ms: newestOf(ordered, { statuses, receipts }),
      ran: ordered.length - start.entries,
    };
  }

  /** Whether the entry stands in its own place of its key's chain, after what is held, and nobody has spoken about it. */
  #isPlain(opened: Opened): boolean {
    const { heads, waiting } = this.#folded;
    if (this.#entries.has(opened.id) || this.#judgement.isNamed(opened.id)) return false;
    // Where 32 heads are named there may be more of them, which the entry does not follow.
    if (waiting.length > 0 || heads.length >= mostParents || this.#places.has(placeOf(opened))) return false;
    if (!parentsOf(opened).every((parent) => this.#entries.has(parent))) return false;
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
    (folded.admissions as string[]).push(admissionText(opened, fault, this.#judgement));
    this.#outcomes.push(fault);
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
