// Drafts: small named texts (JSON) that a person has begun and not yet sealed into an entry, for example the marks of
// the stop they stand at. Written durably with every tap: a resolved promise means that it is on the disk. Device
// only; never synchronised. Held by draftContract in contract.ts; in a browser kept by IndexedDbDrafts.
import { StoreError } from "./store-error.ts";
import type { OperationHook } from "./store.ts";

export type Draft = { readonly name: string; readonly text: string };

export interface Drafts {
  putDraft(name: string, text: string): Promise<void>;
  draft(name: string): Promise<string | null>;
  deleteDraft(name: string): Promise<void>;
  /** All of them, by name in code unit order; of those whose name begins with `prefix` when given. */
  drafts(prefix?: string): Promise<readonly Draft[]>;
  close(): Promise<void>;
}

export class MemoryDrafts implements Drafts {
  readonly #disk: Map<string, string>;
  readonly #hook: OperationHook;
  #open = true;

  constructor(disk: Map<string, string> = new Map(), onOperation: OperationHook = () => {}) {
    this.#disk = disk;
    this.#hook = onOperation;
  }

  async putDraft(name: string, text: string): Promise<void> {
    this.#begin("put").set(name, text);
  }

  async draft(name: string): Promise<string | null> {
    return this.#begin("get").get(name) ?? null;
  }

  async deleteDraft(name: string): Promise<void> {
    this.#begin("delete").delete(name);
  }

  async drafts(prefix = ""): Promise<readonly Draft[]> {
    return [...this.#begin("all")]
      .filter(([name]) => name.startsWith(prefix))
      .map(([name, text]) => ({ name, text }))
      .sort((a, b) => (a.name < b.name ? -1 : 1));
  }

  async close(): Promise<void> {
    this.#open = false;
  }

  #begin(operation: string): Map<string, string> {
    if (!this.#open) throw new StoreError("closed", "memory drafts", "used after it was closed");
    this.#hook(operation);
    return this.#disk;
  }
}
