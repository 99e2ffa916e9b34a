// Erasure as somebody asks for it, on a server in a process of its own: who may, what is gone and where, that the record
// still proves itself, and that neither a device that was away nor an older backup brings anything back.
import { copyFileSync, existsSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { sha256 } from "../crypto/node.ts";
import { toHex } from "../ledger/crypto.ts";
import type { StoredEntry } from "../ledger/entry.ts";
import { SampleCaller, SampleProcesses, sampleAt, samplePhoto, samplePhotoRef } from "./sample-processes.ts";
import type { Ran, Served } from "./sample-processes.ts";

const at_ms = Date.parse(sampleAt);
const craft = "craft:tinde";
const secret = "the patient's name was on the strap";
const [face, plate] = [samplePhoto("a face"), samplePhoto("a number plate")];
const hashOf = (bytes: Uint8Array): string => toHex(sha256(bytes));
const pins = { "p-vik": "9630", "p-sund": "8520", "p-ravn": "2580" } as const;
type Who = keyof typeof pins;

let processes: SampleProcesses;
let served: Served;
let ravn: SampleCaller;
/** A finding that says too much, with a photo of its own and one that the next names too. */
let told: StoredEntry;
let other: StoredEntry;

const finding = (id: string, words: string, photos: readonly Uint8Array[]): unknown => ({
  finding: id,
  kind: "wear",
  stop: "tail",
  item: null,
  walk: null,
  measure: null,
  words,
  photos: photos.map(samplePhotoRef),
  at: sampleAt,
});

beforeAll(async () => {
  processes = new SampleProcesses();
  served = await processes.serve("first");
  ravn = await SampleCaller.enrol(served.url, "p-ravn", pins["p-ravn"]);
  for (const photo of [face, plate]) await ravn.putPhoto(photo);
  const backup = join(processes.folder, "before.preen-backup");
  await processes.preen(["backup", backup], "first");
  told = await ravn.record(craft, "finding.raised", finding("finding-told", secret, [face, plate]), at_ms);
  other = await ravn.record(craft, "finding.raised", finding("finding-other", "worn", [plate]), at_ms);
  await processes.preen(["backup", join(processes.folder, "between.preen-backup")], "first");
}, 120_000);
afterAll(() => processes.remove());

type Asked = { readonly who?: Who; readonly role?: string; readonly pin?: string; readonly url?: string };

function erase(
  what: readonly string[],
  { who = "p-vik", role = "administrator", pin, url }: Asked = {},
): Promise<Ran> {
  const said = ["--person", who, "--role", role, "--reason", "asked for by the person"];
  const words = ["erase", "Tinde", ...what, ...said, "--server", url ?? served.url, "--at", sampleAt];
  return processes.preen(words, "first", { PREEN_PIN: pin ?? pins[who] });
}

/** Every file of a server's folder that still holds some bytes. */
function filesWith(data: string, bytes: Uint8Array | string): readonly string[] {
  const folder = join(processes.folder, data);
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((file) => file.isFile() && readFileSync(join(file.parentPath, file.name)).includes(bytes))
    .map(({ name }) => name);
}

async function held(id: string): Promise<StoredEntry | undefined> {
  return (await ravn.pull(craft)).find((entry) => entry.id === id);
}

async function verified(data: string): Promise<Ran & { readonly text: string }> {
  const file = join(processes.folder, `${data}-${Math.random()}.ndjson`);
  await processes.preen(["export", "tinde", "--out", file, "--at", sampleAt], data);
  return { ...(await processes.preen(["verify", file], data)), text: readFileSync(file, "utf8") };
}

async function standing(data: string): Promise<string> {
  return (await processes.preen(["standing", "tinde", "--at", sampleAt], data)).out;
}

describe("an erasure that may not be", () => {
  test("is refused with why, and leaves everything as it was", async () => {
    const before = (await ravn.pull(craft)).length;
    const refused: readonly (readonly [Ran, string])[] = [
      [
        await erase([told.id], { who: "p-sund", role: "airworthiness", pin: "0000" }),
        "Person and PIN do not go together",
      ],
      [await erase([told.id], { who: "p-ravn" }), "acts as pilot, and not as administrator"],
      [await erase([told.id], { who: "p-sund" }), "acts as airworthiness, and not as administrator"],
      [await erase([told.id], { role: "pilot" }), "missing or wrong: --role"],
      [await erase(["ffff".repeat(16)]), "0 entries of Tinde begin with"],
      [await erase([]), "one of ENTRY and --photo"],
      [await erase(["--photo", "ab".repeat(32)]), "no entry of Tinde names photo"],
      [await erase([told.id], { url: "http://localhost:1" }), "does not answer"],
    ];
    for (const [{ code, err }, why] of refused)
      expect([code, err]).toEqual([2, expect.stringContaining(why)]);
    expect(await held(told.id)).toEqual(told);
    expect(await ravn.pull(craft)).toHaveLength(before);
    expect(filesWith("first", secret)).not.toEqual([]);
  }, 60_000);

  test("does nothing where a device of somebody without the role writes it all the same", async () => {
    const body = { entry: other.id, role: "administrator", legalReason: "because" };
    const written = await ravn.record(craft, "erase", body, at_ms);
    expect(await held(other.id)).toEqual(other);
    expect((await verified("first")).out).toContain(`${written.id} (roleMissing)`);
    // It stands aside until somebody who may has dealt with it.
    const vik = await SampleCaller.enrol(served.url, "p-vik", pins["p-vik"]);
    await vik.record(craft, "aside.settled", { entries: [written.id], words: "not asked for" }, at_ms);
    expect((await verified("first")).code).toBe(0);
  }, 60_000);
});

describe("the erasure of a photo", () => {
  test("takes its bytes everywhere and nothing else; the record and the standing stay as they were", async () => {
    const before = await standing("first");
    const { code, out } = await erase(["--photo", hashOf(plate)], { who: "p-sund", role: "airworthiness" });
    expect([code, out]).toEqual([
      0,
      expect.stringMatching(/^erased photo [0-9a-f]{64} at .* by [0-9a-f]{64}\n$/u),
    ]);
    expect(filesWith("first", plate)).toEqual([]);
    expect(filesWith("first", face)).toEqual([`${hashOf(face)}.jpg`]);
    expect(await held(other.id)).toEqual(other);
    expect(await standing("first")).toBe(before);
    const { code: proven, out: proof, text } = await verified("first");
    expect([proven, proof]).toEqual([
      0,
      expect.stringContaining("photos  1 proven, 0 missing, 1 erased by right"),
    ]);
    expect(text).not.toContain(Buffer.from(plate).toString("base64"));
  }, 60_000);

  test("is not undone by a device that offers the photo again, and not done twice", async () => {
    await expect(ravn.putPhoto(plate)).rejects.toThrow("erased by right");
    expect(filesWith("first", plate)).toEqual([]);
    expect((await erase(["--photo", hashOf(plate)])).err).toContain("is erased already");
  }, 60_000);
});

describe("the erasure of what an entry says", () => {
  test("takes the body and the photo that it alone names, and the export still proves itself", async () => {
    const { code, out } = await erase([told.id]);
    expect([code, out]).toEqual([
      0,
      expect.stringMatching(new RegExp(`^erased photo ${hashOf(face)} .*\\nerased ${told.id} at `, "u")),
    ]);
    expect(await held(told.id)).toEqual({ ...told, salt: null, body: null });
    expect(filesWith("first", secret)).toEqual([]);
    expect(filesWith("first", face)).toEqual([]);
    const { code: proven, out: proof, text } = await verified("first");
    // Proven, with the doubt that what it said is not known any more.
    expect([proven, proof]).toEqual([
      3,
      expect.stringContaining(`${told.id} (erased): finding.raised by p-ravn`),
    ]);
    expect(proof).toContain("photos  0 proven, 0 missing, 2 erased by right");
    expect(text).not.toContain(secret);
  }, 60_000);

  test("makes the craft not known until somebody has settled it, with the reason", async () => {
    const before = await standing("first");
    expect(before).toContain("content was erased");
    expect(before).not.toMatch(/^.*: ready/mu);
    const vik = await SampleCaller.enrol(served.url, "p-vik", pins["p-vik"]);
    await vik.record(
      craft,
      "aside.settled",
      { entries: [told.id], words: "the finding was recorded anew" },
      at_ms,
    );
    expect(await standing("first")).not.toContain("content was erased");
    expect((await verified("first")).code).toBe(0);
  }, 60_000);

  test("is not done twice", async () => {
    const { code, err } = await erase([told.id]);
    expect([code, err]).toEqual([2, expect.stringContaining("says nothing any more")]);
  }, 60_000);

  test("is not undone by a device that was away and still holds the body", async () => {
    const { verdicts } = await ravn.push([told]);
    expect(verdicts).toEqual([{ id: told.id, verdict: "held", code: null }]);
    expect(await held(told.id)).toEqual({ ...told, salt: null, body: null });
    expect(filesWith("first", secret)).toEqual([]);
  }, 60_000);
});

describe("a backup that is older than an erasure", () => {
  const restore = async (backup: string, data: string, withList: boolean): Promise<Served> => {
    const restored = await processes.preen(
      ["restore", join(processes.folder, `${backup}.preen-backup`)],
      data,
    );
    expect(restored).toMatchObject({ code: 0, err: "" });
    expect(restored.out).toContain("erasures.ndjson");
    const list = "erasures.ndjson";
    if (withList) copyFileSync(join(processes.folder, "first", list), join(processes.folder, data, list));
    return processes.serve(data);
  };

  test("brings nothing back where the list of erasures was put beside it", async () => {
    await processes.preen(["backup", join(processes.folder, "after.preen-backup")], "first");
    expect(readFileSync(join(processes.folder, "between.preen-backup")).includes(secret)).toBe(true);
    expect(readFileSync(join(processes.folder, "after.preen-backup")).includes(secret)).toBe(false);
    const { stop } = await restore("between", "listed", true);
    for (const gone of [secret, face, plate]) expect(filesWith("listed", gone)).toEqual([]);
    // What else came after the backup is missing until the devices bring it, and is told; nothing that was erased is.
    const { out } = await verified("listed");
    expect(out).toContain("(entryMissing)");
    for (const code of ["StillThere", "bodyMissing", "photoMissing"]) expect(out).not.toContain(code);
    await stop();
  }, 90_000);

  test("from before the entry itself takes it from a device that was away, and not what it said", async () => {
    const second = await restore("before", "earlier", true);
    await ravn.moveTo(second.url, pins["p-ravn"]);
    await ravn.push([told, other]);
    expect(filesWith("earlier", secret)).toEqual([]);
    await expect(ravn.putPhoto(face)).rejects.toThrow("erased by right");
    const { out } = await verified("earlier");
    for (const code of ["StillThere", "bodyMissing", "photoMissing"]) expect(out).not.toContain(code);
    await second.stop();
  }, 90_000);

  test("without the list erases again as soon as a device offers what it had heard of", async () => {
    await ravn.moveTo(served.url, pins["p-ravn"]);
    // As it would offer them: the operator's ledger, which says whom to believe, came first.
    const heard = [...(await ravn.pull("operator:skarvoy-rescue")), ...(await ravn.pull(craft))];
    const third = await restore("between", "unlisted", false);
    expect(filesWith("unlisted", secret)).not.toEqual([]);
    await ravn.moveTo(third.url, pins["p-ravn"]);
    for (let from = 0; from < heard.length; from += 200) await ravn.push(heard.slice(from, from + 200));
    for (const gone of [secret, face, plate]) expect(filesWith("unlisted", gone)).toEqual([]);
    expect((await verified("unlisted")).out).not.toContain("StillThere");
    await third.stop();
  }, 90_000);

  test("does not start on a list that is damaged in its middle, and forgives a last line that was cut off", async () => {
    const list = join(processes.folder, "listed", "erasures.ndjson");
    const whole = readFileSync(list, "utf8");
    writeFileSync(list, whole.replace('"sig"', '"sog"'));
    await expect(processes.serve("listed", true)).rejects.toThrow("ended with 1");
    writeFileSync(list, `${whole}{"body":{"ent`);
    const { stop } = await processes.serve("listed");
    expect(readFileSync(list, "utf8")).toBe(whole);
    await stop();
    expect(existsSync(join(processes.folder, "listed", "photos", `${hashOf(face)}.jpg`))).toBe(false);
  }, 60_000);
});
