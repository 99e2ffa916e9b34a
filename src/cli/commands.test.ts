// The commands as somebody calls them: in a process of their own, whatever the machine's zone and language are.
import { execFile } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";

const root = join(import.meta.dirname, "../..");
const at = ["--at", "2026-11-25T06:40:00.000Z"];
let folder = "";

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "preen-commands-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

type Ran = { readonly code: number; readonly out: string; readonly err: string };

function preen(words: readonly string[], env: Readonly<Record<string, string>> = {}): Promise<Ran> {
  const options = {
    env: { ...process.env, PREEN_DATA: join(folder, "nothing"), ...env },
    maxBuffer: 2 ** 26,
  };
  return new Promise((resolve) => {
    execFile(process.execPath, [join(root, "src/cli/main.ts"), ...words], options, (error, out, err) => {
      resolve({ code: error === null ? 0 : Number(error.code), out, err });
    });
  });
}

describe("what a command prints as JSON", () => {
  test.each([
    [["standing"]],
    [["walk", "tinde"]],
    [["ledger", "myr"]],
    [["weather", "skjær"]],
    [["sheet", "check", join(root, "demo/sheet/quill.json")]],
  ])(
    "is the same byte for byte in any zone and language: %j",
    async (words) => {
      const time = words[0] === "sheet" ? [] : at;
      const here = await preen([...words, "--json", ...time], { TZ: "UTC", LANG: "C" });
      const there = await preen([...words, "--json", ...time], {
        TZ: "Pacific/Chatham",
        LANG: "de_DE.UTF-8",
        LC_ALL: "de_DE.UTF-8",
      });
      expect(here.code).toBe(0);
      expect(there.out).toBe(here.out);
      expect(JSON.parse(here.out)).toBeTypeOf("object");
    },
    60_000,
  );

  test("tells of a standing its reasons, its line and what it rests on", async () => {
    const { out } = await preen(["standing", "Skjær", "--json", ...at]);
    const [craft] = JSON.parse(out) as {
      operations: { operation: string; verdict: string; line: unknown[] }[];
      reasons: { evidence: string[] }[];
    }[];
    const verdicts = Object.fromEntries(
      craft!.operations.map(({ operation, verdict }) => [operation, verdict]),
    );
    expect(verdicts["hoist"]).toBe("notReady");
    expect(craft!.operations.every(({ line }) => line.length > 0)).toBe(true);
    expect(craft!.reasons.some(({ evidence }) => evidence.length > 0)).toBe(true);
  });

  test("gives the ledger the same state hash on every call", async () => {
    const [first, second] = await Promise.all([
      preen(["ledger", "tinde", "--json", ...at]),
      preen(["ledger", "tinde", "--json", ...at]),
    ]);
    const hash = (ran: Ran) => (JSON.parse(ran.out) as { stateHash: string }).stateHash;
    expect(hash(first)).toMatch(/^[0-9a-f]{64}$/u);
    expect(hash(second)).toBe(hash(first));
  });
});

describe("what is asked wrongly", () => {
  test("gets one clear message, exit code 2 and nothing on standard output", async () => {
    const asked = [
      {
        words: ["standing", "Nobody", ...at],
        says: /no craft is called "Nobody"; there are myr, skjaer, tinde/u,
      },
      { words: ["standing", "--at", "yesterday"], says: /--at: found "yesterday", wanted an instant/u },
      { words: ["walk"], says: /which craft\?/u },
      {
        words: ["walk", "tinde", "--kind", "short"],
        says: /--kind: found short, wanted full, launch, parking/u,
      },
      { words: ["sheet", "check", join(root, "package-lock.nothing")], says: /cannot be read/u },
      { words: ["fly"], says: /there is no command "fly"/u },
    ];
    for (const { words, says } of asked) {
      const { code, out, err } = await preen(words);
      expect([code, out], words.join(" ")).toEqual([2, ""]);
      expect(err).toMatch(says);
    }
  }, 60_000);

  test("a sheet with errors is refused whole, with every error, and exit code 1", async () => {
    const { code, out } = await preen(["sheet", "check", join(root, "demo/sheet/broken/open-cowling.json")]);
    expect(code).toBe(1);
    expect(out.trim().split("\n").length).toBeGreaterThan(3);
    expect(out).toMatch(/refused, \d+ errors/u);
  });

  test("a sheet in which a key stands twice is not read as either", async () => {
    const file = join(folder, "twice.json");
    writeFileSync(file, '{"format":"preen-sheet-1","id":"a","id":"b"}');
    const { code, err } = await preen(["sheet", "check", file]);
    expect(code).toBe(2);
    expect(err).toMatch(/stand twice in one object: id/u);
  });

  test("a damaged database is named and left as it is, and no demo is shown in its place", async () => {
    const { mkdirSync, readFileSync } = await import("node:fs");
    const data = join(folder, "damaged");
    mkdirSync(data);
    const file = join(data, "preen.db");
    writeFileSync(file, "this is no database, it only lies where one should be");
    const { code, out, err } = await preen(["standing", ...at], { PREEN_DATA: data });
    expect([code, out]).toEqual([1, ""]);
    expect(err).toContain(file);
    expect(readFileSync(file, "utf8")).toMatch(/^this is no database/u);
  });
});
