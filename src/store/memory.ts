// The store in memory: for tests, the simulator and tools that read an export. A MemoryDisk outlives the store that
// was opened on it, so that closing and opening again can be told apart from losing everything.
import type { Hash, LedgerId, StoredEntry } from "../ledger/entry.ts";
import type { DeviceStore, Draft } from "./drafts.ts";
import { StoreError } from "./store-error.ts";
import { type Appended, type OperationHook, type Page, type Row } from "./store.ts";
import { assertPageWanted, ledgerOf, pageFrom } from "./store.ts";

export type MemoryDisk = {
  readonly entries: { readonly ledger: LedgerId; entry: StoredEntry }[];
  /** Index into `entries` by id. The position of an entry is its index plus one. */
  readonly byId: Map<Hash, number>;
  readonly notes: Map<string, string>;
  readonly drafts: Map<string, string>;
  readonly snapshots: Map<LedgerId, string>;
};

export function makeMemoryDisk(): MemoryDisk {
  return { entries: [], byId: new Map(), notes: new Map(), drafts: new Map(), snapshots: new Map() };
}

export class MemoryStore implements DeviceStore {
  readonly #disk: MemoryDisk;
  readonly #hook: OperationHook;
  #open = true;

  constructor(disk: MemoryDisk = makeMemoryDisk(), onOperation: OperationHook = () => {}) {
    this.#disk = disk;
    this.#hook = onOperation;
  }

  async append(entries: readonly StoredEntry[]): Promise<Appended> {
    return this.#append(this.#begin("append"), entries);
  }

  async sealDraft(name: string, text: string, entries: readonly StoredEntry[]): Promise<Appended | null> {
    const disk = this.#begin("append");
    if (disk.drafts.get(name) !== text) return null;
    this.#hook("delete");
    const appended = this.#append(disk, entries);
    disk.drafts.delete(name);
    return appended;
  }

  #append(disk: MemoryDisk, entries: readonly StoredEntry[]): Appended {
    const staged = new Map<Hash, { ledger: LedgerId; entry: StoredEntry }>();
    const held: Hash[] = [];
    for (const entry of entries) {
      this.#hook("add");
      if (disk.byId.has(entry.id) || staged.has(entry.id)) held.push(entry.id);
      else staged.set(entry.id, { ledger: ledgerOf(entry), entry });
    }
    this.#hook("commit");
    for (const [id, row] of staged) disk.byId.set(id, disk.entries.push(row) - 1);
    return { added: [...staged.keys()], held };
  }

  async since(position: number, limit: number, ledger?: LedgerId): Promise<Page> {
    const disk = this.#begin("read");
    assertPageWanted(position, limit);
    const rows: Row[] = [];
    for (let at = position; at < disk.entries.length && rows.length <= limit; at++) {
      const row = disk.entries[at]!;
      if (ledger === undefined || row.ledger === ledger) rows.push({ position: at + 1, entry: row.entry });
    }
    return pageFrom(rows, position, limit);
  }

  async head(): Promise<{ position: number; id: Hash } | null> {
    const { entries } = this.#begin("read");
    const newest = entries.at(-1);
    return newest === undefined ? null : { position: entries.length, id: newest.entry.id };
  }

  async ofLedger(ledger: LedgerId): Promise<readonly StoredEntry[]> {
    return this.#begin("read")
      .entries.filter((row) => row.ledger === ledger)
      .map((row) => row.entry);
  }

  async ledgers(): Promise<readonly LedgerId[]> {
    return [...new Set(this.#begin("read").entries.map((row) => row.ledger))].sort();
  }

  async get(id: Hash): Promise<StoredEntry | null> {
    const { byId, entries } = this.#begin("read");
    const at = byId.get(id);
    return at === undefined ? null : entries[at]!.entry;
  }

  async lacking(ids: readonly Hash[]): Promise<readonly Hash[]> {
    const { byId } = this.#begin("read");
    return ids.filter((id) => !byId.has(id));
  }

  async count(): Promise<number> {
    return this.#begin("read").entries.length;
  }

  async countOf(ledger: LedgerId, position: number): Promise<number> {
    return this.#begin("read")
      .entries.slice(0, position)
      .filter((row) => row.ledger === ledger).length;
  }

  async erase(ids: readonly Hash[]): Promise<readonly Hash[]> {
    const disk = this.#begin("erase");
    const erased: Hash[] = [];
    for (const id of new Set(ids)) {
      this.#hook("erase");
      const at = disk.byId.get(id);
      if (at !== undefined && disk.entries[at]!.entry.body !== null) erased.push(id);
    }
    this.#hook("commit");
    for (const id of erased) {
      const row = disk.entries[disk.byId.get(id)!]!;
      row.entry = { ...row.entry, salt: null, body: null };
      disk.snapshots.delete(row.ledger);
    }
    return erased;
  }

  async readNote(name: string): Promise<string | null> {
    return this.#begin("read").notes.get(name) ?? null;
  }

  async writeNote(name: string, text: string | null): Promise<void> {
    const disk = this.#begin("note");
    this.#hook("commit");
    if (text === null) disk.notes.delete(name);
    else disk.notes.set(name, text);
  }

  async readSnapshot(ledger: LedgerId): Promise<string | null> {
    return this.#begin("read").snapshots.get(ledger) ?? null;
  }

  async writeSnapshot(ledger: LedgerId, text: string | null): Promise<void> {
    const disk = this.#begin("snapshot");
    this.#hook("commit");
    if (text === null) disk.snapshots.delete(ledger);
    else disk.snapshots.set(ledger, text);
  }

  async putDraft(name: string, text: string): Promise<void> {
    this.#begin("put").drafts.set(name, text);
  }

  async changeDraft(name: string, change: (text: string) => string): Promise<string | null> {
    const { drafts } = this.#begin("put");
    const held = drafts.get(name);
    if (held === undefined) return null;
    const text = change(held);
    this.#hook("commit");
    drafts.set(name, text);
    return text;
  }

  async draft(name: string): Promise<string | null> {
    return this.#begin("read").drafts.get(name) ?? null;
  }

  async deleteDraft(name: string): Promise<void> {
    this.#begin("delete").drafts.delete(name);
  }

  async drafts(prefix = ""): Promise<readonly Draft[]> {
    return [...this.#begin("read").drafts]
      .filter(([name]) => name.startsWith(prefix))
      .map(([name, text]) => ({ name, text }))
      .sort((a, b) => (a.name < b.name ? -1 : 1));
  }

  async close(): Promise<void> {
    this.#open = false;
  }

  #begin(operation: string): MemoryDisk {
    if (!this.#open) throw new StoreError("closed", "memory", "used after it was closed");
    this.#hook(operation);
    return this.#disk;
  }
}
