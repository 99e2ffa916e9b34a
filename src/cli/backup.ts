// `preen backup FILE`: record, directory, sheets and photos of a server in one file, also while it runs. Keys stay apart,
// and so does the list of erasures, which must outlive every backup.
import { packFolder } from "../store/sqlite-backup.ts";
import { msToInstant } from "../core/facts/instant.ts";
import { dataFolder } from "./record.ts";
import { readCommandLine, runCommand, UsageError } from "./words.ts";

const usage = "preen backup FILE";

export function run(given: readonly string[]): Promise<number> {
  return runCommand("backup", async () => {
    const { args, at_ms } = readCommandLine(given, 1, usage);
    const [file] = args;
    if (file === undefined) throw new UsageError(`into which file?\nusage: ${usage}`);
    const { parts, size_B } = packFolder(dataFolder(), file, msToInstant(at_ms));
    process.stdout.write(
      `${file}: ${parts} parts, ${size_B} bytes. The keys (keys.json) and the list of erasures (erasures.ndjson) ` +
        "are not in it; keep a copy of both elsewhere.\n",
    );
    return 0;
  });
}
