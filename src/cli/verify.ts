// `preen verify FILE [--root KEY]`: proves an export offline, naming each entry that was altered, is missing, was signed
// by nobody, or stands aside (out of certificate, revoked, forked …), and each photo that is altered or missing.
//
// Exit codes: 0 proven, every entry counts; 3 proven, but entries stand aside or photos are missing; 1 not proven; 2 the file cannot be read.
import { createReadStream } from "node:fs";
import { msToInstant } from "../core/facts/instant.ts";
import { nodeVerifier } from "../crypto/node.ts";
import { proveExport } from "../ledger/prove-export.ts";
import type { Doubt, Fault, Proof } from "../ledger/prove-export.ts";
import { printJson, readCommandLine, runCommand, UsageError } from "./words.ts";

const usage = "preen verify FILE [--root KEY] [--json]";

export function run(given: readonly string[]): Promise<number> {
  return runCommand("verify", async () => {
    const { args, json, root } = readCommandLine(given, 1, usage, ["root"]);
    const [file] = args;
    if (file === undefined) throw new UsageError(`which file?\nusage: ${usage}`);
    if (root !== undefined && !/^[0-9a-f]{64}$/u.test(root))
      throw new UsageError(
        `--root: found ${JSON.stringify(root)}, wanted a public key of 64 hexadecimal digits`,
      );
    const proof = await proveExport(linesOf(file), nodeVerifier, root ?? null);
    if (json) printJson(proof);
    else process.stdout.write(told(proof, root !== undefined));
    return proof.proven ? (proof.doubts.length === 0 ? 0 : 3) : 1;
  });
}

/**
 * The lines, by line feed alone: nothing else ends one. A line that is no UTF-8 is handed on marked, so that it is told
 * by its number like any other altered line.
 */
async function* linesOf(file: string): AsyncGenerator<string> {
  let held: Buffer[] = [];
  try {
    for await (const chunk of createReadStream(file) as AsyncIterable<Buffer>) {
      let from = 0;
      for (let at = chunk.indexOf(10); at >= 0; at = chunk.indexOf(10, from)) {
        yield textOf(Buffer.concat([...held, chunk.subarray(from, at)]));
        held = [];
        from = at + 1;
      }
      held.push(chunk.subarray(from));
    }
  } catch (error) {
    throw new UsageError(`${file}: cannot be read (${(error as Error).message})`);
  }
  const rest = Buffer.concat(held);
  if (rest.length > 0) yield textOf(rest);
}

function textOf(bytes: Buffer): string {
  try {
    return new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    return `\u0000 not UTF-8: ${bytes.toString("latin1")}`;
  }
}

function told(
  { proven, root, ledgers, entries, photos, faults, doubts }: Proof,
  isRootGiven: boolean,
): string {
  const lines = [
    ...ledgers.map(({ ledger, entries: count }) => `${ledger}  ${count} entries`),
    `photos  ${photos.proven} proven, ${photos.missing} missing, ${photos.erased} erased by right`,
    ...faults.map(faultLine),
    ...doubts.map(doubtLine),
    root === null
      ? "no operator's key can be believed"
      : isRootGiven
        ? `judged by the operator's key ${root}`
        : `judged by the key that the export names itself, ${root}; compare it with your operator's, or give it by --root`,
    proven
      ? `proven: ${entries} entries, ${doubts.length} doubts`
      : `NOT PROVEN: ${entries} entries, ${faults.length} faults, ${doubts.length} doubts`,
  ];
  return `${lines.join("\n")}\n`;
}

function faultLine({ kind, code, line, ledger, id, path, found, wanted }: Fault): string {
  const place = [line === null ? null : `line ${line}`, ledger, id].filter((part) => part !== null).join(" ");
  const what =
    found === "" && wanted === "" ? "" : `: ${path} found ${short(found)}, wanted ${short(wanted)}`;
  return `${kind}  ${place} (${code})${what}`;
}

function doubtLine({ ledger, id, code, type, by, at_ms, photo }: Doubt): string {
  const whose = `${type} by ${by}, ${msToInstant(at_ms)}`;
  if (photo !== undefined) return `photo  ${photo} (${code}) of ${ledger} ${id}: ${whose}`;
  return `aside  ${ledger} ${id} (${code}): ${whose}`;
}

/** Found text may be anything, control characters included. */
function short(text: string): string {
  const printable = JSON.stringify(text).slice(1, -1);
  return printable.length <= 120 ? printable : `${printable.slice(0, 119)}…`;
}
