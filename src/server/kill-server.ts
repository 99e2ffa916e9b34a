// Kills the whole server with SIGKILL under load, again and again on one folder, and looks whether everything that it had
// acknowledged is there with its receipt. Two devices push without a pause; what a kill left without an answer they push
// again, as a device does. Proves safety against a crash of the process, not against a power cut.
// By itself: `npm run kill-server [rounds]`, 50 rounds by default; ends with 1 when something was lost.
import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { setTimeout as wait } from "node:timers/promises";
import { demoKeySeed } from "../../demo/make-demo.ts";
import { demoCraft, demoPeople } from "../../demo/cast.ts";
import { msToInstant } from "../core/facts/instant.ts";
import { sha256, signerFromSeed } from "../crypto/node.ts";
import type { Signer } from "../ledger/crypto.ts";
import type { StoredEntry } from "../ledger/entry.ts";
import { reopenEntry } from "../ledger/open.ts";
import { seal } from "../ledger/seal.ts";
import type { ReceiptBody } from "../ledger/system-entries.ts";
import { SqliteStore } from "../store/sqlite.ts";

export type KillResult = {
  readonly rounds: number;
  readonly acknowledged: number;
  /** Acknowledged and not in the database, or there without a receipt. */
  readonly lost: number;
  /** Pushed again after a kill that came before the answer: so it is known that kills met the server at work. */
  readonly pushedAgain: number;
};

const perPush = 5;
const { ledger } = demoCraft[0]!;
const anchor_ms = Date.parse("2026-11-25T08:40:00.000Z");

/** A device that pushes readings, in its own chain, until it is told to stop. */
class Pusher {
  readonly acknowledged: string[] = [];
  pushedAgain = 0;
  readonly #signer: Signer;
  readonly #token: string;
  readonly #by: string;
  #last: { readonly seq: number; readonly id: string } | null = null;
  #unanswered: readonly StoredEntry[] = [];

  constructor(signer: Signer, token: string, by: string) {
    this.#signer = signer;
    this.#token = token;
    this.#by = by;
  }

