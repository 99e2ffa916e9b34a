import { describe, expect, test } from "vitest";
import { nodeVerifier, sha256, signerFromSeed } from "../crypto/node.ts";
import { canonicalText } from "./canonical.ts";
import { bytesOf, hashText, toHex } from "./crypto.ts";
import type { StoredEntry } from "./entry.ts";
import { isOpened, isSigned, openEntry, reopenEntry } from "./open.ts";
import type { Opened } from "./open.ts";
import { bodyHash, seal, signedMessage } from "./seal.ts";
import type { Unsealed } from "./seal.ts";

const signer = signerFromSeed(sha256(bytesOf("a key for this test")));
const unsealed: Unsealed = {
  ledger: "craft:test-1",
  type: "test.noted",
  tv: 1,
  seq: 0,
  prev: null,
  at: "2026-03-01T06:40:00.000Z",
  by: "p-one",
  after: [],
  critical: true,
  basis: {},
  salt: "0f".repeat(16),
  body: { words: "öl", amount_l: 0.25 },
};
const sealed = (change: Partial<Unsealed> = {}): Promise<StoredEntry> =>
  seal({ ...unsealed, ...change }, signer, sha256);

function openedOf(stored: StoredEntry): Opened {
  const opened = openEntry(stored, sha256);
  if (!isOpened(opened)) throw new Error(JSON.stringify(opened));
  return opened;
}

/** An entry whose envelope is another text; its id and signature follow. */
async function withEnvelope(text: string): Promise<StoredEntry> {
  const stored = await sealed();
  const id = hashText(sha256, text);
  return { ...stored, id, envelope: text, sig: await signer.sign(signedMessage(id)) };
}

async function withNames(change: Readonly<Record<string, unknown>>): Promise<StoredEntry> {
  const { envelope } = openedOf(await sealed());
  return withEnvelope(canonicalText({ ...envelope, ...change }));
}

describe("a sealed entry", () => {
  test("opens to what was sealed, and is signed by its key", async () => {
    const stored = await sealed();
    const opened = openedOf(stored);
    const { salt, body, ...rest } = unsealed;
    expect(opened.body).toEqual(body);
    expect(opened.envelope).toEqual({
      ...rest,
      v: 1,
      key: signer.key,
      bodyHash: bodyHash(sha256, salt, canonicalText(body)),
    });
    expect(opened.at_ms).toBe(Date.UTC(2026, 2, 1, 6, 40));
    expect(await isSigned(opened, nodeVerifier)).toBe(true);
    expect(reopenEntry(stored)).toEqual(opened);
  });

  test("is signed over the words of this format and the id, so that no other signature fits", async () => {
    const opened = openedOf(await sealed());
    expect(toHex(signedMessage(opened.id))).toBe(`${toHex(bytesOf("preen-entry-v1\0"))}${opened.id}`);
    const other = { ...opened, stored: { ...opened.stored, sig: await signer.sign(bytesOf(opened.id)) } };
    expect(await isSigned(other, nodeVerifier)).toBe(false);
  });

  test("names its body by salt and text, so that the body cannot be guessed from the hash alone", () => {
    const hash = hashText(sha256, '{"words":"x"}');
    expect(bodyHash(sha256, "00".repeat(16), '{"words":"x"}')).not.toBe(hash);
    expect(bodyHash(sha256, "", '{"words":"x"}')).toBe(hash);
    expect(bodyHash(sha256, "00", "a")).not.toBe(bodyHash(sha256, "01", "a"));
  });

  test("still opens once its body is erased, and says so", async () => {
    const stored = await sealed();
    const opened = openedOf({ ...stored, salt: null, body: null });
    expect(opened).toMatchObject({ id: stored.id, erased: true, body: undefined });
    expect(await isSigned(opened, nodeVerifier)).toBe(true);
  });

  test.each([
    [{ after: ["b".repeat(64), "a".repeat(64)] }, "envelope.after"],
    [{ seq: 1 }, "envelope.prev"],
    [{ at: "2026-03-01T06:40:00Z" }, "envelope.at"],
    [{ salt: "0f" }, "salt"],
  ])("is never made of an envelope that nobody could open: %j", async (change, path) => {
    await expect(sealed(change)).rejects.toThrow(path);
  });

  test("is never made of a body without a canonical form", async () => {
    await expect(sealed({ body: { a: Number.NaN } })).rejects.toThrow("finite");
    await expect(sealed({ body: { a: 2 ** 60 } })).rejects.toThrow("2^53");
  });
});

