// SHA-256, Ed25519 and the canonical form of JSON against what is published (crypto.json names each source): Node's
// crypto, the browser's own (WebCrypto, which Node has too) and the library that stands in where a browser lacks it.
//
// Besides the printed vectors: signatures that are crafted so that verifiers may disagree (R or the key with a part of
// small order, after RFC 8032 §5.1.7 and the remarks of §8.4). Whoever verifies must refuse them alike, or two devices
// would hold different records for ever.
import { Point } from "@noble/ed25519";
import { sha512 } from "@noble/hashes/sha2.js";
import canonicalize from "canonicalize";
import { describe, expect, test } from "vitest";
import { nodeVerifier, sha256 as nodeSha256, signerFromSeed } from "../src/crypto/node.ts";
import { verifyWithLibrary } from "../src/crypto/web-library.ts";
import { hasNativeEd25519, makeKey, signerOf, webVerifier } from "../src/crypto/web.ts";
import { canonicalText, entryText } from "../src/ledger/canonical.ts";
import { bytesOf, fromHex, hashText, toHex } from "../src/ledger/crypto.ts";
import type { Signer, Verifier } from "../src/ledger/crypto.ts";
import { parseStrict, readCanonical } from "../src/ledger/parse-strict.ts";
import published from "./crypto.json" with { type: "json" };

const verifiers: Readonly<Record<string, Verifier["verify"]>> = {
  "Node's crypto": nodeVerifier.verify,
  "the browser's own": webVerifier.verify,
  "the library": verifyWithLibrary,
};

/** The PKCS #8 form of an Ed25519 seed (RFC 8410 §7), which WebCrypto imports. */
const pkcs8Head = "302e020100300506032b657004220420";

async function nativeSigner(secret: string, publicKey: string): Promise<Signer> {
  const bytes = new Uint8Array(fromHex(pkcs8Head + secret));
  const privateKey = await crypto.subtle.importKey("pkcs8", bytes, { name: "Ed25519" }, false, ["sign"]);
  return signerOf({ kind: "native", publicKey, privateKey });
}

function flipped(hex: string, bit: number): string {
  const bytes = fromHex(hex);
  bytes[bit >> 3] = bytes[bit >> 3]! ^ (1 << (bit & 7));
  return toHex(bytes);
}

