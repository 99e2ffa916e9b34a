// Makes an entry: the body is salted and hashed, the envelope names that hash, the envelope's hash is the id, the id is
// signed. Clock, salt and key come from the caller. Refuses a body that has no canonical form (NotCanonicalError) and an
// envelope that is none (RangeError naming every breach): what is signed once can never be taken back.
import { entryText } from "./canonical.ts";
import { bytesOf, fromHex, hashText, toHex } from "./crypto.ts";
import type { Digest, Signer } from "./crypto.ts";
import type { Envelope, Hash, StoredEntry } from "./entry.ts";
import { envelopeFaults } from "./envelope.ts";

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
  const faults = envelopeFaults(envelope);
  if (faults.length > 0 || !/^[0-9a-f]{32}$/u.test(salt))
    throw new RangeError(
      faults.map(({ path, found, wanted }) => `${path}: found ${found}, wanted ${wanted}`).join("; ") ||
        "salt: wanted 32 hex digits",
    );
  const envelopeText = entryText(envelope);
  const id = hashText(sha256, envelopeText);
  return { id, envelope: envelopeText, sig: await signer.sign(signedMessage(id)), salt, body: bodyText };
}
