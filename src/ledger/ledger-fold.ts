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
  latestOf,
  kindsOf,
  newestOf,
  runFrom,
  startOf,
  vouchedBy,
} from "./fold.ts";
import type { Aside, EntryStatus, Folded, LedgerDefinition, Result, Whole } from "./fold.ts";
import { placeOf } from "./judgement.ts";
import type { Judgement, Kinds, Outcome } from "./judgement.ts";
import type { Opened } from "./open.ts";
import { compareFree, parentsOf } from "./order.ts";
import { isOtherwiseTrusted, needsWhole, newestInPast, trustOf } from "./past.ts";
import type { ChainEnd, Past } from "./past.ts";
import { isSystemType, receiptsIn, systemFault } from "./system-entries.ts";

type Growing<State extends object> = {
  -readonly [Key in keyof Folded<State>]: Folded<State>[Key];
};

export class LedgerFold<State extends object> {
  readonly #definition: LedgerDefinition<State>;
  readonly #kinds: Kinds<State>;
  readonly #entries = new Map<Hash, Opened>();
  readonly #places = new Set<string>();
  readonly #chains = new Map<string, ChainEnd>();
  readonly #past: Past<State> | null;
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
   * `past`: what the entries are to be folded onto (`takes` says whether they can be). `keepsStates: false`: the caller
   * looks at the state and keeps no part of it until the next addition, which may then change it in place.
   */
  constructor(
    definition: LedgerDefinition<State>,
    entries: Iterable<Opened>,
    trust: Trust,
    past: Past<State> | null = null,
    { keepsStates = true } = {},
  ) {
    this.#definition = definition;
    this.#keepsStates = keepsStates;
    this.#kinds = kindsOf(definition);
    this.#past = past;
    for (const [key, end] of past?.chains ?? []) this.#chains.set(key, end);
    const all = [...entries];
    if (past !== null)
      assertTaken(isOtherwiseTrusted(past, trust) || needsWhole(past, new Map(), all, trust));
    for (const opened of all) this.#hold(opened);
    const { folded, outcomes, judgement } = foldWhole(definition, this.#entries.values(), trust, null, past);
    this.#folded = { ...folded };
    this.#outcomes = [...outcomes];
    this.#judgement = judgement;
  }

  get folded(): Folded<State> {
    return this.#folded;
  }

  has(id: Hash): boolean {
    return this.#entries.has(id) || this.#isPast(id);
  }

  #isPast(id: Hash): boolean {
    return this.#past?.ids.has(id) === true;
  }

