// Starts the real server on a free port, with a data folder of its own that goes when it goes. It can be killed and
// started again on the same folder and port, as after a power cut.
import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

const root = join(import.meta.dirname, "..", "..");

/** Long enough to make the demo on two busy processors; its fourteen months take longer. */
const longestStart_ms = { fortnight: 60_000, months: 300_000 };
const longestStop_ms = 5_000;

export type PreenServer = {
  readonly url: string;
  /** Its data folder, to be read by commands while it runs. */
  readonly data: string;
  /** All that it has printed so far. */
  printed(): string;
  /** SIGKILL; the data stay. */
  kill(): Promise<void>;
  /** After `kill`: the same folder, the same address, and the clock where it would have been. */
  startAgain(): Promise<void>;
  /** SIGTERM, then SIGKILL when it does not go; removes its data. Resolves to the exit code, null after a kill. */
  stop(): Promise<number | null>;
};

/** `at`: the instant at which the demo's clock starts. */
export async function startPreen(
  at: string,
  env: Readonly<Record<string, string>> = {},
): Promise<PreenServer> {
  const data = mkdtempSync(join(tmpdir(), "preen-e2e-"));
  const began_ms = Date.now();
  let text = "";
  let port = "0";
  const run = async (): Promise<{ readonly child: ChildProcess; readonly url: string }> => {
    const now = new Date(Date.parse(at) + Date.now() - began_ms).toISOString();
    const child = spawn(process.execPath, [join(root, "src", "server", "main.ts")], {
      cwd: root,
      stdio: ["ignore", "pipe", "pipe"],
      env: {
        ...process.env,
        PREEN_DATA: data,
        PREEN_PORT: port,
        PREEN_AT: now,
        PREEN_DEMO: "fortnight",
        ...env,
      },
    });
    const from = text.length;
    for (const stream of [child.stdout, child.stderr]) {
      stream.setEncoding("utf8").on("data", (part: string) => (text += part));
    }
    try {
      return {
        child,
        url: await addressOf(child, env["PREEN_DEMO"] === "months" ? "months" : "fortnight", () =>
          text.slice(from),
        ),
      };
    } catch (error) {
      await end(child);
      throw error;
    }
  };
  const remove = () => rmSync(data, { recursive: true, force: true });
  let { child, url } = await run().catch((error: unknown) => {
    remove();
    throw error;
  });
  port = new URL(url).port;
  return {
    url,
    data,
    printed: () => text,
    kill: async () => {
      const gone = once(child, "exit");
      child.kill("SIGKILL");
      await gone;
    },
    startAgain: async () => {
      ({ child, url } = await run());
    },
    stop: async () => {
      const code = await end(child);
      remove();
      return code;
    },
  };
}

/** The address from the line `listening http://localhost:PORT`. */
function addressOf(
  child: ChildProcess,
  span: keyof typeof longestStart_ms,
  printed: () => string,
): Promise<string> {
  return new Promise((resolve, reject) => {
    const fail = (why: string): void => {
      clearTimeout(timer);
      reject(new Error(`the server ${why}; it printed:\n${printed()}`));
    };
    const timer = setTimeout(
      () => fail(`did not listen within ${longestStart_ms[span] / 1000} s`),
      longestStart_ms[span],
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
