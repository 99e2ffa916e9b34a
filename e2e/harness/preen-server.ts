// Starts the real server on a free port, with a data folder of its own that goes when it goes.
import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

const root = join(import.meta.dirname, "..", "..");

/** Long enough to make the demo on two busy processors. */
const longestStart_ms = 60_000;
const longestStop_ms = 5_000;

export type PreenServer = {
  readonly url: string;
  /** All that it has printed so far. */
  printed(): string;
  /** SIGTERM, then SIGKILL when it does not go; removes its data. Resolves to the exit code, null after a kill. */
  stop(): Promise<number | null>;
};

/** `at`: the instant at which the demo's clock starts. */
export async function startPreen(
  at: string,
  env: Readonly<Record<string, string>> = {},
): Promise<PreenServer> {
  const data = mkdtempSync(join(tmpdir(), "preen-e2e-"));
  const child = spawn(process.execPath, [join(root, "src", "server", "main.ts")], {
    cwd: root,
    stdio: ["ignore", "pipe", "pipe"],
    env: { ...process.env, PREEN_DATA: data, PREEN_PORT: "0", PREEN_AT: at, PREEN_DEMO: "fortnight", ...env },
  });
  let text = "";
  for (const stream of [child.stdout, child.stderr]) {
    stream.setEncoding("utf8").on("data", (part: string) => (text += part));
  }
  const stop = async (): Promise<number | null> => {
    const code = await end(child);
    rmSync(data, { recursive: true, force: true });
    return code;
  };
  try {
    return { url: await addressOf(child, () => text), printed: () => text, stop };
  } catch (error) {
    await stop();
    throw error;
  }
}

/** The address from the line `listening http://localhost:PORT`. */
function addressOf(child: ChildProcess, printed: () => string): Promise<string> {
  return new Promise((resolve, reject) => {
    const fail = (why: string): void => {
      clearTimeout(timer);
      reject(new Error(`the server ${why}; it printed:\n${printed()}`));
    };
    const timer = setTimeout(
      () => fail(`did not listen within ${longestStart_ms / 1000} s`),
      longestStart_ms,
    );
    child.once("error", (error) => fail(`could not be started (${error.message})`));
    child.once("exit", (code) => fail(`ended with code ${code}`));
    const look = (): void => {
      const url = /\blistening (http:\/\/localhost:\d+)/u.exec(printed())?.[1];
      if (url === undefined) return;
      clearTimeout(timer);
      resolve(url);
    };
    child.stdout?.on("data", look);
    child.stderr?.on("data", look);
  });
}

async function end(child: ChildProcess): Promise<number | null> {
  if (child.exitCode !== null || child.signalCode !== null) return child.exitCode;
  const gone = once(child, "exit");
  child.kill("SIGTERM");
  const timer = setTimeout(() => child.kill("SIGKILL"), longestStop_ms);
  await gone;
  clearTimeout(timer);
  return child.exitCode;
}
