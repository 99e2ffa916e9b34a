// Brings node_modules to what package-lock.json says, and does nothing when it is there already.
//
// Whatever npm prints goes to standard error. Works with an empty, missing or unwritable home: npm then gets a cache
// of its own for the moment. Install scripts do not run; nothing here needs one, and nothing may start to need one
// unseen. Plain syntax for Node 18 and newer.
import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { accessSync, constants, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, join } from "node:path";
import { root } from "./runtime.mjs";

const lockFile = join(root, "package-lock.json");
const installed = join(root, "node_modules");
/** Holds the hash of the lock that node_modules was made from. */
const stamp = join(installed, ".preen-installed");
/** Held while npm runs, so that `npm start` and `npm test` begun together do not tear at one folder. */
const turn = join(root, ".preen-installing");

/**
 * @param {{ dev: boolean, say?: (line: string) => void }} options dev: false is content with what an installation
 *   without development packages holds.
 */
export function ensureInstalled({ dev, say = (line) => process.stderr.write(`${line}\n`) }) {
  const wanted = createHash("sha256").update(readFileSync(lockFile)).digest("hex");
  if (textOf(stamp) === wanted) return;
  if (holdsTheLock(true)) return remember(wanted);
  if (!dev && holdsTheLock(false)) return;
  takeTurn(say);
  try {
    if (textOf(stamp) === wanted) return;
    const began = Date.now();
    say("preen: installing what package-lock.json names (about half a minute) …");
    npmCi();
    remember(wanted);
    say(`preen: installed in ${seconds(Date.now() - began)}`);
  } finally {
    rmSync(turn, { recursive: true, force: true });
  }
}

/** @param {string} lockHash */
function remember(lockHash) {
  try {
    mkdirSync(installed, { recursive: true });
    writeFileSync(stamp, lockHash);
  } catch {
    // On a read-only disk the longer comparison is made again next time.
  }
}

/** @param {number} ms */
export function seconds(ms) {
  return `${(ms / 1000).toFixed(1)} s`;
}

/** @param {string} path */
function textOf(path) {
  try {
    return readFileSync(path, "utf8");
  } catch {
    return null;
  }
}

/**
 * True when npm's own record of node_modules has every package of the lock that belongs on this platform, in the same
 * version. So an installation made by hand or shipped in an image is not made again.
 *
 * @param {boolean} dev
 */
function holdsTheLock(dev) {
  const record = textOf(join(installed, ".package-lock.json"));
  if (record === null) return false;
  const present = packagesOf(record);
  return Object.entries(packagesOf(textOf(lockFile) ?? "{}")).every(([path, entry]) => {
    if (path === "" || ((entry.dev || entry.devOptional) && !dev) || !belongsHere(entry)) return true;
    return present[path]?.version === entry.version && present[path]?.integrity === entry.integrity;
  });
}

/**
 * @typedef {{ version?: string, integrity?: string, dev?: boolean, devOptional?: boolean, optional?: boolean,
 *   peer?: boolean, os?: string | string[], cpu?: string | string[], libc?: string | string[] }} LockEntry
 * @param {string} text
 * @returns {Record<string, LockEntry>}
 */
function packagesOf(text) {
  return /** @type {{ packages?: Record<string, LockEntry> }} */ (JSON.parse(text)).packages ?? {};
}

/** @param {LockEntry} entry */
function belongsHere({ optional, os, cpu, libc }) {
  if (!optional) return true;
  const allows = (/** @type {string | string[] | undefined} */ list, /** @type {string} */ own) =>
    list === undefined || [list].flat().includes(own);
  // Which C library this is cannot be told cheaply; such packages come with their parent or not at all.
  return os !== undefined && libc === undefined && allows(os, process.platform) && allows(cpu, process.arch);
}

function npmCi() {
  const words = ["ci", "--include=dev", "--ignore-scripts", "--no-audit", "--no-fund", "--loglevel=error"];
  const ownCache = hasUsableCache() ? null : mkdtempSync(join(tmpdir(), "preen-npm-"));
  if (ownCache !== null) words.push("--cache", ownCache);
  const [command, ...before] = npmCommand();
  const { status, error } = spawnSync(command, [...before, ...words], {
    cwd: root,
    stdio: ["ignore", 2, 2],
    // npm is a script of the shell on Windows.
    shell: before.length === 0 && process.platform === "win32",
  });
  if (ownCache !== null) rmSync(ownCache, { recursive: true, force: true });
  if (error) throw new Error(`npm could not be started: ${error.message}`);
  if (status !== 0) throw new Error(`npm ci failed (exit code ${status}); its own words stand above`);
}

/**
 * The npm that runs us, when one does, with the Node it runs on: `node` on the path may be the one in node_modules,
 * which npm ci is about to remove.
 *
 * @returns {[string, ...string[]]}
 */
function npmCommand() {
  const { npm_execpath: script, npm_node_execpath: node } = process.env;
  if (script && node && basename(script) === "npm-cli.js") return [node, script];
  return ["npm"];
}

/** False when npm would have no place of its own to keep downloads: no home, or one that cannot be written. */
function hasUsableCache() {
  const home = process.platform === "win32" ? process.env.LOCALAPPDATA : process.env.HOME;
  const cache =
    process.env.npm_config_cache || (home && join(home, process.platform === "win32" ? "npm-cache" : ".npm"));
  if (!cache) return false;
  try {
    mkdirSync(join(cache, "_cacache", "tmp"), { recursive: true });
    for (const part of ["", "_cacache", join("_cacache", "tmp")])
      accessSync(join(cache, part), constants.W_OK);
    return true;
  } catch {
    return false;
  }
}

/** @param {(line: string) => void} say */
function takeTurn(say) {
  for (let waited = 0; ; waited++) {
    try {
      mkdirSync(turn);
      writeFileSync(join(turn, "pid"), String(process.pid));
      return;
    } catch (error) {
      if (/** @type {NodeJS.ErrnoException} */ (error).code !== "EEXIST") throw error;
    }
    const holder = textOf(join(turn, "pid"));
    // Without a pid after five seconds, whoever made the folder died before writing it.
    if (holder === null ? waited >= 10 : !isAlive(Number(holder))) {
      rmSync(turn, { recursive: true, force: true });
      continue;
    }
    if (waited === 0) say("preen: another process is installing; waiting for it …");
    Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 500);
  }
}

/** @param {number} pid */
function isAlive(pid) {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return /** @type {NodeJS.ErrnoException} */ (error).code === "EPERM";
  }
}
