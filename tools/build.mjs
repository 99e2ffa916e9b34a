// Builds the app into dist/web when its sources, settings or packages have changed since the last build.
//
// The new build grows beside the old one and takes its place by two renames, so that a server that is running, or a
// build that fails, never leaves half an app behind. `node tools/build.mjs` alone builds always.
// Plain syntax for Node 20 and newer.
import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { existsSync, readdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { ensureInstalled, seconds } from "./install.mjs";
import { projectNode, root } from "./runtime.mjs";

const built = join(root, "dist", "web");
const stamp = join(root, "dist", "web.built-from");

/** What the app is made from. Folders that it may not import are left out, so that they do not cause a build. */
const sources = ["package-lock.json", "tsconfig.json", "vite.config.ts", "tools/precache.ts", "src"];
const notSources = ["server", "cli"].map((name) => join("src", name));

/** @param {{ always?: boolean, say?: (line: string) => void }} [options] Throws when the build fails. */
export function ensureBuilt({ always = false, say = (line) => process.stderr.write(`${line}\n`) } = {}) {
  const wanted = fingerprint();
  if (
    !always &&
    existsSync(join(built, "index.html")) &&
    existsSync(stamp) &&
    readFileSync(stamp, "utf8") === wanted
  )
    return;
  const began = Date.now();
  say("preen: building the app …");
  const growing = `${built}.new-${process.pid}`;
  const vite = join(root, "node_modules", "vite", "bin", "vite.js");
  const words = [vite, "build", "--outDir", growing, "--emptyOutDir", "--logLevel", "warn"];
  const { status, error } = spawnSync(projectNode(), words, { cwd: root, stdio: ["ignore", 2, 2] });
  if (error || status !== 0) {
    rmSync(growing, { recursive: true, force: true });
    throw new Error(
      `the app could not be built${error ? `: ${error.message}` : "; the reason stands above"}`,
    );
  }
  rmSync(stamp, { force: true });
  takePlace(growing);
  writeFileSync(stamp, wanted);
  say(`preen: built in ${seconds(Date.now() - began)}`);
}

/**
 * Puts a finished build where the last one is. Another process may do the same at this moment; one of the two is left
 * standing, whole.
 *
 * @param {string} growing
 */
function takePlace(growing) {
  const old = `${built}.old-${process.pid}`;
  for (let tries = 1; ; tries++) {
    try {
      if (existsSync(built)) renameSync(built, old);
      renameSync(growing, built);
      break;
    } catch (error) {
      if (tries === 5) throw error;
    } finally {
      rmSync(old, { recursive: true, force: true });
    }
  }
}

/** Hash over names and contents of everything that goes into the app. */
function fingerprint() {
  const hash = createHash("sha256");
  for (const path of sources.flatMap(filesUnder).sort()) {
    hash
      .update(`${path}\0`)
      .update(readFileSync(join(root, path)))
      .update("\0");
  }
  return hash.digest("hex");
}

/**
 * Files at or under a path from the root, but those that the app may not import and its tests.
 *
 * @param {string} path
 * @returns {string[]}
 */
function filesUnder(path) {
  const absolute = join(root, path);
  if (notSources.includes(path) || !existsSync(absolute)) return [];
  if (!statSync(absolute).isDirectory()) return /\.test\.tsx?$/.test(path) ? [] : [path];
  return readdirSync(absolute).flatMap((name) => filesUnder(join(path, name)));
}

if (process.argv[1] !== undefined && import.meta.url === pathToFileURL(process.argv[1]).href) {
  try {
    ensureInstalled({ dev: false });
    ensureBuilt({ always: true });
  } catch (error) {
    process.stderr.write(`preen: ${error instanceof Error ? error.message : String(error)}\n`);
    process.exitCode = 1;
  }
}
