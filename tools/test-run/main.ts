// Runs the phases of `npm test`: `--only types,lint` runs some, other words are parts of paths and narrow what runs
// tests (alone, they mean `--only unit`). The last line is `N passed, N failed` over everything.
import { availableParallelism } from "node:os";
import { parseArgs } from "node:util";
import type { Outcome } from "./outcome.ts";
import { phasesFor } from "./phases.ts";
import { runPhases } from "./schedule.ts";

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: { only: { type: "string" } },
});
const only = values.only?.split(",") ?? (positionals.length > 0 ? ["unit"] : null);
const all = phasesFor(positionals);
const unknown = only?.filter((name) => !all.some((phase) => phase.name === name)) ?? [];
if (unknown.length > 0) {
  console.error(
    `there is no phase ${unknown.join(", ")}; there are ${all.map(({ name }) => name).join(", ")}`,
  );
  console.log("0 passed, 1 failed");
  process.exit(1);
}

for (const signal of ["SIGINT", "SIGTERM"] as const) process.on(signal, () => process.exit(130));

const phases = all.filter(({ name }) => only === null || only.includes(name));
const width = Math.max(...phases.map(({ name }) => name.length));
const began = performance.now();
let passed = 0;
let failed = 0;

await runPhases(phases, Math.max(2, availableParallelism()), ({ name }, result) => {
  const outcome: Outcome =
    result instanceof Error ? { passed: 0, failed: 1, output: result.stack ?? result.message } : result;
  passed += outcome.passed;
  failed += outcome.failed;
  if (outcome.failed > 0) console.log(`\n──── ${name} ────\n${outcome.output.trimEnd()}\n────`);
  const counts = `${outcome.passed} passed, ${outcome.failed} failed`;
  const note = outcome.note === undefined ? "" : `, ${outcome.note}`;
  console.log(`${name.padEnd(width)}  ${counts}${note}  (after ${seconds()})`);
});

if (failed > 0) process.exitCode = 1;
console.log(`${passed} passed, ${failed} failed`);

function seconds(): string {
  return `${((performance.now() - began) / 1000).toFixed(1)} s`;
}