  /** Whether these may be added: always where all entries are held, and mostly where it went on from a past. */
  takes(entries: readonly Opened[], trust: Trust = this.#folded.trust): boolean {
    if (this.#past === null) return true;
    if (trust !== this.#folded.trust && isOtherwiseTrusted(this.#past, trust)) return false;
    return !needsWhole(this.#past, this.#entries, entries, trust);
  }

  /** What a snapshot is made of (snapshot.ts). */
  get whole(): Whole<State> {
    return { folded: this.#folded, outcomes: this.#outcomes, judgement: this.#judgement };
  }

  /** Undefined for an entry of the past, which is not held. */
  entry(id: Hash): Opened | undefined {
    return this.#entries.get(id);
  }

  get definition(): LedgerDefinition<State> {
    return this.#definition;
  }

  /** Where a key's chain ends; undefined before its first entry. */
  lastOf(key: string): ChainEnd | undefined {
    return this.#chains.get(key);
  }

  /**
   * Adds entries, in any order; those already held are left alone, unless only a bodiless copy was held. Returns the
   * grown fold. Throws (RangeError) what cannot be taken onto a past; then nothing was added.
   */
  add(entries: Iterable<Opened>, trust: Trust = this.#folded.trust): Folded<State> {
    const all = [...entries];
    assertTaken(!this.takes(all, trust));
    const fresh = all.filter(
      (opened) => !this.#isPast(opened.id) && isNews(this.#entries.get(opened.id), opened),
    );
    const trustChanged = this.#trustChanges(trust);
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

  /** Whether other trust judges otherwise what is held; what only others may write by is taken over. */
  #trustChanges(trust: Trust): boolean {
    const folded = this.#folded;
    if (trust === folded.trust) return false;
    const carries = this.#definition.trustSource !== undefined;
    const keys = [...this.#chains.keys()];
    const same = carries
      ? canonicalText(trust) === canonicalText(folded.trust)
      : trustOf(trust, keys) === trustOf(folded.trust, keys);
    if (!same) return true;
    if (!carries) this.#folded = { ...folded, trust, believed: trust };
    return false;
  }

  #foldAll(fresh: readonly Opened[], trust: Trust): void {
    for (const opened of fresh) this.#hold(opened);
    this.#owned = new WeakSet();
    this.#staleFrom = null;
    this.counts.refolded += 1;
    const whole = foldWhole(this.#definition, this.#entries.values(), trust, this.#folded, this.#past);
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
    if (last === undefined || last.seq < seq) this.#chains.set(key, { id: opened.id, seq });
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
    const start = checkpoints.at(-1) ?? startOf(this.#definition, this.#past);
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
      newest_ms: this.#newest_ms(statuses),
      ran: ordered.length - start.entries,
    };
  }

  /** Whether the entry stands in its own place of its key's chain, after what is held, and nobody has spoken about it. */
  #isPlain(opened: Opened): boolean {
    const { heads, waiting } = this.#folded;
    if (this.has(opened.id) || this.#judgement.isNamed(opened.id)) return false;
    // Where 32 heads are named there may be more of them, which the entry does not follow.
    if (waiting.length > 0 || heads.length >= mostParents || this.#places.has(placeOf(opened))) return false;
    if (!parentsOf(opened).every((parent) => this.has(parent))) return false;
    const { key, seq, prev } = opened.envelope;
    if (prev === null) return true;
    if (this.#isPast(prev)) return this.#past?.chains.get(key)?.seq === seq - 1;
    const before = this.#entries.get(prev)?.envelope;
    return before?.key === key && before.seq === seq - 1;
  }

  /** The accepting receipts that the entry carries; null when it needs the long way. */
  #receiptsOf(opened: Opened): ReadonlyMap<Hash, Receipt> | null {
    const { believed, statuses, receipts: held } = this.#folded;
    const { type } = opened.envelope;
    // A system entry with a fault says nothing to anybody.
    if (!isSystemType(type) || this.#faultOf(opened) !== null) return new Map();
    if (type !== "receipt") return null;
    const receipts = receiptsIn(believed, [opened]);
    const plain = [...receipts].every(
      ([id, { verdict }]) =>
        verdict === "accepted" &&
        (statuses.get(id) === "pending" || (this.#past?.pending.has(id) === true && !held.has(id))),
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
      if (!this.#isPast(id)) (folded.statuses as Map<Hash, EntryStatus>).set(id, "accepted");
      const claimed_ms = this.#entries.get(id)?.at_ms ?? this.#past?.pending.get(id);
      if (claimed_ms === folded.newest_ms && receipt.receivedAt_ms !== claimed_ms) claimTakenBack = true;
      newest = Math.max(newest ?? receipt.receivedAt_ms, receipt.receivedAt_ms);
    }
    // The newest instant was a claim, and what was received says another: the next newest has to be looked for.
    folded.newest_ms = claimTakenBack ? this.#newest_ms(folded.statuses) : newest;
    folded.vouched_ms = latestOf([folded.vouched_ms, vouchedBy(receipts.values(), this.#entries)]);
  }

  #newest_ms(statuses: ReadonlyMap<Hash, EntryStatus>): number | null {
    const { ordered, receipts } = this.#folded;
    const newest = newestOf(ordered, { statuses, receipts });
    return this.#past === null ? newest : latestOf([newest, newestInPast(this.#past, receipts)]);
  }
}

/** Whether a copy of an entry tells more than the one that is held: a body that had been missing. */
function isNews(held: Opened | undefined, opened: Opened): boolean {
  return held === undefined || (held.erased && !opened.erased);
}

function assertTaken(refused: boolean): void {
  if (refused) throw new RangeError("entries that need those of the past to be judged");
}
