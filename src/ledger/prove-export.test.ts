import { beforeAll, describe, expect, test } from "vitest";
import { nodeVerifier, sha256, signerFromSeed } from "../crypto/node.ts";
import { hour_ms, msToInstant } from "../core/facts/instant.ts";
import { noTrust } from "./acceptance.ts";
import { canonicalText } from "./canonical.ts";
import { toBase64 } from "./base64.ts";
import { bytesOf, toHex } from "./crypto.ts";
import type { Signer, Verifier } from "./crypto.ts";
import type { StoredEntry } from "./entry.ts";
import { foldLedger } from "./fold.ts";
import type { LedgerDefinition } from "./fold.ts";
import { entryOfLine, exportLines, photoOfLine, runningHash } from "./export.ts";
import type { ExportHead } from "./export.ts";
import { LedgerFold } from "./ledger-fold.ts";
import { isOpened, openEntry, reopenEntry } from "./open.ts";
import type { Opened } from "./open.ts";
import { operatorLedger } from "./operator/operator-ledger.ts";
import { photosErased } from "./photos.ts";
import { proveExport } from "./prove-export.ts";
import type { Proof } from "./prove-export.ts";
import { seal } from "./seal.ts";
import { writeNext } from "./write-next.ts";

const begun_ms = Date.UTC(2026, 4, 1, 6);
const madeAt = msToInstant(begun_ms + 24 * hour_ms);
const signerOf = (name: string): Signer => signerFromSeed(sha256(bytesOf(`the test's key of ${name}`)));
const [root, server, admin, pilot] = ["root", "server", "admin", "pilot"].map(signerOf) as [
  Signer,
  Signer,
  Signer,
  Signer,
];
const notes = "person:p-pilot";
const office = "operator:test";
const anything: LedgerDefinition<object> = { initial: {}, types: [] };

// The same few signatures are checked for thousands of damaged copies.
const known = new Map<string, Promise<boolean>>();
const verifier: Verifier = {
  sha256,
  verify(key, message, signature) {
    const name = `${key} ${signature} ${Buffer.from(message).toString("hex")}`;
    const held = known.get(name) ?? nodeVerifier.verify(key, message, signature);
    known.set(name, held);
    return held;
  },
};

/** Two ledgers, truly signed: an operator with three certificates, and notes of a pilot, of which one is erased. */
class Book {
  readonly entries: StoredEntry[] = [];
  readonly #folds = new Map<string, LedgerFold<object>>();
  #count = 0;

  async write(signer: Signer, by: string, ledger: string, type: string, body: unknown): Promise<Opened> {
    this.#count += 1;
    const definition = (ledger === office ? operatorLedger : anything) as LedgerDefinition<object>;
    const fold = this.#folds.get(ledger) ?? new LedgerFold(definition, [], noTrust);
    this.#folds.set(ledger, fold);
    const at_ms = begun_ms + this.#count * 60_000;
    const salt = this.#count.toString(16).padStart(32, "0");
    const stored = await writeNext(fold, { ledger, type, body, by, at_ms, basis: {}, salt }, signer, sha256);
    this.entries.push(stored);
    fold.add([reopenEntry(stored)]);
    return reopenEntry(stored);
  }

  certify(
    whom: Signer,
    person: string,
    roles: readonly string[],
    until: string | null = null,
  ): Promise<Opened> {
    const body = { key: whom.key, person, roles, from: msToInstant(begun_ms), until };
    return this.write(root, "operator", office, "key.certified", body);
  }
}

async function wholeBook(): Promise<Book> {
  const made = new Book();
  const at = msToInstant(begun_ms);
  await made.write(root, "operator", office, "operator.opened", {
    name: "Testfjord Air",
    root: root.key,
    at,
  });
  await made.certify(server, "server", ["server"]);
  await made.certify(admin, "p-admin", ["administrator"]);
  await made.certify(pilot, "p-pilot", ["pilot"]);
  const note = (words: string): Promise<Opened> =>
    made.write(pilot, "p-pilot", notes, "note.taken", { words });
  const kept = await note("kept: 0.5 l, “öl”");
  const gone = await note("gone");
  const received = [kept, gone].map(({ id }) => ({
    id,
    receivedAt: msToInstant(begun_ms + hour_ms),
    verdict: "accepted",
    code: null,
  }));
  await made.write(server, "server", notes, "receipt", { entries: received });
  await made.write(admin, "p-admin", notes, "erase", {
    entry: gone.id,
    role: "administrator",
    legalReason: "asked for",
  });
  await note("the last one");
  const at5 = made.entries.findIndex(({ id }) => id === gone.id);
  made.entries[at5] = { ...made.entries[at5]!, salt: null, body: null };
  return made;
}

