// An export: ledgers as lines of JSON (NDJSON), to be kept, carried elsewhere and proven without any server
// (prove-export.ts). Our own format, `preen-export`, version 2:
//
//   line 1     what this is: format, version, when it was made, each ledger with its count and heads, each key with the
//              person in whose name it signed
//   then       one entry a line: its body (null once erased), envelope, id, salt (null once erased) and signature
//   then       one photo a line that an entry names and that is held: its bytes in Base64, and their hash
//   last line  how many entries and photos there were, and the running hash of all lines before it
//
// Version 1 had no photos; it is still read. A photo that was erased by right is never carried.
// Every line is canonical JSON, and so are envelope and body inside it: their texts stand in the line byte for byte, as
// they were hashed and signed. The operator's ledger comes first, since it says whom to believe; each ledger stands in
// the order in which it is folded, what waits for a parent last; photos in the order in which they are named. Same entries,
// same photos, same instant: same bytes.
import { fromBase64, toBase64 } from "./base64.ts";
import { canonicalText } from "./canonical.ts";
import { hashText } from "./crypto.ts";
import type { Digest } from "./crypto.ts";
import type { Hash, LedgerId, StoredEntry } from "./entry.ts";
import { reopenEntry } from "./open.ts";
import { headsOf, orderEntries } from "./order.ts";
import { photosNamed } from "./photos.ts";

export const exportFormat = "preen-export";
export const exportVersion = 2;

export type ExportHead = {
  readonly format: typeof exportFormat;
  readonly version: 1 | typeof exportVersion;
  readonly madeAt: string;
  readonly ledgers: readonly {
    readonly ledger: LedgerId;
    readonly entries: number;
    readonly heads: readonly Hash[];
  }[];
  readonly keys: readonly { readonly key: string; readonly by: string }[];
};

export type ExportEnd = { readonly entries: number; readonly photos: number; readonly running: Hash };

/** The bytes of a photo by its hash; null where they are not at hand, or were erased by right. */
export type PhotoOf = (hash: Hash) => Uint8Array | null;
const noPhotos: PhotoOf = () => null;

/** The lines of an export, without their line ends. `madeAt` is an instant's text. */
export function* exportLines(
  entries: Iterable<StoredEntry>,
  madeAt: string,
  sha256: Digest,
  photoOf: PhotoOf = noPhotos,
): Generator<string, void, undefined> {
  const opened = [...entries].map((stored) => reopenEntry(stored));
  const byLedger = Map.groupBy(opened, ({ envelope }) => envelope.ledger);
  const ledgers = [...byLedger]
    .map(([ledger, held]) => ({ ledger, ...orderEntries(held) }))
    .sort((a, b) => compareLedgers(a.ledger, b.ledger));
  const keys = new Map<string, { readonly key: string; readonly by: string }>();
  for (const { envelope } of [...byLedger.values()].flat()) {
    const { key, by } = envelope;
    keys.set(`${key} ${by}`, { key, by });
  }
  const head: ExportHead = {
    format: exportFormat,
    version: exportVersion,
    madeAt,
    ledgers: ledgers.map(({ ledger, ordered, waiting }) => ({
      ledger,
      entries: ordered.length + waiting.length,
      heads: headsOf(ordered),
    })),
    keys: [...keys.keys()].sort().map((name) => keys.get(name)!),
  };
  let count = 0;
  let running = "";
  const passed = (line: string): string => {
    running = runningHash(sha256, running, line);
    return line;
  };
  yield passed(canonicalText(head));
  for (const { ordered, waiting } of ledgers) {
    for (const { stored } of [...ordered, ...waiting]) {
      count += 1;
      yield passed(lineOf(stored));
    }
  }
  let photos = 0;
  for (const hash of photosNamed(ledgers.flatMap(({ ordered, waiting }) => [...ordered, ...waiting]))) {
    const bytes = photoOf(hash);
    if (bytes === null) continue;
    photos += 1;
    yield passed(`{"data":"${toBase64(bytes)}","photo":"${hash}"}`);
  }
  yield canonicalText({ entries: count, photos, running } satisfies ExportEnd);
}

/** The hash of all lines up to this one; the one before the first line is the empty text. */
export function runningHash(sha256: Digest, before: string, line: string): Hash {
  return hashText(sha256, `${before}\n${line}`);
}

/** The operator's ledgers first, then by name. */
function compareLedgers(a: LedgerId, b: LedgerId): number {
  const [first, second] = [a, b].map((ledger) => ledger.startsWith("operator:"));
  if (first !== second) return first === true ? -1 : 1;
  return a < b ? -1 : 1;
}

function lineOf({ id, envelope, sig, salt, body }: StoredEntry): string {
  const salted = salt === null ? "null" : `"${salt}"`;
  return `{"body":${body ?? "null"},"envelope":${envelope},"id":"${id}","salt":${salted},"sig":"${sig}"}`;
}

const photoLine = /^\{"data":"([A-Za-z0-9+/]*={0,2})","photo":"([0-9a-f]{64})"\}$/u;

/** The photo that a line carries, not proven; null when the line has another form. */
export function photoOfLine(line: string): { readonly hash: Hash; readonly bytes: Uint8Array } | null {
  const [, data, hash] = photoLine.exec(line) ?? [];
  const bytes = data === undefined ? null : fromBase64(data);
  return hash === undefined || bytes === null ? null : { hash, bytes };
}

const tail = /^(\{.*\}),"id":"([0-9a-f]{64})","salt":(null|"[0-9a-f]{32}"),"sig":"([0-9a-f]{128})"\}$/su;

/**
 * The entry that a line carries, its texts as they stand there; null when the line has another form. Nothing of it is
 * proven: that is for openEntry and isSigned.
 */
export function entryOfLine(line: string): StoredEntry | null {
  const mark = ',"envelope":';
  // The last one: no text that an envelope may hold contains a quote, so it is not inside the envelope.
  const at = line.lastIndexOf(mark);
  if (at < 0 || !line.startsWith('{"body":')) return null;
  const body = line.slice('{"body":'.length, at);
  const [, envelope, id, salt, sig] = tail.exec(line.slice(at + mark.length)) ?? [];
  if (envelope === undefined || id === undefined || salt === undefined || sig === undefined) return null;
  if (salt === "null") return body === "null" ? { id, envelope, sig, salt: null, body: null } : null;
  return { id, envelope, sig, salt: salt.slice(1, -1), body };
}