describe("Ed25519 (RFC 8032 §7.1)", () => {
  const { rows } = published.ed25519;

  test("every vector that was copied is there, the empty message among them", () => {
    expect(rows.map(({ name }) => name)).toEqual([
      "TEST 1",
      "TEST 2",
      "TEST 3",
      "TEST 1024",
      "TEST SHA(abc)",
    ]);
    expect(rows.some(({ message }) => message === "")).toBe(true);
  });

  test("Node has Ed25519 in WebCrypto, so that the browser's path is what runs here", async () => {
    expect(await hasNativeEd25519()).toBe(true);
  });

  test.each(rows)(
    "$name is signed alike by all three",
    async ({ secret, public: key, message, signature }) => {
      const seed = fromHex(secret);
      const signers = [
        signerFromSeed(seed),
        await nativeSigner(secret, key),
        signerOf({ kind: "bytes", publicKey: key, seed }),
      ];
      for (const signer of signers) {
        expect(signer.key).toBe(key);
        expect(await signer.sign(fromHex(message))).toBe(signature);
      }
    },
  );

  describe.each(Object.entries(verifiers))("%s", (_, verify) => {
    test.each(rows)("verifies $name and nothing one bit away from it", async (row) => {
      const { public: key, message, signature } = row;
      expect(await verify(key, fromHex(message), signature)).toBe(true);
      // Every seventh bit of the short vectors, every 61st of the long one: the library takes its time.
      const step = message.length > 200 ? 61 : 7;
      const accepted: string[] = [];
      for (let bit = 0; bit < 512; bit += step) {
        if (await verify(key, fromHex(message), flipped(signature, bit)))
          accepted.push(`signature, bit ${bit}`);
      }
      for (let bit = 0; bit < 256; bit += step) {
        if (await verify(flipped(key, bit), fromHex(message), signature)) accepted.push(`key, bit ${bit}`);
      }
      for (let bit = 0; bit < message.length * 4; bit += step * 3) {
        if (await verify(key, fromHex(flipped(message, bit)), signature))
          accepted.push(`message, bit ${bit}`);
      }
      expect(accepted).toEqual([]);
    });

    test.each(rows)("refuses $name with the group order added to S", async (row) => {
      const s = littleEndian(fromHex(row.signature.slice(64)));
      const more = row.signature.slice(0, 64) + toHex(thirtyTwoBytes(s + Point.CURVE().n));
      expect(await verify(row.public, fromHex(row.message), more)).toBe(false);
    });

    test("refuses, and never throws at, what is no key and no signature", async () => {
      const { public: key, message, signature } = rows[0]!;
      const bytes = fromHex(message);
      const signatures = [
        "",
        "00",
        "zz".repeat(64),
        signature.toUpperCase(),
        signature.slice(2),
        `${signature}00`,
      ];
      const keys = ["", "zz".repeat(32), key.toUpperCase(), key.slice(2), `${key}00`, "ff".repeat(32)];
      const answers = await Promise.all([
        ...signatures.map((bad) => verify(key, bytes, bad)),
        ...keys.map((bad) => verify(bad, bytes, signature)),
      ]);
      expect(answers).toEqual(answers.map(() => false));
    });

    test.each(Object.entries(crafted()))("refuses %s", async (_name, { key, message, signature }) => {
      expect(await verify(key, message, signature)).toBe(false);
    });

    test("verifies the same sum without the part of small order", async () => {
      const { key, message, signature } = plainSum();
      expect(await verify(key, message, signature)).toBe(true);
    });
  });

  test("a key made here signs what all three verify, and a native private half cannot be taken out", async () => {
    const kept = await makeKey();
    const signer = signerOf(kept);
    const signature = await signer.sign(bytesOf("made here"));
    for (const verify of Object.values(verifiers))
      expect(await verify(signer.key, bytesOf("made here"), signature)).toBe(true);
    if (kept.kind !== "native") throw new Error("Node made no native key");
    await expect(crypto.subtle.exportKey("pkcs8", kept.privateKey)).rejects.toThrow("not extractable");
  });

  test("a seed of another length makes no signer", () => {
    expect(() => signerFromSeed(new Uint8Array(31))).toThrow(RangeError);
    expect(() => signerFromSeed(new Uint8Array(64))).toThrow(RangeError);
  });
});

describe("SHA-256 (FIPS 180-4)", () => {
  test.each(published.sha256.rows)("of %j, by Node and by the library", (message = "", digest = "") => {
    expect(hashText(nodeSha256, message)).toBe(digest);
    expect(hashText(webVerifier.sha256, message)).toBe(digest);
  });

  test("a chain of three hashes over canonical texts comes out as computed elsewhere", () => {
    let prev = "0".repeat(64);
    for (const { canonical, hash } of published.chain.rows) {
      const { entry } = JSON.parse(canonical) as { entry: unknown };
      expect(canonicalText({ prev, entry })).toBe(canonical);
      prev = hashText(nodeSha256, canonical);
      expect(prev).toBe(hash);
    }
  });
});