let entries: readonly StoredEntry[];
let lines: readonly string[];
beforeAll(async () => {
  ({ entries } = await wholeBook());
  lines = [...exportLines(entries, madeAt, sha256)];
});

/** Lines with an end that fits them, as somebody would make it who has changed the file and knows the format. */
function ended(text: readonly string[], photos: number): readonly string[] {
  let running = "";
  for (const line of text) running = runningHash(sha256, running, line);
  return [...text, canonicalText({ entries: text.length - 1 - photos, photos, running })];
}

/** Writes head and end anew, as somebody would who has changed the file and knows the format. */
function refitted(changed: readonly StoredEntry[]): readonly string[] {
  return [...exportLines(changed, madeAt, sha256)];
}

const told = ({ faults }: Proof): readonly (readonly [string, string, string | null])[] =>
  faults.map(({ kind, code, id }) => [kind, code, id]);
const prove = (text: readonly string[], known_root: string | null = root.key): Promise<Proof> =>
  proveExport(text, verifier, known_root);

describe("an export", () => {
  test("is proven whole, by the root that the reader knows and by the one that it names itself", async () => {
    const proof = await prove(lines);
    expect(proof).toEqual({
      proven: true,
      root: root.key,
      ledgers: [
        { ledger: office, entries: 4 },
        { ledger: notes, entries: 5 },
      ],
      entries: 9,
      photos: { proven: 0, missing: 0, erased: 0 },
      faults: [],
      // The erased note stays a doubt until somebody settles it.
      doubts: [expect.objectContaining({ ledger: notes, code: "erased", by: "p-pilot" })],
    });
    expect(await prove(lines, null)).toEqual(proof);
  });

  test("carries every entry byte for byte, erased ones without their body", () => {
    const carried = lines.slice(1, -1).map(entryOfLine);
    expect(new Set(carried)).toEqual(new Set(entries));
    expect(carried.filter((entry) => entry?.body === null)).toHaveLength(1);
  });

  test("has the same bytes in whatever order the entries are given, and every line is canonical", () => {
    expect(refitted(entries.toReversed())).toEqual(lines);
    for (const line of lines) expect(canonicalText(JSON.parse(line))).toBe(line);
    expect(lines.map((line) => JSON.parse(line) as unknown)[0]).toMatchObject({
      format: "preen-export",
      version: 2,
      madeAt,
      ledgers: [{ ledger: office }, { ledger: notes, entries: 5 }],
    });
  });

  test("of nothing is proven to hold nothing", async () => {
    const proof = await prove([...exportLines([], madeAt, sha256)]);
    expect(proof).toMatchObject({ proven: true, entries: 0, ledgers: [], doubts: [] });
  });

  test("carries a body that looks like the rest of a line, and one that is null", async () => {
    const made = await wholeBook();
    const sly = '","envelope":{"v":1},"id":"';
    await made.write(pilot, "p-pilot", notes, "note.taken", { words: sly, envelope: { v: 1 } });
    await made.write(pilot, "p-pilot", notes, "note.taken", null);
    const text = refitted(made.entries);
    expect(new Set(text.slice(1, -1).map(entryOfLine))).toEqual(new Set(made.entries));
    expect((await prove(text)).proven).toBe(true);
  });
});

