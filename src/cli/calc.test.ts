// `preen calc` as a process: exit codes, what goes to which stream, and bytes in and out.

import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { topics } from "./calc/topics.ts";

const main = join(import.meta.dirname, "main.ts");

function preen(
  words: readonly string[],
  input: string | Buffer = "",
): { code: number | null; out: string; err: string } {
  const { status, stdout, stderr } = spawnSync(process.execPath, [main, ...words], {
    input,
    encoding: "utf8",
    maxBuffer: 1e8,
  });
  return { code: status, out: stdout, err: stderr };
}

describe("preen calc", () => {
  test("without a topic lists the topics, one line each", () => {
    const { code, out, err } = preen(["calc"]);
    expect([code, err]).toEqual([0, ""]);
    const lines = out.trimEnd().split("\n");
    expect(lines.map((line) => line.split(" ")[0])).toEqual(topics.map(({ topic }) => topic));
    for (const line of lines) expect(line).toMatch(/^\S+ {2,}\S.*\S$/);
  });

  test("answers an object on standard input", () => {
    const { code, out, err } = preen(["calc", "air"], '{"pressureAltitude_ft": 0}');
    expect([code, err]).toEqual([0, ""]);
    expect(JSON.parse(out)).toMatchObject({ pressure_hPa: 1013.25, densityAltitude_ft: 0 });
    expect(out.endsWith("}\n")).toBe(true);
  });

  test("answers what it can of an array, and leaves with 2 when it cannot answer all of it", () => {
    const { code, out, err } = preen(
      ["calc", "air"],
      '[{"pressureAltitude_ft":0},{"pressureAltitude_ft":1e6}]',
    );
    expect([code, err]).toEqual([2, ""]);
    const results = JSON.parse(out) as { error?: { path: string } }[];
    expect(results.map((result) => result.error?.path)).toEqual([undefined, "pressureAltitude_ft"]);
  });

  test.each([
    ["no JSON", ["calc", "air"], "{"],
    ["nothing at all", ["calc", "air"], ""],
    ["bytes that are no text", ["calc", "air"], Buffer.from([0x7b, 0xff, 0x7d])],
    ["an unknown topic", ["calc", "airs"], "{}"],
    ["a topic that only objects have", ["calc", "constructor"], "{}"],
    ["an unknown option", ["calc", "air", "--scheme"], "{}"],
    ["an unknown command", ["calk"], ""],
  ])("says one line on standard error and nothing else for %s", (_, words, input) => {
    const { code, out, err } = preen(words, input);
    expect([code, out]).toEqual([2, ""]);
    expect(err).toMatch(/^preen[^\n]+\n$/);
  });

  test("takes a byte order mark, as spreadsheets write one", () => {
    expect(preen(["calc", "air"], '\uFEFF{"pressureAltitude_ft":0}').code).toBe(0);
  });

  test("prints the schemas of a topic", () => {
    const { code, out } = preen(["calc", "wind", "--schema"]);
    expect(code).toBe(0);
    const schemas = JSON.parse(out) as Record<"input" | "output", { $schema: string; properties: object }>;
    expect(Object.keys(schemas)).toEqual(["input", "output"]);
    for (const { $schema } of Object.values(schemas))
      expect($schema).toBe("https://json-schema.org/draft/2020-12/schema");
    expect(Object.keys(schemas.input.properties)).toContain("tas_kmh");
    expect(Object.keys(schemas.output.properties)).toContain("drift_deg");
  });

  test("does not cut off a long answer, into a pipe", () => {
    const many = JSON.stringify(Array.from({ length: 5000 }, (_, index) => ({ pressureAltitude_ft: index })));
    const { code, out } = preen(["calc", "air"], many);
    expect(code).toBe(0);
    expect((JSON.parse(out) as unknown[]).length).toBe(5000);
  });

  test("does not complain when its reader has seen enough", () => {
    const many = JSON.stringify(Array.from({ length: 20_000 }, () => ({ pressureAltitude_ft: 0 })));
    const command = `"${process.execPath}" "${main}" calc air | head -c 5`;
    const { stdout, stderr } = spawnSync("sh", ["-c", command], { input: many, encoding: "utf8" });
    expect([stdout, stderr]).toEqual(['[\n{"p', ""]);
  });

  test("tells its usage", () => {
    for (const words of [["calc", "--help"], ["--help"], []]) {
      const { code, out, err } = preen(words);
      expect([code, err]).toEqual([0, ""]);
      expect(out).toContain("usage: preen");
    }
  });
});
