// The one interface of every store: memory, SQLite, IndexedDB (PostgreSQL later). Behaviour is held by contract.ts.
//
// A store keeps entries and hands them back; it neither judges nor folds. Positions are the store's own, growing,
// and never skip a late commit: whoever read up to position p will never see a new entry at or below p.
// `append` is atomic (all or nothing) and idempotent (an id already held is left alone, also one whose body was
// erased). A resolved promise means that it is on the disk; a rejected one that nothing of the call was kept.
// Every failure is a StoreError; a wrong argument is a RangeError.
import type { Hash, LedgerId, StoredEntry } from "../ledger/entry.ts";

export type Appended = {
  /** Ids that were new, in the order given. */
  readonly added: readonly Hash[];
  /** Ids that the store already held, or that stood earlier in the same call. */
  readonly held: readonly Hash[];
};

export type Row = { readonly position: number; readonly entry: StoredEntry };

export type Page = {
  readonly rows: readonly Row[];
  /** Position to ask from next time; equal to the one given when there was nothing more. */
  readonly next: number;
  readonly more: boolean;
};

export interface Store {
  append(entries: readonly StoredEntry[]): Promise<Appended>;
  /** Entries after `position` (0 = from the start), oldest first, at most `limit`; of one ledger when given. */
  since(position: number, limit: number, ledger?: LedgerId): Promise<Page>;
  /** Position and id of the newest entry; null when the store is empty. */
  head(): Promise<{ readonly position: number; readonly id: Hash } | null>;
  ofLedger(ledger: LedgerId): Promise<readonly StoredEntry[]>;
  ledgers(): Promise<readonly LedgerId[]>;
  get(id: Hash): Promise<StoredEntry | null>;
  /** Those of `ids` that the store does not hold, in the order given. */
  lacking(ids: readonly Hash[]): Promise<readonly Hash[]>;
  count(): Promise<number>;
  /** Entries of a ledger at or below a position. */
  countOf(ledger: LedgerId, position: number): Promise<number>;
  /**
   * Removes the salt and body of entries for good; envelope and signature stay. With them goes the snapshot of their
   * ledger, in which what they said stands folded. Answers with the ids that still had a body. Whether it may be done is judged by the caller. May be repeated after a failure until it succeeds.
   */
  erase(ids: readonly Hash[]): Promise<readonly Hash[]>;
  /** Small named texts that are not entries: epoch, cursor, settings of the device. Null removes. */
  readNote(name: string): Promise<string | null>;
  writeNote(name: string, text: string | null): Promise<void>;
  /**
   * What spares the next start most of a ledger (kept-fold.ts): a text of any size that may be thrown away at any time. It
   * is replaced whole or not at all. Null removes.
   */
  readSnapshot(ledger: LedgerId): Promise<string | null>;
  writeSnapshot(ledger: LedgerId, text: string | null): Promise<void>;
  close(): Promise<void>;
}

/** The note in which a server leaves the operator's public key for tools that read its store. */
export const rootNote = "operator.root";

/** Most entries that one page may carry: what a phone parses within a frame or two, about 15 MB at the very worst. */
export const mostRowsPerPage = 10_000;

/** The ledger that an envelope names. The envelope is canonical text that was checked before it came here. */
export function ledgerOf(entry: StoredEntry): LedgerId {
  const ledger: unknown = (JSON.parse(entry.envelope) as { ledger?: unknown }).ledger;
  if (typeof ledger !== "string") throw new RangeError(`entry ${entry.id}: envelope without a ledger`);
  return ledger;
}

/** Refuses arguments of `since` that no store can answer. */
export function assertPageWanted(position: number, limit: number): void {
  if (!Number.isSafeInteger(position) || position < 0)
    throw new RangeError(`position: found ${position}, wanted a whole number from 0`);
  if (!Number.isSafeInteger(limit) || limit < 1 || limit > mostRowsPerPage)
    throw new RangeError(`limit: found ${limit}, wanted a whole number from 1 to ${mostRowsPerPage}`);
}

/** A page from up to `limit + 1` rows read after `position`. */
export function pageFrom(rows: readonly Row[], position: number, limit: number): Page {
  const kept = rows.slice(0, limit);
  return { rows: kept, next: kept.at(-1)?.position ?? position, more: rows.length > limit };
}

/**
 * Called before each single operation on the underlying storage with that operation's name. Throwing makes the
 * operation fail: the seam for the tests that fail the 1st, 2nd, … nth operation.
 */
export type OperationHook = (operation: string) => void;
