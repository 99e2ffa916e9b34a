import fc from "fast-check";
import { expect, test } from "vitest";
import { NotCanonicalError, canonicalText } from "./canonical.ts";
import { packedText, unpack } from "./pack.ts";

const plain = fc.jsonValue({ maxDepth: 5 }).filter((value) => {
  try {
    canonicalText(value);
    return true;
  } catch {
    // Lone surrogates and the like are refused at the border and never reach a state.
    return false;
  }
});

test("what is packed comes back letter for letter, whatever it is", () => {
  fc.assert(
    fc.property(plain, (value) => {
      expect(canonicalText(unpack(packedText(value)))).toBe(canonicalText(value));
    }),
    { numRuns: 400 },
  );
});

test("a key that plain records have from birth is kept as their own", () => {
  const value = JSON.parse('{"constructor":1,"toString":{"valueOf":[null,true]}}') as unknown;
  expect(unpack(packedText(value))).toEqual(value);
});

test("what is the same many times is written once", () => {
  const mark = { by: "somebody", mark: "good", why: null };
  const walks = Array.from({ length: 200 }, (_, at) => ({ at, one: [mark], other: [{ ...mark }] }));
  expect(packedText(walks).length).toBeLessThan(canonicalText(walks).length / 5);
  expect(unpack(packedText(walks))).toEqual(walks);
});

test("what canonical text refuses is refused here as well", () => {
  expect(() => packedText({ a: Number.NaN })).toThrow(NotCanonicalError);
  expect(() => packedText({ a: undefined })).toThrow(NotCanonicalError);
});
