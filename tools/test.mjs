// `npm test`: sets up what is missing, then hands over to tools/test-run/main.ts under the Node of the project.
// Plain syntax for Node 20 and newer.
import { join } from "node:path";
import { ensureInstalled } from "./install.mjs";
import { projectNode, root, runNode } from "./runtime.mjs";

try {
  ensureInstalled({ dev: true });
  const main = join(root, "tools", "test-run", "main.ts");
  process.exitCode = await runNode(projectNode(), [main, ...process.argv.slice(2)]);
} catch (error) {
  process.stderr.write(`preen: ${error instanceof Error ? error.message : String(error)}\n`);
  process.stdout.write("0 passed, 1 failed\n");
  process.exitCode = 1;
}
