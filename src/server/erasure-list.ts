// What was erased by right on this server, in a file of its own beside the keys: `erasures.ndjson`, one erasing entry a line,
// as it is stored. A backup that is older than an erasure still holds what was erased; the operator keeps this file with
// the keys, apart from all backups, and a server that is started on a restored record with it erases again before it
// answers anybody. It names hashes and reasons, and nothing of what was erased.
//
// A last line that a crash cut off is left out: its erasure is carried out again from the record. Any other line that cannot
// be read stops the start, since what it named might come back.
import { closeSync, existsSync, fsyncSync, openSync, readFileSync, truncateSync, writeSync } from "node:fs";
import { sha256 } from "../crypto/node.ts";
import { canonicalText } from "../ledger/canonical.ts";
import type { Hash, StoredEntry } from "../ledger/entry.ts";
import { isOpened, openEntry, reopenEntry } from "../ledger/open.ts";
import type { EraseBody, ErasePhotoBody } from "../ledger/system-entries.ts";
import { StartError } from "./start-error.ts";

export class ErasureList {
  readonly #file: string;
  readonly #entries = new Map<Hash, StoredEntry>();
  readonly #bodies = new Set<Hash>();
  readonly #photos = new Set<Hash>();

  constructor(file: string) {
    this.#file = file;
    if (!existsSync(file)) return;
    const bytes = readFileSync(file);
    const whole = bytes.subarray(0, bytes.lastIndexOf(10) + 1);
    if (whole.length < bytes.length) truncateSync(file, whole.length);
    for (const [index, line] of whole.toString("utf8").split("\n").slice(0, -1).entries()) {
      const entry = readEntry(line);
      if (entry === null)
        throw new StartError(
          `${file}: line ${index + 1} is damaged. Put a copy of it in its place: what it names must not come back.`,
        );
      this.#take(entry);
    }
  }

  /** The entries that erase, in the order in which they came to hold. */
  get entries(): readonly StoredEntry[] {
    return [...this.#entries.values()];
  }

  /** Entries that say nothing any more. */
  get bodies(): ReadonlySet<Hash> {
    return this.#bodies;
  }

  get photos(): ReadonlySet<Hash> {
    return this.#photos;
  }

  /** On the disk once it returns; those that stand in it already are left alone. */
  add(entries: readonly StoredEntry[]): void {
    const fresh = entries.filter(({ id }) => !this.#entries.has(id));
    if (fresh.length === 0) return;
    const handle = openSync(this.#file, "a", 0o600);
    try {
      writeSync(handle, fresh.map((entry) => `${canonicalText(entry)}\n`).join(""));
      fsyncSync(handle);
    } finally {
      closeSync(handle);
    }
    for (const entry of fresh) this.#take(entry);
  }

  #take(entry: StoredEntry): void {
    this.#entries.set(entry.id, entry);
    const { envelope, body } = reopenEntry(entry);
    if (envelope.type === "erase") this.#bodies.add((body as EraseBody).entry);
    if (envelope.type === "photo.erased") this.#photos.add((body as ErasePhotoBody).photo);
  }
}

/** Null where the line is no whole entry. */
function readEntry(line: string): StoredEntry | null {
  try {
    const entry = JSON.parse(line) as StoredEntry;
    const opened = openEntry(entry, sha256);
    return isOpened(opened) && /^[0-9a-f]{128}$/u.test(entry.sig) ? entry : null;
  } catch {
    return null;
  }
}
