// `preen readings` as a process, on the invented demo.
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { levelColumns } from "../core/level/level-csv.ts";

const main = join(import.meta.dirname, "main.ts");
const at = "2026-11-25T09:40:00.000Z";
let folder = "";

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "preen-readings-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function preen(words: readonly string[]): { code: number | null; out: string; err: string } {
  const { status, stdout, stderr } = spawnSync(process.execPath, [main, "readings", ...words, "--at", at], {
    encoding: "utf8",
    maxBuffer: 1e8,
    // An empty folder: the demo is made anew in memory.
    env: { ...process.env, PREEN_DATA: folder },
  });
  return { code: status, out: stdout, err: stderr };
}

describe("preen readings", () => {
  test("tells of the demo's leak, and the same as JSON", () => {
    const { code, out } = preen(["tinde"]);
    expect(code).toBe(0);
    expect(out).toMatch(/engineOilLeft: 0\.\d+ L\/h \(.*faster since 1,0\d\d h/u);
    expect(out).not.toMatch(/undefined|NaN|null/u);
    const { gauges } = JSON.parse(preen(["tinde", "--json"]).out) as {
      gauges: { gauge: string; alarm: { kind: string } | null }[];
    };
    expect(gauges.find(({ gauge }) => gauge === "engineOilLeft")!.alarm!.kind).toBe("faster");
  });

  test("writes a table that it finds nothing wrong with for a craft that does not hold it", () => {
    const { code, out } = preen(["tinde", "--csv"]);
    expect(code).toBe(0);
    expect(out.split("\r\n")[0]).toBe(levelColumns.join(","));
    const lines = out.split("\r\n").filter((line) => line.includes(",engineOilLeft,2026-02"));
    expect(lines.length).toBeGreaterThan(20);
    const file = join(folder, "some.csv");
    writeFileSync(file, [levelColumns.join(","), ...lines].join("\r\n"));
    const held = preen(["tinde", "--check", file]);
    expect([held.code, held.out]).toEqual([2, ""]);
    expect(held.err.trim().split("\n")).toHaveLength(lines.length);
    expect(held.err).toMatch(/^line 2, at: alreadyHeld: found 2026-02/u);
    // A second later nobody has read it yet.
    writeFileSync(
      file,
      [levelColumns.join(","), ...lines.map((line) => line.replace(/:\d\d\.000Z/u, ":59.000Z"))].join("\r\n"),
    );
    const fresh = preen(["tinde", "--check", file]);
    expect([fresh.code, fresh.err]).toEqual([0, ""]);
    expect(fresh.out).toMatch(/^\d+ readings, \d+ uplifts, nothing wrong/u);
  });

  test.each([
    ["no craft", []],
    ["a craft that is not there", ["tinda"]],
    ["no file", ["tinde", "--check"]],
    ["a file that is not there", ["tinde", "--check", "/nowhere.csv"]],
    ["two things at once", ["tinde", "--csv", "--check", "x"]],
    ["an option that it does not have", ["tinde", "--cvs"]],
  ])("refuses %s with one clear message", (_, words) => {
    const { code, out, err } = preen(words);
    expect([code, out]).toEqual([2, ""]);
    expect(err).toMatch(/^preen readings: /u);
  });
});
