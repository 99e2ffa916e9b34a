import { describe, expect, test } from "vitest";
import { checkHouse, houseRules } from "./house-rules.ts";

const rulesFound = (path: string, text: string) => checkHouse([{ path, text }], 0).map(({ rule }) => rule);
const head = "// What it computes.\n";

const planted: readonly (readonly [rule: string, path: string, text: string])[] = [
  ["leftover", "src/web/a.ts", "// TODO later"],
  ["leftover", "README.md", "FIXME"],
  ["focused-test", "src/web/a.test.ts", `test.only("x", () => {});`],
  ["focused-test", "e2e/a.spec.ts", `test.describe.only("x", () => {});`],
  ["skipped-test", "src/web/a.test.ts", `describe.skip("x", () => {});`],
  ["skipped-test", "src/web/a.test.ts", `xit("x", () => {});`],
  ["workplace-word", "tools/a.mjs", `const folder = "/tmp/x";`],
  ["workplace-word", "CHANGELOG.md", "as asked for in issue #12"],
  ["workplace-word", "decisions/0001-a.md", "written by a language model"],
  ["file-name", "src/web/StandingLine.tsx", head],
  ["file-name", "src/core/walk/walk_plan.ts", head],
  ["vague-name", "src/core/walk/utils.ts", head],
  ["vague-name", "src/common/walk.ts", head],
  ["vague-name", "e2e/test-helpers.ts", head],
  ["file-head", "src/core/walk/plan.ts", `import { x } from "./y.ts";`],
];

const lawful: readonly (readonly [path: string, text: string])[] = [
  ["src/core/walk/plan.ts", head],
  ["src/core/walk/plan.test.ts", `import { test } from "vitest";`],
  ["src/web/standing-line.tsx", "export const x = 1;"],
  ["src/web/a.test.ts", `test.runIf(onLinux)("x", () => {}); test.skip(isOld, "said why");`],
  ["published/README.md", "to do or not to do"],
  ["src/server/a.ts", `const path = "/api/work/tmp";`],
  ["e2e/playwright.config.ts", "export default {};"],
];

describe("The house rules", () => {
  test.each(planted)("%s catches %s: %s", (rule, path, text) => {
    expect(rulesFound(path, text)).toEqual([rule]);
  });

  test.each(lawful)("let %s pass: %s", (path, text) => {
    expect(rulesFound(path, text)).toEqual([]);
  });

  test("each have a planted breach", () => {
    expect(new Set(planted.map(([rule]) => rule))).toEqual(new Set(houseRules.map(({ name }) => name)));
  });

  test("fail when they have looked at nothing", () => {
    expect(checkHouse([]).map(({ rule }) => rule)).toEqual(["visited-nothing"]);
  });
});
