import { expect, test } from "vitest";
import {
  atIndex,
  atKey,
  describe as describeValue,
  issueCodes,
  issueLine,
  refuse,
  Refusal,
} from "./refusal.ts";

test("a refusal says where, what was found and what was wanted, for every issue", () => {
  const refusal = new Refusal([
    { path: "legs[1].tas_kt", code: "outsideDomain", found: "-3", wanted: "above 0 kt" },
    { path: "", code: "missing", found: "nothing", wanted: "an object" },
  ]);
  expect(refusal.message).toBe(
    "legs[1].tas_kt: expected above 0 kt, found -3; expected an object, found nothing",
  );
  expect(issueLine(refusal.issues[0])).toBe("expected above 0 kt, found -3");
  expect(() => refuse("a", "missing", "nothing", "a")).toThrow(Refusal);
});

test("paths join keys and places", () => {
  expect(atKey(atIndex(atKey("", "legs"), 1), "distance_nm")).toBe("legs[1].distance_nm");
});

test("a found value is described on one short line, whatever it is", () => {
  for (const value of [
    undefined,
    null,
    1,
    Number.NaN,
    1n,
    true,
    "a\nb",
    "x".repeat(99),
    [1, 2],
    {},
    () => 1,
    Symbol("s"),
  ]) {
    const text = describeValue(value);
    expect(text.length).toBeLessThanOrEqual(40);
    expect(text).not.toBe("");
    expect(text).not.toContain("\n");
  }
  expect(describeValue([1, 2])).toBe("a list of 2");
  expect(describeValue("a")).toBe('"a"');
});

test("codes are words of their own", () => {
  expect(new Set(issueCodes).size).toBe(issueCodes.length);
});
