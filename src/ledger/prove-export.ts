// Proves an export (export.ts) offline: what was altered, what is missing, what nobody signed; and which entries stand
// aside, and why, by the certificates that the export itself carries.
//
// *Faults* speak against the export: with one of them it is not the record that was made. *Doubts* are part of the
// record: entries that do not count, as they are shown in the program too. Nothing is taken from anywhere but the
// lines, the hash and signature functions, and the operator's root key where the reader knows it from elsewhere (without
// it, the export proves only that it agrees with the root that it names itself).
// A photo is proven by the hash under which an entry names it. One that is named and not carried is a doubt: whoever made
// the export did not hold it; one that was erased by right is not missed.
// What no proof can find: entries cut off at the very end of a key's chain that nothing else names, in a file whose head
// and end were rewritten to fit.
import { z } from "zod";
import { isInstantText } from "../core/facts/instant.ts";
import { noTrust } from "./acceptance.ts";
import type { AsideCode, Trust } from "./acceptance.ts";
import { baseLedger } from "./base/base-ledger.ts";
import { craftLedger } from "./craft/craft-ledger.ts";
import { toHex } from "./crypto.ts";
import type { Verifier } from "./crypto.ts";
import type { Hash, LedgerId, StoredEntry } from "./entry.ts";
import { brief } from "./envelope.ts";
import { entryOfLine, exportFormat, exportVersion, photoOfLine, runningHash } from "./export.ts";
import type { ExportHead } from "./export.ts";
import { foldLedger } from "./fold.ts";
import type { Folded, LedgerDefinition } from "./fold.ts";
import { isOpened, isSigned, openEntry } from "./open.ts";
import type { Opened, Unreadable } from "./open.ts";
import { operatorLedger } from "./operator/operator-ledger.ts";
import type { OperatorState } from "./operator/operator-ledger.ts";
import { headsOf, orderEntries, parentsOf } from "./order.ts";
import { readCanonical } from "./parse-strict.ts";
import { photosIn } from "./photos.ts";
import type { ReceiptBody } from "./system-entries.ts";

export type Fault = {
  readonly kind: "altered" | "missing" | "unsigned";
  readonly code:
    | Unreadable["code"]
    | "lineWrong"
    | "headWrong"
    | "endWrong"
    | "runningWrong"
    | "entryTwice"
    | "entryMissing"
    | "bodyMissing"
    | "signatureWrong"
    | "photoWrong"
    | "photoTwice"
    | "photoUnnamed";
  /** Counted from 1; null for what is not there. */
  readonly line: number | null;
  readonly ledger: LedgerId | null;
  /** Of a photo, the hash that its line names. */
  readonly id: Hash | null;
  readonly path: string;
  readonly found: string;
  readonly wanted: string;
};

export type Doubt = {
  readonly ledger: LedgerId;
  readonly id: Hash;
  readonly code: AsideCode | "bodyStillThere" | "photoMissing" | "photoStillThere";
  readonly type: string;
  readonly by: string;
  readonly at_ms: number;
  /** Which photo, where it is about one of those that the entry names. */
  readonly photo?: Hash;
};

export type Proof = {
  /** True without a fault. */
  readonly proven: boolean;
  /** The operator's key that everything was judged by; null when none could be believed. */
  readonly root: string | null;
  readonly ledgers: readonly { readonly ledger: LedgerId; readonly entries: number }[];
  readonly entries: number;
  /** How many are carried and proven, how many that entries name are not there, how many were erased by right. */
  readonly photos: { readonly proven: number; readonly missing: number; readonly erased: number };
  readonly faults: readonly Fault[];
  readonly doubts: readonly Doubt[];
};

type Lines = Iterable<string> | AsyncIterable<string>;
/** An entry whose envelope is proven. `damaged`: its body was not the one that the envelope names, and was left out. */
type Placed = { readonly opened: Opened; readonly line: number; readonly damaged: boolean };

