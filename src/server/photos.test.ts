// Photos on the server: kept by the hash of their bytes, given back whole, refused where they are not what they say.
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { sha256 } from "../crypto/node.ts";
import { toHex } from "../ledger/crypto.ts";
import { isPlainJpeg } from "../store/photo-shelf.ts";
import { SampleServer } from "./sample-server.ts";

/** A segment: marker, length, contents. */
const segment = (marker: number, contents: readonly number[]): readonly number[] => [
  0xff,
  marker,
  (contents.length + 2) >> 8,
  (contents.length + 2) & 0xff,
  ...contents,
];
const jpeg = (...segments: readonly (readonly number[])[]): Uint8Array =>
  Uint8Array.from([0xff, 0xd8, ...segments.flat(), ...segment(0xda, [1, 2, 3]), 0x55, 0xff, 0xd9]);
const jfif = segment(0xe0, [0x4a, 0x46, 0x49, 0x46, 0]);
const exif = segment(0xe1, [0x45, 0x78, 0x69, 0x66, 0, 0]);

describe("a JPEG without data about place and camera", () => {
  test("may hold what draws the picture, and nothing that a camera says of itself", () => {
    expect(isPlainJpeg(jpeg(jfif, segment(0xdb, [0, 1, 2])))).toBe(true);
    expect(isPlainJpeg(jpeg(jfif, exif))).toBe(false);
    expect(isPlainJpeg(jpeg(segment(0xed, [1])))).toBe(false);
    expect(isPlainJpeg(jpeg(segment(0xfe, [0x68, 0x69])))).toBe(false);
  });

  test("is no other file, and no torn one", () => {
    expect(isPlainJpeg(Uint8Array.from([0x89, 0x50, 0x4e, 0x47]))).toBe(false);
    expect(isPlainJpeg(jpeg(jfif).subarray(0, 9))).toBe(false);
    expect(isPlainJpeg(Uint8Array.from([0xff, 0xd8, 0xff, 0xdb, 0, 0, 1, 2, 3, 4]))).toBe(false);
    expect(isPlainJpeg(new Uint8Array(0))).toBe(false);
  });
});

describe("the routes of photos", () => {
  let sample: SampleServer;
  let token: string;
  beforeAll(async () => {
    sample = new SampleServer();
    await sample.open();
    await sample.found();
    ({ token } = await sample.enrol("p-one", "1111"));
  });
  afterAll(() => sample.remove());

  const bytes = jpeg(jfif);
  const hash = toHex(sha256(bytes));
  const data = Buffer.from(bytes).toString("base64");

  test("keep a photo, give it back, and take it twice without harm", async () => {
    expect((await sample.get(`/api/photos/${hash}`, token)).body).toMatchObject({ code: "photoUnknown" });
    for (const time of [1, 2])
      expect(await sample.post("/api/photos", { hash, data }, token), `time ${time}`).toMatchObject({
        status: 200,
        body: { hash },
      });
    expect((await sample.get(`/api/photos/${hash}`, token)).body).toEqual({ hash, data });
  });

  test("refuse bytes of another hash, a picture with Exif, and who has no token", async () => {
    const other = jpeg(exif);
    const wrong = { hash: toHex(sha256(other)), data: Buffer.from(other).toString("base64") };
    expect((await sample.post("/api/photos", wrong, token)).body).toMatchObject({ code: "photoWrong" });
    expect((await sample.post("/api/photos", { hash: "0".repeat(64), data }, token)).body).toMatchObject({
      code: "photoWrong",
    });
    expect((await sample.post("/api/photos", { hash, data })).body).toMatchObject({ code: "tokenMissing" });
    expect((await sample.get(`/api/photos/${hash}`)).body).toMatchObject({ code: "tokenMissing" });
  });

  test("never give a damaged photo", async () => {
    writeFileSync(join(sample.folder, "photos", `${hash}.jpg`), "x");
    expect((await sample.get(`/api/photos/${hash}`, token)).body).toMatchObject({ code: "failed" });
  });
});
