// Opens a stored entry: proves that its texts are canonical, that its id is the hash of its envelope and its body the one
// that the envelope names, and that the envelope has the shape of entry.ts. The signature is checked apart
// (`isSignedBy`), because it costs a hundred times more and a store that checked once need not check again.
//
// Refuses with code, path, found and wanted; never throws on what somebody sent. What cannot be opened can be laid to
// nobody's door: it is not an entry. Whether an entry counts is another question (acceptance.ts).
import { instantToMs } from "../core/facts/instant.ts";
import type { CanonicalRefusal } from "./canonical.ts";
import { hashText } from "./crypto.ts";
import type { Digest, Verifier } from "./crypto.ts";
import type { Envelope, Hash, StoredEntry } from "./entry.ts";
import { brief, envelopeFaults } from "./envelope.ts";
import type { EnvelopeFault } from "./envelope.ts";
import { readCanonical } from "./parse-strict.ts";
import { bodyHash, signedMessage } from "./seal.ts";

export type Opened = {
  readonly id: Hash;
  readonly envelope: Envelope;
  /** The envelope's `at`. */
  readonly at_ms: number;
  /** Undefined once erased. */
  readonly body: unknown;
  readonly erased: boolean;
  readonly stored: StoredEntry;
};

export type Unreadable = {
  readonly code: CanonicalRefusal["code"] | EnvelopeFault["code"] | "idWrong" | "bodyWrong";
  readonly path: string;
  readonly found: string;
  readonly wanted: string;
};

const salt = /^[0-9a-f]{32}$/u;

function within(part: "envelope" | "body", refusal: CanonicalRefusal): Unreadable {
  const { path } = refusal;
  return { ...refusal, path: path.startsWith("character") ? `${part} at ${path}` : `${part}${path}` };
}

function bodyFault(
  stored: StoredEntry,
  envelope: Envelope,
  sha256: Digest,
): Unreadable | { readonly body: unknown } {
  if (stored.salt === null || stored.body === null) {
    return stored.salt === stored.body
      ? { body: undefined }
      : {
          code: "bodyWrong",
          path: "body",
          found: "one of salt and body",
          wanted: "both, or neither once erased",
        };
  }
  if (!salt.test(stored.salt)) {
    return { code: "bodyWrong", path: "salt", found: brief(stored.salt), wanted: "32 hex digits" };
  }
  const found = bodyHash(sha256, stored.salt, stored.body);
  if (found !== envelope.bodyHash)
    return { code: "bodyWrong", path: "body", found, wanted: envelope.bodyHash };
  const read = readCanonical(stored.body);
  return "refusal" in read ? within("body", read.refusal) : { body: read.value };
}

/** Everything but the signature. */
export function openEntry(stored: StoredEntry, sha256: Digest): Opened | Unreadable {
  const id = hashText(sha256, stored.envelope);
  if (id !== stored.id) return { code: "idWrong", path: "id", found: brief(stored.id), wanted: id };
  const read = readCanonical(stored.envelope);
  if ("refusal" in read) return within("envelope", read.refusal);
  const [fault] = envelopeFaults(read.value);
  if (fault !== undefined) return fault;
  const envelope = read.value as Envelope;
  const body = bodyFault(stored, envelope, sha256);
  if ("code" in body) return body;
  const erased = stored.body === null;
  return { id, envelope, at_ms: instantToMs(envelope.at), body: body.body, erased, stored };
}

/**
 * Reads an entry from a store that proved it when it came in: parses and nothing more. Throws (SyntaxError) on a text
 * that is not JSON, which in such a store means damage.
 */
export function reopenEntry(stored: StoredEntry): Opened {
  const envelope = JSON.parse(stored.envelope) as Envelope;
  return {
    id: stored.id,
    envelope,
    at_ms: instantToMs(envelope.at),
    body: stored.body === null ? undefined : (JSON.parse(stored.body) as unknown),
    erased: stored.body === null,
    stored,
  };
}

export function isOpened(result: Opened | Unreadable): result is Opened {
  return "envelope" in result;
}

/** Whether the signature is the key's own over this id. */
export function isSigned(opened: Opened, { verify }: Pick<Verifier, "verify">): Promise<boolean> {
  return verify(opened.envelope.key, signedMessage(opened.id), opened.stored.sig);
}
