// `preen sheet check FILE`: every error of a type sheet at once, each with its path, what was found and what is wanted.
// `preen sheet order FILE`: the published order of each walk measured, and the best lawful one, for the sheet's author.
import { readFileSync } from "node:fs";
import { walkKinds } from "../core/facts/craft.ts";
import { checkSheet } from "../core/sheet/check-sheet.ts";
import { describeIssue } from "../core/sheet/issue.ts";
import type { Sheet } from "../core/sheet/schema.ts";
import { sheetHash } from "../core/sheet/sheet-hash.ts";
import type { OrderMeasure } from "../core/walk/order/walk-order.ts";
import { sha256 } from "../crypto/node.ts";
import { canonicalText } from "../ledger/canonical.ts";
import { bytesOf, toHex } from "../ledger/crypto.ts";
import { duplicateKeys } from "./calc/duplicate-keys.ts";
import { printJson, readCommandLine, runCommand, UsageError } from "./words.ts";

const usage = "preen sheet check|order FILE [--json]";

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

/** Metres, ladder moves and seconds, rounded for reading; the proposal only where it is better. */
async function tellOrders(sheet: Sheet, file: string, json: boolean): Promise<number> {
  const { proposeOrder } = await import("../core/walk/order/walk-order.ts");
  const proposals = walkKinds.map((walk) => ({ walk, ...proposeOrder(sheet, walk) }));
  if (json) {
    printJson({ file, walks: proposals });
    return 0;
  }
  const told = ({ way_m, ladderMoves, moving_s }: OrderMeasure): string =>
    `${way_m.toFixed(1)} m, ${ladderMoves} ladder moves, ${Math.ceil(moving_s)} s on the way`;
  for (const { walk, published, proposed, bound_s, proven } of proposals) {
    process.stdout.write(`${walk} walk, ${published.order.length} stops, as published: ${told(published)}\n`);
    if (proposed === published) process.stdout.write(`  no lawful order found moves for less\n`);
    else {
      const saved = `${(published.way_m - proposed.way_m).toFixed(1).replace(/^-0\.0$/u, "0.0")} m, ${published.ladderMoves - proposed.ladderMoves} ladder moves, ${(published.moving_s - proposed.moving_s).toFixed(1)} s`;
      process.stdout.write(
        `  proposed: ${told(proposed)}; saves ${saved}\n    ${proposed.order.join(" ")}\n`,
      );
    }
    process.stdout.write(
      proven
        ? "  no lawful order is faster\n"
        : `  no lawful order takes less than ${Math.floor(bound_s)} s\n`,
    );
  }
  return 0;
}

export function run(given: readonly string[]): Promise<number> {
  return runCommand("sheet", async () => {
    const { args, json } = readCommandLine(given, 2, usage);
    const [verb, file] = args;
    if ((verb !== "check" && verb !== "order") || file === undefined) throw new UsageError(`usage: ${usage}`);
    const checked = checkSheet(readJson(file));
    if ("errors" in checked) {
      if (json) printJson({ file, ok: false, errors: checked.errors });
      else {
        for (const issue of checked.errors) process.stdout.write(`${describeIssue(issue)}\n`);
        process.stdout.write(`${file}: refused, ${checked.errors.length} errors\n`);
      }
      return 1;
    }
    if (verb === "order") return tellOrders(checked.ok, file, json);
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
