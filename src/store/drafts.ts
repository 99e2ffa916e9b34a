// Drafts: small named texts (JSON) that a person has begun and not yet sealed into an entry, for example the marks of
// the stop they stand at. Written durably with every tap: a resolved promise means that it is on the disk. Device
// only; never synchronised. Held by draftContract in contract.ts; kept by MemoryStore and IndexedDbStore.
import type { StoredEntry } from "../ledger/entry.ts";
import type { Appended, Store } from "./store.ts";

export type Draft = { readonly name: string; readonly text: string };

export interface Drafts {
  putDraft(name: string, text: string): Promise<void>;
  /**
   * Puts what `change` makes of the draft as it stands on the disk, in one step: of two windows that change one draft
   * neither undoes the other. Returns the new text; null, and nothing is put, where there is no such draft.
   */
  changeDraft(name: string, change: (text: string) => string): Promise<string | null>;
  draft(name: string): Promise<string | null>;
  deleteDraft(name: string): Promise<void>;
  /** All of them, by name in code unit order; of those whose name begins with `prefix` when given. */
  drafts(prefix?: string): Promise<readonly Draft[]>;
}

/** What a device keeps: entries and drafts in one place. */
export interface DeviceStore extends Store, Drafts {
  /**
   * Appends entries and removes the draft that they were sealed from, in one step: after a crash there is either the
   * draft or the entries, never both and never neither. Where the draft has changed since it was `text`, nothing is done
   * and the answer is null: what was tapped meanwhile is not in the entries.
   */
  sealDraft(name: string, text: string, entries: readonly StoredEntry[]): Promise<Appended | null>;
}