describe("damage to an export", () => {
  test("of any one byte is found, wherever it is", async () => {
    const made = new Book();
    const at0 = msToInstant(begun_ms);
    await made.write(root, "operator", office, "operator.opened", { name: "Ø", root: root.key, at: at0 });
    await made.write(pilot, "p-pilot", notes, "note.taken", { words: "“öl” \\ 0.5" });
    await made.write(pilot, "p-pilot", notes, "note.taken", {});
    const small = refitted(made.entries);
    expect((await prove(small)).proven).toBe(true);
    const bytes = new TextEncoder().encode(`${small.join("\n")}\n`);
    const unnoticed: number[] = [];
    for (let at = 0; at < bytes.length; at += 1) {
      const damaged = bytes.slice();
      damaged[at] = damaged[at]! ^ (1 << (at % 8));
      const text = new TextDecoder().decode(damaged).replace(/\n$/u, "");
      if ((await prove(text.split("\n"))).proven) unnoticed.push(at);
    }
    expect(bytes.length).toBeGreaterThan(2_000);
    expect(unnoticed).toEqual([]);
  });

  test("of an entry's text is laid to that entry, also when head and end were made to fit", async () => {
    const at = entries.findIndex(({ body }) => body?.includes("kept") === true);
    const victim = entries[at]!;
    const change = async (part: Partial<StoredEntry>): Promise<Proof> =>
      prove(refitted(entries.with(at, { ...victim, ...part })));
    expect(told(await change({ body: victim.body!.replace("0.5", "5.0") }))).toEqual([
      ["altered", "bodyWrong", victim.id],
    ]);
    expect(told(await change({ sig: entries[0]!.sig }))[0]).toEqual([
      "unsigned",
      "signatureWrong",
      victim.id,
    ]);
    const envelope = victim.envelope.replace('"tv":1', '"tv":2');
    expect(told(await change({ envelope }))[0]).toEqual(["altered", "idWrong", victim.id]);
    expect(told(await change({ body: null, salt: null }))).toEqual([["missing", "bodyMissing", victim.id]]);
  });

  test("by leaving out an entry is laid to it, though the file was made to fit", async () => {
    for (const [at, { id }] of entries.entries()) {
      const proof = await prove(refitted(entries.toSpliced(at, 1)));
      const isLast = !entries.some(({ envelope, body }) => `${envelope}${body}`.includes(id));
      // The end of a chain that nothing names is what no proof can miss.
      expect([id, proof.proven]).toEqual([id, isLast]);
      if (isLast) continue;
      expect(told(proof)).toContainEqual(["missing", "entryMissing", id]);
      // An erasure that waits for the missing entry is not held against the body that it took.
      const { ledger, type } = reopenEntry(entries[at]!).envelope;
      const misnamed = told(proof).filter(([, code]) => code === "bodyMissing");
      if (ledger === notes && type !== "erase" && entries[at]!.body !== null) expect(misnamed).toEqual([]);
    }
  });

  test("by leaving out, doubling, turning or adding lines is found", async () => {
    const line = lines[5]!;
    const damaged: Readonly<Record<string, readonly string[]>> = {
      "no end": lines.slice(0, -1),
      "no head": lines.slice(1),
      nothing: [],
      "a line less": lines.toSpliced(5, 1),
      "the last entry less": lines.toSpliced(-2, 1),
      "a line twice": lines.toSpliced(5, 0, line),
      "two lines turned": lines.with(5, lines[6]!).with(6, line),
      "an empty line": lines.toSpliced(5, 0, ""),
      "something after the end": [...lines, line],
      "another instant": lines.with(0, lines[0]!.replace("2026-05-02", "2026-05-03")),
      "a newer format": lines.with(0, lines[0]!.replace('"version":2', '"version":3')),
    };
    for (const [what, text] of Object.entries(damaged))
      expect([what, (await prove(text)).faults.length > 0]).toEqual([what, true]);
  });

  test("by a head that tells another count, another head or another key, though the end was made to fit, is found", async () => {
    const head = JSON.parse(lines[0]!) as ExportHead;
    const [first, ...others] = head.ledgers;
    const lies: readonly ExportHead[] = [
      { ...head, ledgers: [{ ...first!, entries: first!.entries + 1 }, ...others] },
      { ...head, ledgers: [{ ...first!, heads: [entries[0]!.id] }, ...others] },
      { ...head, ledgers: others },
      { ...head, keys: head.keys.slice(1) },
      { ...head, keys: head.keys.map(({ key }) => ({ key, by: "p-other" })) },
    ];
    for (const lie of lies) {
      const text = [canonicalText(lie), ...lines.slice(1, -1)];
      const proof = await prove(ended(text, 0));
      expect(proof.faults.map(({ code, line }) => [code, line])).toEqual([["headWrong", 1]]);
    }
  });

  test("by an entry twice, with head and end made to fit, is found", async () => {
    const twice = lines.toSpliced(6, 0, lines[5]!);
    expect(told(await prove(ended(twice.slice(0, -1), 0)))).toEqual([
      ["altered", "entryTwice", entryOfLine(lines[5]!)!.id],
    ]);
  });
});

