// The phases of `npm test`, in the order in which they start. Each static check counts as one test.
import { spawn } from "node:child_process";
import { mkdirSync, readFileSync, rmSync } from "node:fs";
import { dirname, join } from "node:path";
import {
  type Ended,
  type Outcome,
  outcomeOfCheck,
  outcomeOfPlaywright,
  outcomeOfVitest,
  sumOf,
} from "./outcome.ts";
import type { Phase } from "./schedule.ts";

const root = dirname(dirname(import.meta.dirname));
const packages = join(root, "node_modules");
const reports = join(packages, ".cache", "test-reports");

/** Paths or parts of them narrow the phases that run tests: `unit` and `browser`. */
export function phasesFor(filters: readonly string[]): readonly Phase<Outcome>[] {
  return [
    { name: "types", places: 2, run: types },
    { name: "format", places: 1, run: check("oxfmt/bin/oxfmt", "--check", ".") },
    { name: "lint", places: 2, run: check("oxlint/bin/oxlint", "--type-aware", "--deny-warnings", ".") },
    { name: "unused", places: 1, run: check("knip/bin/knip.js", "--no-progress") },
    { name: "imports", places: 1, run: checkOfOurs("import-rules") },
    { name: "house", places: 1, run: checkOfOurs("house-rules") },
    { name: "build", places: 1, run: async () => outcomeOfCheck(await node(["tools/build.mjs"])) },
    { name: "unit", places: 2, run: () => unit(filters) },
    { name: "browser", places: 2, after: ["build"], run: () => browser(filters) },
  ];
}

/** The whole program, the pure rooms without DOM and Node types, and the service worker with a worker's types. */
async function types(): Promise<Outcome> {
  const outcomes: Outcome[] = [];
  for (const project of ["tsconfig.json", "tsconfig.pure.json", "src/web/worker/tsconfig.json"]) {
    const { code, output } = await node([join(packages, "typescript", "bin", "tsc"), "-p", project]);
    outcomes.push(outcomeOfCheck({ code, output: `${project}\n${output}` }));
  }
  return sumOf(outcomes);
}

function check(script: string, ...words: readonly string[]): () => Promise<Outcome> {
  return async () => outcomeOfCheck(await node([join(packages, script), ...words]));
}

function checkOfOurs(folder: string): () => Promise<Outcome> {
  return async () => outcomeOfCheck(await node([join("tools", folder, "main.ts")]));
}

async function unit(filters: readonly string[]): Promise<Outcome> {
  const report = freshReport("unit.json");
  const reporters = ["--reporter=default", "--reporter=json", `--outputFile.json=${report}`];
  const ended = await node([join(packages, "vitest", "vitest.mjs"), "run", ...reporters, ...filters]);
  return outcomeOfVitest(ended, textOf(report));
}

async function browser(filters: readonly string[]): Promise<Outcome> {
  const report = freshReport("browser.json");
  const words = ["test", "--config", "e2e/playwright.config.ts", "--reporter=list,json", ...filters];
  const ended = await node([join(packages, "@playwright", "test", "cli.js"), ...words], {
    PLAYWRIGHT_JSON_OUTPUT_FILE: report,
    // Playwright sets FORCE_COLOR for its workers, and Node then complains about NO_COLOR.
    NO_COLOR: undefined,
    FORCE_COLOR: "0",
  });
  return outcomeOfPlaywright(ended, textOf(report));
}

function freshReport(name: string): string {
  mkdirSync(reports, { recursive: true });
  const path = join(reports, `${process.pid}-${name}`);
  process.on("exit", () => rmSync(path, { force: true }));
  return path;
}

function textOf(path: string): string | null {
  try {
    return readFileSync(path, "utf8");
  } catch {
    return null;
  }
}

/** Runs a script under this very Node and keeps all that it says. */
function node(words: readonly string[], env: NodeJS.ProcessEnv = {}): Promise<Ended> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, words, {
      cwd: root,
      stdio: ["ignore", "pipe", "pipe"],
      env: { ...process.env, NO_COLOR: "1", FORCE_COLOR: undefined, ...env },
    });
    const stop = (): void => void child.kill();
    process.once("exit", stop);
    const parts: Buffer[] = [];
    child.stdout.on("data", (part: Buffer) => parts.push(part));
    child.stderr.on("data", (part: Buffer) => parts.push(part));
    child.on("error", reject);
    child.on("close", (code, signal) => {
      process.off("exit", stop);
      const output = Buffer.concat(parts).toString("utf8");
      resolve({ code: code ?? 1, output: signal === null ? output : `${output}\nended by ${signal}\n` });
    });
  });
}
