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
import type { Judgement } from "../ledger/judgement.ts";
import { LedgerFold } from "../ledger/ledger-fold.ts";
import { reopenEntry } from "../ledger/open.ts";
import type { Opened } from "../ledger/open.ts";
import { operatorLedger } from "../ledger/operator/operator-ledger.ts";
import type { OperatorState } from "../ledger/operator/operator-ledger.ts";
import { orderEntries } from "../ledger/order.ts";
import type { Ordered } from "../ledger/order.ts";
import { seal } from "../ledger/seal.ts";
import type { EraseBody, ErasePhotoBody } from "../ledger/system-entries.ts";
import type { PhotoShelf } from "../store/photo-shelf.ts";
import type { Store } from "../store/store.ts";
import type { ErasureList } from "./erasure-list.ts";
import type { HighWater } from "./high-water.ts";
import { LedgerPlaces } from "./ledger-places.ts";

/**
 * Where a ledger stands; which entries somebody asked to erase in it, what of that was carried out, and whether an erasure
 * waits for an entry before it.
 */
type Standing = {
  readonly places: LedgerPlaces;
  readonly asked: Set<Hash>;
  erased: ReadonlySet<Hash>;
  erasureWaits: boolean;
};

/** What is erased by right goes from here too, besides the store: photos, and the list that outlives backups. */
export type ErasureRim = { readonly list: ErasureList; readonly photos: PhotoShelf };

/** Which ledgers had an erasure on its way to the disk: after a crash it is carried out at the next start. */
const erasingNote = "erasing";
const erasingTypes: ReadonlySet<string> = new Set(["erase", "photo.erased"]);
/** What may make an erasure hold that did not. */
const movingTypes: ReadonlySet<string> = new Set([...erasingTypes, "fork.decided", "aside.settled"]);

/** Who the server is when it writes: a person's id like any other, certified for the role `server`. */
export const serverPerson = "server";

export type RecordPorts = {
  readonly store: Store;
  readonly highWater: HighWater;
  readonly rim: ErasureRim;
};

export class OperatorRecord {
  readonly store: Store;
  readonly #highWater: HighWater;
  readonly #now_ms: () => number;
  readonly #rim: ErasureRim;
  /** Nobody but the operator's own key is believed from the start, whatever a ledger says of itself. */
  readonly #pinned: Trust;
  readonly #standings = new Map<LedgerId, Standing>();
  #operator: LedgerFold<OperatorState> | null = null;
  /** Ledgers in which an erasure was stored and could not be carried out: it is tried again with whatever is appended next. */
  readonly #unfinished = new Set<LedgerId>();

  private constructor({ store, highWater, rim }: RecordPorts, now_ms: () => number, root: string) {
    this.store = store;
    this.#highWater = highWater;
    this.#rim = rim;
    this.#now_ms = now_ms;
    this.#pinned = { ...noTrust, root };
  }

  /** `root`: the operator's public key. */
  static async open(ports: RecordPorts, now_ms: () => number, root: string): Promise<OperatorRecord> {
    const record = new OperatorRecord(ports, now_ms, root);
    await record.#readOperator();
    return record;
  }

  /**
   * Erases what a crash left half erased, and what a restored backup has brought back. To be called in turn with what
   * else writes, before anybody is answered.
   */
  async eraseAgain(): Promise<void> {
    const { list, photos } = this.#rim;
    photos.erase(list.photos);
    if (list.bodies.size > 0) await this.store.erase([...list.bodies]);
    const lacking = new Set(await this.store.lacking(list.entries.map(({ id }) => id)));
    const gone = list.entries.filter(({ id }) => lacking.has(id));
    for (const entry of gone) await this.takeIn(reopenEntry(entry));
    if (gone.length > 0) await this.append(gone);
    const interrupted = await this.store.readNote(erasingNote);
    if (interrupted === null) return;
    for (const ledger of JSON.parse(interrupted) as readonly LedgerId[]) await this.#carryOut(ledger);
    await this.store.writeNote(erasingNote, null);
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
    const standing: Standing = {
      places: new LedgerPlaces(),
      asked: new Set(),
      erased: new Set(),
      erasureWaits: false,
    };
    for (const opened of entries) note(standing, opened);
    if (standing.asked.size > 0) {
      const { erased, waiting } = this.#erasuresIn(ledger, entries);
      standing.erased = erased;
      standing.erasureWaits = waiting.some(isErasing);
    }
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
    const moved = [...new Set([...this.#unfinished, ...(await this.#ledgersToErase(entries))])];
    try {
      if (moved.length > 0) await this.store.writeNote(erasingNote, JSON.stringify(moved));
      const appended = await this.store.append(ready);
      await this.#highWater.rise(this.store);
      for (const ledger of moved) this.#unfinished.add(ledger);
      for (const ledger of moved) await this.#carryOut(ledger);
      if (moved.length > 0) await this.store.writeNote(erasingNote, null);
      this.#unfinished.clear();
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
    const isErased = erased.has(entry.id) || this.#rim.list.bodies.has(entry.id);
    return isErased ? { ...entry, salt: null, body: null } : entry;
  }

  /** Ledgers in which these entries may make an erasure hold: to look costs a reading of the whole ledger. */
  async #ledgersToErase(entries: readonly StoredEntry[]): Promise<readonly LedgerId[]> {
    const ledgers = new Set<LedgerId>();
    for (const { id, envelope } of entries.map(reopenEntry)) {
      const { asked, erasureWaits } = await this.standingOf(envelope.ledger);
      if (movingTypes.has(envelope.type) || erasureWaits || asked.has(id)) ledgers.add(envelope.ledger);
    }
    return [...ledgers];
  }

  /**
   * Removes bodies and photos where an erasure holds. Judged from the whole ledger: an erasure that was refused, forked or
   * written by somebody without the right removes nothing, and one that waited may hold only now.
   */
  async #carryOut(ledger: LedgerId): Promise<void> {
    const standing = await this.standingOf(ledger);
    const entries = (await this.store.ofLedger(ledger)).map(reopenEntry);
    const { erased, erasedPhotos, ordered, waiting } = this.#erasuresIn(ledger, entries);
    const holds = ordered.filter(
      ({ envelope: { type }, body }) =>
        (type === "erase" && erased.has((body as Partial<EraseBody> | null)?.entry ?? "")) ||
        (type === "photo.erased" && erasedPhotos.has((body as Partial<ErasePhotoBody> | null)?.photo ?? "")),
    );
    this.#rim.list.add(holds.map(({ stored }) => stored));
    if (erased.size > 0) await this.store.erase([...erased]);
    this.#rim.photos.erase(erasedPhotos);
    standing.erased = erased;
    standing.erasureWaits = waiting.some(isErasing);
  }

  /** Erasures are judged by structure and trust alone, so that the server need not know each ledger's own types. */
  #erasuresIn(
    ledger: LedgerId,
    entries: readonly Opened[],
  ): Pick<Judgement, "erased" | "erasedPhotos"> & Ordered {
    const kinds = kindsOf<object>({ initial: {}, types: [], ...trustTypesOf(ledger) });
    const order = orderEntries(entries);
    const { erased, erasedPhotos } = judgeLedger(kinds, this.trust, order.ordered, order.waiting);
    return { erased, erasedPhotos, ...order };
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
  if (opened.envelope.type !== "erase") return;
  // Whatever somebody sent: only what has the right shape erases anything.
  const { entry } = (opened.body ?? {}) as Partial<EraseBody>;
  if (typeof entry === "string") standing.asked.add(entry);
}

function isErasing({ envelope }: Opened): boolean {
  return erasingTypes.has(envelope.type);
}
