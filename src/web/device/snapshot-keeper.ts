// Has the snapshots of this device tended, one time after another, in a worker of their own.
import type { SnapshotAsk, SnapshotsTended } from "./snapshot-worker.ts";

/** As long as a slow tablet may need for a long record. */
const longest_ms = 180_000;

export class SnapshotKeeper {
  readonly #database: string;
  #running: Promise<SnapshotsTended | null> | null = null;
  /** What became of snapshots while this page was open; `failed`: times that the worker gave no answer. */
  readonly counts = { renewed: 0, mended: 0, failed: 0 };

  constructor(database: string) {
    this.#database = database;
  }

  /** `root`: the operator's public key. Null where it could not be done; never rejects. */
  tend(root: string | null): Promise<SnapshotsTended | null> {
    this.#running ??= askWorker({ database: this.#database, root }).then((tended) => {
      this.#running = null;
      if (tended === null) this.counts.failed += 1;
      else {
        this.counts.renewed += tended.renewed;
        this.counts.mended += tended.mended;
      }
      return tended;
    });
    return this.#running;
  }
}

function askWorker(ask: SnapshotAsk): Promise<SnapshotsTended | null> {
  return new Promise((resolve) => {
    let worker: Worker | null = null;
    const done = (tended: SnapshotsTended | null): void => {
      clearTimeout(timer);
      worker?.terminate();
      resolve(tended);
    };
    const timer = setTimeout(() => done(null), longest_ms);
    try {
      worker = new Worker(new URL("./snapshot-worker.ts", import.meta.url), { type: "module" });
      worker.addEventListener("message", ({ data }: MessageEvent<SnapshotsTended | null>) => done(data));
      worker.addEventListener("error", () => done(null));
      worker.postMessage(ask);
    } catch {
      done(null);
    }
  });
}
