// The type sheets that this server has: immutable files named by the hash of their canonical text.
import { existsSync, mkdirSync, readFileSync, readdirSync, renameSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { sha256 } from "../crypto/node.ts";
import { canonicalText } from "../ledger/canonical.ts";
import { hashText } from "../ledger/crypto.ts";
import type { Hash } from "../ledger/entry.ts";

const name = /^([0-9a-f]{64})\.json$/u;

export class SheetShelf {
  readonly #folder: string;

  constructor(folder: string) {
    this.#folder = folder;
    mkdirSync(folder, { recursive: true });
  }

  hashes(): readonly Hash[] {
    return readdirSync(this.#folder)
      .flatMap((file) => name.exec(file)?.[1] ?? [])
      .sort();
  }

  /** Null when it is not here. Throws when the file is not what its name says: a sheet is never served damaged. */
  text(hash: Hash): string | null {
    const file = join(this.#folder, `${hash}.json`);
    if (!existsSync(file)) return null;
    const text = readFileSync(file, "utf8");
    if (hashText(sha256, text) !== hash) throw new Error(`${file}: is damaged; put a backup in its place`);
    return text;
  }

  put(sheet: unknown): Hash {
    const text = canonicalText(sheet);
    const hash = hashText(sha256, text);
    const file = join(this.#folder, `${hash}.json`);
    if (!existsSync(file)) {
      writeFileSync(`${file}.new`, text);
      renameSync(`${file}.new`, file);
    }
    return hash;
  }
}
