// What it costs to take entries in as the server does: opened (hashes, canonical form, shape), signatures verified, put on
// the disk in batches. As a share of two limits measured in the same run: signature checks alone, spread over the
// processors by Node's own pool; and the same rows inserted through the same driver with nothing looked at.
import { createPublicKey, verify } from "node:crypto";
import type { KeyObject } from "node:crypto";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { msToInstant } from "../src/core/facts/instant.ts";
import { sha256, signerFromSeed, verifyPooled } from "../src/crypto/node.ts";
import { bytesOf, fromHex } from "../src/ledger/crypto.ts";
import type { StoredEntry } from "../src/ledger/entry.ts";
import { isOpened, openEntry } from "../src/ledger/open.ts";
import { seal, signedMessage } from "../src/ledger/seal.ts";
import { SqliteStore, ledgerSchema } from "../src/store/sqlite.ts";
import type { Bench } from "./rows.ts";

const perBatch = 500;

async function entriesOf(count: number): Promise<readonly StoredEntry[]> {
  const signer = signerFromSeed(sha256(bytesOf("a key for timing verified appends")));
  const entries: StoredEntry[] = [];
  let prev: string | null = null;
  for (let seq = 0; seq < count; seq += 1) {
    const at = msToInstant(Date.UTC(2031, 3, 1) + seq * 1_000);
    const marks = Array.from({ length: 6 }, (_, item) => ({
      item: `left.item${item}`,
      mark: "good",
      why: null,
      finding: null,
    }));
    const body = { walk: "walk-000000000001", stop: "left", arrivedAt: at, leftAt: at, marks, replaces: [] };
    const entry: StoredEntry = await seal(
      {
        ledger: "craft:timed",
        type: "walk.page",
        tv: 1,
        critical: true,
        by: "p-one",
        body,
        seq,
        prev,
        after: prev === null ? [] : [prev],
        at,
        basis: {},
        salt: seq.toString(16).padStart(32, "0"),
      },
      signer,
      sha256,
    );
    prev = entry.id;
    entries.push(entry);
  }
  return entries;
}

const keyOf = (hex: string): KeyObject =>
  createPublicKey({
    key: Buffer.concat([Buffer.from("302a300506032b6570032100", "hex"), fromHex(hex)]),
    format: "der",
    type: "spki",
  });

async function takenIn(entry: StoredEntry, verifies: boolean): Promise<boolean> {
  const opened = openEntry(entry, sha256);
  if (!isOpened(opened)) return false;
  return !verifies || verifyPooled(opened.envelope.key, signedMessage(opened.id), entry.sig);
}

/** Entries a second. */
async function rate(count: number, work: () => Promise<void>): Promise<number> {
  const began = performance.now();
  await work();
  return (count / (performance.now() - began)) * 1_000;
}

const bench: Bench = async (size) => {
  const count = size === "tiny" ? 20 : 8_000;
  const entries = await entriesOf(count);
  const batches = Array.from({ length: Math.ceil(count / perBatch) }, (_, at) =>
    entries.slice(at * perBatch, (at + 1) * perBatch),
  );
  const folder = mkdtempSync(join(tmpdir(), "preen-bench-verified-"));
  try {
    const openedAll = async (name: string, verifies: boolean): Promise<number> => {
      const store = new SqliteStore(join(folder, `${name}.db`), { sole: true });
      // Each signature goes to the pool as its entry is opened, and the next batch is opened before this one is stored.
      const taken = await rate(count, async () => {
        let next = Promise.all((batches[0] ?? []).map((entry) => takenIn(entry, verifies)));
        for (const [at, batch] of batches.entries()) {
          if (!(await next).every(Boolean)) throw new Error("an entry that cannot be taken in");
          next = Promise.all((batches[at + 1] ?? []).map((entry) => takenIn(entry, verifies)));
          await store.append(batch);
        }
      });
      if ((await store.count()) !== count) throw new Error("the store does not hold what it took");
      await store.close();
      return taken;
    };
    await openedAll("warm", true);
    const unverified = await openedAll("unverified", false);
    const verified = await openedAll("verified", true);
    const key = keyOf((JSON.parse(entries[0]!.envelope) as { key: string }).key);
    const pooled = await rate(count, async () => {
      const checks = entries.map(
        ({ id, sig }) =>
          new Promise<boolean>((resolve, reject) => {
            verify(null, signedMessage(id), key, Buffer.from(sig, "hex"), (error, right) =>
              error === null ? resolve(right) : reject(error),
            );
          }),
      );
      if (!(await Promise.all(checks)).every(Boolean)) throw new Error("a signature is wrong");
    });
    const raw = await rate(count, async () => insertRaw(join(folder, "raw.db"), batches));
    return [
      {
        name: "verified append on SQLite",
        value: verified,
        unit: "entries/s",
        better: "higher",
        peer: { name: "signature checks alone, pooled", value: pooled },
      },
      {
        name: "verified append as a share of pooled signature checks",
        value: verified / pooled,
        unit: "×",
        budget: 0.5,
        better: "higher",
      },
      {
        name: "verified append as a share of raw batched inserts",
        value: verified / raw,
        unit: "×",
        budget: 0.1,
        better: "higher",
      },
      {
        name: "opened and appended without signatures, as a share of raw batched inserts",
        value: unverified / raw,
        unit: "×",
        budget: 0.3,
        better: "higher",
        peer: { name: "raw, as a share of itself", value: 1 },
      },
    ];
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
};

export default bench;

function insertRaw(file: string, batches: readonly (readonly StoredEntry[])[]): void {
  const db = new DatabaseSync(file);
  db.exec("PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; PRAGMA secure_delete = ON");
  for (const step of ledgerSchema.steps) db.exec(step);
  const statement = db.prepare(
    "INSERT INTO entry (id, ledger, envelope, sig, salt, body) VALUES (?, ?, ?, ?, ?, ?)",
  );
  for (const batch of batches) {
    db.exec("BEGIN IMMEDIATE");
    for (const { id, envelope, sig, salt, body } of batch)
      statement.run(id, "craft:timed", envelope, sig, salt, body);
    db.exec("COMMIT");
  }
  db.close();
}