describe("an entry that was tampered with", () => {
  test("is refused by the part that was touched", async () => {
    const stored = await sealed();
    const other = await sealed({ body: { words: "no oil at all" } });
    const opened = (change: Partial<StoredEntry>) => openEntry({ ...stored, ...change }, sha256);
    expect(opened({ id: other.id })).toMatchObject({ code: "idWrong", path: "id", wanted: stored.id });
    expect(opened({ envelope: other.envelope })).toMatchObject({ code: "idWrong" });
    expect(opened({ body: other.body })).toMatchObject({ code: "bodyWrong", path: "body" });
    expect(opened({ salt: "1f".repeat(16) })).toMatchObject({ code: "bodyWrong", path: "body" });
    expect(opened({ salt: "0F".repeat(16) })).toMatchObject({ code: "bodyWrong", path: "salt" });
    expect(opened({ salt: null })).toMatchObject({ code: "bodyWrong", found: "one of salt and body" });
    expect(await isSigned(openedOf({ ...stored, sig: other.sig }), nodeVerifier)).toBe(false);
  });

  test("is refused when its texts are not the one canonical form, though they hash as they should", async () => {
    const { envelope } = await sealed();
    const spaced = await withEnvelope(envelope.replace('"seq":0', '"seq": 0'));
    expect(openEntry(spaced, sha256)).toMatchObject({ code: "notCanonical" });
    const twice = await withEnvelope(envelope.replace('"seq":0', '"seq":0,"seq":0'));
    expect(openEntry(twice, sha256)).toMatchObject({ code: "duplicateKey", path: "envelope.seq" });
    const cut = await withEnvelope(envelope.slice(0, -1));
    expect(openEntry(cut, sha256)).toMatchObject({ code: "notJson" });
    const body = '{"words":"x", "amount_l":1}';
    const loose = await withNames({ bodyHash: bodyHash(sha256, unsealed.salt, body) });
    expect(openEntry({ ...loose, body }, sha256)).toMatchObject({
      code: "notCanonical",
      path: "body at character 2",
    });
  });

  const shapes: readonly (readonly [string, Readonly<Record<string, unknown>>, string])[] = [
    ["a ledger of no kind", { ledger: "boat:one" }, "envelope.ledger"],
    ["a type that is no name", { type: "Walk Page" }, "envelope.type"],
    ["version 0 of a type", { tv: 0 }, "envelope.tv"],
    ["half a version", { tv: 1.5 }, "envelope.tv"],
    ["a key in capitals", { key: "A".repeat(64) }, "envelope.key"],
    ["a negative place", { seq: -1 }, "envelope.seq"],
    ["a second entry without one before it", { seq: 1 }, "envelope.prev"],
    ["a first entry with one before it", { prev: "a".repeat(64) }, "envelope.prev"],
    ["an instant without thousandths", { at: "2026-03-01T06:40:00Z" }, "envelope.at"],
    ["the thirtieth of February", { at: "2026-02-30T06:40:00.000Z" }, "envelope.at"],
    ["an instant in another zone", { at: "2026-03-01T06:40:00.000+01:00" }, "envelope.at"],
    ["nobody as the writer", { by: "" }, "envelope.by"],
    ["parents out of order", { after: ["b".repeat(64), "a".repeat(64)] }, "envelope.after"],
    ["a parent twice", { after: ["a".repeat(64), "a".repeat(64)] }, "envelope.after"],
    ["33 parents", { after: parents(33) }, "envelope.after"],
    ["a parent that is no id", { after: ["a"] }, "envelope.after"],
    ["critical that is neither", { critical: 1 }, "envelope.critical"],
    ["a basis of another name", { basis: { weather: "a".repeat(64) } }, "envelope.basis"],
    ["a basis that is no hash", { basis: { sheet: "new" } }, "envelope.basis"],
    ["a list for a basis", { basis: [] }, "envelope.basis"],
    ["one name more", { extra: 1 }, "envelope.extra"],
    ["one name less", { bodyHash: undefined }, "envelope.bodyHash"],
    ["no version", { v: undefined }, "envelope.v"],
  ];
  test.each(shapes)("is refused with %s", async (_, change, path) => {
    expect(openEntry(await withNames(change), sha256)).toMatchObject({ code: "shapeWrong", path });
  });

  test("is told apart from one of a newer envelope", async () => {
    expect(openEntry(await withNames({ v: 2 }), sha256)).toMatchObject({
      code: "envelopeNewer",
      path: "envelope.v",
      found: "2",
      wanted: "1",
    });
    expect(openEntry(await withEnvelope("[]"), sha256)).toMatchObject({
      code: "shapeWrong",
      path: "envelope",
    });
  });

  test("takes 32 parents", async () => {
    expect(isOpened(openEntry(await sealed({ after: parents(32) }), sha256))).toBe(true);
  });
});

function parents(count: number): string[] {
  return Array.from({ length: count }, (_, at) => at.toString(16).padStart(64, "0"));
}
