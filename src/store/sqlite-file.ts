// One SQLite database file, opened with care: node:sqlite, write-ahead log, synchronous=FULL (each commit is on the
// disk before the call returns), a schema that grows by numbered steps.
//
// What it refuses, leaving every byte as it is: a file that is no database, that is damaged, empty, of another program
// or of a newer version of this one, held by another process, or missing while its write-ahead log is still there. A
// new database is built under another name and linked into place when complete, so that neither a crash while
// creating it nor a bad file ever turns into a fresh, empty record.
import { closeSync, existsSync, fsyncSync, linkSync, openSync, rmSync, statSync } from "node:fs";
import { dirname } from "node:path";
import { DatabaseSync, type SQLInputValue, type StatementSync } from "node:sqlite";
import { StoreError, type StoreErrorCode } from "./store-error.ts";
import type { OperationHook } from "./store.ts";

export type SqliteSchema = {
  /** Marks the file as ours (PRAGMA application_id), one number per kind of file. */
  readonly applicationId: number;
  /** Statements of step 1, 2, …; the count of steps done stands in PRAGMA user_version. Never edited, only added to. */
  readonly steps: readonly string[];
};

export type SqliteOptions = {
  /** Refuse when another process has it open as sole; held until close(). Readers are not kept out. */
  readonly sole?: boolean;
  /** Nothing is made, grown or written: for tools that look at a record beside a running server. */
  readonly readOnly?: boolean;
  readonly onOperation?: OperationHook;
};

export type SqliteRow = Readonly<Record<string, string | number | null>>;

/** How long to wait for another connection's transaction: ours last milliseconds, so two seconds means it is stuck. */
const busyTimeout_ms = 2_000;

export class SqliteFile {
  readonly file: string;
  readonly #schema: SqliteSchema;
  readonly #hook: OperationHook;
  readonly #readOnly: boolean;
  #guard: DatabaseSync | null = null;
  #db: DatabaseSync | null = null;
  #statements = new Map<string, StatementSync>();
  #open = true;