  /** Pushes without a pause until the server is gone. */
  async push(url: string): Promise<void> {
    this.pushedAgain += this.#unanswered.length;
    for (;;) {
      if (this.#unanswered.length === 0) this.#unanswered = await this.#next();
      try {
        const response = await fetch(`${url}/api/push`, {
          method: "POST",
          headers: { authorization: `Bearer ${this.#token}`, "content-type": "application/json" },
          body: JSON.stringify({ entries: this.#unanswered }),
        });
        const { verdicts } = (await response.json()) as { verdicts?: { verdict: string }[] };
        if (verdicts === undefined || verdicts.some(({ verdict }) => !["accepted", "held"].includes(verdict)))
          throw new RangeError(`the server answered ${response.status} ${JSON.stringify(verdicts)}`);
      } catch (error) {
        if (error instanceof RangeError) throw error;
        return; // Killed before the answer was whole: nothing was acknowledged.
      }
      this.acknowledged.push(...this.#unanswered.map(({ id }) => id));
      this.#unanswered = [];
    }
  }

  async #next(): Promise<readonly StoredEntry[]> {
    const entries: StoredEntry[] = [];
    for (let count = 0; count < perPush; count += 1) {
      const seq = this.#last === null ? 0 : this.#last.seq + 1;
      const at = msToInstant(anchor_ms + seq);
      const value = 4.5 + (seq % 10) / 10;
      const reading = { gauge: "engineOilRight", value, unit: "L", typed: String(value), conditions: {} };
      const entry = await seal(
        {
          ledger,
          type: "reading.taken",
          tv: 1,
          critical: true,
          by: this.#by,
          body: { ...reading, hours_h: null, at },
          seq,
          prev: this.#last?.id ?? null,
          after: [],
          at,
          basis: {},
          salt: seq.toString(16).padStart(32, "0"),
        },
        this.#signer,
        sha256,
      );
      this.#last = { seq, id: entry.id };
      entries.push(entry);
    }
    return entries;
  }
}

export async function killServer(rounds: number, folder: string): Promise<KillResult> {
  const data = join(folder, "data");
  const pushers: Pusher[] = [];
  for (let round = 0; round < rounds; round += 1) {
    const { child, url } = await startServer(data);
    if (pushers.length === 0)
      for (const [index, { id, pin }] of demoPeople.slice(0, 2).entries())
        pushers.push(await enrolled(url, id, pin, `killed device ${index}`));
    const pushing = pushers.map((pusher) => pusher.push(url));
    await wait(40 + Math.random() * 260);
    child.kill("SIGKILL");
    await once(child, "close");
    await Promise.all(pushing);
    assertWhole(join(data, "preen.db"));
  }
  const acknowledged = pushers.flatMap((pusher) => pusher.acknowledged);
  return {
    rounds,
    acknowledged: acknowledged.length,
    lost: await countLost(join(data, "preen.db"), acknowledged),
    pushedAgain: pushers.reduce((sum, { pushedAgain }) => sum + pushedAgain, 0),
  };
}

async function startServer(data: string): Promise<{ readonly child: ChildProcess; readonly url: string }> {
  const env = {
    ...process.env,
    PREEN_MODE: "demo",
    PREEN_DEMO: "fortnight",
    PREEN_DATA: data,
    PREEN_PORT: "0",
    PREEN_AT: msToInstant(anchor_ms),
  };
  const child = spawn(process.execPath, [join(import.meta.dirname, "main.ts")], {
    env,
    stdio: ["ignore", "pipe", "inherit"],
  });
  let text = "";
  child.stdout.setEncoding("utf8").on("data", (part: string) => (text += part));
  for (;;) {
    const url = /listening (http:\S+)/u.exec(text)?.[1];
    if (url !== undefined) return { child, url };
    if (child.exitCode !== null) throw new Error(`the server ended with ${child.exitCode}: ${text}`);
    await wait(10);
  }
}

async function enrolled(url: string, person: string, pin: string, deviceName: string): Promise<Pusher> {
  const signer = signerFromSeed(demoKeySeed(deviceName, sha256));
  const response = await fetch(`${url}/api/enrol`, {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify({ person, pin, publicKey: signer.key, deviceName }),
  });
  const { token } = (await response.json()) as { token?: string };
  if (token === undefined) throw new Error(`enrolling answered ${response.status}`);
  return new Pusher(signer, token, person);
}

function assertWhole(file: string): void {
  const db = new DatabaseSync(file);
  const found = db.prepare("PRAGMA integrity_check").get()?.["integrity_check"];
  db.close();
  if (found !== "ok") throw new Error(`${file}: integrity check found ${String(found)}`);
}

async function countLost(file: string, acknowledged: readonly string[]): Promise<number> {
  const store = new SqliteStore(file);
  const held = (await store.ofLedger(ledger)).map(reopenEntry);
  await store.close();
  const ids = new Set(held.map(({ id }) => id));
  const received = new Set(
    held
      .filter(({ envelope }) => envelope.type === "receipt")
      .flatMap(({ body }) => (body as ReceiptBody).entries.map(({ id }) => id)),
  );
  return acknowledged.filter((id) => !ids.has(id) || !received.has(id)).length;
}

if (process.argv[1] === import.meta.filename) {
  const folder = mkdtempSync(join(tmpdir(), "preen-kill-server-"));
  const { rounds, acknowledged, lost, pushedAgain } = await killServer(Number(process.argv[2] ?? 50), folder);
  rmSync(folder, { recursive: true });
  console.log(
    `${rounds} kills, ${acknowledged} acknowledged entries, ${pushedAgain} pushed again after a kill, ${lost} lost`,
  );
  process.exitCode = lost === 0 ? 0 : 1;
}
