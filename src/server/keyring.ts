// The two keys of a server: the operator's root, from which all trust follows, and the server's own, which signs
// receipts and certificates. An operator's are drawn at the first start and kept in a file that only this user may read;
// the demo's follow from a published seed (demo-keyring in seed-demo.ts).
//
// The file belongs into no backup of the database: whoever has it can speak for the operator.
import { randomBytes } from "node:crypto";
import {
  closeSync,
  existsSync,
  fsyncSync,
  openSync,
  readFileSync,
  renameSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { z } from "zod";
import { signerFromSeed } from "../crypto/node.ts";
import { fromHex, toHex } from "../ledger/crypto.ts";
import type { Signer } from "../ledger/crypto.ts";
import { StartError } from "./start-error.ts";

export interface Keyring {
  readonly root: Signer;
  readonly server: Signer;
  /** Puts a new server key in the place of the old one; it counts once the root has certified it. */
  renewServer(): void;
}

const seed = z.string().regex(/^[0-9a-f]{64}$/u);
const fileShape = z.strictObject({ v: z.literal(1), root: seed, server: seed });
type KeyFile = z.infer<typeof fileShape>;

export class FileKeyring implements Keyring {
  readonly #file: string;
  #seeds: KeyFile;
  readonly root: Signer;
  #server: Signer;

  /** Reads the file, or draws new keys where there is none. Throws a StartError that names the file. */
  constructor(file: string) {
    this.#file = file;
    this.#seeds = existsSync(file) ? read(file) : { v: 1, root: drawSeed(), server: drawSeed() };
    if (!existsSync(file)) write(file, this.#seeds);
    this.root = signerFromSeed(fromHex(this.#seeds.root));
    this.#server = signerFromSeed(fromHex(this.#seeds.server));
  }

  get server(): Signer {
    return this.#server;
  }

  renewServer(): void {
    this.#seeds = { ...this.#seeds, server: drawSeed() };
    write(this.#file, this.#seeds);
    this.#server = signerFromSeed(fromHex(this.#seeds.server));
  }
}

function drawSeed(): string {
  return toHex(randomBytes(32));
}

function read(file: string): KeyFile {
  // Windows has no such bits; there the folder's own rights must do.
  if (process.platform !== "win32" && (statSync(file).mode & 0o077) !== 0) {
    throw new StartError(`${file}: others may read the keys. Take that right away: chmod 600 ${file}`);
  }
  let found: unknown;
  try {
    found = JSON.parse(readFileSync(file, "utf8"));
  } catch {
    found = null;
  }
  const keys = fileShape.safeParse(found);
  if (keys.success) return keys.data;
  throw new StartError(
    `${file}: is not a file of keys, or is damaged. It was left as it is; put the copy that you keep of it in its place.`,
  );
}

/** The new file is whole and on the disk before it takes the old one's place. */
function write(file: string, keys: KeyFile): void {
  const growing = `${file}.new-${process.pid}`;
  const handle = openSync(growing, "w", 0o600);
  try {
    writeFileSync(handle, `${JSON.stringify(keys)}\n`);
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
  renameSync(growing, file);
}
