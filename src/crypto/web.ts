// The ledger's crypto in a browser: SHA-256 of @noble/hashes (synchronous), Ed25519 of WebCrypto where the browser has
// it, otherwise of @noble/ed25519, an audited library. Native private keys cannot be exported; the fallback's seed is
// kept as bytes, which the caller stores beside them and which is weaker. Vectors: published/crypto.test.ts.
import { sha256 } from "@noble/hashes/sha2.js";
import { fromHex, toHex } from "../ledger/crypto.ts";
import type { Signer, Verifier } from "../ledger/crypto.ts";

/** The library, loaded only by a browser that needs it. */
const library = () => import("./web-library.ts");

const algorithm = { name: "Ed25519" } as const;

/** What a device keeps of a key: structured-clonable, so that it may lie in IndexedDB. */
export type KeptKey =
  | { readonly kind: "native"; readonly publicKey: string; readonly privateKey: CryptoKey }
  | { readonly kind: "bytes"; readonly publicKey: string; readonly seed: Uint8Array };

let nativeKnown: Promise<boolean> | null = null;

/** Whether this browser signs and verifies Ed25519 by itself; tried once. */
export function hasNativeEd25519(): Promise<boolean> {
  nativeKnown ??= crypto.subtle.generateKey(algorithm, false, ["sign", "verify"]).then(
    () => true,
    () => false,
  );
  return nativeKnown;
}

/** Bytes that WebCrypto takes: never a view on shared memory. */
function plain(bytes: Uint8Array): Uint8Array<ArrayBuffer> {
  return new Uint8Array(bytes);
}

/** Public keys as the browser takes them, by their hex: a record of a year has a few dozen. */
const taken = new Map<string, Promise<CryptoKey>>();
const mostTaken = 256;

function verifyingKey(publicKey: string): Promise<CryptoKey> {
  let key = taken.get(publicKey);
  if (key === undefined) {
    if (taken.size >= mostTaken) taken.clear();
    key = crypto.subtle.importKey("raw", plain(fromHex(publicKey)), algorithm, false, ["verify"]);
    taken.set(publicKey, key);
  }
  return key;
}

async function verifyNative(publicKey: string, message: Uint8Array, signature: string): Promise<boolean> {
  const key = await verifyingKey(publicKey);
  return crypto.subtle.verify(algorithm, key, plain(fromHex(signature)), plain(message));
}

async function verifyEd25519(publicKey: string, message: Uint8Array, signature: string): Promise<boolean> {
  if (!/^[0-9a-f]{64}$/u.test(publicKey) || !/^[0-9a-f]{128}$/u.test(signature)) return false;
  // A library that cannot be loaded says nothing about a signature: that is an error, not a forgery.
  if (!(await hasNativeEd25519())) return (await library()).verifyWithLibrary(publicKey, message, signature);
  try {
    return await verifyNative(publicKey, message, signature);
  } catch {
    // A key that is no point of the curve verifies nothing.
    return false;
  }
}

export const webVerifier: Verifier = { sha256, verify: verifyEd25519 };

/** Makes a new key for this device. */
export async function makeKey(): Promise<KeptKey> {
  if (await hasNativeEd25519()) {
    const pair = await crypto.subtle.generateKey(algorithm, false, ["sign", "verify"]);
    if (!("privateKey" in pair)) throw new TypeError("the browser made no key pair");
    const raw = await crypto.subtle.exportKey("raw", pair.publicKey);
    return { kind: "native", publicKey: toHex(new Uint8Array(raw)), privateKey: pair.privateKey };
  }
  const seed = crypto.getRandomValues(new Uint8Array(32));
  return { kind: "bytes", publicKey: await (await library()).publicKeyOf(seed), seed };
}

export function signerOf(kept: KeptKey): Signer {
  return {
    key: kept.publicKey,
    async sign(message) {
      if (kept.kind === "bytes") return (await library()).signWithLibrary(message, kept.seed);
      return toHex(new Uint8Array(await crypto.subtle.sign(algorithm, kept.privateKey, plain(message))));
    },
  };
}
