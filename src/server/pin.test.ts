import { describe, expect, test } from "vitest";
import { isPin, longestWait_ms, pinHashOf, usualPinCost, waitAfter_ms } from "./pin.ts";

describe("A PIN", () => {
  test("is known by its hash, and only it; two hashes of one PIN differ", async () => {
    const [hash, other] = [await pinHashOf("2580", 16), await pinHashOf("2580", 16)];
    expect(hash).not.toBe(other);
    expect(hash).not.toContain("2580");
    expect(await isPin("2580", hash)).toBe(true);
    for (const wrong of ["2581", "258", "25800", "", "2580 "])
      expect([wrong, await isPin(wrong, hash)]).toEqual([wrong, false]);
  });

  test("is the same on a keyboard that types full-width digits", async () => {
    expect(await isPin("\uFF12\uFF15\uFF18\uFF10", await pinHashOf("2580", 16))).toBe(true);
  });

  test("is checked at the cost that its hash names, and hashed at the usual one in service", async () => {
    const hash = await pinHashOf("1111", usualPinCost);
    expect(hash.startsWith(`scrypt$${2 ** 15}$8$1$`)).toBe(true);
    expect(await isPin("1111", hash)).toBe(true);
  });

  test("with a hash of another form is an error and not a wrong PIN", async () => {
    await expect(isPin("1111", "md5$abc")).rejects.toThrow("another form");
  });

  test("waits longer with every wrong try, and never longer than a quarter of an hour", () => {
    expect([0, 1, 2, 3, 4].map(waitAfter_ms)).toEqual([0, 1_000, 2_000, 4_000, 8_000]);
    for (const wrong of [11, 20, 1_000, 1e9]) expect(waitAfter_ms(wrong)).toBe(longestWait_ms);
  });
});
