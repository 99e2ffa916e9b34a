// The photos of this device: kept before the entry that names them, handed to the server when it can be reached, fetched
// from it when somebody looks. What comes from the server counts only with the hash that the record names.
import { toHex } from "../../ledger/crypto.ts";
import { PhotoStore } from "../../store/photo-store.ts";
import { CallError } from "../../sync/exchanger.ts";
import { fetchPhoto, sendPhoto, ServerRefusal } from "./server-calls.ts";
import type { ScaledPhoto } from "./scale-photo.ts";

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
        await sendPhoto(hash, base64Of(bytes), token);
        await this.#store.sent(hash);
      }
    } catch (error) {
      if (!(error instanceof CallError) && !(error instanceof ServerRefusal)) throw error;
    } finally {
      this.#sending = false;
    }
  }

  async #fetch(hash: string, token: string): Promise<ArrayBuffer | null> {
    try {
      const bytes = bytesOfBase64(await fetchPhoto(hash, token));
      if (toHex(new Uint8Array(await crypto.subtle.digest("SHA-256", bytes))) !== hash) return null;
      await this.#store.put(hash, bytes, false);
      return bytes;
    } catch (error) {
      if (!(error instanceof CallError) && !(error instanceof ServerRefusal)) throw error;
      return null;
    }
  }
}

function base64Of(bytes: ArrayBuffer): string {
  const parts: string[] = [];
  const all = new Uint8Array(bytes);
  // In pieces: a call with a million arguments is none.
  for (let at = 0; at < all.length; at += 8_192)
    parts.push(String.fromCharCode(...all.subarray(at, at + 8_192)));
  return btoa(parts.join(""));
}

function bytesOfBase64(text: string): ArrayBuffer {
  return Uint8Array.from(atob(text), (character) => character.charCodeAt(0)).buffer;
}
