// `preen sheet check FILE`: every error of a type sheet at once, each with its path, what was found and what is wanted.
import { readFileSync } from "node:fs";
import { checkSheet } from "../core/sheet/check-sheet.ts";
import { describeIssue } from "../core/sheet/issue.ts";
import { sheetHash } from "../core/sheet/sheet-hash.ts";
import { sha256 } from "../crypto/node.ts";
import { canonicalText } from "../ledger/canonical.ts";
import { bytesOf, toHex } from "../ledger/crypto.ts";
import { duplicateKeys } from "./calc/duplicate-keys.ts";
import { printJson, readCommandLine, runCommand, UsageError } from "./words.ts";

const usage = "preen sheet check FILE [--json]";

function readJson(file: string): unknown {
  let text: string;
  try {
    text = readFileSync(file, "utf8");
  } catch (error) {
    throw new UsageError(`${file} cannot be read: ${error instanceof Error ? error.message : String(error)}`);
  }
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch (error) {
    throw new UsageError(`${file} is not JSON: ${error instanceof Error ? error.message : String(error)}`);
  }
  // JSON.parse keeps the last of two and says nothing: a limit given twice must not be answered with one of them.
  const twice = [...duplicateKeys(text).values()];
  if (twice.length > 0)
    throw new UsageError(`${file}: these keys stand twice in one object: ${twice.join(", ")}`);
  return json;
}

export function run(given: readonly string[]): Promise<number> {
  return runCommand("sheet", async () => {
    const { args, json } = readCommandLine(given, 2, usage);
    const [verb, file] = args;
    if (verb !== "check" || file === undefined) throw new UsageError(`usage: ${usage}`);
    const checked = checkSheet(readJson(file));
    if ("errors" in checked) {
      if (json) printJson({ file, ok: false, errors: checked.errors });
      else {
        for (const issue of checked.errors) process.stdout.write(`${describeIssue(issue)}\n`);
        process.stdout.write(`${file}: refused, ${checked.errors.length} errors\n`);
      }
      return 1;
    }
    const hash = sheetHash(checked.ok, canonicalText, (text) => toHex(sha256(bytesOf(text))));
    const { type, revision, stops, items, closures, gauges } = checked.ok;
    const counts = {
      stops: stops.length,
      items: items.length,
      closures: closures.length,
      gauges: gauges.length,
    };
    if (json) printJson({ file, ok: true, hash, name: type.name, revision, counts });
    else {
      const told = Object.entries(counts).map(([name, count]) => `${count} ${name}`);
      process.stdout.write(
        `${file}: ${type.name}, revision ${revision}: no errors (${told.join(", ")})\nsheet ${hash}\n`,
      );
    }
    return 0;
  });
}
