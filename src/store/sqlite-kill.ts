// Kills a writing process at a random instant, again and again on one file, and looks whether everything that it had
// acknowledged is there. Proves safety against a crash of the process, not against a power cut.
// By itself: `npm run kill-rounds [-- ROUNDS]`, 50 rounds by default; ends with 1 when something was lost.
import { spawn } from "node:child_process";
import { once } from "node:events";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { setTimeout as wait } from "node:timers/promises";
import { sampleEntry } from "./contract.ts";
import { SqliteStore } from "./sqlite.ts";

export type KillResult = {
  readonly rounds: number;
  readonly acknowledged: number;
  readonly lost: number;
  readonly torn: number;
};

export async function killRounds(rounds: number, file: string): Promise<KillResult> {
  let acknowledged = 0;
  let lost = 0;
  let torn = 0;
  for (let round = 0; round < rounds; round++) {
    const numbers = await writeUntilKilled(file, (round + 1) * 1_000_000);
    const store = new SqliteStore(file);
    lost += (await store.lacking(numbers.map((n) => sampleEntry("craft:a", n).id))).length;
    acknowledged += numbers.length;
    const snapshot = await store.readSnapshot("craft:a");
    if (snapshot !== null && !isWhole(snapshot)) torn += 1;
    await store.close();
    assertWhole(file);
  }
  return { rounds, acknowledged, lost, torn };
}

/** Numbers that the child acknowledged before it was killed, 20 to 170 ms after its first one. */
async function writeUntilKilled(file: string, first: number): Promise<readonly number[]> {
  const script = join(import.meta.dirname, "sqlite-kill-child.ts");
  const child = spawn(process.execPath, [script, file, String(first)], {
    stdio: ["ignore", "pipe", "inherit"],
  });
  let text = "";
  child.stdout.setEncoding("utf8").on("data", (part: string) => (text += part));
  await once(child.stdout, "data");
  await wait(20 + Math.random() * 150);
  child.kill("SIGKILL");
  await once(child, "close");
  // The last line may be cut off by the kill; what was not printed whole was not acknowledged.
  return text
    .slice(0, text.lastIndexOf("\n") + 1)
    .split("\n")
    .filter(Boolean)
    .map(Number);
}

function isWhole(snapshot: string): boolean {
  const [first, text, last, ...more] = snapshot.split(" ");
  return first === last && text?.length === 16 * 32_768 && more.length === 0;
}

function assertWhole(file: string): void {
  const db = new DatabaseSync(file);
  const found = db.prepare("PRAGMA integrity_check").get()?.["integrity_check"];
  db.close();
  if (found !== "ok") throw new Error(`${file}: integrity check found ${String(found)}`);
}

if (process.argv[1] === import.meta.filename) {
  const folder = mkdtempSync(join(tmpdir(), "preen-kill-"));
  const result = await killRounds(Number(process.argv[2] ?? 50), join(folder, "ledger.sqlite"));
  rmSync(folder, { recursive: true });
  console.log(
    `${result.rounds} kills, ${result.acknowledged} acknowledged entries, ${result.lost} lost, ${result.torn} snapshots torn`,
  );
  process.exitCode = result.lost + result.torn === 0 ? 0 : 1;
}
