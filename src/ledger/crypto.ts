// The crypto that the ledger needs, as interfaces: passed in, never imported here. Implementations: src/crypto.

export type Digest = (bytes: Uint8Array) => Uint8Array;

export interface Verifier {
  /** SHA-256, synchronous: the ledger hashes small texts and many of them. */
  readonly sha256: Digest;
  /** Ed25519 (RFC 8032), strict: false for a wrong signature, for S ≥ L, and for anything malformed. Never throws. */
  verify(publicKey: string, message: Uint8Array, signature: string): Promise<boolean>;
}

/** One person's key on one device. The private half never leaves the implementation. */
export interface Signer {
  /** Public key, 64 lower-case hex digits. */
  readonly key: string;
  /** Ed25519 signature, 128 lower-case hex digits. */
  sign(message: Uint8Array): Promise<string>;
}

const utf8 = new TextEncoder();

export function bytesOf(text: string): Uint8Array {
  return utf8.encode(text);
}

const hexOfByte = Array.from({ length: 256 }, (_, byte) => byte.toString(16).padStart(2, "0"));

export function toHex(bytes: Uint8Array): string {
  let text = "";
  for (const byte of bytes) text += hexOfByte[byte];
  return text;
}

/** Refuses (RangeError) what is not an even number of lower-case hex digits. */
export function fromHex(text: string): Uint8Array {
  if (text.length % 2 !== 0 || !/^[0-9a-f]*$/u.test(text)) throw new RangeError("not lower-case hex");
  return Uint8Array.from({ length: text.length / 2 }, (_, at) =>
    Number.parseInt(text.slice(2 * at, 2 * at + 2), 16),
  );
}

export function hashText(sha256: Digest, text: string): string {
  return toHex(sha256(bytesOf(text)));
}