describe("the canonical form (RFC 8785)", () => {
  test.each(published.jcs.rows)("of $name, byte for byte", ({ input, output_hex, sha256 }) => {
    const text = canonicalText(JSON.parse(input));
    expect(toHex(bytesOf(text))).toBe(output_hex);
    expect(hashText(nodeSha256, text)).toBe(sha256);
    expect(canonicalize(JSON.parse(input))).toBe(text);
    // 1e+30 is a whole number that no entry may hold: canonical, and refused.
    const whole = text.includes("1e+30")
      ? { code: "badValue", path: ".numbers[1]", wanted: "an integer within 2^53" }
      : null;
    const value = JSON.parse(input) as unknown;
    expect(parseStrict(input)).toMatchObject(
      whole === null ? { value, canonical: false } : { refusals: [{ ...whole, found: "1E30" }] },
    );
    expect(readCanonical(text)).toMatchObject(
      whole === null ? { value } : { refusal: { ...whole, found: "1e+30" } },
    );
  });

  test("all 26 numbers of Appendix B that were copied", () => {
    expect(published.numbers.rows).toHaveLength(26);
    const written = published.numbers.rows.map(([bits = ""]) => [bits, canonicalText(numberOf(bits))]);
    expect(written).toEqual(published.numbers.rows);
  });

  test("the numbers beyond 2^53 that are whole are canonical, and refused in an entry", () => {
    const beyond = published.numbers.rows
      .map(([bits = ""]) => numberOf(bits))
      .filter((number) => Number.isInteger(number) && Math.abs(number) > 2 ** 53);
    expect(beyond).toHaveLength(11);
    for (const number of beyond) expect(() => entryText(number)).toThrow("2^53");
  });

  test("what the standard refuses is refused: no number, no end, half a character", () => {
    expect(published.numbers.refused).toHaveLength(2);
    for (const bits of published.numbers.refused)
      expect(() => canonicalText(numberOf(bits))).toThrow("finite");
    expect(() => canonicalText("\uDEAD")).toThrow("surrogate");
    expect(() => canonicalText({ "\uDEAD": 1 })).toThrow("surrogate");
    expect(readCanonical('{"a":1,"a":1}')).toMatchObject({ refusal: { code: "duplicateKey" } });
  });
});

function numberOf(bits: string): number {
  return new DataView(new Uint8Array(fromHex(bits)).buffer).getFloat64(0);
}

function littleEndian(bytes: Uint8Array): bigint {
  return bytes.reduceRight((number, byte) => number * 256n + BigInt(byte), 0n);
}

function thirtyTwoBytes(value: bigint): Uint8Array {
  return Uint8Array.from({ length: 32 }, (_, at) => Number((value >> BigInt(8 * at)) & 255n));
}

type Signed = { readonly key: string; readonly message: Uint8Array; readonly signature: string };

/** A secret and a nonce of our choice: (R, S) with S = r + k·s over R and A as they are given. */
function sum(addToR: Point, addToA: Point): Signed {
  const [secret, nonce] = [987654321n ** 7n % Point.CURVE().n, 123456789n ** 7n % Point.CURVE().n];
  const key = Point.BASE.multiply(secret).add(addToA).toBytes();
  const r = Point.BASE.multiply(nonce).add(addToR).toBytes();
  // A message whose k is odd, so that k times the part of small order is not nothing.
  for (let attempt = 0; ; attempt += 1) {
    const message = bytesOf(`crafted ${attempt}`);
    const k = littleEndian(sha512(Uint8Array.from([...r, ...key, ...message]))) % Point.CURVE().n;
    if (k % 2n === 0n) continue;
    const s = (nonce + k * secret) % Point.CURVE().n;
    return { key: toHex(key), message, signature: toHex(r) + toHex(thirtyTwoBytes(s)) };
  }
}

function plainSum(): Signed {
  return sum(Point.ZERO, Point.ZERO);
}

function crafted(): Readonly<Record<string, Signed>> {
  // A point of order 8; that it is one is checked here.
  const eighth = Point.fromHex("c7176a703d4dd84fba3c0b760d10670f2a2053fa2c39ccc64ec7fd7792ac037a");
  if (!eighth.clearCofactor().is0() || eighth.double().double().is0()) throw new Error("not of order 8");
  const r = Point.BASE.multiply(5n);
  const message = bytesOf("anything at all");
  return {
    "an R with a part of small order": sum(eighth, Point.ZERO),
    "a key with a part of small order": sum(Point.ZERO, eighth),
    "the neutral point as a key, which would sign everything": {
      key: Point.ZERO.toHex(),
      message,
      signature: r.toHex() + toHex(thirtyTwoBytes(5n)),
    },
    "the neutral point in another spelling": {
      key: `ee${"ff".repeat(30)}7f`,
      message,
      signature: r.toHex() + toHex(thirtyTwoBytes(5n)),
    },
  };
}
