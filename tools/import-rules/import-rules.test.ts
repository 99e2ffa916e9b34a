import { existsSync, readdirSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { describe, expect, test } from "vitest";
import { readSourceFiles } from "../source-files.ts";
import { checkImports, importRules } from "./check-imports.ts";
import { lawful, planted } from "./planted.ts";
import { coreTiers, rooms, tableInMarkdown } from "./table.ts";

const root = dirname(dirname(import.meta.dirname));

const fileIn = (room: string): string => (room.endsWith("*") ? room.replace("*", "-a.ts") : `${room}/a.ts`);

describe("The import rules", () => {
  test.each(planted)("$rule catches $what", ({ rule, files }) => {
    const found = checkImports(files, rule === "visited-nothing" ? 1 : 0);
    expect(found.map((breach) => breach.rule)).toEqual(files.length > 1 ? files.map(() => rule) : [rule]);
  });

  test.each(lawful)("let $what pass", ({ files }) => {
    expect(checkImports(files, 0)).toEqual([]);
  });

  test("each have a planted breach", () => {
    expect(new Set(planted.map(({ rule }) => rule))).toEqual(new Set(importRules));
  });

  test("catch each import between two rooms that the table does not allow, and no other", () => {
    let refused = 0;
    for (const from of rooms) {
      for (const to of rooms) {
        if (from === to) continue;
        const path = fileIn(from.room);
        const up = "../".repeat(path.split("/").length - 1);
        const target = fileIn(to.room);
        const found = checkImports([{ path, text: `import { x } from "${up}${target}";` }], 0);
        const allowed = from.mayImport.includes(to.room);
        expect(
          found.map(({ rule }) => rule),
          `${from.room} → ${to.room}`,
        ).toEqual(allowed ? [] : ["room-imports-room"]);
        if (!allowed) refused += 1;
      }
    }
    expect(refused).toBeGreaterThan(200);
  });

  test("name every room of the core that is on disk", () => {
    const known = new Set(coreTiers.flatMap(({ rooms: names }) => names));
    const onDisk = readdirSync(join(root, "src", "core"), { withFileTypes: true });
    expect(onDisk.filter((entry) => entry.isDirectory() && !known.has(entry.name))).toEqual([]);
  });

  test("say line and word of what they found", () => {
    const text = 'import { a } from "./a.ts";\n\nexport const x = Date.now();\n';
    expect(checkImports([{ path: "src/core/walk/b.ts", text }], 0)).toEqual([
      {
        rule: "banned-word",
        path: "src/core/walk/b.ts",
        line: 3,
        found: "Date.now in src/core/walk: the clock is passed in",
      },
    ]);
  });

  test("refuse a text that is no TypeScript instead of passing it over", () => {
    expect(() => checkImports([{ path: "src/core/walk/a.ts", text: "import from from;" }], 0)).toThrow(
      "src/core/walk/a.ts",
    );
  });

  test("read the sources themselves", () => {
    expect(readSourceFiles(root, "src", /\.tsx?$/u).length).toBeGreaterThan(10);
  });

  // The page is written once the folders have settled; from then on it carries the table word for word.
  test.runIf(existsSync(join(root, "ARCHITECTURE.md")))("stand in ARCHITECTURE.md as they are", () => {
    expect(readFileSync(join(root, "ARCHITECTURE.md"), "utf8")).toContain(tableInMarkdown());
  });
});