describe("the photos of an export", () => {
  const one = bytesOf("the bytes of one photo");
  const other = bytesOf("the bytes of another");
  const [oneHash, otherHash] = [one, other].map((bytes) => toHex(sha256(bytes))) as [string, string];
  const shelf = new Map([
    [oneHash, one],
    [otherHash, other],
  ]);
  /** Two notes that name photos; one of both is named twice. */
  async function pictured(): Promise<Book> {
    const made = await wholeBook();
    const photos = (hashes: readonly string[]): unknown => ({ photos: hashes.map((hash) => ({ hash })) });
    await made.write(pilot, "p-pilot", notes, "note.taken", photos([oneHash]));
    await made.write(pilot, "p-pilot", notes, "note.taken", photos([otherHash, oneHash]));
    return made;
  }
  const erase = (made: Book, by: Signer, person: string): Promise<Opened> =>
    made.write(by, person, notes, "photo.erased", {
      photo: oneHash,
      role: "administrator",
      legalReason: "shows a face",
    });
  const exported = (made: Book, held: ReadonlyMap<string, Uint8Array>): readonly string[] => [
    ...exportLines(made.entries, madeAt, sha256, (hash) => held.get(hash) ?? null),
  ];
  const about = ({ doubts }: Proof): readonly (readonly [string, string])[] =>
    doubts.flatMap(({ code, photo }) => (photo === undefined ? [] : [[code, photo] as const]));

  test("are carried once each, and proven by the hash under which an entry names them", async () => {
    const text = exported(await pictured(), shelf);
    expect(text.slice(-3, -1).map(photoOfLine)).toEqual([
      { hash: oneHash, bytes: one },
      { hash: otherHash, bytes: other },
    ]);
    const proof = await prove(text);
    expect(proof).toMatchObject({ proven: true, photos: { proven: 2, missing: 0, erased: 0 } });
    for (const line of text) expect(canonicalText(JSON.parse(line))).toBe(line);
  });

  test("that whoever exported did not hold are named with the entry that names them", async () => {
    const made = await pictured();
    const proof = await prove(exported(made, new Map([[otherHash, other]])));
    expect(proof).toMatchObject({ proven: true, photos: { proven: 1, missing: 1, erased: 0 } });
    expect(proof.doubts.find(({ code }) => code === "photoMissing")).toMatchObject({
      photo: oneHash,
      id: made.entries.at(-2)!.id,
    });
  });

  test("with any one byte flipped are not proven, whichever byte of the whole file it is", async () => {
    const made = await pictured();
    const text = exported(made, shelf);
    const bytes = new TextEncoder().encode(`${text.join("\n")}\n`);
    const photosBegin = new TextDecoder().decode(bytes).indexOf('{"data":');
    const unnoticed: number[] = [];
    for (let at = photosBegin; at < bytes.length; at += 1) {
      const damaged = bytes.slice();
      damaged[at] = damaged[at]! ^ (1 << (at % 8));
      const wrong = new TextDecoder().decode(damaged).replace(/\n$/u, "");
      if ((await prove(wrong.split("\n"))).proven) unnoticed.push(at);
    }
    expect(bytes.length - photosBegin).toBeGreaterThan(250);
    expect(unnoticed).toEqual([]);
  });

  test("that were altered, doubled, added or left out are found, though the end was made to fit", async () => {
    const text = exported(await pictured(), shelf).slice(0, -1);
    const [last, before] = [text.at(-1)!, text.at(-2)!];
    const altered = last.replace(toBase64(other), toBase64(bytesOf("other bytes altogether")));
    expect(told(await prove(ended([...text.slice(0, -1), altered], 2)))).toEqual([
      ["altered", "photoWrong", otherHash],
    ]);
    expect(told(await prove(ended([...text, last], 3)))).toEqual([["altered", "photoTwice", otherHash]]);
    const stray = bytesOf("a photo that nobody names");
    const strayHash = toHex(sha256(stray));
    const added = before.replace(toBase64(one), toBase64(stray)).replace(oneHash, strayHash);
    expect(told(await prove(ended([...text, added], 3)))).toEqual([["unsigned", "photoUnnamed", strayHash]]);
    expect(told(await prove(ended(text.slice(0, -1), 2)))).toEqual([
      ["missing", "endWrong", null],
      ["missing", "endWrong", null],
    ]);
    expect(about(await prove(ended(text.slice(0, -1), 1)))).toEqual([["photoMissing", otherHash]]);
  });

  test("that were erased by right are not missed, and told where they are carried all the same", async () => {
    const made = await pictured();
    await erase(made, admin, "p-admin");
    const without = await prove(exported(made, new Map([[otherHash, other]])));
    expect(without).toMatchObject({ proven: true, photos: { proven: 1, missing: 0, erased: 1 } });
    expect(about(without)).toEqual([]);
    expect(about(await prove(exported(made, shelf)))).toEqual([["photoStillThere", oneHash]]);
    const opened = made.entries.map(reopenEntry);
    const { trust } = foldLedger(
      operatorLedger,
      opened.filter(({ envelope }) => envelope.ledger === office),
      { ...noTrust, root: root.key },
    ).state;
    expect([...photosErased(opened, trust)]).toEqual([oneHash]);
  });

  test("are not erased by somebody without the role", async () => {
    const made = await pictured();
    await erase(made, pilot, "p-pilot");
    const proof = await prove(exported(made, shelf));
    expect(proof.photos).toEqual({ proven: 2, missing: 0, erased: 0 });
    expect(proof.doubts.map(({ code }) => code)).toContain("roleMissing");
  });

  test("are what an export of version 1 never carried, and it is still proven", async () => {
    const text = exported(await pictured(), new Map());
    const old = [text[0]!.replace('"version":2', '"version":1'), ...text.slice(1, -1)];
    let running = "";
    for (const line of old) running = runningHash(sha256, running, line);
    const proof = await prove([...old, canonicalText({ entries: old.length - 1, running })]);
    expect(proof).toMatchObject({ proven: true, photos: { proven: 0, missing: 0, erased: 0 } });
    expect((await prove(ended(old, 0))).proven).toBe(false);
  });
});

