// Checks the imports and banned words of the whole tree; with --markdown prints the table for ARCHITECTURE.md.
import { dirname } from "node:path";
import { breachText, readSourceFiles } from "../source-files.ts";
import { checkImports } from "./check-imports.ts";
import { tableInMarkdown } from "./table.ts";

const root = dirname(dirname(import.meta.dirname));

if (process.argv.includes("--markdown")) {
  console.log(tableInMarkdown());
} else {
  const breaches = checkImports(readSourceFiles(root, ".", /\.(?:ts|tsx)$/u));
  for (const breach of breaches) console.log(breachText(breach));
  if (breaches.length > 0) process.exitCode = 1;
}