/** `lines` without their line ends; `root` where the reader knows the operator's key. Never throws at what lines hold. */
export async function proveExport(
  lines: Lines,
  verifier: Verifier,
  root: string | null = null,
): Promise<Proof> {
  const reader = new ExportReader(verifier);
  for await (const line of lines) await reader.take(line);
  const { head, placed, lost, photos: carried, faults } = reader.finish();
  const byLedger = Map.groupBy(placed, ({ opened }) => opened.envelope.ledger);
  const trust = trustOf(placed, root);
  const doubts: Doubt[] = [];
  const [erasedPhotos, perhapsErased] = [new Set<Hash>(), new Set<unknown>()];
  for (const [ledger, held] of byLedger) {
    const examined = examine(ledger, held, lost, trust);
    faults.push(...examined.faults);
    doubts.push(...examined.doubts);
    for (const hash of examined.photos.erased) erasedPhotos.add(hash);
    for (const hash of examined.photos.perhaps) perhapsErased.add(hash);
  }
  const photos = examinePhotos(placed, carried, erasedPhotos, {
    isMissed: (hash) => (head?.version ?? 1) >= 2 && !perhapsErased.has(hash),
  });
  faults.push(...photos.faults);
  doubts.push(...photos.doubts);
  if (head !== null) faults.push(...againstHead(head, byLedger));
  return {
    proven: faults.length === 0,
    root: trust.root,
    ledgers: [...byLedger].map(([ledger, held]) => ({ ledger, entries: held.length })),
    entries: placed.length,
    photos: photos.counts,
    faults,
    doubts,
  };
}

const hash = z.string().regex(/^[0-9a-f]{64}$/u);
const headShape = z.strictObject({
  format: z.literal(exportFormat),
  version: z.literal([1, exportVersion]),
  madeAt: z.string().refine(isInstantText),
  ledgers: z.array(z.strictObject({ ledger: z.string(), entries: z.int().min(0), heads: z.array(hash) })),
  keys: z.array(z.strictObject({ key: hash, by: z.string() })),
});
const endShape = z.strictObject({
  entries: z.int().min(0),
  /** Absent in version 1. */
  photos: z.int().min(0).exactOptional(),
  running: hash,
});

const fault = (kind: Fault["kind"], code: Fault["code"], rest: Partial<Fault>): Fault => ({
  kind,
  code,
  line: null,
  ledger: null,
  id: null,
  path: "",
  found: "",
  wanted: "",
  ...rest,
});

/** Takes the lines one by one: each is read when the next has come, since only then is it known not to be the last. */
class ExportReader {
  readonly #verifier: Verifier;
  readonly #faults: Fault[] = [];
  readonly #placed = new Map<Hash, Placed>();
  /** Ids of lines that could not be placed; their fault is told already. */
  readonly #lost = new Set<Hash>();
  /** Photos that are what their lines say, and the line of each. */
  readonly #photos = new Map<Hash, number>();
  #head: ExportHead | null = null;
  #held: string | null = null;
  #running = "";
  #line = 0;
  /** Lines that should be entries, and those that should be photos, whether they could be read or not. */
  #entries = 0;
  #photoLines = 0;

  constructor(verifier: Verifier) {
    this.#verifier = verifier;
  }

