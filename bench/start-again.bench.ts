// How long `npm start` takes when nothing has changed since the last time: from the shell to the server's line that it
// listens. The demo is there already; set-up and build only look.
import { spawn } from "node:child_process";
import { once } from "node:events";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Bench } from "./rows.ts";

const root = join(import.meta.dirname, "..");

const bench: Bench = async (size) => {
  const data = mkdtempSync(join(tmpdir(), "preen-bench-"));
  try {
    // The first start may build the app and makes the demo; it is not counted.
    await untilListening_ms(data);
    const times: number[] = [];
    for (let turn = 0; turn < (size === "tiny" ? 1 : 3); turn++) times.push(await untilListening_ms(data));
    return [{ name: "start again", value: Math.min(...times), unit: "ms", budget: 3000, better: "lower" }];
  } finally {
    rmSync(data, { recursive: true, force: true });
  }
};

export default bench;

async function untilListening_ms(data: string): Promise<number> {
  const began = performance.now();
  const child = spawn(process.execPath, [join(root, "tools", "start.mjs")], {
    stdio: ["ignore", "pipe", "inherit"],
    env: { ...process.env, PREEN_DATA: data, PREEN_PORT: "0" },
  });
  const gone = once(child, "exit");
  let printed = "";
  let listens_ms: number | null = null;
  for await (const part of child.stdout) {
    printed += String(part);
    if (printed.includes("listening http")) {
      listens_ms = performance.now() - began;
      break;
    }
  }
  child.kill("SIGTERM");
  await gone;
  if (listens_ms === null) throw new Error(`the server ended before it listened; it printed:\n${printed}`);
  return listens_ms;
}
