// What people do with the record itself: look into an entry, prove, carry away, decide, erase.
import { msToInstant } from "../../core/facts/instant.ts";
import { wordsOn } from "../../core/facts/look-alikes.ts";
import type { StoredEntry } from "../../ledger/entry.ts";
import type { DeviceCore } from "./device-core.ts";
import type { AlikeWord, ErasingRole, Evidence, RecordProof } from "./model.ts";

export class RecordActions {
  readonly #core: DeviceCore;

  constructor(core: DeviceCore) {
    this.#core = core;
  }

  /** A craft's entries as they lie on the disk, and the operator's, which say whom to believe. */
  async #stored(ledger: string): Promise<readonly StoredEntry[]> {
    const operators = (await this.#core.store.ledgers()).filter((name) => name.startsWith("operator:"));
    return (await Promise.all([...operators, ledger].map((name) => this.#core.store.ofLedger(name)))).flat();
  }

  readonly evidence = async (ledger: string, id: string): Promise<Evidence | null> => {
    const stored = await this.#core.store.get(id);
    if (stored === null) return null;
    const { evidenceOf } = await import("./record-proof.ts");
    return evidenceOf(stored, this.#core.book.fold(ledger).folded, this.#core.book.trust);
  };

  readonly prove = async (ledger: string): Promise<RecordProof> => {
    const [entries, { proveRecord }] = await Promise.all([this.#stored(ledger), import("./record-proof.ts")]);
    return proveRecord(entries, this.#core.now_ms(), this.#core.hello?.operator?.publicKey ?? null);
  };

  readonly exportRecord = async (ledger: string): Promise<string> => {
    const [entries, { exportText }] = await Promise.all([this.#stored(ledger), import("./record-proof.ts")]);
    return exportText(entries, this.#core.now_ms());
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
    await this.#core.record(() => this.#core.write(ledger, "erase", { entry, role, legalReason }));
  };

  readonly confirmExchange = async (ledger: string, words: string): Promise<void> => {
    await this.#core.record(() =>
      this.#core.write(ledger, "exchange.confirmed", { words, at: msToInstant(this.#core.now_ms()) }),
    );
  };
}
