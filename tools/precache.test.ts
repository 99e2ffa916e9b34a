import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { buildSampleApp } from "../e2e/harness/sample-app.ts";
import { leftOut } from "./precache.ts";

describe("The offline app", () => {
  let folder = "";
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), "preen-precache-"));
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  test("lists page, script, style, font and public files, and takes its version from their contents", async () => {
    const dist = await buildSampleApp(join(folder, "a"), "first");
    const worker = readFileSync(join(dist, "sw.js"), "utf8");
    const names = readdirSync(join(dist, "assets")).map((name) => `assets/${name}`);
    expect([...new Set(names.map((name) => name.slice(name.lastIndexOf(".") + 1)))].sort()).toEqual([
      "css",
      "js",
      "woff2",
    ]);
    expect(leftOut(["index.html", "manifest.webmanifest", ...names], worker)).toEqual([]);

    const versionOf = (text: string): string | undefined => /"?version"?: "([0-9a-f]{16})"/u.exec(text)?.[1];
    const again = await buildSampleApp(join(folder, "a"), "first");
    const other = await buildSampleApp(join(folder, "b"), "second");
    expect(versionOf(worker)).toBeDefined();
    expect(versionOf(readFileSync(join(again, "sw.js"), "utf8"))).toBe(versionOf(worker));
    expect(versionOf(readFileSync(join(other, "sw.js"), "utf8"))).not.toBe(versionOf(worker));
  });

  test("is not built when an emitted file is missing from the list", async () => {
    const thief = {
      name: "thief",
      writeBundle: ({ dir = "" }: { dir?: string | undefined }) => {
        for (const name of readdirSync(join(dir, "assets"))) {
          if (name.endsWith(".woff2")) rmSync(join(dir, "assets", name));
        }
      },
    };
    await expect(buildSampleApp(join(folder, "c"), "third", [thief])).rejects.toThrow(
      /left out of the offline app: assets\/sample-[\w-]+\.woff2/u,
    );
  });

  test("counts a file as listed only under its whole name", () => {
    expect(leftOut(["a.js", "b/a.js", "index.html", "sw.js"], `x("a.js", "")`)).toEqual(["b/a.js"]);
    expect(leftOut(["index.html"], `x("a.js")`)).toEqual(["index.html"]);
  });
});
