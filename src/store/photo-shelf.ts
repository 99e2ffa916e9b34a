// The photos that a server has: immutable files named by the hash of their bytes. Only JPEG files without application
// data (Exif, in which place and camera stand) are taken: a device encodes them anew before it hands them over. What was
// erased by right is not taken again: a device that was away may still hold it.
import {
  closeSync,
  existsSync,
  fsyncSync,
  mkdirSync,
  openSync,
  readFileSync,
  renameSync,
  rmSync,
  writeSync,
} from "node:fs";
import { join } from "node:path";
import { sha256 } from "../crypto/node.ts";
import { toHex } from "../ledger/crypto.ts";
import type { Hash } from "../ledger/entry.ts";

export type PhotoPut = "kept" | "wrong" | "erased";

export class PhotoShelf {
  readonly #folder: string;
  readonly #erased = new Set<Hash>();

  /** A folder that is not there holds no photos; it is made with the first. */
  constructor(folder: string) {
    this.#folder = folder;
  }

  /** Null when it is not here. Throws when the file is not what its name says. */
  bytes(hash: Hash): Uint8Array | null {
    const file = join(this.#folder, `${hash}.jpg`);
    if (!existsSync(file)) return null;
    const bytes = readFileSync(file);
    if (toHex(sha256(bytes)) !== hash) throw new Error(`${file}: is damaged; put a backup in its place`);
    return bytes;
  }

  /** `wrong`: the bytes are not this photo, or not one that may be kept. Only what is `kept` is kept. */
  put(hash: Hash, bytes: Uint8Array): PhotoPut {
    if (toHex(sha256(bytes)) !== hash || !isPlainJpeg(bytes)) return "wrong";
    if (this.#erased.has(hash)) return "erased";
    const file = join(this.#folder, `${hash}.jpg`);
    if (existsSync(file)) return "kept";
    mkdirSync(this.#folder, { recursive: true });
    const handle = openSync(`${file}.new`, "w");
    try {
      writeSync(handle, bytes);
      fsyncSync(handle);
    } finally {
      closeSync(handle);
    }
    renameSync(`${file}.new`, file);
    return "kept";
  }

  /** Removes photos for good, and takes none of them again. */
  erase(hashes: Iterable<Hash>): void {
    for (const hash of hashes) {
      this.#erased.add(hash);
      rmSync(join(this.#folder, `${hash}.jpg`), { force: true });
      rmSync(join(this.#folder, `${hash}.jpg.new`), { force: true });
    }
  }
}

/**
 * Whether these are the bytes of a JPEG whose segments before the picture hold nothing but what draws it: no application
 * data but JFIF's and a colour profile, no comments (ITU-T T.81, annex B: markers FF xx, then a length of two bytes).
 */
export function isPlainJpeg(bytes: Uint8Array): boolean {
  if (bytes[0] !== 0xff || bytes[1] !== 0xd8) return false;
  let at = 2;
  while (at + 4 <= bytes.length) {
    const marker = bytes[at + 1]!;
    if (bytes[at] !== 0xff) return false;
    // Start of scan: what follows is the picture itself.
    if (marker === 0xda) return true;
    const isApplication = marker >= 0xe0 && marker <= 0xef && marker !== 0xe0 && marker !== 0xe2;
    if (isApplication || marker === 0xfe) return false;
    const length = bytes[at + 2]! * 256 + bytes[at + 3]!;
    if (length < 2) return false;
    at += 2 + length;
  }
  return false;
}
