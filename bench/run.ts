// `npm run bench [-- NAME…]`: runs the benchmarks whose file name contains one of the names (all without one), each in
// a process of its own, several rounds, and prints medians. Writes nothing. See README.md beside it.
import { spawnSync } from "node:child_process";
import { readdirSync } from "node:fs";
import { cpus, totalmem } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { parseArgs } from "node:util";
import { type Bench, keepsBudget, type Line, linesOf, type Row, type Size } from "./rows.ts";

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    rounds: { type: "string", default: "5" },
    tiny: { type: "boolean", default: false },
    /** One round of one file, as JSON: how this script calls itself. */
    round: { type: "boolean", default: false },
  },
});
const size: Size = values.tiny ? "tiny" : "full";

if (values.round) {
  const { default: bench } = (await import(pathToFileURL(positionals[0] ?? "").href)) as { default: Bench };
  console.log(JSON.stringify(await bench(size)));
} else runAll();

function runAll(): void {
  const rounds = Number(values.rounds);
  if (!Number.isSafeInteger(rounds) || rounds < 1)
    throw new Error(`--rounds: found ${values.rounds}, wanted 1 or more`);
  const files = readdirSync(import.meta.dirname)
    .filter((name) => name.endsWith(".bench.ts"))
    .filter((name) => positionals.length === 0 || positionals.some((part) => name.includes(part)))
    .sort();
  if (files.length === 0) {
    console.error("there is no benchmark of that name");
    process.exitCode = 1;
    return;
  }
  const [cpu] = cpus();
  console.log(
    `${cpu?.model.trim() ?? "unknown processor"}, ${cpus().length} processors, ` +
      `${(totalmem() / 2 ** 30).toFixed(0)} GiB, Node ${process.versions.node}, median of ${rounds}` +
      (size === "tiny" ? ", tiny: the numbers mean nothing" : ""),
  );
  for (const file of files) {
    console.log(`\n${file.replace(".bench.ts", "")}`);
    try {
      const lines = linesOf(Array.from({ length: rounds }, () => round(file)));
      console.log(table(lines));
    } catch (error) {
      console.log(`  failed: ${error instanceof Error ? error.message : String(error)}`);
      process.exitCode = 1;
    }
  }
}

/** A fresh process for every round, so that no benchmark warms up or clutters another. */
function round(file: string): readonly Row[] {
  const words = [import.meta.filename, "--round", ...(size === "tiny" ? ["--tiny"] : [])];
  const { status, stdout } = spawnSync(process.execPath, [...words, join(import.meta.dirname, file)], {
    stdio: ["ignore", "pipe", "inherit"],
    encoding: "utf8",
  });
  if (status !== 0) throw new Error(`it ended with code ${status}`);
  return JSON.parse(stdout) as readonly Row[];
}

function table(lines: readonly Line[]): string {
  const rows = lines.map((line) => {
    const kept = keepsBudget(line);
    const { name, value, unit, budget, better, peer } = line;
    return [
      name,
      `${shown(value)} ${unit}`,
      kept === null
        ? ""
        : `${kept ? "met" : "missed"} (${better === "lower" ? "≤" : "≥"} ${shown(budget ?? 0)})`,
      peer === undefined ? "" : `${shown(peer.ratio)}× ${peer.name} (${shown(peer.value)} ${unit})`,
    ];
  });
  const widths = [0, 1, 2].map((column) => Math.max(...rows.map((row) => row[column]?.length ?? 0)));
  return rows
    .map((row) => `  ${row.map((cell, column) => cell.padEnd(widths[column] ?? 0)).join("  ")}`.trimEnd())
    .join("\n");
}

function shown(value: number): string {
  return new Intl.NumberFormat("en", { maximumSignificantDigits: value >= 100 ? 6 : 3 }).format(
    value >= 1000 ? Math.round(value) : value,
  );
}