  async take(line: string): Promise<void> {
    if (this.#held !== null) await this.#read(this.#held);
    this.#held = line;
  }

  finish(): {
    readonly head: ExportHead | null;
    readonly placed: readonly Placed[];
    readonly lost: ReadonlySet<Hash>;
    readonly photos: ReadonlyMap<Hash, number>;
    readonly faults: Fault[];
  } {
    this.#readEnd(this.#held ?? "");
    return {
      head: this.#head,
      placed: [...this.#placed.values()],
      lost: this.#lost,
      photos: this.#photos,
      faults: this.#faults,
    };
  }

  async #read(line: string): Promise<void> {
    this.#line += 1;
    this.#running = runningHash(this.#verifier.sha256, this.#running, line);
    if (this.#line === 1) this.#readHead(line);
    else if (line.startsWith('{"data":')) this.#readPhoto(line);
    else await this.#readEntry(line);
  }

  #readHead(line: string): void {
    this.#head = this.#shaped(line, headShape, "headWrong", "the head of an export");
  }

  #readEnd(line: string): void {
    this.#line += 1;
    const end = this.#shaped(line, endShape, "endWrong", "the end of an export");
    if (end === null) return;
    const at = { line: this.#line };
    if (end.running !== this.#running) {
      const [found, wanted] = [end.running, this.#running];
      this.#faults.push(fault("altered", "runningWrong", { ...at, path: "running", found, wanted }));
    }
    if (end.entries !== this.#entries) {
      const [found, wanted] = [`${this.#entries} entries`, `${end.entries}`];
      this.#faults.push(fault("missing", "endWrong", { ...at, path: "entries", found, wanted }));
    }
    const photos = this.#head?.version === 1 ? undefined : this.#photoLines;
    if (end.photos !== photos) {
      const [found, wanted] = [`${this.#photoLines} photos`, `${end.photos ?? "none"}`];
      this.#faults.push(fault("missing", "endWrong", { ...at, path: "photos", found, wanted }));
    }
  }

  #readPhoto(line: string): void {
    this.#photoLines += 1;
    const at = { line: this.#line };
    const photo = photoOfLine(line);
    if (photo === null) {
      this.#faults.push(fault("altered", "lineWrong", { ...at, found: brief(line), wanted: "a photo" }));
      return;
    }
    const found = toHex(this.#verifier.sha256(photo.bytes));
    const id = photo.hash;
    if (found !== id)
      this.#faults.push(fault("altered", "photoWrong", { ...at, id, path: "data", found, wanted: id }));
    else if (this.#photos.has(id)) {
      const told = { path: "photo", found: "it again", wanted: "each photo once" };
      this.#faults.push(fault("altered", "photoTwice", { ...at, id, ...told }));
    } else this.#photos.set(id, this.#line);
  }

  #shaped<T>(line: string, shape: z.ZodType<T>, code: "headWrong" | "endWrong", wanted: string): T | null {
    const read = readCanonical(line);
    const parsed = "value" in read ? shape.safeParse(read.value) : null;
    if (parsed?.success === true) return parsed.data;
    const issue = parsed?.error.issues[0];
    const told =
      "refusal" in read
        ? { path: read.refusal.path, found: read.refusal.found, wanted: read.refusal.wanted }
        : { path: issue?.path.join(".") ?? "", found: brief(read.value), wanted: issue?.message ?? wanted };
    const kind = line === "" ? "missing" : "altered";
    this.#faults.push(fault(kind, code, { line: this.#line, ...told }));
    return null;
  }

  async #readEntry(line: string): Promise<void> {
    this.#entries += 1;
    const at = { line: this.#line };
    const stored = entryOfLine(line);
    if (stored === null) {
      this.#faults.push(fault("altered", "lineWrong", { ...at, found: brief(line), wanted: "an entry" }));
      return;
    }
    const opened = this.#open(stored);
    if (opened === null) this.#lost.add(stored.id);
    else await this.#place(opened.entry, opened.damaged);
  }

  /** Where only the body is wrong, the entry without it. */
  #open(stored: StoredEntry): { readonly entry: Opened; readonly damaged: boolean } | null {
    const { sha256 } = this.#verifier;
    const opened = openEntry(stored, sha256);
    if (isOpened(opened)) return { entry: opened, damaged: false };
    const { code, path, found, wanted } = opened;
    this.#faults.push(fault("altered", code, { line: this.#line, id: stored.id, path, found, wanted }));
    const bare = openEntry({ ...stored, salt: null, body: null }, sha256);
    return isOpened(bare) ? { entry: bare, damaged: true } : null;
  }

  async #place(opened: Opened, damaged: boolean): Promise<void> {
    const { id, stored } = opened;
    const { ledger, key } = opened.envelope;
    const at = { line: this.#line, ledger, id };
    if (!(await isSigned(opened, this.#verifier))) {
      const told = { path: "sig", found: stored.sig, wanted: `a signature of key ${key}` };
      this.#faults.push(fault("unsigned", "signatureWrong", { ...at, ...told }));
      this.#lost.add(id);
      return;
    }
    const other = this.#placed.get(id);
    if (other === undefined) {
      this.#placed.set(id, { opened, line: this.#line, damaged });
      return;
    }
    const told = { path: "id", found: `the entry of line ${other.line} again`, wanted: "each entry once" };
    this.#faults.push(fault("altered", "entryTwice", { ...at, ...told }));
  }
}

/** What the operator's ledger in the export says; of several that were opened by right none is believed. */
function trustOf(placed: readonly Placed[], root: string | null): Trust {
  const pinned: Trust = { ...noTrust, root };
  const own = placed.map(({ opened }) => opened).filter(isOperators);
  const folds = [...Map.groupBy(own, ({ envelope }) => envelope.ledger).values()]
    .map((entries) => foldLedger(operatorLedger, entries, pinned))
    .filter(({ state }) => state.opened !== null);
  return folds.length === 1 ? folds[0]!.believed : pinned;
}

function isOperators({ envelope }: Opened): boolean {
  return envelope.ledger.startsWith("operator:");
}

/** The operator's types, with whom to believe found already. */
const operatorTypes: LedgerDefinition<OperatorState> = {
  ...operatorLedger,
  trustSource: { ...operatorLedger.trustSource!, rootIn: () => null },
};

/** Folds a ledger by the types that are known for its kind; of others only the structure can be judged. */
function foldOf(ledger: LedgerId, entries: readonly Opened[], trust: Trust): Folded<object> {
  if (ledger.startsWith("operator:")) return foldLedger(operatorTypes, entries, trust);
  if (ledger.startsWith("craft:")) return foldLedger(craftLedger, entries, trust);
  if (ledger.startsWith("base:")) return foldLedger(baseLedger, entries, trust);
  return foldLedger<object>({ initial: {}, types: [] }, entries, trust);
}

function examine(
  ledger: LedgerId,
  held: readonly Placed[],
  lost: ReadonlySet<Hash>,
  trust: Trust,
): {
  readonly faults: readonly Fault[];
  readonly doubts: readonly Doubt[];
  readonly photos: { readonly erased: ReadonlySet<Hash>; readonly perhaps: ReadonlySet<unknown> };
} {
  const entries = held.map(({ opened }) => opened);
  const { aside, erased, erasedPhotos, waiting } = foldOf(ledger, entries, trust);
  const isTyped = /^(?:operator|craft|base):/u.test(ledger);
  const doubts: Doubt[] = aside
    .filter(({ code }) => isTyped || code !== "unknownType")
    .map(({ id, type, code, by, at_ms }) => ({ ledger, id, type, code, by, at_ms }));
  const faults: Fault[] = [];
  // What erasures that wait for a parent would be worth cannot be known here.
  const perhaps = namedByWaiting(waiting, "erase", "entry");
  const perhapsPhotos = namedByWaiting(waiting, "photo.erased", "photo");
  for (const { opened, line, damaged } of held) {
    const { id, envelope, at_ms } = opened;
    if (erased.has(id) && !opened.erased) {
      const { type, by } = envelope;
      doubts.push({ ledger, id, code: "bodyStillThere", type, by, at_ms });
    }
    if (opened.erased && !damaged && !erased.has(id) && !perhaps.has(id)) {
      const told = { path: "body", found: "no body", wanted: "a body, or an erasure by right" };
      faults.push(fault("missing", "bodyMissing", { line, ledger, id, ...told }));
    }
  }
  const present = new Set(entries.map(({ id }) => id));
  for (const [id, namedBy] of namedIn(held)) {
    if (present.has(id) || lost.has(id)) continue;
    const told = { path: namedBy.path, found: "nothing", wanted: `the entry that ${namedBy.id} names` };
    faults.push(fault("missing", "entryMissing", { ledger, id, ...told }));
  }
  return { faults, doubts, photos: { erased: erasedPhotos, perhaps: perhapsPhotos } };
}

function namedByWaiting(waiting: readonly Opened[], type: string, key: string): ReadonlySet<unknown> {
  const waitingErasures = waiting.filter(({ envelope }) => envelope.type === type);
  return new Set(
    waitingErasures.map(({ body }) => (body as Readonly<Record<string, unknown>> | null | undefined)?.[key]),
  );
}

/** What entries say of photos, held against those that the lines carry. `isMissed`: whether one not carried should be. */
function examinePhotos(
  placed: readonly Placed[],
  carried: ReadonlyMap<Hash, number>,
  erased: ReadonlySet<Hash>,
  { isMissed }: { readonly isMissed: (hash: Hash) => boolean },
): Pick<Proof, "faults" | "doubts"> & { readonly counts: Proof["photos"] } {
  const doubts: Doubt[] = [];
  const named = new Map<Hash, Opened>();
  for (const { opened } of placed)
    for (const photo of photosIn(opened.body)) if (!named.has(photo)) named.set(photo, opened);
  for (const [photo, { id, envelope, at_ms }] of named) {
    const { ledger, type, by } = envelope;
    const about = { ledger, id, type, by, at_ms, photo };
    if (carried.has(photo) && erased.has(photo)) doubts.push({ ...about, code: "photoStillThere" });
    if (!carried.has(photo) && !erased.has(photo) && isMissed(photo))
      doubts.push({ ...about, code: "photoMissing" });
  }
  const faults = [...carried]
    .filter(([photo]) => !named.has(photo))
    .map(([id, line]) => {
      const told = { path: "photo", found: "a photo", wanted: "one that an entry names" };
      return fault("unsigned", "photoUnnamed", { line, id, ...told });
    });
  const missing = doubts.filter(({ code }) => code === "photoMissing").length;
  const counts = { proven: carried.size - faults.length, missing, erased: erased.size };
  return { faults, doubts, counts };
}

/** Every entry that another of its ledger says there is, and who says so. */
function namedIn(held: readonly Placed[]): ReadonlyMap<Hash, { readonly id: Hash; readonly path: string }> {
  const named = new Map<Hash, { readonly id: Hash; readonly path: string }>();
  for (const { opened } of held) {
    const { id, envelope, body } = opened;
    for (const parent of parentsOf(opened))
      named.set(parent, { id, path: envelope.prev === parent ? "envelope.prev" : "envelope.after" });
    if (envelope.type === "receipt" && isReceipt(body))
      for (const line of body.entries) named.set(line.id, { id, path: "body.entries" });
  }
  return named;
}

function isReceipt(body: unknown): body is ReceiptBody {
  return z.object({ entries: z.array(z.object({ id: hash })) }).safeParse(body).success;
}

/** What the head says of the ledgers, held against what the lines hold. */
function againstHead(head: ExportHead, byLedger: ReadonlyMap<LedgerId, readonly Placed[]>): readonly Fault[] {
  const faults: Fault[] = [];
  const said = new Map(head.ledgers.map((each) => [each.ledger, each]));
  for (const ledger of new Set([...said.keys(), ...byLedger.keys()])) {
    const held = byLedger.get(ledger) ?? [];
    const heads = headsOf(orderEntries(held.map(({ opened }) => opened)).ordered);
    const [found, wanted] = [
      { entries: held.length, heads },
      { entries: said.get(ledger)?.entries ?? 0, heads: said.get(ledger)?.heads ?? [] },
    ].map((each) => JSON.stringify(each));
    if (found === wanted) continue;
    const kind = held.length < (said.get(ledger)?.entries ?? 0) ? "missing" : "altered";
    const told = { path: "ledgers", found: found!, wanted: wanted! };
    faults.push(fault(kind, "headWrong", { line: 1, ledger, ...told }));
  }
  const signers = [...byLedger.values()]
    .flat()
    .map(({ opened: { envelope } }) => `${envelope.key} ${envelope.by}`);
  const found = [...new Set(signers)].sort().join(", ");
  const wanted = head.keys.map(({ key, by }) => `${key} ${by}`).join(", ");
  if (found !== wanted) faults.push(fault("altered", "headWrong", { line: 1, path: "keys", found, wanted }));
  return faults;
}
