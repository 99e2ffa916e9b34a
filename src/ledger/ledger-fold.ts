// A fold that is kept and grown: what a device or a server holds of one ledger while it runs.
//
// The usual new entry was written by somebody who held everything, so it comes last in order and is run through the
// reducer alone. Everything else (a late entry, a fork, a refusal, a change of trust) folds again from the checkpoint
// before it by foldLedger, which is the reference: both give the same state, bytes and all (property tests).
import { keyFault } from "./acceptance.ts";
import type { Receipt, Trust } from "./acceptance.ts";
import type { Hash } from "./entry.ts";
import { asideOf, byType, checkpointEvery, foldLedger, foldOne, newestOf } from "./fold.ts";
import type { Aside, EntryStatus, Folded, LedgerDefinition, Typed } from "./fold.ts";
import { instantToMs } from "../core/facts/instant.ts";
import type { Opened } from "./open.ts";
import { parentsOf } from "./order.ts";
import { isSystemType, receiptsIn, systemFault } from "./system-entries.ts";

type Growing<State extends object> = {
  -readonly [Key in keyof Folded<State>]: Folded<State>[Key];
};

export class LedgerFold<State extends object> {
  readonly #definition: LedgerDefinition<State>;
  readonly #types: Typed<State>;
  readonly #entries = new Map<Hash, Opened>();
  readonly #places = new Set<string>();
  readonly #chains = new Map<string, Opened>();
  #folded: Growing<State>;
  /** How often entries went the short way, and how often the fold began again from a checkpoint. */
  readonly counts = { appended: 0, refolded: 0 };

  constructor(definition: LedgerDefinition<State>, entries: Iterable<Opened>, trust: Trust) {
    this.#definition = definition;
    this.#types = byType(definition.types);
    for (const opened of entries) this.#hold(opened);
    this.#folded = { ...foldLedger(definition, this.#entries.values(), trust) };
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

  /** Adds entries, in any order; those already held are left alone. Returns the grown fold. */
  add(entries: Iterable<Opened>, trust: Trust = this.#folded.trust): Folded<State> {
    const fresh = [...entries].filter(({ id }) => !this.#entries.has(id));
    const trustChanged = trust !== this.#folded.trust;
    if (fresh.length === 0 && !trustChanged) return this.#folded;
    const short =
      !trustChanged &&
      this.#definition.trustIn === undefined &&
      fresh.every((opened) => this.#appendOne(opened));
    if (short) return this.#folded;
    for (const opened of fresh) this.#hold(opened);
    this.counts.refolded += 1;
    this.#folded = { ...foldLedger(this.#definition, this.#entries.values(), trust, this.#folded) };
    return this.#folded;
  }

  #hold(opened: Opened): void {
    this.#entries.set(opened.id, opened);
    this.#places.add(placeOf(opened));
    const { key, seq } = opened.envelope;
    const last = this.#chains.get(key);
    if (last === undefined || last.envelope.seq < seq) this.#chains.set(key, opened);
  }

  /** Runs one entry that comes after everything held; false when it does not, or when it speaks about others' standing. */
  #appendOne(opened: Opened): boolean {
    const { folded, receipts } = { folded: this.#folded, receipts: this.#receiptsOf(opened) };
    if (receipts === null || this.#places.has(placeOf(opened)) || folded.waiting.length > 0) return false;
    const parents = parentsOf(opened);
    if (!folded.heads.every((head) => parents.includes(head))) return false;
    if (!parents.every((parent) => this.#entries.has(parent))) return false;
    this.#hold(opened);
    this.counts.appended += 1;
    this.#run(opened, receipts);
    return true;
  }

  /** The accepting receipts that the entry carries; null when it needs the long way. */
  #receiptsOf(opened: Opened): ReadonlyMap<Hash, Receipt> | null {
    const { trust, statuses } = this.#folded;
    const { type, key } = opened.envelope;
    if (!isSystemType(type)) return trust.revocations[key] === undefined ? new Map<Hash, Receipt>() : null;
    if (
      type !== "receipt" ||
      keyFault(trust, opened, undefined) !== null ||
      systemFault(trust, opened) !== null
    )
      return null;
    const receipts = receiptsIn(trust, [opened]);
    const plain = [...receipts].every(
      ([id, { verdict }]) =>
        verdict === "accepted" && (statuses.get(id) === "pending" || !this.#entries.has(id)),
    );
    return plain ? receipts : null;
  }

  #run(opened: Opened, receipts: ReadonlyMap<Hash, Receipt>): void {
    const folded = this.#folded;
    const { id, envelope } = opened;
    const fault = keyFault(folded.trust, opened, folded.receipts.get(id));
    const result =
      fault === null ? foldOne(this.#types, folded.trust, folded.state, opened) : { code: fault, detail: "" };
    const aside = folded.aside as Aside[];
    const statuses = folded.statuses as Map<Hash, EntryStatus>;
    statuses.set(id, folded.receipts.has(id) ? "accepted" : "pending");
    if ("state" in result) folded.state = result.state;
    else {
      statuses.set(id, result.code);
      if (result.code === "noted") (folded.noted as Hash[]).push(id);
      else aside.push(asideOf(opened, result.code, result.detail));
    }
    (folded.ordered as Opened[]).push(opened);
    (folded.admissions as string[]).push(`${id} ${fault ?? ""}`);
    folded.heads = [id];
    const claimed_ms = folded.receipts.get(id)?.receivedAt_ms ?? instantToMs(envelope.at);
    folded.newest_ms = Math.max(folded.newest_ms ?? claimed_ms, claimed_ms);
    for (const [named, receipt] of receipts) {
      (folded.receipts as Map<Hash, Receipt>).set(named, receipt);
      if (statuses.get(named) === "pending") statuses.set(named, "accepted");
    }
    // A receipt may take back a time that was only claimed.
    if (receipts.size > 0) folded.newest_ms = newestOf(folded.ordered, folded.receipts);
    folded.ran = 1;
    // A new object each time, so that who compares by identity sees the change; the lists inside are shared and grow.
    this.#folded = { ...folded };
    if (folded.ordered.length % checkpointEvery === 0) {
      const { state, noted } = folded;
      this.#folded.checkpoints = [...folded.checkpoints, { state, aside: [...aside], noted: [...noted] }];
    }
  }
}

function placeOf({ envelope }: Opened): string {
  return `${envelope.key} ${envelope.seq}`;
}
