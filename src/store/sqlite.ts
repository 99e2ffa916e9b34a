// The store in one SQLite file: the server's, and that of tools. Opening, refusals and durability: sqlite-file.ts.
// Texts are kept as they came, as TEXT, never as a JSON type of the database.
import type { Hash, LedgerId, StoredEntry } from "../ledger/entry.ts";
import { SqliteFile, type SqliteOptions, type SqliteRow, type SqliteSchema } from "./sqlite-file.ts";
import { type Appended, type Page, type Row, type Store } from "./store.ts";
import { assertPageWanted, ledgerOf, pageFrom } from "./store.ts";

export const ledgerSchema: SqliteSchema = {
  applicationId: 0x50_72_6c_31, // "Prl1"
  steps: [
    `CREATE TABLE entry (
       position INTEGER PRIMARY KEY,
       id TEXT NOT NULL UNIQUE,
       ledger TEXT NOT NULL,
       envelope TEXT NOT NULL,
       sig TEXT NOT NULL,
       salt TEXT,
       body TEXT
     ) STRICT;
     CREATE INDEX entry_by_ledger ON entry (ledger, position);
     CREATE TABLE note (name TEXT PRIMARY KEY, text TEXT NOT NULL) STRICT, WITHOUT ROWID`,
    "CREATE TABLE snapshot (ledger TEXT PRIMARY KEY, text TEXT NOT NULL) STRICT",
  ],
};

const columns = "position, id, envelope, sig, salt, body";

export class SqliteStore implements Store {
  readonly #sql: SqliteFile;

  /** Throws a StoreError that names the file and the next step when it cannot be opened as it should. */
  constructor(file: string, options: SqliteOptions = {}) {
    this.#sql = new SqliteFile(file, ledgerSchema, options);
  }

  async append(entries: readonly StoredEntry[]): Promise<Appended> {
    const added: Hash[] = [];
    const held: Hash[] = [];
    const rows = entries.map((entry) => ({ ledger: ledgerOf(entry), entry }));
    this.#sql.transaction(() => {
      for (const { ledger, entry } of rows) {
        const changed = this.#sql.run(
          "INSERT INTO entry (id, ledger, envelope, sig, salt, body) VALUES (?, ?, ?, ?, ?, ?) ON CONFLICT (id) DO NOTHING",
          entry.id,
          ledger,
          entry.envelope,
          entry.sig,
          entry.salt,
          entry.body,
        );
        (changed === 1 ? added : held).push(entry.id);
      }
    });
    return { added, held };
  }

  async since(position: number, limit: number, ledger?: LedgerId): Promise<Page> {
    assertPageWanted(position, limit);
    const rows =
      ledger === undefined
        ? this.#sql.all(
            `SELECT ${columns} FROM entry WHERE position > ? ORDER BY position LIMIT ?`,
            position,
            limit + 1,
          )
        : this.#sql.all(
            `SELECT ${columns} FROM entry WHERE ledger = ? AND position > ? ORDER BY position LIMIT ?`,
            ledger,
            position,
            limit + 1,
          );
    return pageFrom(rows.map(rowFrom), position, limit);
  }

  async head(): Promise<{ position: number; id: Hash } | null> {
    const row = this.#sql.get("SELECT position, id FROM entry ORDER BY position DESC LIMIT 1");
    return row === undefined ? null : { position: Number(row["position"]), id: String(row["id"]) };
  }

  async ofLedger(ledger: LedgerId): Promise<readonly StoredEntry[]> {
    return this.#sql
      .all(`SELECT ${columns} FROM entry WHERE ledger = ? ORDER BY position`, ledger)
      .map((row) => rowFrom(row).entry);
  }

  async ledgers(): Promise<readonly LedgerId[]> {
    return this.#sql
      .all("SELECT DISTINCT ledger FROM entry ORDER BY ledger")
      .map((row) => String(row["ledger"]));
  }

  async get(id: Hash): Promise<StoredEntry | null> {
    const row = this.#sql.get(`SELECT ${columns} FROM entry WHERE id = ?`, id);
    return row === undefined ? null : rowFrom(row).entry;
  }

  async lacking(ids: readonly Hash[]): Promise<readonly Hash[]> {
    return ids.filter((id) => this.#sql.get("SELECT 1 FROM entry WHERE id = ?", id) === undefined);
  }

  async count(): Promise<number> {
    return Number(this.#sql.get("SELECT count(*) AS n FROM entry")!["n"]);
  }

  async countOf(ledger: LedgerId, position: number): Promise<number> {
    const row = this.#sql.get(
      "SELECT count(*) AS n FROM entry WHERE ledger = ? AND position <= ?",
      ledger,
      position,
    );
    return Number(row!["n"]);
  }

  async erase(ids: readonly Hash[]): Promise<readonly Hash[]> {
    const erased: Hash[] = [];
    this.#sql.transaction(() => {
      for (const id of new Set(ids)) {
        const changed = this.#sql.run(
          "UPDATE entry SET salt = NULL, body = NULL WHERE id = ? AND body IS NOT NULL",
          id,
        );
        if (changed !== 1) continue;
        erased.push(id);
        this.#sql.run("DELETE FROM snapshot WHERE ledger = (SELECT ledger FROM entry WHERE id = ?)", id);
      }
    });
    // Until the write-ahead log is folded in, the erased text still stands in it. Done even when nothing was erased
    // now: the call before this one may have failed here.
    this.#sql.all("PRAGMA wal_checkpoint(TRUNCATE)");
    return erased;
  }

  async readNote(name: string): Promise<string | null> {
    const row = this.#sql.get("SELECT text FROM note WHERE name = ?", name);
    return row === undefined ? null : String(row["text"]);
  }

  async writeNote(name: string, text: string | null): Promise<void> {
    this.#sql.transaction(() => {
      if (text === null) this.#sql.run("DELETE FROM note WHERE name = ?", name);
      else
        this.#sql.run(
          "INSERT INTO note (name, text) VALUES (?, ?) ON CONFLICT (name) DO UPDATE SET text = excluded.text",
          name,
          text,
        );
    });
  }

  async readSnapshot(ledger: LedgerId): Promise<string | null> {
    const row = this.#sql.get("SELECT text FROM snapshot WHERE ledger = ?", ledger);
    return row === undefined ? null : String(row["text"]);
  }

  async writeSnapshot(ledger: LedgerId, text: string | null): Promise<void> {
    this.#sql.transaction(() => {
      if (text === null) this.#sql.run("DELETE FROM snapshot WHERE ledger = ?", ledger);
      else
        this.#sql.run(
          "INSERT INTO snapshot (ledger, text) VALUES (?, ?) ON CONFLICT (ledger) DO UPDATE SET text = excluded.text",
          ledger,
          text,
        );
    });
  }

  async close(): Promise<void> {
    this.#sql.close();
  }
}

function rowFrom(row: SqliteRow): Row {
  return {
    position: Number(row["position"]),
    entry: {
      id: String(row["id"]),
      envelope: String(row["envelope"]),
      sig: String(row["sig"]),
      salt: row["salt"] as string | null,
      body: row["body"] as string | null,
    },
  };
}
