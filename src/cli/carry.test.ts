// Export, proof, backup and restoration as somebody calls them: commands and servers in processes of their own, and the
// proof of every single flipped byte in this process, through the command's own code.
import { execFile, spawn } from "node:child_process";
import type { ChildProcess } from "node:child_process";
import { once } from "node:events";
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test, vi } from "vitest";
import { makeDemo } from "../../demo/make-demo.ts";
import { sha256, signerFromSeed } from "../crypto/node.ts";
import { exportLines } from "../ledger/export.ts";
import { demoSheet } from "./record.ts";
import { run as verify } from "./verify.ts";

const root = join(import.meta.dirname, "../..");
const at = "2026-11-25T06:40:00.000Z";
let folder = "";
const running: ChildProcess[] = [];

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "preen-carry-"));
});
afterAll(async () => {
  for (const child of running.filter(({ exitCode }) => exitCode === null)) {
    child.kill("SIGKILL");
    await once(child, "exit");
  }
  rmSync(folder, { recursive: true, force: true });
});

type Ran = { readonly code: number; readonly out: string; readonly err: string };

function preen(words: readonly string[], data = "nothing"): Promise<Ran> {
  const options = { env: { ...process.env, PREEN_DATA: join(folder, data) }, maxBuffer: 2 ** 26 };
  return new Promise((resolve) => {
    execFile(process.execPath, [join(root, "src/cli/main.ts"), ...words], options, (error, out, err) => {
      resolve({ code: error === null ? 0 : Number(error.code), out, err });
    });
  });
}

/** A demo server on a folder of its own; answers its address once it listens. */
async function serve(data: string): Promise<{ readonly url: string; stop(): Promise<void> }> {
  const env = {
    ...process.env,
    PREEN_MODE: "demo",
    PREEN_DEMO: "fortnight",
    PREEN_DATA: join(folder, data),
    PREEN_PORT: "0",
    PREEN_AT: at,
  };
  const child = spawn(process.execPath, [join(root, "src/server/main.ts")], {
    env,
    stdio: ["ignore", "pipe", "inherit"],
  });
  running.push(child);
  const [line] = (await once(child.stdout, "data")) as [Buffer];
  const [, url] = /^listening (\S+)/u.exec(line.toString()) ?? [];
  if (url === undefined) throw new Error(`the server said ${line.toString()}`);
  const stop = async (): Promise<void> => {
    child.kill("SIGTERM");
    await once(child, "exit");
  };
  return { url, stop };
}

async function epochOf(url: string): Promise<number> {
  const response = await fetch(`${url}/api/hello`);
  return ((await response.json()) as { epoch: number }).epoch;
}

