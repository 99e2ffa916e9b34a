// `npm start`: installs if the lock has changed, builds if the app's sources have changed, and runs the server until it
// is told to stop. A supervisor should run `node tools/start.mjs` itself: npm does not pass every signal on.
// Plain syntax for Node 20 and newer.
import { join } from "node:path";
import { ensureBuilt } from "./build.mjs";
import { ensureInstalled } from "./install.mjs";
import { projectNode, root, runNode } from "./runtime.mjs";

try {
  ensureInstalled({ dev: false });
  ensureBuilt();
  const server = join(root, "src", "server", "main.ts");
  process.exitCode = await runNode(projectNode(), [server, ...process.argv.slice(2)], {
    diesWithParent: process.env.npm_lifecycle_event === "start",
  });
} catch (error) {
  process.stderr.write(`preen: ${error instanceof Error ? error.message : String(error)}\n`);
  process.exitCode = 1;
}
