// CONTRIBUTING.md lists every bug that is planted, for whoever reads it; here it is held to those that there are.
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { brokenAssessments } from "./ledger/fleet-laws.ts";
import { brokenExchanges } from "./sync/broken-exchange.ts";

const rootFile = (path: string): string => readFileSync(new URL(`../${path}`, import.meta.url), "utf8");

test("The list of planted bugs names each of them once, and no other", () => {
  const listed = rootFile("CONTRIBUTING.md")
    .split("## Bugs that are planted")[1]!
    .split("\n## ")[0]!
    .split("\n")
    .flatMap((line) => line.match(/^\| [^|]+ \| ([^|]+) \| [^|]+ \|$/u)?.[1] ?? [])
    .filter((name) => name !== "the mistake" && !name.startsWith("---"));
  const folds = rootFile("src/ledger/broken-folds.test.ts")
    .split("const broken = {")[1]!
    .split("\n} satisfies")[0]!;
  const ofFolds = [...folds.matchAll(/^ {2}"([^"]+)": \(arrived\) =>/gmu)].map(([, name]) => name!);
  expect(ofFolds.length).toBeGreaterThan(5);
  const planted = [...ofFolds, ...Object.keys(brokenAssessments), ...brokenExchanges.map(({ name }) => name)];
  expect(listed.toSorted()).toEqual(planted.toSorted());
});
