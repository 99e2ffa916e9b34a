// The exchange with the server: who is there, entries both ways, the sheets that are missing, photos.
import type { Sheet } from "../../core/sheet/schema.ts";
import { webVerifier } from "../../crypto/web.ts";
import { canonicalText } from "../../ledger/canonical.ts";
import { hashText } from "../../ledger/crypto.ts";
import type { StoredEntry } from "../../ledger/entry.ts";
import { isOpened, isSigned, openEntry } from "../../ledger/open.ts";
import { CallError, Exchanger } from "../../sync/exchanger.ts";
import type { Screened } from "../../sync/exchanger.ts";
import type { DeviceCore } from "./device-core.ts";
import type { PhotoActions } from "./photo-actions.ts";
import { ServerRefusal, exchangeCall, fetchSheet, hello } from "./server-calls.ts";
import type { Hello } from "./server-calls.ts";
import type { StopDrafts } from "./stop-drafts.ts";

export class Exchanging {
  readonly #core: DeviceCore;
  readonly #drafts: StopDrafts;
  readonly #photos: PhotoActions;
  #wakeTimer: ReturnType<typeof setTimeout> | null = null;

  constructor(core: DeviceCore, drafts: StopDrafts, photos: PhotoActions) {
    this.#core = core;
    this.#drafts = drafts;
    this.#photos = photos;
  }

  async start(): Promise<void> {
    this.#core.exchanger = await Exchanger.start({
      log: {
        append: async (entries) => {
          const appended = await this.#core.store.append(entries);
          if (this.#core.exchanger?.state.lastDone === null) {
            // A record that has never been whole is not folded in parts: nothing in it is known before the end.
            this.#core.arrived = (this.#core.arrived ?? 0) + appended.added.length;
            this.#core.show(false);
          } else void this.#takeIn();
          return appended;
        },
        since: (position, limit) => this.#core.store.since(position, limit),
        get: (id) => this.#core.store.get(id),
        readNote: (name) => this.#core.store.readNote(name),
        writeNote: (name, text) => this.#core.store.writeNote(name, text),
      },
      call: async (call) => {
        const enrolment = this.#core.session?.enrolment ?? (await this.#core.keys.all())[0];
        if (enrolment === undefined) throw new CallError("stopped");
        return exchangeCall(call, enrolment.token);
      },
      screen: screenEntries,
      now_ms: () => this.#core.options.clock_ms(),
      chance: Math.random,
      wakeAt: (at_ms) => {
        if (this.#wakeTimer !== null) clearTimeout(this.#wakeTimer);
        this.#wakeTimer = setTimeout(
          () => void this.#core.exchanger?.wake(),
          Math.max(0, at_ms - this.#core.options.clock_ms()),
        );
      },
      onChange: ({ phase }) => {
        this.#core.show(false);
        // All of it, or as much as came before it stopped.
        if (phase.kind === "idle" && this.#core.arrived !== null) void this.#takeIn();
      },
    });
  }

  /** Tries to hand over what has not gone up: entries, and then the photos that they name. */
  async offer(): Promise<void> {
    await this.#core.exchanger?.wake();
    await this.#photos.sendPhotos();
  }

  /** Folds what has come. */
  #takeIn(): Promise<void> {
    return this.#core.inTurn(async () => {
      await this.#core.catchUp();
      this.#core.arrived = null;
      await this.#drafts.freezeDrafts();
      this.#core.show();
    });
  }

  /** Has the snapshots looked at beside the page; what went on from a wrong one is opened again. */
  async tendSnapshots(): Promise<void> {
    const core = this.#core;
    if (core.exchanger?.state.lastDone === null) return;
    const tended = await core.snapshots.tend(core.hello?.operator?.publicKey ?? null);
    if (tended === null || tended.mended === 0) return;
    await core.inTurn(async () => {
      await core.openRecord();
      core.show();
    });
  }

  async hear(heard: Hello): Promise<void> {
    this.#core.hello = heard;
    const root = heard.operator?.publicKey;
    if (root !== undefined) await this.#core.book.pin(this.#core.store, root);
  }

  /** Hears who is there, then exchanges, then fetches the sheets that are missing. No connection is no error. */
  async greet(): Promise<void> {
    try {
      const heard = await hello();
      const held = this.#core.hello?.operator?.publicKey;
      // Another root key is another operator: this device's record must not be mixed with theirs.
      if (held !== undefined && held !== heard.operator?.publicKey) return;
      await this.hear(heard);
      await this.#core.store.writeNote("hello", JSON.stringify(heard));
      this.#core.show();
    } catch (error) {
      if (!(error instanceof CallError) && !(error instanceof ServerRefusal)) throw error;
      // An exchange that must fail says so: a page that was opened without a network tells it at once.
      if (this.#core.ownKeys.size > 0) await this.#core.exchanger?.wake(true);
      return;
    }
    if ((await this.#core.keys.all()).length === 0) return;
    await this.#core.exchanger?.wake(true);
    await this.#core.settled();
    await this.#fetchSheets();
    await this.#photos.sendPhotos();
  }

  async #fetchSheets(): Promise<void> {
    for (const hash of this.#core.book.sheetsWanted()) {
      if (this.#core.sheets.has(hash)) continue;
      try {
        const sheet = await fetchSheet(hash);
        const text = canonicalText(sheet);
        // Only what the signed record names by its hash is a sheet.
        if (hashText(webVerifier.sha256, text) !== hash) continue;
        await this.#core.store.writeNote(`sheet/${hash}`, text);
        this.#core.sheets.set(hash, sheet as Sheet);
      } catch (error) {
        if (!(error instanceof CallError) && !(error instanceof ServerRefusal)) throw error;
      }
    }
    this.#core.show();
  }

  async takeSheetFromNote(hash: string): Promise<void> {
    const text = await this.#core.store.readNote(`sheet/${hash}`);
    if (text !== null && hashText(webVerifier.sha256, text) === hash)
      this.#core.sheets.set(hash, JSON.parse(text) as Sheet);
  }
}

/** Of entries that came over the network: those that hash and verify, and the others with why. */
async function screenEntries(entries: readonly StoredEntry[]): Promise<Screened> {
  const unreadable: Record<string, string> = {};
  // Asked for all at once: the browser checks signatures on other threads.
  const judged = await Promise.all(
    entries.map(async (entry) => {
      const opened = openEntry(entry, webVerifier.sha256);
      if (!isOpened(opened)) unreadable[entry.id] = opened.code;
      else if (await isSigned(opened, webVerifier)) return entry;
      else unreadable[entry.id] = "unsigned";
      return null;
    }),
  );
  const readable = judged.filter((entry) => entry !== null);
  return { readable, unreadable };
}
