// Makes an entry: the body is salted and hashed, the envelope names that hash, the envelope's hash is the id, the id is
// signed. Clock, salt and key come from the caller. Refuses (NotCanonicalError) a body that has no canonical form.
import { entryText } from "./canonical.ts";
import { bytesOf, fromHex, hashText, toHex } from "./crypto.ts";
import type { Digest, Signer } from "./crypto.ts";
import type { Envelope, Hash, StoredEntry } from "./entry.ts";

/** What is signed: this text, a zero byte, and the id's 32 bytes; so that no signature made for anything else fits. */
const signedHead = bytesOf("preen-entry-v1\0");

export function signedMessage(id: Hash): Uint8Array {
  const idBytes = fromHex(id);
  const message = new Uint8Array(signedHead.length + idBytes.length);
  message.set(signedHead);
  message.set(idBytes, signedHead.length);
  return message;
}

/** SHA-256(salt ‖ canonical text of the body), both as they are stored. */
export function bodyHash(sha256: Digest, salt: string, body: string): Hash {
  const saltBytes = fromHex(salt);
  const bodyBytes = bytesOf(body);
  const both = new Uint8Array(saltBytes.length + bodyBytes.length);
  both.set(saltBytes);
  both.set(bodyBytes, saltBytes.length);
  return toHex(sha256(both));
}

export type Unsealed = Omit<Envelope, "v" | "key" | "bodyHash"> & {
  readonly body: unknown;
  /** 32 hex digits of chance. */
  readonly salt: string;
};

export async function seal(
  { body, salt, ...rest }: Unsealed,
  signer: Signer,
  sha256: Digest,
): Promise<StoredEntry> {
  const bodyText = entryText(body);
  const envelope: Envelope = { v: 1, key: signer.key, bodyHash: bodyHash(sha256, salt, bodyText), ...rest };
  const envelopeText = entryText(envelope);
  const id = hashText(sha256, envelopeText);
  return { id, envelope: envelopeText, sig: await signer.sign(signedMessage(id)), salt, body: bodyText };
}
