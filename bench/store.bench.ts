// What it costs to keep: one entry on the disk before its answer, many in one call, and the server from its process's
// start to its line that it listens, on a database that is there.
// Peers: the same statements by hand on the same kind of database (one insert per transaction; batches with nothing
// looked at and nothing answered).
import { spawn } from "node:child_process";
import { once } from "node:events";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import type { StoredEntry } from "../src/ledger/entry.ts";
import { SqliteStore, ledgerSchema } from "../src/store/sqlite.ts";
import type { Bench, Row } from "./rows.ts";

const perBatch = 500;

const bench: Bench = async (size) => {
  const folder = mkdtempSync(join(tmpdir(), "preen-bench-store-"));
  const [singles, batches] = size === "tiny" ? [5, 1] : [2_000, 40];
  try {
    return [
      await single(folder, singles),
      await batched(folder, batches),
      await startAgain(join(folder, "demo"), size === "tiny" ? 1 : 3),
    ];
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
};

export default bench;

async function single(folder: string, count: number): Promise<Row> {
  const entries = entriesFrom(0, count);
  const store = new SqliteStore(join(folder, "single.db"), { sole: true });
  const ours_ms = await timed(async () => {
    for (const entry of entries) await store.append([entry]);
  });
  await assertHolds(store, count);
  const raw = new RawStore(join(folder, "single-raw.db"));
  const raw_ms = await timed(async () => {
    for (const entry of entries) raw.insert([entry]);
  });
  raw.close();
  return {
    name: "append one entry, durable",
    value: ours_ms / count,
    unit: "ms",
    budget: 1,
    better: "lower",
    peer: { name: "insert by hand", value: raw_ms / count },
  };
}

async function batched(folder: string, batches: number): Promise<Row> {
  const entries = entriesFrom(0, batches * perBatch);
  const parts = Array.from({ length: batches }, (_, i) => entries.slice(i * perBatch, (i + 1) * perBatch));
  const store = new SqliteStore(join(folder, "batch.db"), { sole: true });
  const ours_ms = await timed(async () => {
    for (const part of parts) await store.append(part);
  });
  await assertHolds(store, entries.length);
  const raw = new RawStore(join(folder, "batch-raw.db"));
  const raw_ms = await timed(async () => {
    for (const part of parts) raw.insert(part);
  });
  raw.close();
  return {
    name: `append in batches of ${perBatch}`,
    value: (entries.length / ours_ms) * 1_000,
    unit: "rows/s",
    better: "higher",
    peer: { name: "inserts by hand", value: (entries.length / raw_ms) * 1_000 },
  };
}

async function startAgain(folder: string, times: number): Promise<Row> {
  await untilListening_ms(folder); // Makes the demo; not counted.
  const starts: number[] = [];
  for (let turn = 0; turn < times; turn++) starts.push(await untilListening_ms(folder));
  return {
    name: "server: process start to listening",
    value: Math.min(...starts),
    unit: "ms",
    budget: 3_000,
    better: "lower",
  };
}

async function untilListening_ms(folder: string): Promise<number> {
  const began_ms = performance.now();
  const main = join(import.meta.dirname, "..", "src", "server", "main.ts");
  const env = { ...process.env, PREEN_MODE: "demo", PREEN_DATA: folder, PREEN_PORT: "0" };
  const child = spawn(process.execPath, [main], { env, stdio: ["ignore", "pipe", "inherit"] });
  const gone = once(child, "exit");
  const [line] = (await Promise.race([once(child.stdout, "data"), gone])) as [unknown];
  const listens_ms = performance.now() - began_ms;
  child.kill("SIGTERM");
  await gone;
  if (!String(line).startsWith("listening")) throw new Error(`the server said ${String(line)}`);
  return listens_ms;
}

/** Of the size and shape of real entries: about 700 characters of envelope and 500 of body. */
function entriesFrom(first: number, count: number): readonly StoredEntry[] {
  return Array.from({ length: count }, (_, i) => {
    const n = first + i;
    const id = ((n * 2_654_435_761) % 4_294_967_296).toString(16).padStart(8, "0").repeat(8);
    const envelope = {
      after: [id, id],
      at: "2031-04-01T06:40:00.000Z",
      basis: { sheet: id },
      bodyHash: id,
      by: "p-one",
      critical: true,
      key: id,
      ledger: `craft:${n % 3}`,
      prev: id,
      seq: n,
      tv: 1,
      type: "walk.page",
      v: 1,
    };
    const body = JSON.stringify({ n, words: "looked at, felt, turned ".repeat(20) });
    return { id, envelope: JSON.stringify(envelope), sig: id.repeat(2), salt: id.slice(32), body };
  });
}

/** The same table filled by hand: what no store could save. */
class RawStore {
  readonly #db: DatabaseSync;

  constructor(file: string) {
    this.#db = new DatabaseSync(file);
    this.#db.exec("PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; PRAGMA secure_delete = ON");
    for (const step of ledgerSchema.steps) this.#db.exec(step);
  }

  insert(entries: readonly StoredEntry[]): void {
    const sql = "INSERT INTO entry (id, ledger, envelope, sig, salt, body) VALUES (?, ?, ?, ?, ?, ?)";
    const statement = this.#db.prepare(sql);
    this.#db.exec("BEGIN IMMEDIATE");
    for (const { id, envelope, sig, salt, body } of entries)
      statement.run(id, "craft:0", envelope, sig, salt, body);
    this.#db.exec("COMMIT");
  }

  close(): void {
    this.#db.close();
  }
}

async function timed(work: () => Promise<void>): Promise<number> {
  const began_ms = performance.now();
  await work();
  return performance.now() - began_ms;
}

async function assertHolds(store: SqliteStore, count: number): Promise<void> {
  const found = await store.count();
  await store.close();
  if (found !== count) throw new Error(`the store holds ${found} entries, wanted ${count}`);
}
