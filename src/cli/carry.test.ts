// Export, proof, backup and restoration as somebody calls them: commands and servers in processes of their own, and the
// proof of every single flipped byte in this process, through the command's own code.
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test, vi } from "vitest";
import { makeDemo } from "../../demo/make-demo.ts";
import { sha256, signerFromSeed } from "../crypto/node.ts";
import { noTrust } from "../ledger/acceptance.ts";
import { bytesOf, toHex } from "../ledger/crypto.ts";
import { exportLines } from "../ledger/export.ts";
import { LedgerFold } from "../ledger/ledger-fold.ts";
import { writeNext } from "../ledger/write-next.ts";
import { demoSheet } from "./record.ts";
import { SampleCaller, SampleProcesses, sampleAt, samplePhoto, samplePhotoRef } from "./sample-processes.ts";
import type { Ran, Served } from "./sample-processes.ts";
import { run as verify } from "./verify.ts";

const at = sampleAt;
let processes: SampleProcesses;
let folder = "";

beforeAll(() => {
  processes = new SampleProcesses();
  ({ folder } = processes);
});
afterAll(() => processes.remove());

const preen = (words: readonly string[], data?: string): Promise<Ran> => processes.preen(words, data);
const serve = (data: string): Promise<Served> => processes.serve(data);

async function epochOf(url: string): Promise<number> {
  const response = await fetch(`${url}/api/hello`);
  return ((await response.json()) as { epoch: number }).epoch;
}

