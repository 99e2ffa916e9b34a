// What people do with the record itself: look into an entry, prove, carry away, decide, erase.
import { msToInstant } from "../../core/facts/instant.ts";
import { wordsOn } from "../../core/facts/look-alikes.ts";
import type { StoredEntry } from "../../ledger/entry.ts";
import { reopenEntry } from "../../ledger/open.ts";
import type { Opened } from "../../ledger/open.ts";
import { photosNamed, photosOnlyOf } from "../../ledger/photos.ts";
import type { DeviceCore } from "./device-core.ts";
import type { AlikeWord, ErasingRole, Evidence, RecordProof } from "./model.ts";
import type { PhotoActions } from "./photo-actions.ts";

export class RecordActions {
  readonly #core: DeviceCore;
  readonly #photos: PhotoActions;

  constructor(core: DeviceCore, photos: PhotoActions) {
    this.#core = core;
    this.#photos = photos;
  }

  /** The photos that these entries name and that are on this device. */
  #photosOf(entries: readonly StoredEntry[]): Promise<ReadonlyMap<string, Uint8Array>> {
    return this.#photos.held(photosNamed(entries.map(reopenEntry)));
  }

  /** A craft's entries as they lie on the disk, and the operator's, which say whom to believe. */
  async #stored(ledger: string): Promise<readonly StoredEntry[]> {
    const operators = (await this.#core.store.ledgers()).filter((name) => name.startsWith("operator:"));
    return (await Promise.all([...operators, ledger].map((name) => this.#core.store.ofLedger(name)))).flat();
  }

  /** All entries of a craft, read where they are not held. */
  async #record(ledger: string): Promise<readonly Opened[]> {
    await this.#core.book.readRecord(this.#core.store, ledger);
    return this.#core.book.record(ledger) ?? [];
  }

  readonly readRecord = async (ledger: string): Promise<void> => {
    await this.#record(ledger);
    this.#core.show(false);
  };

  readonly evidence = async (ledger: string, id: string): Promise<Evidence | null> => {
    const stored = await this.#core.store.get(id);
    if (stored === null) return null;
    const { evidenceOf } = await import("./record-proof.ts");
    return evidenceOf(stored, await this.#record(ledger), this.#core.book.trust);
  };

  readonly prove = async (ledger: string): Promise<RecordProof> => {
    const [entries, { proveRecord }] = await Promise.all([this.#stored(ledger), import("./record-proof.ts")]);
    const photos = await this.#photosOf(entries);
    const root = this.#core.hello?.operator?.publicKey ?? null;
    return proveRecord(entries, { at_ms: this.#core.now_ms(), root, photos });
  };

  readonly exportRecord = async (ledger: string): Promise<string> => {
    const [entries, { exportText }] = await Promise.all([this.#stored(ledger), import("./record-proof.ts")]);
    return exportText(entries, this.#core.now_ms(), await this.#photosOf(entries));
  };

  readonly settleAside = async (ledger: string, entries: readonly string[], words: string): Promise<void> => {
    await this.#core.record(() => this.#core.write(ledger, "aside.settled", { entries, words }));
  };

  readonly decideFork = async (ledger: string, counts: string, words: string): Promise<void> => {
    await this.#core.record(() => this.#core.write(ledger, "fork.decided", { counts, words }));
  };

  readonly decideAlike = async (ledger: string, word: AlikeWord): Promise<void> => {
    await this.#core.record(() => {
      const { state } = this.#core.view(ledger);
      const replaces = wordsOn(state, word.matter, word.one, word.other).map(({ entry }) => entry);
      const at = msToInstant(this.#core.now_ms());
      return this.#core.write(ledger, "lookAlike.decided", { ...word, at, replaces });
    });
  };

  readonly eraseEntry = async (
    ledger: string,
    entry: string,
    role: ErasingRole,
    legalReason: string,
  ): Promise<void> => {
    await this.#core.record(async () => {
      const { erasedPhotos } = this.#core.book.fold(ledger).folded;
      const entries = await this.#record(ledger);
      // Before the entry, while it still says which they are.
      for (const photo of photosOnlyOf(entry, entries))
        if (!erasedPhotos.has(photo))
          await this.#core.write(ledger, "photo.erased", { photo, role, legalReason });
      await this.#core.write(ledger, "erase", { entry, role, legalReason });
    });
  };

  readonly erasePhoto = async (
    ledger: string,
    photo: string,
    role: ErasingRole,
    legalReason: string,
  ): Promise<void> => {
    await this.#core.record(() => this.#core.write(ledger, "photo.erased", { photo, role, legalReason }));
  };

  readonly confirmExchange = async (ledger: string, words: string): Promise<void> => {
    await this.#core.record(() =>
      this.#core.write(ledger, "exchange.confirmed", { words, at: msToInstant(this.#core.now_ms()) }),
    );
  };
}
