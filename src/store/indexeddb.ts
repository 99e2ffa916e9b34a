// The store of a device: entries, notes and drafts in one IndexedDB database, in a window or a worker. Durability,
// reopening and time-outs: indexeddb-connection.ts. Several windows may have it open at once.
import { deleteDB, type DBSchema } from "idb";
import type { Hash, LedgerId, StoredEntry } from "../ledger/entry.ts";
import type { DeviceStore, Draft } from "./drafts.ts";
import { IndexedDbConnection } from "./indexeddb-connection.ts";
import { type Appended, type OperationHook, type Page, type Row } from "./store.ts";
import { assertPageWanted, ledgerOf, pageFrom } from "./store.ts";

type EntryRow = StoredEntry & { readonly ledger: LedgerId; readonly position: number };

interface DeviceSchema extends DBSchema {
  entry: {
    key: number;
    value: Omit<EntryRow, "position"> & { position?: number };
    indexes: { byId: Hash; byLedger: [LedgerId, number] };
  };
  note: { key: string; value: string };
  draft: { key: string; value: string };
  snapshot: { key: LedgerId; value: string };
}

export type DeviceStoreOptions = {
  readonly onOperation?: OperationHook;
  readonly openTimeout_ms?: number;
  readonly onTakenOver?: () => void;
};

export class IndexedDbStore implements DeviceStore {
  readonly #connection: IndexedDbConnection<DeviceSchema>;

