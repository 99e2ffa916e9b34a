// `preen export [CRAFT] [--out FILE]`: the whole record, or one craft's with the operator's (which says whom to believe),
// as lines that `preen verify` proves without any server. The format is described in src/ledger/export.ts.
import { closeSync, fsyncSync, openSync, rmSync, writeSync } from "node:fs";
import { once } from "node:events";
import { msToInstant } from "../core/facts/instant.ts";
import { sha256 } from "../crypto/node.ts";
import type { StoredEntry } from "../ledger/entry.ts";
import { exportLines } from "../ledger/export.ts";
import { reopenEntry } from "../ledger/open.ts";
import { craftNamed } from "./craft-named.ts";
import { openRecord, readStored } from "./record.ts";
import { readCommandLine, runCommand, UsageError } from "./words.ts";

const usage = "preen export [CRAFT] [--out FILE] [--at INSTANT]";

export function run(given: readonly string[]): Promise<number> {
  return runCommand("export", async () => {
    const { args, at_ms, out } = readCommandLine(given, 1, usage, ["out"]);
    const entries = await entriesWanted(args[0], at_ms);
    const lines = exportLines(entries, msToInstant(at_ms), sha256);
    if (out === undefined) await printLines(lines);
    else writeLines(lines, out);
    const noun = entries.length === 1 ? "entry" : "entries";
    process.stderr.write(`${entries.length} ${noun} exported${out === undefined ? "" : ` to ${out}`}\n`);
    return 0;
  });
}

async function entriesWanted(craft: string | undefined, at_ms: number): Promise<readonly StoredEntry[]> {
  const { entries } = await readStored(at_ms);
  if (craft === undefined) return entries;
  const [ledger] = craftNamed(await openRecord(at_ms), craft);
  return entries.filter((entry) => {
    const { envelope } = reopenEntry(entry);
    return envelope.ledger === ledger || envelope.ledger.startsWith("operator:");
  });
}

async function printLines(lines: Iterable<string>): Promise<void> {
  for (const line of lines) {
    if (!process.stdout.write(`${line}\n`)) await once(process.stdout, "drain");
  }
}

/** Only a whole export stands under the name that was asked for, and none is written over. */
function writeLines(lines: Iterable<string>, file: string): void {
  let handle;
  try {
    handle = openSync(file, "wx", 0o600);
  } catch (error) {
    throw new UsageError(`${file}: cannot be made (${(error as Error).message}); nothing was written over`);
  }
  try {
    for (const line of lines) writeSync(handle, `${line}\n`);
    fsyncSync(handle);
    closeSync(handle);
  } catch (error) {
    closeSync(handle);
    rmSync(file);
    throw error;
  }
}