describe("an export", () => {
  test("of one craft is proven by itself, and by the operator's key where that is given", async () => {
    const file = join(folder, "tinde.ndjson");
    expect(await preen(["export", "tinde", "--out", file, "--at", at])).toMatchObject({ code: 0, out: "" });
    const { code, out } = await preen(["verify", file, "--json"]);
    expect(code).toBe(0);
    const proof = JSON.parse(out) as { proven: boolean; root: string; ledgers: { ledger: string }[] };
    expect(proof.ledgers.map(({ ledger }) => ledger)).toEqual(["operator:skarvoy-rescue", "craft:tinde"]);
    expect(await preen(["verify", file, "--root", proof.root])).toMatchObject({ code: 0 });
    const another = await preen(["verify", file, "--root", "ab".repeat(32)]);
    expect(another.code).toBe(3);
    expect(another.out).toMatch(/^aside {2}craft:tinde [0-9a-f]{64} \(uncertified\): walk\.begun by p-/mu);
    const again = await preen(["export", "tinde", "--out", file, "--at", at]);
    expect(again.code).toBe(2);
    expect(again.err).toContain("nothing was written over");
  }, 60_000);

  test("with an entry taken out, one altered and one with a foreign signature names each of them", async () => {
    const file = join(folder, "all.ndjson");
    await preen(["export", "--out", file, "--at", at]);
    const lines = readFileSync(file, "utf8").split("\n");
    const idOf = (line: number): string => /"id":"([0-9a-f]{64})","salt"/u.exec(lines[line]!)![1]!;
    const [gone, altered, foreign] = [idOf(400), idOf(420), idOf(440)];
    lines[420] = lines[420]!.replace(/"at":"2026/u, '"at":"2025');
    lines[440] = lines[440]!.replace(/"sig":"../u, '"sig":"00');
    lines.splice(400, 1);
    writeFileSync(file, lines.join("\n"));
    const { code, out } = await preen(["verify", file]);
    expect(code).toBe(1);
    expect(out).toMatch(new RegExp(`^missing  \\S+ ${gone} `, "mu"));
    expect(out).toMatch(new RegExp(`^altered  line 420 ${altered} `, "mu"));
    expect(out).toMatch(new RegExp(`^unsigned  line 440 \\S+ ${foreign} `, "mu"));
  }, 60_000);

  test("with any one byte flipped is not proven, whichever byte it is", async () => {
    const { entries } = await makeDemo(
      { sheet: demoSheet(), anchor_ms: Date.parse(at) },
      { sha256, signerFromSeed },
    );
    const few = entries.slice(0, 3);
    const photo = samplePhoto("a picture");
    const hash = toHex(sha256(photo));
    // The body of an entry of ours that names a photo, on a chain of its own.
    const salt = "0".repeat(32);
    const body = { photos: [samplePhotoRef(photo)] };
    const next = {
      ledger: "craft:flipped",
      type: "photo.taken",
      body,
      by: "p-ravn",
      at_ms: Date.parse(at),
      basis: {},
      salt,
    };
    const blank = new LedgerFold<object>({ initial: {}, types: [] }, [], noTrust);
    const signer = signerFromSeed(sha256(bytesOf("the key of a device")));
    few.push(await writeNext(blank, next, signer, sha256));
    const lines = [...exportLines(few, at, sha256, (wanted) => (wanted === hash ? photo : null))];
    const bytes = Buffer.from(`${lines.join("\n")}\n`);
    const file = join(folder, "flipped.ndjson");
    const print = vi.spyOn(process.stdout, "write").mockReturnValue(true);
    const unnoticed: number[] = [];
    try {
      writeFileSync(file, bytes);
      // Nobody certified the device of the one that names the photo: a doubt, and no fault.
      expect(await verify([file])).toBe(3);
      for (let position = 0; position < bytes.length; position += 1) {
        const wrong = Buffer.from(bytes);
        wrong[position]! ^= 1 << (position % 8);
        writeFileSync(file, wrong);
        if ((await verify([file])) !== 1) unnoticed.push(position);
      }
    } finally {
      print.mockRestore();
    }
    expect(bytes.includes('{"data":')).toBe(true);
    expect(bytes.length).toBeGreaterThan(3_000);
    expect(unnoticed).toEqual([]);
  }, 120_000);
});

describe("a backup", () => {
  test("is taken from a running server, restored elsewhere, and the server there knows that it was restored", async () => {
    const first = await serve("first");
    const ravn = await SampleCaller.enrol(first.url, "p-ravn", "2580");
    const photo = samplePhoto("a hose that rubs");
    await ravn.putPhoto(photo);
    const raised = {
      finding: "finding-carried",
      kind: "chafe",
      stop: "tail",
      item: null,
      walk: null,
      measure: null,
    };
    const said = { ...raised, words: "rubs", photos: [samplePhotoRef(photo)], at };
    await ravn.record("craft:tinde", "finding.raised", said, Date.parse(at));
    const file = join(folder, "first.preen-backup");
    const packed = await preen(["backup", file], "first");
    expect(packed).toMatchObject({ code: 0, err: "" });
    expect(await epochOf(first.url)).toBe(1);
    expect((await preen(["backup", file], "first")).err).toContain("is there already");
    expect(readFileSync(file).includes("keys.json")).toBe(false);

    const restored = await preen(["restore", file], "second");
    expect(restored).toMatchObject({ code: 0, err: "" });
    const wholes = await Promise.all(["first", "second"].map((data) => preen(["export", "--at", at], data)));
    expect(wholes[0]!.out.length).toBeGreaterThan(1_000_000);
    expect(wholes[1]!.out).toBe(wholes[0]!.out);
    expect(wholes[1]!.out).toContain(`{"data":"${Buffer.from(photo).toString("base64")}"`);
    const whole = join(folder, "restored.ndjson");
    writeFileSync(whole, wholes[1]!.out);
    const { out: proven, code: provenCode } = await preen(["verify", whole]);
    expect([provenCode, proven]).toEqual([
      0,
      expect.stringContaining("photos  1 proven, 0 missing, 0 erased by right"),
    ]);

    const twice = await preen(["restore", file], "second");
    expect(twice.code).toBe(1);
    expect(twice.err).toContain("is not empty");
    const second = await serve("second");
    expect(await epochOf(second.url)).toBe(2);
    const people = ((await (await fetch(`${second.url}/api/hello`)).json()) as { people: unknown[] }).people;
    expect(people.length).toBeGreaterThan(3);
    await Promise.all([first.stop(), second.stop()]);
  }, 60_000);

  test("with one wrong byte is refused whole, before anything is written", async () => {
    const file = join(folder, "first.preen-backup");
    const bytes = readFileSync(file);
    const wrong = join(folder, "wrong.preen-backup");
    const places = [0, 12, 60, bytes.indexOf(10), bytes.indexOf(10) + 1, bytes.length >> 1, bytes.length - 1];
    for (const [turn, position] of places.entries()) {
      const flipped = Buffer.from(bytes);
      flipped[position]! ^= 1;
      writeFileSync(wrong, flipped);
      const { code, err } = await preen(["restore", wrong], `refused-${turn}`);
      expect([position, code], err).toEqual([position, 1]);
      expect(existsSync(join(folder, `refused-${turn}`))).toBe(false);
    }
    writeFileSync(wrong, bytes.subarray(0, bytes.length - 1));
    expect((await preen(["restore", wrong], "refused-cut")).err).toContain("is no whole backup");
  }, 60_000);
});
