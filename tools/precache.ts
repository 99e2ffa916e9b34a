// Builds the service worker into the app's output with the list of everything that was emitted.
//
// The list comes from two sides: the bundle as the builder reports it and the folder as it is on disk (files copied
// from the public folder are only there). The build fails when a file of either is missing in the finished worker.
import { createHash } from "node:crypto";
import { readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { join, relative, resolve, sep } from "node:path";
import { build, type Plugin } from "vite";

const workerName = "sw.js";

/** @param worker Path of the worker's source. */
export function precache(worker: string): Plugin {
  let outDir = "";
  const reported = new Set<string>();
  return {
    name: "preen-precache",
    apply: "build",
    configResolved({ root, build: { outDir: wanted } }) {
      outDir = resolve(root, wanted);
    },
    writeBundle(_options, bundle) {
      for (const name of Object.keys(bundle)) reported.add(name);
    },
    async closeBundle(error?: Error) {
      // After a failed build there is nothing to list; its own error is the one to see.
      if (error !== undefined || reported.size === 0) return;
      const onDisk = filesUnder(outDir).filter((name) => name !== workerName);
      const files = Object.fromEntries(onDisk.map((name) => [pathOf(name), integrityOf(join(outDir, name))]));
      const code = await workerCode(worker, files);
      const missing = leftOut([...reported, ...onDisk], code);
      if (missing.length > 0) throw new Error(`left out of the offline app: ${missing.join(", ")}`);
      writeFileSync(join(outDir, workerName), code);
    },
  };
}

/** Emitted files that the finished worker does not name. */
export function leftOut(emitted: readonly string[], code: string): readonly string[] {
  return [...new Set(emitted)].filter(
    (name) => name !== workerName && !code.includes(JSON.stringify(pathOf(name))),
  );
}

/** The page is asked for as the server's root, which answers it without a redirect everywhere. */
function pathOf(name: string): string {
  return name === "index.html" ? "" : encodeURI(name);
}

function integrityOf(file: string): string {
  return `sha256-${createHash("sha256").update(readFileSync(file)).digest("base64")}`;
}

async function workerCode(worker: string, files: Readonly<Record<string, string>>): Promise<string> {
  const unnamed = "version-to-come";
  const result = await build({
    configFile: false,
    logLevel: "warn",
    publicDir: false,
    define: { precache: JSON.stringify({ version: unnamed, files }) },
    build: {
      write: false,
      minify: false,
      rolldownOptions: { input: worker, output: { format: "iife", entryFileNames: workerName } },
    },
  });
  const output = [result].flat().flatMap((part) => ("output" in part ? part.output : []));
  const [chunk] = output;
  if (output.length !== 1 || chunk?.type !== "chunk") throw new Error("the service worker must be one file");
  // The version is a hash of every file's hash and of the worker itself.
  return chunk.code.replaceAll(unnamed, createHash("sha256").update(chunk.code).digest("hex").slice(0, 16));
}

function filesUnder(folder: string): readonly string[] {
  return readdirSync(folder, { recursive: true, encoding: "utf8" })
    .filter((name) => statSync(join(folder, name)).isFile())
    .map((name) => relative(folder, join(folder, name)).split(sep).join("/"))
    .sort();
}
