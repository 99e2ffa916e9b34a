// The operator's record as the server holds it: the store, what follows from it (whom to believe, where each chain and
// each ledger stands), and the one way by which entries come in, whoever wrote them.
import { randomBytes } from "node:crypto";
import { msToInstant } from "../core/facts/instant.ts";
import { sha256 } from "../crypto/node.ts";
import { holdsRole, keyFault } from "../ledger/acceptance.ts";
import type { Trust } from "../ledger/acceptance.ts";
import type { Signer } from "../ledger/crypto.ts";
import type { Hash, LedgerId, StoredEntry } from "../ledger/entry.ts";
import { LedgerFold } from "../ledger/ledger-fold.ts";
import { reopenEntry } from "../ledger/open.ts";
import type { Opened } from "../ledger/open.ts";
import { operatorLedger } from "../ledger/operator/operator-ledger.ts";
import type { OperatorState } from "../ledger/operator/operator-ledger.ts";
import { systemFault } from "../ledger/system-entries.ts";
import { seal } from "../ledger/seal.ts";
import type { Store } from "../store/store.ts";
import type { HighWater } from "./high-water.ts";
import { LedgerPlaces } from "./ledger-places.ts";

/** Where a ledger stands, and what erasures in it have named. */
type Standing = { readonly places: LedgerPlaces; readonly erased: Set<Hash> };

/** Who the server is when it writes: a person's id like any other, certified for the role `server`. */
export const serverPerson = "server";

export class OperatorRecord {
  readonly store: Store;
  readonly #highWater: HighWater;
  readonly #now_ms: () => number;
  readonly #standings = new Map<LedgerId, Standing>();
  #operator: LedgerFold<OperatorState> | null = null;

  private constructor(store: Store, highWater: HighWater, now_ms: () => number) {
    this.store = store;
    this.#highWater = highWater;
    this.#now_ms = now_ms;
  }

  static async open(store: Store, highWater: HighWater, now_ms: () => number): Promise<OperatorRecord> {
    const record = new OperatorRecord(store, highWater, now_ms);
    await record.#readOperator();
    return record;
  }

  /** Null before the operator was founded. */
  get operator(): { readonly ledger: LedgerId; readonly state: OperatorState } | null {
    const first = this.#operator?.folded.ordered[0];
    return first === undefined
      ? null
      : { ledger: first.envelope.ledger, state: this.#operator!.folded.state };
  }

  get trust(): Trust {
    return this.#operator?.folded.state.trust ?? operatorLedger.initial.trust;
  }

  async has(ledger: LedgerId): Promise<boolean> {
    return this.#standings.has(ledger) || (await this.store.since(0, 1, ledger)).rows.length > 0;
  }

  /** Where a ledger stands, what is only taken in included. */
  async standingOf(ledger: LedgerId): Promise<Standing> {
    const held = this.#standings.get(ledger);
    if (held !== undefined) return held;
    const entries = (await this.store.ofLedger(ledger)).map(reopenEntry);
    if (ledger.startsWith("operator:"))
      this.#operator = new LedgerFold(operatorLedger, entries, operatorLedger.initial.trust);
    const standing: Standing = { places: new LedgerPlaces(), erased: new Set() };
    for (const opened of entries) this.#note(standing, opened);
    this.#standings.set(ledger, standing);
    return standing;
  }

  /** Takes an entry into the standings, before it is stored with the next append. */
  async takeIn(opened: Opened): Promise<void> {
    const { ledger } = opened.envelope;
    const standing = await this.standingOf(ledger);
    if (ledger.startsWith("operator:")) this.#operator?.add([opened]);
    this.#note(standing, opened);
  }

  /** Seals the next entry of a key and takes it in. All that the server writes is critical: it makes or unmakes others. */
  async seal(
    signer: Signer,
    by: string,
    entry: { readonly ledger: LedgerId; readonly type: string; readonly body: unknown },
  ): Promise<StoredEntry> {
    const { places } = await this.standingOf(entry.ledger);
    const newest = places.newestOf(signer.key);
    const stored = await seal(
      {
        ...entry,
        by,
        tv: 1,
        critical: true,
        seq: newest === undefined ? 0 : newest.seq + 1,
        prev: newest?.id ?? null,
        at: msToInstant(this.#now_ms()),
        after: places.heads(),
        basis: {},
        salt: randomBytes(16).toString("hex"),
      },
      signer,
      sha256,
    );
    await this.takeIn(reopenEntry(stored));
    return stored;
  }

  /**
   * Puts entries on the disk, all or none, and carries out the erasures among them. After a failure nothing of what was
   * taken in is believed any more: it is read again from the store.
   */
  async append(entries: readonly StoredEntry[]): Promise<{ readonly added: readonly Hash[] }> {
    const ready = await Promise.all(entries.map((entry) => this.#withoutErasedBody(entry)));
    try {
      const appended = await this.store.append(ready);
      await this.#highWater.rise(this.store);
      await this.#erase(entries);
      return appended;
    } catch (error) {
      this.#standings.clear();
      await this.#readOperator();
      throw error;
    }
  }

  /** Certifies the server's key where nobody has yet: at the founding, and after the key was renewed. */
  async certifyServer(root: Signer, server: Signer): Promise<void> {
    const { operator } = this;
    if (operator === null || holdsRole(this.trust, server.key, "server")) return;
    const from = msToInstant(this.#now_ms());
    const body = { key: server.key, person: serverPerson, roles: ["server"], from, until: null };
    await this.append([
      await this.seal(root, "operator", { ledger: operator.ledger, type: "key.certified", body }),
    ]);
  }

  async #readOperator(): Promise<void> {
    this.#operator = null;
    const ledger = (await this.store.ledgers()).find((name) => name.startsWith("operator:"));
    if (ledger !== undefined) await this.standingOf(ledger);
  }

  #note(standing: Standing, opened: Opened): void {
    standing.places.add(opened);
    if (this.#mayErase(opened)) standing.erased.add((opened.body as { entry: Hash }).entry);
  }

  #mayErase(opened: Opened): boolean {
    if (opened.envelope.type !== "erase" || opened.erased) return false;
    return keyFault(this.trust, opened, undefined) === null && systemFault(this.trust, opened) === null;
  }

  async #withoutErasedBody(entry: StoredEntry): Promise<StoredEntry> {
    const { envelope } = reopenEntry(entry);
    const { erased } = await this.standingOf(envelope.ledger);
    return erased.has(entry.id) ? { ...entry, salt: null, body: null } : entry;
  }

  async #erase(entries: readonly StoredEntry[]): Promise<void> {
    const erasures = entries.map(reopenEntry).filter((opened) => this.#mayErase(opened));
    if (erasures.length > 0)
      await this.store.erase(erasures.map((opened) => (opened.body as { entry: Hash }).entry));
  }
}