describe("an entry without authority", () => {
  test("is named: of a key that nobody certified, after its certificate, of another root", async () => {
    const made = await wholeBook();
    const stranger = signerOf("stranger");
    const foreign = await made.write(stranger, "p-pilot", notes, "note.taken", { words: "x" });
    const late = signerOf("late");
    await made.certify(late, "p-late", ["pilot"], msToInstant(begun_ms + 60_000));
    const expired = await made.write(late, "p-late", notes, "note.taken", { words: "x" });
    const { proven, doubts } = await prove(refitted(made.entries));
    expect(proven).toBe(true);
    expect(doubts.map(({ id, code }) => [id, code])).toEqual([
      [expect.any(String), "erased"],
      [foreign.id, "uncertified"],
      [expired.id, "outOfCertificate"],
    ]);
    const elsewhere = await prove(lines, stranger.key);
    expect(elsewhere.doubts.filter(({ code }) => code === "uncertified")).toHaveLength(9);
  });

  test("cannot be the end of a forged file: a second operator's ledger makes nobody believed", async () => {
    const thief = signerOf("thief");
    const forged = await seal(
      {
        ledger: "operator:forged",
        type: "operator.opened",
        tv: 1,
        seq: 0,
        prev: null,
        at: msToInstant(begun_ms),
        by: "operator",
        after: [],
        critical: true,
        basis: {},
        salt: "00".repeat(16),
        body: { name: "Forged", root: thief.key, at: msToInstant(begun_ms) },
      },
      thief,
      sha256,
    );
    expect(isOpened(openEntry(forged, sha256))).toBe(true);
    const text = refitted([...entries, forged]);
    const proof = await prove(text, null);
    expect(proof.root).toBe(null);
    expect(proof.doubts.length).toBe(10);
    // Who knows the root sees the forged one alone.
    const { doubts } = await prove(text, root.key);
    expect(doubts.map(({ ledger, code }) => [ledger, code])).toEqual([
      ["operator:forged", "uncertified"],
      [notes, "erased"],
    ]);
  });

  test("whose body should be gone and is still there is named", async () => {
    const made = await wholeBook();
    const { id } = made.entries.find(({ body }) => body === null)!;
    const whole = await seal(
      {
        ...(JSON.parse(
          made.entries.find((entry) => entry.id === id)!.envelope,
        ) as object as Opened["envelope"]),
        salt: "6".padStart(32, "0"),
        body: { words: "gone" },
      },
      pilot,
      sha256,
    );
    expect(whole.id).toBe(id);
    const proof = await prove(refitted(made.entries.map((entry) => (entry.id === id ? whole : entry))));
    expect(proof.doubts.map(({ code }) => code)).toEqual(["erased", "bodyStillThere"]);
  });
});
