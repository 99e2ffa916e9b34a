// The operator's record as the server holds it: the store, what follows from it (whom to believe, where each chain and
// each ledger stands), and the one way by which entries come in, whoever wrote them.
import { randomBytes } from "node:crypto";
import { msToInstant } from "../core/facts/instant.ts";
import { sha256 } from "../crypto/node.ts";
import { holdsRole, noTrust } from "../ledger/acceptance.ts";
import type { Trust } from "../ledger/acceptance.ts";
import type { Signer } from "../ledger/crypto.ts";
import type { Hash, LedgerId, StoredEntry } from "../ledger/entry.ts";
import { kindsOf } from "../ledger/fold.ts";
import type { LedgerDefinition, TrustSource } from "../ledger/fold.ts";
import { judgeLedger } from "../ledger/judgement.ts";
import { LedgerFold } from "../ledger/ledger-fold.ts";
import { reopenEntry } from "../ledger/open.ts";
import type { Opened } from "../ledger/open.ts";
import { operatorLedger } from "../ledger/operator/operator-ledger.ts";
import type { OperatorState } from "../ledger/operator/operator-ledger.ts";
import { orderEntries } from "../ledger/order.ts";
import { seal } from "../ledger/seal.ts";
import type { Store } from "../store/store.ts";
import type { HighWater } from "./high-water.ts";
import { LedgerPlaces } from "./ledger-places.ts";

/** Where a ledger stands; whether anybody asked for an erasure in it, and what was erased by right. */
type Standing = { readonly places: LedgerPlaces; asksErasure: boolean; erased: ReadonlySet<Hash> };

/** Who the server is when it writes: a person's id like any other, certified for the role `server`. */
export const serverPerson = "server";

export class OperatorRecord {
  readonly store: Store;
  readonly #highWater: HighWater;
  readonly #now_ms: () => number;
  /** Nobody but the operator's own key is believed from the start, whatever a ledger says of itself. */
  readonly #pinned: Trust;
  readonly #standings = new Map<LedgerId, Standing>();
  #operator: LedgerFold<OperatorState> | null = null;

  private constructor(store: Store, highWater: HighWater, now_ms: () => number, root: string) {
    this.store = store;
    this.#highWater = highWater;
    this.#now_ms = now_ms;
    this.#pinned = { ...noTrust, root };
  }

  /** `root`: the operator's public key. */
  static async open(
    store: Store,
    highWater: HighWater,
    now_ms: () => number,
    root: string,
  ): Promise<OperatorRecord> {
    const record = new OperatorRecord(store, highWater, now_ms, root);
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
    return this.#operator?.folded.state.trust ?? this.#pinned;
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
      this.#operator = new LedgerFold(operatorLedger, entries, this.#pinned);
    const standing: Standing = { places: new LedgerPlaces(), asksErasure: false, erased: new Set() };
    for (const opened of entries) note(standing, opened);
    if (standing.asksErasure) standing.erased = this.#erasedIn(ledger, entries);
    this.#standings.set(ledger, standing);
    return standing;
  }

  /** Takes an entry into the standings, before it is stored with the next append. */
  async takeIn(opened: Opened): Promise<void> {
    const { ledger } = opened.envelope;
    const standing = await this.standingOf(ledger);
    if (ledger.startsWith("operator:")) this.#operator?.add([opened]);
    note(standing, opened);
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

  /**
   * Certifies the server's key where nobody has yet: at the founding, and after the key was renewed. Then the keys before it
   * run out: whoever finds one in an old backup receipts nothing with it any more.
   */
  async certifyServer(root: Signer, server: Signer): Promise<void> {
    const { operator } = this;
    if (operator === null || holdsRole(this.trust, server.key, "server")) return;
    const from = msToInstant(this.#now_ms());
    const body = { key: server.key, person: serverPerson, roles: ["server"], from, until: null };
    const before = Object.entries(this.trust.certificates).filter(
      ([key, held]) =>
        key !== server.key &&
        held.some(({ roles, until_ms }) => roles.includes("server") && until_ms === null),
    );
    const { ledger } = operator;
    const entries = [await this.seal(root, "operator", { ledger, type: "key.certified", body })];
    // What was written at this very instant still counts.
    const until = msToInstant(this.#now_ms() + 1);
    for (const [key] of before)
      entries.push(await this.seal(root, "operator", { ledger, type: "key.ranOut", body: { key, until } }));
    await this.append(entries);
  }

  async #readOperator(): Promise<void> {
    this.#operator = null;
    const ledger = (await this.store.ledgers()).find((name) => name.startsWith("operator:"));
    if (ledger !== undefined) await this.standingOf(ledger);
  }

  async #withoutErasedBody(entry: StoredEntry): Promise<StoredEntry> {
    const { envelope } = reopenEntry(entry);
    const { erased } = await this.standingOf(envelope.ledger);
    return erased.has(entry.id) ? { ...entry, salt: null, body: null } : entry;
  }

  /**
   * Removes bodies where what was just stored makes an erasure hold. Judged from the whole ledger: an erasure that was
   * refused, forked or written by somebody without the right removes nothing, and one that waited may hold only now.
   */
  async #erase(entries: readonly StoredEntry[]): Promise<void> {
    for (const ledger of new Set(entries.map((entry) => reopenEntry(entry).envelope.ledger))) {
      const standing = await this.standingOf(ledger);
      if (!standing.asksErasure) continue;
      standing.erased = this.#erasedIn(ledger, (await this.store.ofLedger(ledger)).map(reopenEntry));
      if (standing.erased.size > 0) await this.store.erase([...standing.erased]);
    }
  }

  /** Erasures are judged by structure and trust alone, so that the server need not know each ledger's own types. */
  #erasedIn(ledger: LedgerId, entries: readonly Opened[]): ReadonlySet<Hash> {
    const kinds = kindsOf<object>({ initial: {}, types: [], ...trustTypesOf(ledger) });
    const { ordered, waiting } = orderEntries(entries);
    return judgeLedger(kinds, this.trust, ordered, waiting).erased;
  }
}

/** Types that carry the trust obey the root alone, also where somebody asks to erase them. */
function trustTypesOf(ledger: LedgerId): Pick<LedgerDefinition<object>, "trustSource"> | null {
  const { trustSource } = operatorLedger;
  if (trustSource === undefined || !ledger.startsWith("operator:")) return null;
  return { trustSource: trustSource as TrustSource<object> };
}

function note(standing: Standing, opened: Opened): void {
  standing.places.add(opened);
  if (opened.envelope.type === "erase") standing.asksErasure = true;
}
