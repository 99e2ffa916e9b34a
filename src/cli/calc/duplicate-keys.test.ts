import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { duplicateKeys } from "./duplicate-keys.ts";

describe("keys that stand twice", () => {
  test.each([
    ['{"a":1,"a":2}', [["", "a"]]],
    ['{"a":{"b":1,"b":1},"c":2}', [["", "a.b"]]],
    ['[{"a":1},{"legs":[{"x":1},{"x":1,"y":2,"x":3}]}]', [["[1]", "legs[1].x"]]],
    [
      '[{"a":1,"a":1},{"b":1,"b":1,"c":1,"c":1}]',
      [
        ["[0]", "a"],
        ["[1]", "b"],
      ],
    ],
    ['{"a":1,"\\u0061":2}', [["", "a"]]],
    ['{"a":"{\\"a\\":1,\\"a\\":2}","b":"a"}', []],
    ['{"a":"\\\\","b":1}', []],
    ['[{"a":1},{"a":1}]', []],
    ['{"a":{"a":{"a":1}}}', []],
    ["[]", []],
    ["3", []],
    ['"a"', []],
  ])("%s", (text, expected) => {
    expect([...duplicateKeys(text)]).toEqual(expected);
  });

  test("are none in what JSON itself writes, whatever the texts in it hold", () => {
    fc.assert(
      fc.property(fc.json(), (text) => {
        expect([...duplicateKeys(JSON.stringify(JSON.parse(text)))]).toEqual([]);
      }),
      { numRuns: 1000 },
    );
  });
});
