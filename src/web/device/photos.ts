// The photos of this device: kept before the entry that names them, handed to the server when it can be reached, fetched
// from it when somebody looks. What comes from the server counts only with the hash that the record names.
import { fromBase64, toBase64 } from "../../ledger/base64.ts";
import { toHex } from "../../ledger/crypto.ts";
import { PhotoStore } from "../../store/photo-store.ts";
import { CallError } from "../../sync/exchanger.ts";
import { fetchPhoto, sendPhoto, ServerRefusal } from "./server-calls.ts";
import type { ScaledPhoto } from "./scale-photo.ts";

/** Answers after which a photo is not offered again. */
const neverTaken: ReadonlySet<string> = new Set(["photoErased", "photoWrong"]);

export class Photos {
  readonly #store: PhotoStore;
  readonly #urls = new Map<string, string>();
  #sending = false;

  private constructor(store: PhotoStore) {
    this.#store = store;
  }

  static async open(): Promise<Photos> {
    return new Photos(await PhotoStore.open("preen-photos"));
  }

  keep({ ref, bytes }: ScaledPhoto): Promise<void> {
    return this.#store.put(ref.hash, bytes, true);
  }

  /** An address under which the picture can be shown; null where neither this device nor the server has it. */
  async url(hash: string, token: string | null): Promise<string | null> {
    const known = this.#urls.get(hash);
    if (known !== undefined) return known;
    const bytes = (await this.#store.get(hash)) ?? (token === null ? null : await this.#fetch(hash, token));
    if (bytes === null) return null;
    const url = URL.createObjectURL(new Blob([bytes], { type: "image/jpeg" }));
    this.#urls.set(hash, url);
    return url;
  }

  /** Hands over what waits and is named, one after another; stops at the first that does not go, to be tried again later. */
  async send(token: string, named: ReadonlySet<string>): Promise<void> {
    if (this.#sending) return;
    this.#sending = true;
    try {
      for (const hash of await this.#store.waiting()) {
        const bytes = named.has(hash) ? await this.#store.get(hash) : null;
        if (bytes === null) continue;
        await this.#sendOne(hash, bytes, token);
      }
    } catch (error) {
      if (!(error instanceof CallError) && !(error instanceof ServerRefusal)) throw error;
    } finally {
      this.#sending = false;
    }
  }

  /** One that the server will never take must not keep the others here. */
  async #sendOne(hash: string, bytes: ArrayBuffer, token: string): Promise<void> {
    try {
      await sendPhoto(hash, toBase64(new Uint8Array(bytes)), token);
    } catch (error) {
      const isRefused = error instanceof ServerRefusal && neverTaken.has(error.problem.code);
      if (!isRefused) throw error;
    }
    await this.#store.sent(hash);
  }

  /** Those of `hashes` that are here. */
  async held(hashes: readonly string[]): Promise<ReadonlyMap<string, Uint8Array>> {
    const held = new Map<string, Uint8Array>();
    for (const hash of hashes) {
      const bytes = await this.#store.get(hash);
      if (bytes !== null) held.set(hash, new Uint8Array(bytes));
    }
    return held;
  }

  /** Removes photos for good. */
  async erase(hashes: readonly string[]): Promise<void> {
    await this.#store.erase(hashes);
    for (const hash of hashes) {
      const url = this.#urls.get(hash);
      if (url !== undefined) URL.revokeObjectURL(url);
      this.#urls.delete(hash);
    }
  }

  async #fetch(hash: string, token: string): Promise<ArrayBuffer | null> {
    try {
      const bytes = fromBase64(await fetchPhoto(hash, token))?.buffer;
      if (bytes === undefined) return null;
      if (toHex(new Uint8Array(await crypto.subtle.digest("SHA-256", bytes))) !== hash) return null;
      await this.#store.put(hash, bytes, false);
      return bytes;
    } catch (error) {
      if (!(error instanceof CallError) && !(error instanceof ServerRefusal)) throw error;
      return null;
    }
  }
}
