// `preen restore FILE`: unpacks a backup into the empty folder of a server that does not run. The server sees at its next
// start that it was restored, takes a new key of its own and asks every device again for what it holds; what the list of
// erasures names, where it was put there, is erased again before anybody is answered.
import { existsSync } from "node:fs";
import { join } from "node:path";
import { unpackFolder } from "../store/sqlite-backup.ts";
import { dataFolder } from "./record.ts";
import { readCommandLine, runCommand, UsageError } from "./words.ts";

const usage = "preen restore FILE";

export function run(given: readonly string[]): Promise<number> {
  return runCommand("restore", async () => {
    const { args } = readCommandLine(given, 1, usage);
    const [file] = args;
    if (file === undefined) throw new UsageError(`from which file?\nusage: ${usage}`);
    const folder = dataFolder();
    const { parts, madeAt } = unpackFolder(file, folder);
    const keys = existsSync(join(folder, "keys.json"))
      ? ""
      : " Unless it is the demo, put the copy of keys.json there before the server starts.";
    const erasures = existsSync(join(folder, "erasures.ndjson"))
      ? ""
      : " Put the copy of erasures.ndjson there too, if there is one: what was erased after this backup comes back without it.";
    process.stdout.write(`${folder}: ${parts} parts as of ${madeAt}.${keys}${erasures}\n`);
    return 0;
  });
}
