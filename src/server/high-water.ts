// How far the database had grown, noted in a small file beside it after each append. A database that lies behind its
// note was restored from a backup: the server then takes a new key before it writes anything, because the old key's
// chain goes on, in what was lost, in a way that it can no longer know.
//
// The note may lag (it is not forced to the disk); it never leads. Where folder and note were restored together, the
// marks of the devices tell (sync/server-side.ts).
import { existsSync, readFileSync, renameSync, writeFileSync } from "node:fs";
import { z } from "zod";
import type { Store } from "../store/store.ts";

const noteShape = z.strictObject({ position: z.int().min(1), id: z.string() });

export class HighWater {
  readonly #file: string;

  constructor(file: string) {
    this.#file = file;
  }

  /** Whether the store holds what the note names. A note that cannot be read says nothing and is written anew. */
  async isAbove(store: Store): Promise<boolean> {
    const note = this.#read();
    if (note === null) return false;
    const { rows } = await store.since(note.position - 1, 1);
    return rows[0]?.position !== note.position || rows[0].entry.id !== note.id;
  }

  async rise(store: Store): Promise<void> {
    const head = await store.head();
    if (head === null) return;
    const growing = `${this.#file}.new-${process.pid}`;
    writeFileSync(growing, JSON.stringify(head));
    renameSync(growing, this.#file);
  }

  #read(): z.infer<typeof noteShape> | null {
    if (!existsSync(this.#file)) return null;
    try {
      return noteShape.parse(JSON.parse(readFileSync(this.#file, "utf8")));
    } catch {
      return null;
    }
  }
}
