import canonicalize from "canonicalize";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { NotCanonicalError, canonicalText, entryText, slowText } from "./canonical.ts";

/** Values of all kinds: keys that look like indices, that are out of order, that need escapes. */
const key = fc.oneof(
  fc.constantFrom(
    "a",
    "B",
    "é",
    "10",
    "9",
    "",
    "__proto__",
    "toString",
    "\u{1f602}",
    "\ufb33",
    "\n",
    "length",
  ),
  fc.string({ maxLength: 6, unit: "grapheme" }),
);
const json = fc.letrec<{ value: unknown }>((tie) => ({
  value: fc.oneof(
    { depthSize: "small", withCrossShrink: true },
    fc.constantFrom<unknown>(null, true, false, "", "ok", -0, 0.1, 1e21),
    fc.double({ noNaN: true, noDefaultInfinity: true }),
    fc.integer(),
    fc.string({ unit: "grapheme" }),
    fc.array(tie("value"), { maxLength: 5 }),
    fc
      .array(fc.tuple(key, tie("value")), { maxLength: 7 })
      .map((pairs) => Object.fromEntries(pairs) as unknown),
  ),
})).value;

describe("the canonical form", () => {
  test("is the same by the fast way, by the plain way and by another library", () => {
    fc.assert(
      fc.property(json, (value) => {
        const text = canonicalText(value);
        expect(text).toBe(slowText(value, false));
        expect(text).toBe(canonicalize(value));
        expect(canonicalText(JSON.parse(text))).toBe(text);
      }),
      { numRuns: 1_500, seed: 1 },
    );
  });

  test("does not depend on the order in which keys were set, and leaves the value as it was", () => {
    const one = { b: [{ d: 1, c: 2 }], a: "x" };
    const before = JSON.stringify(one);
    expect(canonicalText(one)).toBe(canonicalText({ a: "x", b: [{ c: 2, d: 1 }] }));
    expect(JSON.stringify(one)).toBe(before);
  });

  test("orders keys by code units: 10 before 9, capitals first, and a smiley before a dagesh", () => {
    expect(canonicalText({ "\ufb33": 5, "\u{1f602}": 4, a: 3, B: 2, 9: 1, 10: 0 })).toBe(
      '{"10":0,"9":1,"B":2,"a":3,"\u{1f602}":4,"\ufb33":5}',
    );
  });

  test("orders many keys as few", () => {
    const keys = Array.from({ length: 200 }, (_, at) => `k${(at * 7919) % 1_000}`);
    const value = Object.fromEntries(keys.map((name, at) => [name, at]));
    expect(canonicalText(value)).toBe(slowText(value, false));
  });

  test("leaves out a property that is undefined, as JSON does", () => {
    expect(canonicalText({ b: 1, a: undefined })).toBe('{"b":1}');
    expect(canonicalText({ a: undefined, b: { d: 1, c: undefined } })).toBe('{"b":{"d":1}}');
  });

  test("writes a backslash before ud as the text that it is, not as half a character", () => {
    expect(entryText("C:\\udata")).toBe('"C:\\\\udata"');
    expect(entryText("\\u0000")).toBe('"\\\\u0000"');
  });

  const deep = (levels: number): unknown => JSON.parse("[".repeat(levels) + "]".repeat(levels));
  const refused: readonly (readonly [string, unknown, string, string])[] = [
    ["no number", { a: [1, Number.NaN] }, ".a[1]", "a finite number"],
    ["a number without end", { a: -Infinity }, ".a", "a finite number"],
    ["half a character", { a: { b: "x\ud800" } }, ".a.b", "whole characters"],
    ["half a character in a key", { "\udc00x": 1 }, ".\udc00x", "whole characters"],
    ["U+0000", { b: 1, a: "x\0" }, ".a", "text without it"],
    ["an integer that no number holds surely", [2 ** 53 + 2], "[0]", "an integer within 2^53"],
    ["a big negative integer", [-(2 ** 60)], "[0]", "an integer within 2^53"],
    ["nothing in a list", [1, undefined], "[1]", "null, true, false, a number, a text, a list or an object"],
    ["a function", { a: () => 1 }, ".a", "null, true, false, a number, a text, a list or an object"],
    ["a big integer", { a: 1n }, ".a", "null, true, false, a number, a text, a list or an object"],
    ["a date", { at: new Date(0) }, ".at", "a plain object or a list"],
    ["a map", { at: new Map() }, ".at", "a plain object or a list"],
    ["nesting deeper than 64", deep(66), "[0]".repeat(65), "less"],
  ];
  test.each(refused)("of an entry refuses %s and names where", (_, value, path, wanted) => {
    let refusal: unknown = null;
    try {
      entryText(value);
    } catch (error) {
      if (error instanceof NotCanonicalError) refusal = error.refusal;
    }
    expect(refusal).toMatchObject({ code: "badValue", path, wanted });
  });

  test("takes what is just within: 2^53, nesting of 65 lists, texts of all planes", () => {
    expect(entryText([2 ** 53, -(2 ** 53)])).toBe("[9007199254740992,-9007199254740992]");
    expect(entryText(deep(65))).toBe("[".repeat(65) + "]".repeat(65));
    expect(entryText("\u{10ffff}\u0001\u2028")).toBe('"\u{10ffff}\\u0001\u2028"');
  });

  test("goes round in no circle", () => {
    const circle: unknown[] = [];
    circle.push(circle);
    expect(() => canonicalText(circle)).toThrow("nesting deeper");
  });
});
