// The one interface of every store: memory, SQLite, IndexedDB (PostgreSQL later). Behaviour is held by contract.ts.
//
// A store keeps entries and hands them back; it neither judges nor folds. Positions are the store's own, growing,
// and never skip a late commit. `append` is atomic (all or nothing) and idempotent (an id already held is left alone).
import type { Hash, LedgerId, StoredEntry } from "../ledger/entry.ts";

export type Appended = {
  /** Ids that were new, in the order given. */
  readonly added: readonly Hash[];
  /** Ids that the store already held. */
  readonly held: readonly Hash[];
};

export type Page = {
  readonly rows: readonly { readonly position: number; readonly entry: StoredEntry }[];
  /** Position to ask from next time; equal to the one given when there was nothing more. */
  readonly next: number;
  readonly more: boolean;
};

export interface Store {
  append(entries: readonly StoredEntry[]): Promise<Appended>;
  /** Entries after `position` (0 = from the start), oldest first, at most `limit`; of one ledger when given. */
  since(position: number, limit: number, ledger?: LedgerId): Promise<Page>;
  ofLedger(ledger: LedgerId): Promise<readonly StoredEntry[]>;
  ledgers(): Promise<readonly LedgerId[]>;
  get(id: Hash): Promise<StoredEntry | null>;
  count(): Promise<number>;
  /** Small named texts that are not entries: epoch, cursor, settings of the device. */
  readNote(name: string): Promise<string | null>;
  writeNote(name: string, text: string | null): Promise<void>;
  close(): Promise<void>;
}
