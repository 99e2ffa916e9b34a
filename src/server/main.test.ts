// The server as a process: what it prints, how it ends, and that it leaves files alone when it cannot start.
import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";

const main = join(import.meta.dirname, "main.ts");
let folder: string;
const children: ChildProcess[] = [];
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "preen-main-"));
});
afterEach(async () => {
  for (const child of children.splice(0)) {
    if (child.exitCode === null && child.signalCode === null) {
      child.kill("SIGKILL");
      await once(child, "exit");
    }
  }
  rmSync(folder, { recursive: true, force: true });
});

type Running = { readonly child: ChildProcess; out: string; err: string };

function run(env: Readonly<Record<string, string>>): Running {
  const child = spawn(process.execPath, [main], {
    env: { PATH: process.env["PATH"], PREEN_MODE: "operator", PREEN_DATA: folder, PREEN_PORT: "0", ...env },
    stdio: ["ignore", "pipe", "pipe"],
  });
  children.push(child);
  const running: Running = { child, out: "", err: "" };
  child.stdout.setEncoding("utf8").on("data", (text: string) => (running.out += text));
  child.stderr.setEncoding("utf8").on("data", (text: string) => (running.err += text));
  return running;
}

async function addressOf(running: Running): Promise<string> {
  for (;;) {
    const url = /^listening (\S+)$/mu.exec(running.out)?.[1];
    if (url !== undefined) return url;
    if (running.child.exitCode !== null) throw new Error(`ended: ${running.err}`);
    await new Promise((resolve) => setTimeout(resolve, 10));
  }
}

async function ended({ child }: Running): Promise<number | null> {
  if (child.exitCode === null && child.signalCode === null) await once(child, "exit");
  await new Promise((resolve) => setImmediate(resolve));
  return child.exitCode;
}

describe("The server's process", () => {
  test.each(["SIGTERM", "SIGINT"] as const)(
    "says where it listens, answers, and goes at %s with 0",
    async (signal) => {
      const running = run({});
      const url = await addressOf(running);
      expect(url).toMatch(/^http:\/\/localhost:\d+$/u);
      await expect.poll(() => running.out).toMatch(/Found its operator with this code: [a-z2-9]{10} /u);
      expect(await (await fetch(`${url}/health`)).json()).toEqual({ ok: true, mode: "operator", entries: 0 });
      // A connection that the browser keeps open does not hold it up.
      const began_ms = performance.now();
      running.child.kill(signal);
      expect(await ended(running)).toBe(0);
      expect(performance.now() - began_ms).toBeLessThan(3_000);
      expect(running.err).toBe("");
    },
  );

  test("starts again after it was killed", async () => {
    const first = run({});
    await addressOf(first);
    first.child.kill("SIGKILL");
    await ended(first);
    await addressOf(run({}));
  });

  test("says in one line what to do when the port is taken, and ends with 1", async () => {
    const other = createServer().listen(0, "localhost");
    await once(other, "listening");
    const address = other.address();
    const port = typeof address === "object" && address !== null ? address.port : 0;
    const running = run({ PREEN_PORT: String(port) });
    expect(await ended(running)).toBe(1);
    expect(running.err).toBe(
      `preen: port ${port} is taken by another program. Stop that one, or choose another: PREEN_PORT=${port + 1} npm start\n`,
    );
    other.close();
  });

  test("names every wrong setting and ends with 1", async () => {
    const running = run({ PREEN_PORT: "x", PREEN_MODE: "y" });
    expect(await ended(running)).toBe(1);
    expect(running.err).toBe(
      "preen: PREEN_MODE: found y, wanted demo or operator\npreen: PREEN_PORT: found x, wanted a whole number from 0 to 65535\n",
    );
  });

  test("names a bad database, leaves it as it is, and ends with 1", async () => {
    mkdirSync(folder, { recursive: true });
    const file = join(folder, "preen.db");
    const bad = "this was a database once\n".repeat(400);
    writeFileSync(file, bad);
    const running = run({});
    expect(await ended(running)).toBe(1);
    expect(running.err).toMatch(/^preen: .*preen\.db: is not a database.*put a backup in its place\.\n$/u);
    expect(readFileSync(file, "utf8")).toBe(bad);
  });

  test("says which folder another server holds", async () => {
    await addressOf(run({}));
    const second = run({});
    expect(await ended(second)).toBe(1);
    expect(second.err).toMatch(/^preen: .*preen\.db: is in use by another process\. Stop that one/u);
  });

  test("runs the demo with people, PINs and a clock that starts where it is told", async () => {
    const running = run({
      PREEN_MODE: "demo",
      PREEN_DEMO: "fortnight",
      PREEN_AT: "2031-04-01T06:40:00.000Z",
    });
    const url = await addressOf(running);
    const hello = (await (await fetch(`${url}/api/hello`)).json()) as { serverTime: string; mode: string };
    expect(hello.mode).toBe("demo");
    expect(hello.serverTime).toMatch(/^2031-04-01T06:4\d:\d\d/u);
    for (let tries = 0; tries < 300 && !running.out.includes("PIN"); tries++)
      await new Promise((resolve) => setTimeout(resolve, 10));
    expect(running.out).toMatch(/everything in it is invented[\s\S]*Ravn \(pilot\) {2}PIN 2580/u);
  }, 60_000);
});
