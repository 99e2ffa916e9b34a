import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { canonicalText } from "./canonical.ts";
import { parseStrict, readCanonical } from "./parse-strict.ts";

const parsed = (text: string): unknown => {
  try {
    return { value: JSON.parse(text) as unknown };
  } catch {
    return "not JSON";
  }
};

describe("the strict reader", () => {
  test("reads what JSON.parse reads, to the same value, and knows whether the text was canonical", () => {
    fc.assert(
      fc.property(fc.json({ maxDepth: 4 }), fc.nat(3), (text, indent) => {
        const spaced = JSON.stringify(JSON.parse(text), null, indent);
        const strict = parseStrict(spaced);
        if ("refusals" in strict) {
          expect(strict.refusals.every(({ wanted }) => wanted === "an integer within 2^53")).toBe(true);
          return;
        }
        expect({ value: strict.value }).toEqual(parsed(spaced));
        expect(strict.canonical).toBe(spaced === canonicalText(JSON.parse(text)));
      }),
      { numRuns: 1_000, seed: 2 },
    );
  });

  test("takes no text that JSON.parse does not take, whatever was done to it", () => {
    let refused = 0;
    fc.assert(
      fc.property(
        fc.json({ maxDepth: 3 }),
        fc.nat(),
        fc.constantFrom("", ",", '"', "\\", "0", "{", "]", ".", "e", "-", "\t", "\u0001", "nul", "\\u12"),
        (text, place, put) => {
          const at = place % (text.length + 1);
          const broken = text.slice(0, at) + put + text.slice(at + 1);
          const strict = parseStrict(broken);
          const plain = parsed(broken);
          if ("value" in strict) expect({ value: strict.value }).toEqual(plain);
          else if (strict.refusals[0]!.code === "notJson") {
            refused += 1;
            expect(plain).toBe("not JSON");
          }
        },
      ),
      { numRuns: 3_000, seed: 3 },
    );
    expect(refused).toBeGreaterThan(500);
  });

  const faults: readonly (readonly [string, readonly (readonly [string, string, string])[]])[] = [
    ['{"a":1,"b":{"c":1,"c":2}}', [["duplicateKey", ".b.c", "the key a second time"]]],
    ['{"a":1,"\\u0061":2}', [["duplicateKey", ".a", "the key a second time"]]],
    ['{"__proto__":1,"__proto__":2}', [["duplicateKey", ".__proto__", "the key a second time"]]],
    ['["x\\u0000"]', [["badValue", "[0]", "U+0000"]]],
    ['["\\ud800x"]', [["badValue", "[0]", "a lone surrogate"]]],
    ['{"\\udc00":1}', [["badValue", "", "a lone surrogate"]]],
    ['{"n":9007199254740993}', [["badValue", ".n", "9007199254740993"]]],
    ['{"n":9007199254740993.0}', [["badValue", ".n", "9007199254740993.0"]]],
    ["[-9007199254740993]", [["badValue", "[0]", "-9007199254740993"]]],
    ["[1e400]", [["badValue", "[0]", "1e400"]]],
    ["[1e20]", [["badValue", "[0]", "1e20"]]],
    [
      '{"a":1e999,"b":["\\u0000"],"a":2}',
      [
        ["badValue", ".a", "1e999"],
        ["badValue", ".b[0]", "U+0000"],
        ["duplicateKey", ".a", "the key a second time"],
      ],
    ],
  ];
  test.each(faults)("of %s tells every fault with its path", (text, wanted) => {
    const strict = parseStrict(text);
    expect(
      "refusals" in strict && strict.refusals.map(({ code, path, found }) => [code, path, found]),
    ).toEqual(wanted);
  });

  test.each([
    ["", "character 0", "a value"],
    ["{", "character 1", "a key in quotes"],
    ['{"a"}', ".a at character 4", "a colon"],
    ['{"a":1,}', "character 7", "a key in quotes"],
    ["[1 2]", "character 3", "a comma or a closing bracket"],
    ['{"a":[01]}', ".a at character 7", "a comma or a closing bracket"],
    ['{"a":tru}', ".a at character 5", "a value"],
    ["[1] x", "character 4", "the end of the text"],
    ['"open', "character 0", "a text in quotes"],
    ["NaN", "character 0", "a value"],
    ["\ufeff1", "character 0", "a value"],
  ])("tells where %j ends to be JSON", (text, path, wanted) => {
    expect(parseStrict(text)).toMatchObject({ refusals: [{ code: "notJson", path, wanted }] });
    expect(() => JSON.parse(text) as unknown).toThrow(SyntaxError);
  });

  test("takes 2^53 itself, and keeps a name that means something else elsewhere", () => {
    expect(parseStrict("[9007199254740992,-9007199254740992.0]")).toEqual({
      value: [2 ** 53, -(2 ** 53)],
      canonical: false,
    });
    const strict = parseStrict('{"__proto__":{"x":1}}');
    expect("value" in strict && Object.keys(strict.value as object)).toEqual(["__proto__"]);
    expect("value" in strict && strict.canonical).toBe(true);
  });

  test("is not felled by nesting or by length", () => {
    const deep = "[".repeat(100_000);
    expect(parseStrict(deep)).toMatchObject({ refusals: [{ found: "nesting deeper than 64" }] });
    expect(readCanonical(deep)).toMatchObject({ refusal: { found: "nesting deeper than 64" } });
    const long = JSON.stringify("x\n".repeat(1_000_000));
    expect(parseStrict(long)).toMatchObject({ canonical: true });
  });
});

describe("the reader of canonical texts", () => {
  test.each([
    ['{"b":1,"a":2}', "notCanonical", "character 2"],
    ['{"a": 1}', "notCanonical", "character 5"],
    ['{"a":1.0}', "notCanonical", "character 6"],
    ['{"a":-0}', "notCanonical", "character 5"],
    ['{"a":"\\u0041"}', "notCanonical", "character 6"],
    ['{"a":1,"a":1}', "duplicateKey", ".a"],
    ['{"a":1', "notJson", "character 6"],
    ['{"a":1e20}', "badValue", ".a"],
  ])("refuses %s as %s", (text, code, path) => {
    expect(readCanonical(text)).toMatchObject({ refusal: { code, path } });
  });

  test("gives the value of a text that is the one text for it", () => {
    expect(readCanonical('{"a":[1,"é",null]}')).toEqual({ value: { a: [1, "é", null] } });
  });
});
