// Runs a script of the project under its Node once everything that it needs is there.
// Plain syntax for Node 20 and newer.
import { join } from "node:path";
import { ensureInstalled } from "./install.mjs";
import { projectNode, root, runNode } from "./runtime.mjs";

/**
 * Sets the exit code to the script's; when the preparation fails, says why on standard error, sets it to 1 and
 * resolves to false.
 *
 * @param {string} script from the root, with forward slashes
 * @param {{ dev: boolean, before?: () => void, diesWithParent?: boolean }} options
 */
export async function runPrepared(script, { dev, before, diesWithParent = false }) {
  try {
    ensureInstalled({ dev });
    before?.();
    const words = [join(root, ...script.split("/")), ...process.argv.slice(2)];
    process.exitCode = await runNode(projectNode(), words, { diesWithParent });
    return true;
  } catch (error) {
    process.stderr.write(`preen: ${error instanceof Error ? error.message : String(error)}\n`);
    process.exitCode = 1;
    return false;
  }
}
