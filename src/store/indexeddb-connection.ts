// One connection to a database of the browser (window or worker), with the care that IndexedDB asks for:
// - a transaction settles on complete, error and abort, and is asked to be on the disk when it completes (strict);
// - a connection that the browser dropped (Safari does so in the background) is opened again once and the work
//   repeated, which is harmless because a transaction keeps all or nothing and appends are idempotent;
// - opening has a time-out, since open() may hang for ever;
// - a newer version of the app that wants to change the schema is let through: this connection closes and says so.
// Inside a transaction nothing may be awaited but its own requests: it would commit without the rest.
import { openDB, type DBSchema, type IDBPDatabase, type IDBPTransaction, type StoreNames } from "idb";
import { StoreError } from "./store-error.ts";
import type { OperationHook } from "./store.ts";

export type IndexedDbOptions<Schema extends DBSchema> = {
  readonly name: string;
  readonly version: number;
  /** Creates what versions after `from` added. Only ever adds. */
  readonly upgrade: (db: IDBPDatabase<Schema>, from: number) => void;
  readonly onOperation?: OperationHook;
  /** Long enough for a slow phone that has just woken; a person waits no longer. */
  readonly openTimeout_ms?: number;
  /** Called when another window takes over with a newer version, or the database was deleted. */
  readonly onTakenOver?: () => void;
};

/** Runs one request inside a transaction; its name is what the operation hook sees. */
export type Operate = <T>(name: string, request: () => Promise<T>) => Promise<T>;

type Mode = "readonly" | "readwrite";

export class IndexedDbConnection<Schema extends DBSchema> {
  readonly #options: IndexedDbOptions<Schema>;
  #db: Promise<IDBPDatabase<Schema>> | null = null;
  #ended: StoreError | null = null;

  constructor(options: IndexedDbOptions<Schema>) {
    this.#options = options;
  }

  /** Opens now, so that a database that cannot be used is found out before it is needed. */
  async open(): Promise<void> {
    await this.#connect();
  }

  async transaction<M extends Mode, T>(
    stores: readonly StoreNames<Schema>[],
    mode: M,
    work: (tx: IDBPTransaction<Schema, StoreNames<Schema>[], M>, operate: Operate) => Promise<T>,
  ): Promise<T> {
    for (let attempt = 1; ; attempt++) {
      const db = await this.#connect();
      try {
        return await this.#attempt(db, stores, mode, work);
      } catch (error) {
        if (attempt > 1 || !isLostConnection(error)) throw this.#storeErrorFrom(error);
        db.close();
        this.#db = null;
      }
    }
  }

  close(): void {
    this.#ended ??= this.#error("closed", "used after it was closed");
    void this.#db?.then(
      (db) => db.close(),
      () => {},
    );
    this.#db = null;
  }

  async #attempt<M extends Mode, T>(
    db: IDBPDatabase<Schema>,
    stores: readonly StoreNames<Schema>[],
    mode: M,
    work: (tx: IDBPTransaction<Schema, StoreNames<Schema>[], M>, operate: Operate) => Promise<T>,
  ): Promise<T> {
    const hook = this.#options.onOperation ?? (() => {});
    hook("begin");
    const tx = db.transaction([...stores], mode, { durability: "strict" });
    tx.done.catch(() => {}); // Awaited below; until then it must not count as unhandled.
    try {
      const result = await work(tx, (name, request) => {
        hook(name);
        const answer = request();
        answer.catch(() => {}); // The same for requests that are awaited together later.
        return answer;
      });
      hook("commit");
      await tx.done;
      return result;
    } catch (error) {
      try {
        tx.abort();
      } catch {
        // It is over already.
      }
      const reason: unknown = await tx.done.then(
        () => error,
        () => tx.error ?? error,
      );
      throw reason;
    }
  }

  #connect(): Promise<IDBPDatabase<Schema>> {
    if (this.#ended !== null) return Promise.reject(this.#ended);
    const opening = (this.#db ??= this.#openInTime());
    opening.catch(() => {
      if (this.#db === opening) this.#db = null;
    });
    return opening;
  }

  async #openInTime(): Promise<IDBPDatabase<Schema>> {
    const { name, version, upgrade, openTimeout_ms = 10_000 } = this.#options;
    let blocked = false;
    let late = false;
    let timer: ReturnType<typeof setTimeout> | undefined;
    try {
      this.#options.onOperation?.("open");
      const opening = openDB<Schema>(name, version, {
        upgrade: (db, from) => upgrade(db, from),
        blocked: () => (blocked = true),
        blocking: (_from, to) => this.#giveWay(to),
        terminated: () => (this.#db = null),
      });
      opening.then(
        (db) => late && db.close(),
        () => {},
      );
      const timeout = new Promise<never>((_, reject) => {
        timer = setTimeout(() => {
          late = true;
          reject(
            blocked
              ? this.#error("locked", "is held by an older window of this app. Close the other windows.")
              : this.#error("unavailable", `did not open within ${openTimeout_ms} ms. Load the page again.`),
          );
        }, openTimeout_ms);
      });
      return await Promise.race([opening, timeout]);
    } catch (error) {
      throw this.#storeErrorFrom(error);
    } finally {
      clearTimeout(timer);
    }
  }

  #giveWay(newVersion: number | null): void {
    this.close();
    this.#ended =
      newVersion === null
        ? this.#error("unavailable", "was deleted while in use. Load the page again.")
        : this.#error("newer", "a newer version of this app has taken over. Load the page again.");
    this.#options.onTakenOver?.();
  }

  #error(code: StoreError["code"], text: string, cause?: unknown): StoreError {
    return new StoreError(code, `database ${this.#options.name}`, text, cause);
  }

  #storeErrorFrom(error: unknown): StoreError {
    if (error instanceof StoreError) return error;
    const name = error instanceof Error || error instanceof DOMException ? error.name : "";
    if (name === "QuotaExceededError") {
      return this.#error("full", "has no room left; nothing that was saved is lost. Free some space.", error);
    }
    if (name === "VersionError") {
      return this.#error("newer", "was written by a newer version of this app. Load the page again.", error);
    }
    return this.#error("unavailable", error instanceof Error ? error.message : String(error), error);
  }
}

/** Chrome and Firefox say InvalidStateError on a closed connection; Safari UnknownError when it lost its process. */
function isLostConnection(error: unknown): boolean {
  return (
    error instanceof DOMException && ["InvalidStateError", "UnknownError", "AbortError"].includes(error.name)
  );
}
