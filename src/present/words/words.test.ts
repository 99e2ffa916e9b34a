import { describe, expect, test } from "vitest";
import type { Words } from "./words.ts";
import { wordsIn, wordsOfReasonsIn } from "./words.ts";
import { languages } from "./language.ts";
import type { Language } from "./language.ts";
import { plural } from "./plural.ts";

type Leaf = { readonly path: string; readonly value: unknown };

function leaves(node: unknown, path = ""): Leaf[] {
  if (typeof node !== "object" || node === null) return [{ path, value: node }];
  return Object.entries(node).flatMap(([key, child]) => leaves(child, path === "" ? key : `${path}.${key}`));
}

/** Reasons themselves take a whole reason, not plain values; they have a test of their own (../reasons.test.ts). */
const allLeaves = (language: Language): Leaf[] => [
  ...leaves(wordsIn(language)),
  ...leaves(wordsOfReasonsIn(language).remedies, "remedies"),
];

/** Arguments that suit any parameter of the catalogues: each of them prints as itself. */
const samples = [3, 7, 11];

function spoken({ path, value }: Leaf): string {
  if (typeof value === "string") return value;
  if (typeof value !== "function") throw new TypeError(`${path} is neither text nor a function`);
  const say = value as (...parameters: unknown[]) => unknown;
  return String(path.endsWith("withDetails") ? say("Nose", ["here"]) : say(...samples));
}

describe("the catalogues", () => {
  test.each(languages)("every word of %s is said, and trimmed", (language) => {
    const all = allLeaves(language);
    expect(all.length).toBeGreaterThan(150);
    const faulty = all.filter((leaf) => {
      const text = spoken(leaf);
      return text === "" || text.trim() !== text || /undefined|NaN|\[object/u.test(text);
    });
    expect(faulty.map(({ path }) => path)).toEqual([]);
  });

  test("every parameter that English says is said in German too", () => {
    const german = new Map(leaves(wordsIn("de")).map((leaf) => [leaf.path, leaf]));
    const said = (leaf: Leaf) => samples.filter((sample) => spoken(leaf).includes(String(sample)));
    const functions = leaves(wordsIn("en")).filter(({ value }) => typeof value === "function");
    expect(functions.length).toBeGreaterThan(20);
    for (const leaf of functions) {
      expect([leaf.path, said(german.get(leaf.path)!)]).toEqual([leaf.path, said(leaf)]);
    }
  });

  test("the words of another trade's verdicts are never used", () => {
    const banned = /\bno[- ]?go\b|\bgo\b|green|amber|airworthy|grün|gelb/iu;
    const all = languages.flatMap((language) => allLeaves(language).map(spoken));
    expect(all.filter((text) => banned.test(text))).toEqual([]);
    expect(banned.test("GO with limits")).toBe(true);
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
