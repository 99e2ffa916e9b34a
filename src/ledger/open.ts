// Opens a stored entry: proves that its texts are canonical, that its id is the hash of its envelope and its body the one
// that the envelope names, and that the envelope has the shape of entry.ts. The signature is checked apart
// (`isSignedBy`), because it costs a hundred times more and a store that checked once need not check again.
//
// Refuses with code, path, found and wanted; never throws on what somebody sent. What cannot be opened can be laid to
// nobody's door: it is not an entry. Whether an entry counts is another question (acceptance.ts).
import { isInstantText } from "../core/facts/instant.ts";
import { readCanonical } from "./canonical.ts";
import { hashText } from "./crypto.ts";
import type { Digest, Verifier } from "./crypto.ts";
import type { Envelope, Hash, StoredEntry } from "./entry.ts";
import { bodyHash, signedMessage } from "./seal.ts";

export type Opened = {
  readonly id: Hash;
  readonly envelope: Envelope;
  /** Undefined once erased. */
  readonly body: unknown;
  readonly erased: boolean;
  readonly stored: StoredEntry;
};

export type Unreadable = {
  readonly code:
    | "notJson"
    | "notCanonical"
    | "badValue"
    | "idWrong"
    | "shapeWrong"
    | "bodyWrong"
    | "envelopeNewer";
  readonly path: string;
  readonly found: string;
  readonly wanted: string;
};

const hash = /^[0-9a-f]{64}$/u;
const ledger = /^(?:craft|person|base|operator):[a-z0-9-]{1,64}$/u;
const type = /^[a-z][A-Za-z0-9]*(?:\.[A-Za-z0-9]+)*$/u;
const person = /^[a-z0-9][a-z0-9-]{0,63}$/u;
const salt = /^[0-9a-f]{32}$/u;
export const mostParents = 32;

type Rule = readonly [path: keyof Envelope, wanted: string, holds: (value: unknown) => boolean];

const isText =
  (form: RegExp, longest: number) =>
  (value: unknown): boolean =>
    typeof value === "string" && value.length <= longest && form.test(value);
const isCount = (value: unknown): boolean => Number.isSafeInteger(value) && (value as number) >= 0;

function isParents(value: unknown): boolean {
  if (!Array.isArray(value) || value.length > mostParents) return false;
  return value.every(
    (id: unknown, index) =>
      isText(hash, 64)(id) && (index === 0 || (value[index - 1] as string) < (id as string)),
  );
}

function isBasis(value: unknown): boolean {
  if (typeof value !== "object" || value === null || Array.isArray(value)) return false;
  return Object.entries(value).every(
    ([name, held]) => ["sheet", "rules", "settings"].includes(name) && isText(hash, 64)(held),
  );
}

const rules: readonly Rule[] = [
  ["ledger", "craft:, person:, base: or operator: and a name", isText(ledger, 80)],
  ["type", "an entry type, as walk.page", isText(type, 64)],
  ["tv", "a version, 1 or more", (value) => isCount(value) && value !== 0],
  ["key", "64 hex digits", isText(hash, 64)],
  ["seq", "a whole number from 0", isCount],
  ["prev", "null or 64 hex digits", (value) => value === null || isText(hash, 64)(value)],
  ["at", "an instant YYYY-MM-DDTHH:MM:SS.mmmZ", (value) => typeof value === "string" && isInstantText(value)],
  ["by", "the id of a person", isText(person, 64)],
  ["after", `at most ${mostParents} ids, sorted, each once`, isParents],
  ["critical", "true or false", (value) => typeof value === "boolean"],
  ["basis", "hashes of sheet, rules or settings", isBasis],
  ["bodyHash", "64 hex digits", isText(hash, 64)],
];

const names: ReadonlySet<string> = new Set(["v", ...rules.map(([name]) => name)]);

function brief(value: unknown): string {
  return value === undefined ? "nothing" : (JSON.stringify(value) ?? typeof value).slice(0, 80);
}

function envelopeFault(value: unknown): Unreadable | null {
  const wrong = (path: string, found: unknown, wanted: string): Unreadable => ({
    code: "shapeWrong",
    path: `envelope.${path}`,
    found: brief(found),
    wanted,
  });
  if (typeof value !== "object" || value === null || Array.isArray(value)) {
    return { code: "shapeWrong", path: "envelope", found: brief(value), wanted: "an object" };
  }
  const record = value as Readonly<Record<string, unknown>>;
  if (record["v"] !== 1) {
    const newer = isCount(record["v"]) && (record["v"] as number) > 1;
    return { ...wrong("v", record["v"], "1"), code: newer ? "envelopeNewer" : "shapeWrong" };
  }
  for (const name of Object.keys(record))
    if (!names.has(name)) return wrong(name, record[name], "nothing of this name");
  for (const [path, wanted, holds] of rules)
    if (!holds(record[path])) return wrong(path, record[path], wanted);
  if ((record["seq"] === 0) !== (record["prev"] === null)) {
    return wrong("prev", record["prev"], "null exactly at seq 0");
  }
  return null;
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
  return "refusal" in read ? { ...read.refusal, path: `body${read.refusal.path}` } : { body: read.value };
}

/** Everything but the signature. */
export function openEntry(stored: StoredEntry, sha256: Digest): Opened | Unreadable {
  const id = hashText(sha256, stored.envelope);
  if (id !== stored.id) return { code: "idWrong", path: "id", found: brief(stored.id), wanted: id };
  const read = readCanonical(stored.envelope);
  if ("refusal" in read) return { ...read.refusal, path: `envelope${read.refusal.path}` };
  const fault = envelopeFault(read.value);
  if (fault !== null) return fault;
  const envelope = read.value as Envelope;
  const body = bodyFault(stored, envelope, sha256);
  if ("code" in body) return body;
  return { id, envelope, body: body.body, erased: stored.body === null, stored };
}

/**
 * Reads an entry from a store that proved it when it came in: parses and nothing more. Throws (SyntaxError) on a text
 * that is not JSON, which in such a store means damage.
 */
export function reopenEntry(stored: StoredEntry): Opened {
  return {
    id: stored.id,
    envelope: JSON.parse(stored.envelope) as Envelope,
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
