// `preen export [CRAFT] [--out FILE]`: the whole record, or one craft's with the operator's (which says whom to believe),
// as lines that `preen verify` proves without any server, with the photos that it names. The format is described in
// src/ledger/export.ts. A photo that was erased by right is left out wherever it may still lie.
import { closeSync, fsyncSync, openSync, rmSync, writeSync } from "node:fs";
import { once } from "node:events";
import { join } from "node:path";
import { msToInstant } from "../core/facts/instant.ts";
import { sha256 } from "../crypto/node.ts";
import { noTrust } from "../ledger/acceptance.ts";
import type { StoredEntry } from "../ledger/entry.ts";
import { exportLines } from "../ledger/export.ts";
import type { PhotoOf } from "../ledger/export.ts";
import { foldLedger } from "../ledger/fold.ts";
import { reopenEntry } from "../ledger/open.ts";
import { operatorLedger } from "../ledger/operator/operator-ledger.ts";
import { photosErased } from "../ledger/photos.ts";
import { PhotoShelf } from "../store/photo-shelf.ts";
import { craftNamed } from "./craft-named.ts";
import { dataFolder, openRecord, readStored } from "./record.ts";
import type { StoredRecord } from "./record.ts";
import { readCommandLine, runCommand, UsageError } from "./words.ts";

const usage = "preen export [CRAFT] [--out FILE] [--at INSTANT]";

export function run(given: readonly string[]): Promise<number> {
  return runCommand("export", async () => {
    const { args, at_ms, out } = readCommandLine(given, 1, usage, ["out"]);
    const { entries, operatorKey } = await recordWanted(args[0], at_ms);
    const lines = exportLines(entries, msToInstant(at_ms), sha256, photosFor(entries, operatorKey));
    if (out === undefined) await printLines(lines);
    else writeLines(lines, out);
    const noun = entries.length === 1 ? "entry" : "entries";
    process.stderr.write(`${entries.length} ${noun} exported${out === undefined ? "" : ` to ${out}`}\n`);
    return 0;
  });
}

type Wanted = Pick<StoredRecord, "entries" | "operatorKey">;

async function recordWanted(craft: string | undefined, at_ms: number): Promise<Wanted> {
  const { entries, operatorKey } = await readStored(at_ms);
  if (craft === undefined) return { entries, operatorKey };
  const [ledger] = craftNamed(await openRecord(at_ms), craft);
  const wanted = entries.filter((entry) => {
    const { envelope } = reopenEntry(entry);
    return envelope.ledger === ledger || envelope.ledger.startsWith("operator:");
  });
  return { entries: wanted, operatorKey };
}

function photosFor(entries: readonly StoredEntry[], root: string | null): PhotoOf {
  const shelf = new PhotoShelf(join(dataFolder(), "photos"));
  const opened = entries.map(reopenEntry);
  const operators = opened.filter(({ envelope }) => envelope.ledger.startsWith("operator:"));
  const { trust } = foldLedger(operatorLedger, operators, { ...noTrust, root }).state;
  const erased = photosErased(opened, trust);
  return (hash) => (erased.has(hash) ? null : shelf.bytes(hash));
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
