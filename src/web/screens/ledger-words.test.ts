import { describe, expect, test } from "vitest";
import { craftLedger } from "../../ledger/craft/craft-ledger.ts";
import { languages } from "../../present/words/language.ts";
import { wordsIn } from "../../present/words/words.ts";

describe("the ledger in words", () => {
  test.each(languages)("every type of entry of a craft is named in %s", (language) => {
    const types = new Set(craftLedger.types.map(({ type }) => type));
    expect(types.size).toBeGreaterThan(40);
    const { type: named } = wordsIn(language).screens.ledger;
    expect([...types].filter((type) => !(type in named))).toEqual([]);
  });
});
