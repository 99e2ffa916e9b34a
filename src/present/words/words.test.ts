import { describe, expect, test } from "vitest";
import type { Words } from "./words.ts";
import { wordsIn } from "./words.ts";
import { languages } from "./language.ts";
import { plural } from "./plural.ts";

type Leaf = { readonly path: string; readonly value: unknown };

function leaves(node: unknown, path = ""): Leaf[] {
  if (typeof node !== "object" || node === null) return [{ path, value: node }];
  // Reasons take a whole reason, not plain values; they have a test of their own (../reasons.test.ts).
  return Object.entries(node)
    .filter(([key]) => path !== "" || key !== "reasons")
    .flatMap(([key, child]) => leaves(child, path === "" ? key : `${path}.${key}`));
}

/** Arguments that suit any parameter of the catalogues: each of them prints as itself. */
const samples = [3, 7, 11];

function spoken({ path, value }: Leaf): string {
  if (typeof value === "string") return value;
  if (typeof value !== "function") throw new TypeError(`${path} is neither text nor a function`);
  const takesList = path.endsWith("withDetails");
  return String(takesList ? value("Nose", ["here"]) : value(...samples));
}

describe("the catalogues", () => {
  test.each(languages)("every word of %s is said, and trimmed", (language) => {
    const all = leaves(wordsIn(language));
    expect(all.length).toBeGreaterThan(150);
    for (const leaf of all) {
      const text = spoken(leaf);
      expect(text, leaf.path).not.toBe("");
      expect(text.trim(), leaf.path).toBe(text);
      expect(text, leaf.path).not.toMatch(/undefined|NaN|\[object/u);
    }
  });

  test("every parameter that English says is said in German too", () => {
    const german = new Map(leaves(wordsIn("de")).map((leaf) => [leaf.path, leaf]));
    for (const leaf of leaves(wordsIn("en"))) {
      if (typeof leaf.value !== "function") continue;
      const said = (text: string) => samples.filter((sample) => text.includes(String(sample)));
      expect(said(spoken(german.get(leaf.path)!)), leaf.path).toEqual(said(spoken(leaf)));
    }
  });

  test("the words of another trade's verdicts are never used", () => {
    for (const language of languages) {
      for (const leaf of leaves(wordsIn(language))) {
        expect(spoken(leaf), leaf.path).not.toMatch(/\bno[- ]?go\b|\bgo\b|green|amber|airworthy|grün|gelb/iu);
      }
    }
  });

  test("a missing key and a key too many do not compile", () => {
    const { ledger } = wordsIn("en");
    // @ts-expect-error by is missing
    const missing: Words["ledger"] = { ...ledger, by: undefined };
    const extra: Words["ledger"] = {
      ...ledger,
      // @ts-expect-error no such word in English
      planted: "one too many",
    };
    // @ts-expect-error a count is a number, never text
    const wrong: Words["ledger"]["entries"] = (count: string) => count;
    expect([missing, extra, wrong]).toHaveLength(3);
  });
});

describe("counted nouns", () => {
  test("one and many follow the language's rules", () => {
    expect(wordsIn("en").walk.itemsLeft(1)).toBe("1 item left");
    expect(wordsIn("en").walk.itemsLeft(0)).toBe("0 items left");
    expect(wordsIn("de").walk.itemsLeft(1)).toBe("noch 1 Punkt");
    expect(wordsIn("de").walk.itemsLeft(2)).toBe("noch 2 Punkte");
  });

  test("an unknown count is refused, not printed", () => {
    expect(() => plural("en", Number.NaN, { one: "1", other: "n" })).toThrow(RangeError);
  });
});
