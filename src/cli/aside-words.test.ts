// What stands aside makes every standing *not known*: whoever reads that is told why in words, never by a code.
import { expect, test } from "vitest";
import { asideCodes } from "../ledger/acceptance.ts";
import type { Reason } from "../core/facts/reason.ts";
import { namesIn } from "../present/names.ts";
import { reasonWords } from "../present/reasons.ts";
import { languages, localeOf } from "../present/words/language.ts";
import { wordsIn } from "../present/words/words.ts";

const law = { kind: "law", law: "unknownIsNeverReady" } as const;

test.each(languages)("every code by which an entry stands aside has words (%s)", (language) => {
  for (const why of asideCodes) {
    const reason: Reason = {
      code: "record.aside",
      effect: "unknown",
      operations: "all",
      from_ms: null,
      until_ms: null,
      source: law,
      evidence: [],
      remedy: { code: "record.settleAside", clearance: "someone" },
      facts: { why, count: 1, types: "walk.page" },
    };
    const { detail } = reasonWords({
      reason,
      locale: localeOf(language, "UTC"),
      names: namesIn(language, null, new Map()),
      now_ms: 0,
    });
    expect(detail, why).not.toBe(why);
    expect(detail, why).toMatch(/\p{L}+ \p{L}+/u);
  }
});

test.each(languages)("what settles, decides and erases is named in the list of entries (%s)", (language) => {
  const names = wordsIn(language).screens.ledger.type;
  for (const type of ["receipt", "fork.decided", "aside.settled", "erase"])
    expect(names[type], type).toMatch(/ /u);
});
