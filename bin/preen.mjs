#!/usr/bin/env node
// `preen …`: makes sure that what it needs is installed, and hands all words to src/cli/main.ts under a Node that can
// run it. Standard output belongs to the command alone. Plain syntax for Node 18 and newer.
import module from "node:module";
import { ensureInstalled } from "../tools/install.mjs";
import { compileCache, isNewEnough, projectNode, root, runNode } from "../tools/runtime.mjs";

/** Path of the Node to start, or null when this very process will do: a second one costs as much as a whole command. */
function prepare() {
  try {
    ensureInstalled({ dev: false });
    return isNewEnough() ? null : projectNode();
  } catch (error) {
    process.stderr.write(`preen: ${error instanceof Error ? error.message : String(error)}\n`);
    return process.exit(1);
  }
}

const node = prepare();
if (node === null) {
  module.enableCompileCache?.(compileCache);
  await import("../src/cli/main.ts");
} else {
  process.exitCode = await runNode(node, [`${root}/src/cli/main.ts`, ...process.argv.slice(2)]);
}
