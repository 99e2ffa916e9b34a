import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { fromBase64, toBase64 } from "./base64.ts";
import { bytesOf } from "./crypto.ts";

describe("Base64", () => {
  test("writes and reads the test vectors of RFC 4648, section 10", () => {
    const vectors = {
      "": "",
      f: "Zg==",
      fo: "Zm8=",
      foo: "Zm9v",
      foob: "Zm9vYg==",
      fooba: "Zm9vYmE=",
      foobar: "Zm9vYmFy",
    };
    for (const [plain, text] of Object.entries(vectors)) {
      expect(toBase64(bytesOf(plain))).toBe(text);
      expect(fromBase64(text)).toEqual(bytesOf(plain));
    }
  });

  test("agrees with the platform's own, for any bytes, there and back", () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 200 }), (bytes) => {
        expect(toBase64(bytes)).toBe(Buffer.from(bytes).toString("base64"));
        expect(fromBase64(toBase64(bytes))).toEqual(new Uint8Array(bytes));
      }),
      { numRuns: 300 },
    );
  });

  test("refuses every text that it would not have written", () => {
    for (const text of [
      "Z",
      "Zg",
      "Zg=",
      "Zh==",
      "Zm9=",
      "Zm-v",
      "Zm9v\n",
      "Zm9 v",
      "=",
      "====",
      "Zg==Zg==",
      "Zmé=",
    ])
      expect([text, fromBase64(text)]).toEqual([text, null]);
  });
});