  constructor(file: string, schema: SqliteSchema, options: SqliteOptions = {}) {
    this.file = file;
    this.#schema = schema;
    this.#hook = options.onOperation ?? (() => {});
    this.#readOnly = options.readOnly ?? false;
    try {
      if (options.sole) this.#guard = takeGuard(file);
      if (!existsSync(file) && !this.#readOnly) create(file, schema);
      inspect(file, schema);
      this.#connect();
    } catch (error) {
      this.close();
      throw storeErrorFrom(error, file);
    }
  }

  /** Runs one statement; answers with the number of rows changed. */
  run(sql: string, ...values: SQLInputValue[]): number {
    return this.#guarded(sql, (statement) => Number(statement.run(...values).changes));
  }

  get(sql: string, ...values: SQLInputValue[]): SqliteRow | undefined {
    return this.#guarded(sql, (statement) => statement.get(...values) as SqliteRow | undefined);
  }

  all(sql: string, ...values: SQLInputValue[]): readonly SqliteRow[] {
    return this.#guarded(sql, (statement) => statement.all(...values) as SqliteRow[]);
  }

  /** All of `work` or nothing of it. A failing rollback drops the connection, which undoes the transaction too. */
  transaction<T>(work: () => T): T {
    this.run("BEGIN IMMEDIATE");
    try {
      const result = work();
      this.run("COMMIT");
      return result;
    } catch (error) {
      try {
        this.run("ROLLBACK");
      } catch {
        this.#disconnect();
      }
      throw error;
    }
  }

  close(): void {
    this.#open = false;
    this.#disconnect();
    this.#guard?.close();
    this.#guard = null;
  }

  #guarded<T>(sql: string, work: (statement: StatementSync) => T): T {
    if (!this.#open) throw new StoreError("closed", this.file, "used after it was closed");
    try {
      this.#hook(sql);
      const db = this.#connect();
      let statement = this.#statements.get(sql);
      if (statement === undefined) {
        statement = db.prepare(sql);
        this.#statements.set(sql, statement);
      }
      return work(statement);
    } catch (error) {
      throw storeErrorFrom(error, this.file);
    }
  }

  #connect(): DatabaseSync {
    if (this.#db !== null) return this.#db;
    const db = new DatabaseSync(this.file, { timeout: busyTimeout_ms, readOnly: this.#readOnly });
    try {
      if (this.#readOnly) assertGrown(db, this.#schema, this.file);
      else prepare(db, this.#schema);
    } catch (error) {
      db.close();
      throw error;
    }
    this.#db = db;
    return db;
  }

  #disconnect(): void {
    this.#statements = new Map();
    this.#db?.close();
    this.#db = null;
  }
}

/** An open transaction on an empty file beside the database: the system lets go of it however the process ends. */
function takeGuard(file: string): DatabaseSync {
  const guard = new DatabaseSync(`${file}.lock`, { timeout: 0 });
  try {
    guard.exec("PRAGMA journal_mode = OFF; BEGIN EXCLUSIVE");
    return guard;
  } catch (error) {
    guard.close();
    throw error;
  }
}

function create(file: string, schema: SqliteSchema): void {
  const wal = `${file}-wal`;
  if (existsSync(wal) && statSync(wal).size > 0) {
    throw new StoreError(
      "corrupted",
      file,
      `is missing, but its write-ahead log ${wal} is there. Put the database back beside it (from where it was moved, ` +
        "or from a backup); only when it is truly not wanted any more, move the log away too.",
    );
  }
  const unfinished = `${file}.new-${process.pid}`;
  rmSync(unfinished, { force: true });
  try {
    const db = new DatabaseSync(unfinished);
    try {
      db.exec(`PRAGMA application_id = ${schema.applicationId}`);
      grow(db, schema);
    } finally {
      db.close();
    }
    linkSync(unfinished, file);
    syncFolder(dirname(file));
  } catch (error) {
    if ((error as { code?: unknown }).code !== "EEXIST") throw error;
  } finally {
    rmSync(unfinished, { force: true });
  }
}

/** The new name itself must survive a power cut. Windows cannot open a folder and needs no such step. */
function syncFolder(folder: string): void {
  if (process.platform === "win32") return;
  const handle = openSync(folder, "r");
  try {
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}

/** Looks through a read-only connection, so that a refused file stays as it is. */
function inspect(file: string, schema: SqliteSchema): void {
  if (!existsSync(file))
    throw new StoreError("unavailable", file, "is not there. Name the file that is meant.");
  if (statSync(file).size === 0)
    throw new StoreError("corrupted", file, `is empty where a database should be. ${restore}`);
  const db = new DatabaseSync(file, { readOnly: true, timeout: busyTimeout_ms });
  try {
    const applicationId = pragma(db, "application_id");
    if (applicationId !== schema.applicationId) {
      throw new StoreError("foreign", file, "is a database of another program. Name another folder or file.");
    }
    const version = pragma(db, "user_version");
    if (Number(version) > schema.steps.length) {
      throw new StoreError(
        "newer",
        file,
        `was written by a newer version of this program (schema ${version}, this one knows ${schema.steps.length}). ` +
          "Start that version, or a newer one.",
      );
    }
    const found = pragma(db, "quick_check(1)");
    if (found !== "ok") throw new StoreError("corrupted", file, `is damaged (${found}). ${restore}`);
  } finally {
    db.close();
  }
}

function prepare(db: DatabaseSync, schema: SqliteSchema): void {
  // secure_delete: an erased body must not live on in free pages.
  db.exec("PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; PRAGMA secure_delete = ON");
  grow(db, schema);
}

function assertGrown(db: DatabaseSync, schema: SqliteSchema, file: string): void {
  if (Number(pragma(db, "user_version")) === schema.steps.length) return;
  throw new StoreError(
    "unavailable",
    file,
    "was written by an older version. Start this version's server on it once.",
  );
}

function pragma(db: DatabaseSync, name: string): string | number | null {
  const row = db.prepare(`PRAGMA ${name}`).get() as SqliteRow | undefined;
  return Object.values(row ?? {})[0] ?? null;
}

/** Runs the steps that the file lacks, each in a transaction of its own. */
function grow(db: DatabaseSync, schema: SqliteSchema): void {
  for (;;) {
    const done = Number(pragma(db, "user_version"));
    const step = schema.steps[done];
    if (step === undefined) return;
    db.exec("BEGIN IMMEDIATE");
    try {
      // Looked at again inside the transaction: another process may have taken this step meanwhile.
      if (Number(pragma(db, "user_version")) === done) db.exec(`${step}; PRAGMA user_version = ${done + 1}`);
      db.exec("COMMIT");
    } catch (error) {
      db.exec("ROLLBACK");
      throw error;
    }
  }
}

const restore = "It was left as it is. Move it aside and put a backup in its place.";

/** Primary result codes of SQLite (sqlite.org/rescode.html) that mean something to the reader. */
const meanings: Readonly<Record<number, readonly [StoreErrorCode, string]>> = {
  5: ["locked", "is in use by another process. Stop that one, or name another folder."],
  6: ["locked", "is in use by another connection. Stop the other process, or name another folder."],
  8: [
    "unavailable",
    "may not be written. Give the user of this process the right to write it and its folder.",
  ],
  10: ["unavailable", "could not be read or written (input/output error). Check the disk."],
  11: ["corrupted", `is damaged. ${restore}`],
  13: ["full", "has no room left. Free some space on its disk; nothing that was acknowledged is lost."],
  14: ["unavailable", "cannot be opened. Check that its folder exists and may be read and written."],
  26: ["corrupted", `is not a database, or its beginning is damaged. ${restore}`],
};

export function storeErrorFrom(error: unknown, file: string): StoreError {
  if (error instanceof StoreError) return error;
  const errcode = (error as { errcode?: unknown }).errcode;
  const meaning = typeof errcode === "number" ? meanings[errcode & 0xff] : undefined;
  if (meaning !== undefined) return new StoreError(meaning[0], file, meaning[1], error);
  return new StoreError("unavailable", file, error instanceof Error ? error.message : String(error), error);
}
