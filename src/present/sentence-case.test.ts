import { describe, expect, test } from "vitest";
import { asTitle, insideSentence, titled } from "./sentence-case.ts";
import { phrase, phraseText, subject } from "./words/phrase.ts";

describe("the beginning of a line", () => {
  test.each([
    ["en", "day VFR", "Day VFR"],
    ["en", "approach", "Approach"],
    ["en", "left cowl latch", "Left cowl latch"],
    ["en", "IFR", "IFR"],
    ["en", "kHz of the radio", "kHz of the radio"],
    ["en", "1 item", "1 item"],
    ["en", "", ""],
    ["de", "linke Kabinentür", "Linke Kabinentür"],
    ["de", "über Wasser", "Über Wasser"],
    ["de", "öl", "Öl"],
    ["de", "VFR bei Tag", "VFR bei Tag"],
    ["de", "pH-Wert", "pH-Wert"],
  ] as const)("of %s: %s becomes %s", (language, text, wanted) => {
    expect(asTitle(text, language)).toBe(wanted);
  });

  test("reaches the first piece of a phrase, marked or not, and nothing after it", () => {
    const said = titled(phrase`${subject("landing light")} is Open`, "en");
    expect(said).toEqual([{ subject: "Landing light" }, " is Open"]);
    expect(phraseText(titled(phrase`it froze`, "en"))).toBe("It froze");
    expect(titled([], "en")).toEqual([]);
  });
});

describe("the middle of a sentence", () => {
  test.each([
    ["en", "The full walk is due", "the full walk is due"],
    ["en", "Landing light deferred", "landing light deferred"],
    ["en", "IFR equipment missing", "IFR equipment missing"],
    ["de", "Der volle Rundgang ist fällig", "der volle Rundgang ist fällig"],
    ["de", "Landescheinwerfer zurückgestellt", "Landescheinwerfer zurückgestellt"],
    ["de", "Wartung hat die Maschine", "Wartung hat die Maschine"],
  ] as const)("of %s: %s becomes %s", (language, text, wanted) => {
    expect(insideSentence(text, language)).toBe(wanted);
  });
});