describe("an export", () => {
  test("of one craft is proven by itself, and by the operator's key where that is given", async () => {
    const file = join(folder, "tinde.ndjson");
    expect(await preen(["export", "tinde", "--out", file, "--at", at])).toMatchObject({ code: 0, out: "" });
    const { code, out } = await preen(["verify", file, "--json"]);
    expect(code).toBe(0);
    const proof = JSON.parse(out) as { proven: boolean; root: string; ledgers: { ledger: string }[] };
    expect(proof.ledgers.map(({ ledger }) => ledger)).toEqual(["operator:skarvoy-rescue", "craft:tinde"]);
    expect(await preen(["verify", file, "--root", proof.root])).toMatchObject({ code: 0 });
    const another = await preen(["verify", file, "--root", "ab".repeat(32)]);
    expect(another.code).toBe(3);
    expect(another.out).toMatch(/^aside {2}craft:tinde [0-9a-f]{64} \(uncertified\): walk\.begun by p-/mu);
    const again = await preen(["export", "tinde", "--out", file, "--at", at]);
    expect(again.code).toBe(2);
    expect(again.err).toContain("nothing was written over");
  }, 60_000);

  test("with an entry taken out, one altered and one with a foreign signature names each of them", async () => {
    const file = join(folder, "all.ndjson");
    await preen(["export", "--out", file, "--at", at]);
    const lines = readFileSync(file, "utf8").split("\n");
    const idOf = (line: number): string => /"id":"([0-9a-f]{64})","salt"/u.exec(lines[line]!)![1]!;
    const [gone, altered, foreign] = [idOf(400), idOf(420), idOf(440)];
    lines[420] = lines[420]!.replace(/"at":"2026/u, '"at":"2025');
    lines[440] = lines[440]!.replace(/"sig":"../u, '"sig":"00');
    lines.splice(400, 1);
    writeFileSync(file, lines.join("\n"));
    const { code, out } = await preen(["verify", file]);
    expect(code).toBe(1);
    expect(out).toMatch(new RegExp(`^missing  \\S+ ${gone} `, "mu"));
    expect(out).toMatch(new RegExp(`^altered  line 420 ${altered} `, "mu"));
    expect(out).toMatch(new RegExp(`^unsigned  line 440 \\S+ ${foreign} `, "mu"));
  }, 60_000);

  test("with any one byte flipped is not proven, whichever byte it is", async () => {
    const { entries } = await makeDemo(
      { sheet: demoSheet(), anchor_ms: Date.parse(at) },
      { sha256, signerFromSeed },
    );
    const bytes = Buffer.from(`${[...exportLines(entries.slice(0, 3), at, sha256)].join("\n")}\n`);
    const file = join(folder, "flipped.ndjson");
    const print = vi.spyOn(process.stdout, "write").mockReturnValue(true);
    const unnoticed: number[] = [];
    try {
      writeFileSync(file, bytes);
      expect(await verify([file])).toBe(0);
      for (let position = 0; position < bytes.length; position += 1) {
        const wrong = Buffer.from(bytes);
        wrong[position]! ^= 1 << (position % 8);
        writeFileSync(file, wrong);
        if ((await verify([file])) !== 1) unnoticed.push(position);
      }
    } finally {
      print.mockRestore();
    }
    expect(bytes.length).toBeGreaterThan(2_000);
    expect(unnoticed).toEqual([]);
  }, 120_000);
});

describe("a backup", () => {
  test("is taken from a running server, restored elsewhere, and the server there knows that it was restored", async () => {
    const first = await serve("first");
    const file = join(folder, "first.preen-backup");
    const packed = await preen(["backup", file], "first");
    expect(packed).toMatchObject({ code: 0, err: "" });
    expect(await epochOf(first.url)).toBe(1);
    expect((await preen(["backup", file], "first")).err).toContain("is there already");
    expect(readFileSync(file).includes("keys.json")).toBe(false);

    const restored = await preen(["restore", file], "second");
    expect(restored).toMatchObject({ code: 0, err: "" });
    const wholes = await Promise.all(["first", "second"].map((data) => preen(["export", "--at", at], data)));
    expect(wholes[0]!.out.length).toBeGreaterThan(1_000_000);
    expect(wholes[1]!.out).toBe(wholes[0]!.out);

    const twice = await preen(["restore", file], "second");
    expect(twice.code).toBe(1);
    expect(twice.err).toContain("is not empty");
    const second = await serve("second");
    expect(await epochOf(second.url)).toBe(2);
    const people = ((await (await fetch(`${second.url}/api/hello`)).json()) as { people: unknown[] }).people;
    expect(people.length).toBeGreaterThan(3);
    await Promise.all([first.stop(), second.stop()]);
  }, 60_000);

  test("with one wrong byte is refused whole, before anything is written", async () => {
    const file = join(folder, "first.preen-backup");
    const bytes = readFileSync(file);
    const wrong = join(folder, "wrong.preen-backup");
    const places = [0, 12, 60, bytes.indexOf(10), bytes.indexOf(10) + 1, bytes.length >> 1, bytes.length - 1];
    for (const [turn, position] of places.entries()) {
      const flipped = Buffer.from(bytes);
      flipped[position]! ^= 1;
      writeFileSync(wrong, flipped);
      const { code, err } = await preen(["restore", wrong], `refused-${turn}`);
      expect([position, code], err).toEqual([position, 1]);
      expect(existsSync(join(folder, `refused-${turn}`))).toBe(false);
    }
    writeFileSync(wrong, bytes.subarray(0, bytes.length - 1));
    expect((await preen(["restore", wrong], "refused-cut")).err).toContain("is no whole backup");
  }, 60_000);
});
