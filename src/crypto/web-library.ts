// Ed25519 for browsers that lack it: @noble/ed25519, an audited library, held to RFC 8032 as strictly as the browsers are.
// Vectors: published/crypto.test.ts.
import { Point, getPublicKeyAsync, hashes, signAsync, verifyAsync } from "@noble/ed25519";
import { sha512 } from "@noble/hashes/sha2.js";
import { fromHex, toHex } from "../ledger/crypto.ts";

hashes.sha512 = sha512;

const groupOrder = Point.CURVE().n;

function littleEndian(bytes: Uint8Array): bigint {
  return bytes.reduceRight((sum, byte) => sum * 256n + BigInt(byte), 0n);
}

/**
 * Whether R is exactly [S]B − [k]A (RFC 8032 §5.1.7 without the factor 8). The library multiplies by the cofactor, which
 * lets through crafted signatures that OpenSSL and the browsers refuse; devices would disagree about an entry for ever.
 */
function isExact(publicKey: Uint8Array, message: Uint8Array, signature: Uint8Array): boolean {
  const r = signature.subarray(0, 32);
  const s = littleEndian(signature.subarray(32));
  const hashed = sha512.create().update(r).update(publicKey).update(message).digest();
  const k = littleEndian(hashed) % groupOrder;
  const found = Point.BASE.multiply(s, false).subtract(Point.fromBytes(publicKey).multiply(k, false));
  return toHex(found.toBytes()) === toHex(r);
}

/** The fallback alone, for browsers without native Ed25519; RFC 8032 rules, not the laxer ones of ZIP 215. */
export async function verifyWithLibrary(
  publicKey: string,
  message: Uint8Array,
  signature: string,
): Promise<boolean> {
  try {
    const [key, signed] = [fromHex(publicKey), fromHex(signature)];
    return (await verifyAsync(signed, message, key, { zip215: false })) && isExact(key, message, signed);
  } catch {
    return false;
  }
}

export async function publicKeyOf(seed: Uint8Array): Promise<string> {
  return toHex(await getPublicKeyAsync(seed));
}

export async function signWithLibrary(message: Uint8Array, seed: Uint8Array): Promise<string> {
  return toHex(await signAsync(message, seed));
}
