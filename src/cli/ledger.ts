// `preen ledger CRAFT`: the entries of a craft in the order of the fold, what stands aside and why, and the state hash.
import { msToInstant, instantToMs } from "../core/facts/instant.ts";
import { sha256 } from "../crypto/node.ts";
import { foldVersion, stateHash } from "../ledger/fold.ts";
import { craftNamed } from "./craft-named.ts";
import { openRecord } from "./record.ts";
import { printJson, readCommandLine, runCommand, UsageError } from "./words.ts";

const usage = "preen ledger CRAFT [--json] [--at INSTANT]";

export function run(given: readonly string[]): Promise<number> {
  return runCommand("ledger", async () => {
    const { args, json, at_ms } = readCommandLine(given, 1, usage);
    const [wanted] = args;
    if (wanted === undefined) throw new UsageError(`which craft?\nusage: ${usage}`);
    const record = await openRecord(at_ms);
    const [ledger, folded] = craftNamed(record, wanted);
    const hash = stateHash(folded, sha256);
    const entries = [...folded.ordered, ...folded.waiting].map(({ id, envelope }) => ({
      id,
      type: envelope.type,
      at: envelope.at,
      by: envelope.by,
      seq: envelope.seq,
      status: folded.statuses.get(id) ?? "missingParent",
    }));
    if (json) {
      const aside = folded.aside.map(({ at_ms: claimed_ms, ...rest }) => ({
        ...rest,
        at: msToInstant(claimed_ms),
      }));
      printJson({
        craft: ledger,
        stateHash: hash,
        foldVersion,
        count: entries.length,
        heads: folded.heads,
        aside,
        entries,
      });
      return 0;
    }
    for (const { id, type, at, by, status } of entries) {
      const person = record.people.get(by) ?? by;
      process.stdout.write(
        `${at}  ${id.slice(0, 10)}  ${type.padEnd(18)}  ${person.padEnd(10)}  ${status}\n`,
      );
    }
    const newest = entries.reduce((latest, { at }) => Math.max(latest, instantToMs(at)), 0);
    process.stdout.write(
      `${entries.length} entries until ${msToInstant(newest)}, ${folded.aside.length} aside\nstateHash ${hash}\n`,
    );
    return 0;
  });
}
