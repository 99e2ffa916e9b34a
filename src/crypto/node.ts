// The ledger's crypto on Node: SHA-256 and Ed25519 of node:crypto (OpenSSL), which refuses S ≥ L as RFC 8032 asks.
// Keys come from a 32-byte seed. Held to the vectors of RFC 8032 in published/crypto.test.ts.
import { createHash, createPrivateKey, createPublicKey, sign, verify } from "node:crypto";
import type { KeyObject } from "node:crypto";
import { toHex } from "../ledger/crypto.ts";
import type { Signer, Verifier } from "../ledger/crypto.ts";

// DER heads of RFC 8410: what stands before the 32 bytes of an Ed25519 private or public key.
const privateHead = Buffer.from("302e020100300506032b657004220420", "hex");
const publicHead = Buffer.from("302a300506032b6570032100", "hex");

// Making a key object costs as much as a verification, and the same few keys come again and again.
const publicKeys = new Map<string, KeyObject | null>();
const mostKeysHeld = 4_096;

function publicKeyOf(key: string): KeyObject | null {
  const held = publicKeys.get(key);
  if (held !== undefined) return held;
  if (publicKeys.size >= mostKeysHeld) publicKeys.clear();
  let made: KeyObject | null = null;
  try {
    if (/^[0-9a-f]{64}$/u.test(key)) {
      made = createPublicKey({
        key: Buffer.concat([publicHead, Buffer.from(key, "hex")]),
        format: "der",
        type: "spki",
      });
    }
  } catch {
    // Not a point of the curve: such a key verifies nothing.
  }
  publicKeys.set(key, made);
  return made;
}

export function sha256(bytes: Uint8Array): Uint8Array {
  return createHash("sha256").update(bytes).digest();
}

/** Verifies at once; what nodeVerifier wraps, for callers that have many to check. */
export function verifyNow(publicKey: string, message: Uint8Array, signature: string): boolean {
  const key = publicKeyOf(publicKey);
  if (key === null || !/^[0-9a-f]{128}$/u.test(signature)) return false;
  return verify(null, message, key, Buffer.from(signature, "hex"));
}

export const nodeVerifier: Verifier = {
  sha256,
  verify: (publicKey, message, signature) => Promise.resolve(verifyNow(publicKey, message, signature)),
};

/** As verifyNow, in Node's pool: many at once are spread over the processors, and nothing waits for one. */
export function verifyPooled(publicKey: string, message: Uint8Array, signature: string): Promise<boolean> {
  const key = publicKeyOf(publicKey);
  if (key === null || !/^[0-9a-f]{128}$/u.test(signature)) return Promise.resolve(false);
  return new Promise((resolve, reject) => {
    verify(null, message, key, Buffer.from(signature, "hex"), (error, right) =>
      error === null ? resolve(right) : reject(error),
    );
  });
}

/** For a server that is handed entries by the hundred: as nodeVerifier, in the pool. */
export const pooledVerifier: Verifier = { sha256, verify: verifyPooled };

/** The signer whose private key is this 32-byte seed. Refuses (RangeError) any other length. */
export function signerFromSeed(seed: Uint8Array): Signer {
  if (seed.length !== 32) throw new RangeError(`an Ed25519 seed has 32 bytes, found ${seed.length}`);
  const privateKey = createPrivateKey({
    key: Buffer.concat([privateHead, seed]),
    format: "der",
    type: "pkcs8",
  });
  const spki = createPublicKey(privateKey).export({ format: "der", type: "spki" });
  return {
    key: toHex(spki.subarray(publicHead.length)),
    sign: (message) => Promise.resolve(toHex(sign(null, message, privateKey))),
  };
}
