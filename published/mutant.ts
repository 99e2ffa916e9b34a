// A copy of the core with one text changed, to show that the published values would notice.
//
// The copy lies in var/, inside the repository, so that packages are found from it; it is removed after use.

import { cp, mkdtemp, mkdir, readFile, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

const root = join(import.meta.dirname, "..");

export type Mutation = {
  /** The file under src/core, and the text in it that is changed; it must stand there exactly once. */
  readonly file: string;
  readonly from: string;
  readonly to: string;
};

/** Loads `entry` (under src/core) from a copy of the named folders in which one text is changed. */
export async function withMutant<Result>(
  { file, from, to }: Mutation,
  folders: readonly string[],
  entry: string,
  measure: (module: unknown) => Result,
): Promise<Result> {
  const place = join(root, "var");
  await mkdir(place, { recursive: true });
  const copy = await mkdtemp(join(place, "mutant-"));
  try {
    for (const folder of folders) {
      await cp(join(root, "src/core", folder), join(copy, folder), {
        recursive: true,
        filter: (path) => !path.endsWith(".test.ts"),
      });
    }
    const target = join(copy, file);
    const source = await readFile(target, "utf8");
    if (source.split(from).length !== 2)
      throw new Error(`${file} does not have ${JSON.stringify(from)} exactly once`);
    await writeFile(target, source.replace(from, to));
    const module: unknown = await import(/* @vite-ignore */ pathToFileURL(join(copy, entry)).href);
    return measure(module);
  } finally {
    await rm(copy, { recursive: true, force: true });
  }
}
