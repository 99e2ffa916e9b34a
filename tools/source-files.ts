// The repository's own text files, for the checks that read them all.
import { readdirSync, readFileSync } from "node:fs";
import { join, sep } from "node:path";

export type SourceFile = {
  /** From the root, with forward slashes. */
  readonly path: string;
  readonly text: string;
};

/** Made, fetched or kept by a tool: nobody wrote it here. */
const notOurs = new Set(["node_modules", "dist", "var", "coverage", "test-results", ".git"]);

/** Every file under `folder` of `root` whose name matches, in the order of their paths. */
export function readSourceFiles(root: string, folder: string, name: RegExp): readonly SourceFile[] {
  const paths: string[] = [];
  const walk = (inside: string): void => {
    for (const entry of readdirSync(join(root, inside), { withFileTypes: true })) {
      const path = inside === "." ? entry.name : `${inside}/${entry.name}`;
      if (entry.isDirectory()) {
        if (!notOurs.has(entry.name)) walk(path);
      } else if (name.test(entry.name)) paths.push(path);
    }
  };
  walk(folder.split(sep).join("/"));
  return paths.sort().map((path) => ({ path, text: readFileSync(join(root, path), "utf8") }));
}

/** Something that breaks a rule of the house. */
export type Breach = {
  readonly rule: string;
  readonly path: string;
  readonly line: number;
  readonly found: string;
};

export function breachText({ rule, path, line, found }: Breach): string {
  return `${path}:${line}  ${rule}: ${found}`;
}
