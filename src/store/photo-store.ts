// Photos on a device: bytes by their hash, in an IndexedDB database beside the one of the entries, and which of them the
// server does not have yet. A resolved promise means that it is on the disk. A photo is put here before the entry that
// names it is written, so that no entry on this device ever names a photo that a crash has swallowed.
import type { DBSchema } from "idb";
import { IndexedDbConnection } from "./indexeddb-connection.ts";

type PhotoRow = { readonly bytes: ArrayBuffer; readonly waiting: 0 | 1 };

interface PhotoSchema extends DBSchema {
  photo: { key: string; value: PhotoRow; indexes: { byWaiting: number } };
}

export class PhotoStore {
  readonly #connection: IndexedDbConnection<PhotoSchema>;

  private constructor(name: string) {
    this.#connection = new IndexedDbConnection<PhotoSchema>({
      name,
      version: 1,
      upgrade: (db, from) => {
        if (from < 1) db.createObjectStore("photo").createIndex("byWaiting", "waiting");
      },
    });
  }

  static async open(name: string): Promise<PhotoStore> {
    const store = new PhotoStore(name);
    await store.#connection.open();
    return store;
  }

  /** Keeps a photo; one that is held already stays as it is. `waiting`: the server does not have it yet. */
  async put(hash: string, bytes: ArrayBuffer, waiting: boolean): Promise<void> {
    await this.#connection.transaction(["photo"], "readwrite", async (tx, operate) => {
      const photos = tx.objectStore("photo");
      if ((await operate("look", () => photos.getKey(hash))) !== undefined) return;
      await operate("put", () => photos.put({ bytes, waiting: waiting ? 1 : 0 }, hash));
    });
  }

  async get(hash: string): Promise<ArrayBuffer | null> {
    const row = await this.#connection.transaction(["photo"], "readonly", (tx, operate) =>
      operate("read", () => tx.objectStore("photo").get(hash)),
    );
    return row?.bytes ?? null;
  }

  /** Removes photos for good; those that are not here are left out. */
  async erase(hashes: readonly string[]): Promise<void> {
    await this.#connection.transaction(["photo"], "readwrite", async (tx, operate) => {
      for (const hash of hashes) await operate("erase", () => tx.objectStore("photo").delete(hash));
    });
  }

  /** Hashes of those that the server does not have yet. */
  async waiting(): Promise<readonly string[]> {
    return this.#connection.transaction(["photo"], "readonly", (tx, operate) =>
      operate("read", () => tx.objectStore("photo").index("byWaiting").getAllKeys(1)),
    );
  }

  /** The server has it now. */
  async sent(hash: string): Promise<void> {
    await this.#connection.transaction(["photo"], "readwrite", async (tx, operate) => {
      const photos = tx.objectStore("photo");
      const row = await operate("read", () => photos.get(hash));
      if (row !== undefined) await operate("put", () => photos.put({ ...row, waiting: 0 }, hash));
    });
  }
}
