import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { paperCode, readPaperCode } from "./paper-code.ts";

const hash = fc
  .array(fc.constantFrom(..."0123456789abcdef".split("")), { minLength: 64, maxLength: 64 })
  .map((digits) => digits.join(""));
const alphabet = "23456789ABCDEFGHJKMNPRSTVWXYZ";

describe("the code of a paper", () => {
  test("is read back as it was printed, in small letters and with any gaps", () => {
    fc.assert(
      fc.property(hash, (plan) => {
        const code = paperCode(plan);
        expect(code).toMatch(/^[2-9A-HJ-NP-Z]{4}-[2-9A-HJ-NP-Z]{5}-[2-9A-HJ-NP-Z]$/u);
        for (const typed of [code, code.toLowerCase(), code.replaceAll("-", " "), code.replaceAll("-", "")])
          expect(readPaperCode(typed)).toEqual({ ok: code });
      }),
      { numRuns: 100 },
    );
  });

  test("notices every wrong sign and every exchange of two", () => {
    fc.assert(
      fc.property(hash, (plan) => {
        const text = paperCode(plan).replaceAll("-", "");
        for (let at = 0; at < text.length; at += 1) {
          for (const sign of alphabet) {
            if (sign === text[at]) continue;
            expect(readPaperCode(text.slice(0, at) + sign + text.slice(at + 1))).toEqual({
              issue: "mistyped",
            });
          }
          for (let other = at + 1; other < text.length; other += 1) {
            if (text[at] === text[other]) continue;
            const swapped = text.split("");
            [swapped[at], swapped[other]] = [swapped[other]!, swapped[at]!];
            expect(readPaperCode(swapped.join(""))).toEqual({ issue: "mistyped" });
          }
        }
      }),
      { numRuns: 20 },
    );
  });

  test("says what is wrong with what is no code", () => {
    expect(readPaperCode("")).toEqual({ issue: "short" });
    expect(readPaperCode("ABCD")).toEqual({ issue: "short" });
    expect(readPaperCode("0OQ1-ILU00-0")).toEqual({ issue: "mistyped" });
    expect(() => paperCode("abc")).toThrow(RangeError);
  });
});
