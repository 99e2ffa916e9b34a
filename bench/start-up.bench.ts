// How long a person waits for the shortest command: `preen calc air` from the shell to its answer, launcher included.
// The peer is Node itself, started to do nothing: what no launcher can save.
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import type { Bench, Row } from "./rows.ts";

const launcher = join(import.meta.dirname, "..", "bin", "preen.mjs");
const question = JSON.stringify({ pressureAltitude_ft: 3000, oat_C: 5 });

const bench: Bench = async (size) => {
  const times = size === "tiny" ? 1 : 9;
  const preen: number[] = [];
  const bare: number[] = [];
  // The first start of each fills the compile cache and the disk's; it is not counted.
  for (let turn = 0; turn <= times; turn++) {
    const ours = milliseconds([launcher, "calc", "air"], question);
    const theirs = milliseconds(["-e", "0"], "");
    if (turn > 0 || size === "tiny") {
      preen.push(ours);
      bare.push(theirs);
    }
  }
  const row: Row = {
    name: "preen calc air, one question",
    value: Math.min(...preen),
    unit: "ms",
    budget: 300,
    better: "lower",
    peer: { name: "Node doing nothing", value: Math.min(...bare) },
  };
  return [row];
};

export default bench;

function milliseconds(words: readonly string[], input: string): number {
  const began = performance.now();
  const { status, stderr } = spawnSync(process.execPath, words, { input, encoding: "utf8" });
  if (status !== 0) throw new Error(`node ${words.join(" ")} ended with code ${status}: ${stderr}`);
  return performance.now() - began;
}