  private constructor(name: string, options: DeviceStoreOptions) {
    this.#connection = new IndexedDbConnection<DeviceSchema>({
      ...options,
      name,
      version: 2,
      upgrade: (db, from) => {
        if (from < 1) {
          const entry = db.createObjectStore("entry", { keyPath: "position", autoIncrement: true });
          entry.createIndex("byId", "id", { unique: true });
          entry.createIndex("byLedger", ["ledger", "position"]);
          db.createObjectStore("note");
          db.createObjectStore("draft");
        }
        if (from < 2) db.createObjectStore("snapshot");
      },
    });
  }

  static async open(name: string, options: DeviceStoreOptions = {}): Promise<IndexedDbStore> {
    const store = new IndexedDbStore(name, options);
    await store.#connection.open();
    return store;
  }

  async append(entries: readonly StoredEntry[]): Promise<Appended> {
    const appended = await this.#append(entries, null);
    if (appended === null) throw new Error("an append without a draft is always done");
    return appended;
  }

  async sealDraft(name: string, text: string, entries: readonly StoredEntry[]): Promise<Appended | null> {
    return this.#append(entries, { name, text });
  }

  async #append(entries: readonly StoredEntry[], draft: Draft | null): Promise<Appended | null> {
    const rows = entries.map((entry) => rowOf(entry));
    return this.#connection.transaction(["entry", "draft"], "readwrite", async (tx, operate) => {
      const drafts = tx.objectStore("draft");
      if (draft !== null && (await operate("read", () => drafts.get(draft.name))) !== draft.text) return null;
      const store = tx.objectStore("entry");
      const byId = store.index("byId");
      const known = await Promise.all(rows.map((row) => operate("look", () => byId.getKey(row.id))));
      const added = new Set<Hash>();
      const held: Hash[] = [];
      const writes: Promise<unknown>[] = [];
      for (const [i, row] of rows.entries()) {
        if (known[i] !== undefined || added.has(row.id)) held.push(row.id);
        else {
          added.add(row.id);
          writes.push(operate("add", () => store.add(row)));
        }
      }
      if (draft !== null) writes.push(operate("delete", () => drafts.delete(draft.name)));
      await Promise.all(writes);
      return { added: [...added], held };
    });
  }

  async since(position: number, limit: number, ledger?: LedgerId): Promise<Page> {
    assertPageWanted(position, limit);
    const rows = await this.#connection.transaction(["entry"], "readonly", (tx, operate) => {
      const store = tx.objectStore("entry");
      return operate("read", () =>
        ledger === undefined
          ? store.getAll(IDBKeyRange.lowerBound(position, true), limit + 1)
          : store
              .index("byLedger")
              .getAll(IDBKeyRange.bound([ledger, position], [ledger, Infinity], true), limit + 1),
      );
    });
    return pageFrom(rows.map(rowFrom), position, limit);
  }

  async head(): Promise<{ position: number; id: Hash } | null> {
    return this.#connection.transaction(["entry"], "readonly", async (tx, operate) => {
      const cursor = await operate("read", () => tx.objectStore("entry").openCursor(null, "prev"));
      return cursor === null ? null : { position: cursor.key, id: cursor.value.id };
    });
  }

  async ofLedger(ledger: LedgerId): Promise<readonly StoredEntry[]> {
    const rows = await this.#connection.transaction(["entry"], "readonly", (tx, operate) =>
      operate("read", () =>
        tx
          .objectStore("entry")
          .index("byLedger")
          .getAll(IDBKeyRange.bound([ledger, 0], [ledger, Infinity])),
      ),
    );
    return rows.map((row) => rowFrom(row).entry);
  }

  async ledgers(): Promise<readonly LedgerId[]> {
    return this.#connection.transaction(["entry"], "readonly", async (tx, operate) => {
      const found: LedgerId[] = [];
      let cursor = await operate("read", () => tx.objectStore("entry").index("byLedger").openKeyCursor());
      while (cursor !== null) {
        const [ledger] = cursor.key;
        found.push(ledger);
        const here = cursor;
        cursor = await operate("read", () => here.continue([ledger, Infinity]));
      }
      return found;
    });
  }

  async get(id: Hash): Promise<StoredEntry | null> {
    const row = await this.#connection.transaction(["entry"], "readonly", (tx, operate) =>
      operate("read", () => tx.objectStore("entry").index("byId").get(id)),
    );
    return row === undefined ? null : rowFrom(row).entry;
  }

  async lacking(ids: readonly Hash[]): Promise<readonly Hash[]> {
    return this.#connection.transaction(["entry"], "readonly", async (tx, operate) => {
      const byId = tx.objectStore("entry").index("byId");
      const known = await Promise.all(ids.map((id) => operate("look", () => byId.getKey(id))));
      return ids.filter((_, i) => known[i] === undefined);
    });
  }

  async count(): Promise<number> {
    return this.#connection.transaction(["entry"], "readonly", (tx, operate) =>
      operate("read", () => tx.objectStore("entry").count()),
    );
  }

  async countOf(ledger: LedgerId, position: number): Promise<number> {
    return this.#connection.transaction(["entry"], "readonly", (tx, operate) =>
      operate("read", () =>
        tx
          .objectStore("entry")
          .index("byLedger")
          .count(IDBKeyRange.bound([ledger, 0], [ledger, position])),
      ),
    );
  }

  async erase(ids: readonly Hash[]): Promise<readonly Hash[]> {
    return this.#connection.transaction(["entry", "snapshot"], "readwrite", async (tx, operate) => {
      const store = tx.objectStore("entry");
      const wanted = [...new Set(ids)];
      const rows = await Promise.all(wanted.map((id) => operate("look", () => store.index("byId").get(id))));
      const full = rows.filter((row) => row !== undefined && row.body !== null) as EntryRow[];
      await Promise.all(
        full.map((row) => operate("put", () => store.put({ ...row, salt: null, body: null }))),
      );
      const ledgers = new Set(full.map((row) => row.ledger));
      await Promise.all(
        [...ledgers].map((ledger) => operate("delete", () => tx.objectStore("snapshot").delete(ledger))),
      );
      return full.map((row) => row.id);
    });
  }

  async readNote(name: string): Promise<string | null> {
    return this.#readText("note", name);
  }

  async writeNote(name: string, text: string | null): Promise<void> {
    await this.#writeText("note", name, text);
  }

  async readSnapshot(ledger: LedgerId): Promise<string | null> {
    return this.#readText("snapshot", ledger);
  }

  async writeSnapshot(ledger: LedgerId, text: string | null): Promise<void> {
    await this.#writeText("snapshot", ledger, text);
  }

  async putDraft(name: string, text: string): Promise<void> {
    await this.#writeText("draft", name, text);
  }

  async changeDraft(name: string, change: (text: string) => string): Promise<string | null> {
    return this.#connection.transaction(["draft"], "readwrite", async (tx, operate) => {
      const drafts = tx.objectStore("draft");
      const held = await operate("read", () => drafts.get(name));
      if (held === undefined) return null;
      const text = change(held);
      await operate("put", () => drafts.put(text, name));
      return text;
    });
  }

  async draft(name: string): Promise<string | null> {
    return this.#readText("draft", name);
  }

  async deleteDraft(name: string): Promise<void> {
    await this.#writeText("draft", name, null);
  }

  async drafts(prefix = ""): Promise<readonly Draft[]> {
    return this.#connection.transaction(["draft"], "readonly", async (tx, operate) => {
      const store = tx.objectStore("draft");
      const [names, texts] = await Promise.all([
        operate("read", () => store.getAllKeys()),
        operate("read", () => store.getAll()),
      ]);
      return names
        .map((name, i) => ({ name, text: texts[i]! }))
        .filter(({ name }) => name.startsWith(prefix));
    });
  }

  async close(): Promise<void> {
    this.#connection.close();
  }

  async #readText(kind: "note" | "draft" | "snapshot", name: string): Promise<string | null> {
    const text = await this.#connection.transaction([kind], "readonly", (tx, operate) =>
      operate("read", () => tx.objectStore(kind).get(name)),
    );
    return text ?? null;
  }

  async #writeText(kind: "note" | "draft" | "snapshot", name: string, text: string | null): Promise<void> {
    await this.#connection.transaction([kind], "readwrite", (tx, operate) =>
      operate<unknown>(text === null ? "delete" : "put", () =>
        text === null ? tx.objectStore(kind).delete(name) : tx.objectStore(kind).put(text, name),
      ),
    );
  }
}

/** Removes a device's database for good. Waits until every connection to it is closed. */
export async function deleteDeviceDatabase(name: string): Promise<void> {
  await deleteDB(name);
}

function rowOf(entry: StoredEntry): Omit<EntryRow, "position"> {
  const { id, envelope, sig, salt, body } = entry;
  return { ledger: ledgerOf(entry), id, envelope, sig, salt, body };
}

function rowFrom(row: DeviceSchema["entry"]["value"]): Row {
  const { id, envelope, sig, salt, body } = row;
  return { position: row.position!, entry: { id, envelope, sig, salt, body } };
}
