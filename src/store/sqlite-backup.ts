// A backup of a server's folder in one file, taken while the server runs, and the way back into an empty folder.
//
// In it: the record (preen.db), the directory of people (directory.db), the sheets and the photos. Each database is copied
// inside one read transaction, so it is as it was at one instant; the directory, the sheets and the photos, which the record
// names, are copied after it. The keys are left out on purpose: whoever has them can speak for the operator (the owner
// keeps them apart). What was erased is not in it, and the list of erasures (erasures.ndjson) is left out too: it is kept
// with the keys, so that an older backup cannot bring back what was erased after it.
//
// The file: one line of JSON (format, version, when, each part with size and SHA-256), a line with the SHA-256 of that
// line, then the parts, byte after byte.
// A backup with one wrong byte is refused before anything is written. A restored folder says so to the server that
// opens it, by a mark of growth beyond its end.
import { createHash } from "node:crypto";
import {
  closeSync,
  copyFileSync,
  existsSync,
  fsyncSync,
  linkSync,
  mkdirSync,
  mkdtempSync,
  openSync,
  readdirSync,
  readSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
  writeSync,
} from "node:fs";
import { dirname, join, resolve } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { StoreError } from "./store-error.ts";

const format = "preen-backup";
const databases = ["preen.db", "directory.db"] as const;
const shelves = [
  { shelf: "sheets", named: /^sheets\/[0-9a-f]{64}\.json$/u },
  { shelf: "photos", named: /^photos\/[0-9a-f]{64}\.jpg$/u },
] as const;
/** What an otherwise empty folder may hold: what comes from elsewhere and has to be there first or later. */
const mayBeThere: ReadonlySet<string> = new Set(["keys.json", "erasures.ndjson"]);
const chunk_B = 1 << 20;
const longestHead_B = 1 << 24;

type Part = { readonly name: string; readonly size_B: number; readonly sha256: string };
type Head = {
  readonly format: typeof format;
  readonly version: 1;
  readonly madeAt: string;
  readonly parts: readonly Part[];
};

export type BackupTold = { readonly madeAt: string; readonly parts: number; readonly size_B: number };

/** Packs `folder` into the new file `file`. Throws a StoreError; a file that exists is left as it is. */
export function packFolder(folder: string, file: string, madeAt: string): BackupTold {
  if (existsSync(file)) throw new StoreError("unavailable", file, "is there already. Name a new file.");
  if (!existsSync(join(folder, "preen.db")))
    throw new StoreError("unavailable", folder, "holds no record. Name its folder with PREEN_DATA.");
  const beside = mkdtempSync(join(dirname(resolve(file)), ".preen-backup-"));
  try {
    const parts = copiesOf(folder, beside).map(({ name, path }) => ({ name, path, ...measure(path) }));
    const head: Head = {
      format,
      version: 1,
      madeAt,
      parts: parts.map(({ name, size_B, sha256 }) => ({ name, size_B, sha256 })),
    };
    const growing = join(beside, "whole");
    const out = openSync(growing, "wx", 0o600);
    try {
      const line = JSON.stringify(head);
      writeSync(out, `${line}\n${hashOf(line)}\n`);
      for (const { path } of parts) eachChunk(path, (bytes) => writeAll(out, bytes));
      fsyncSync(out);
    } finally {
      closeSync(out);
    }
    linkSync(growing, file);
    return { madeAt, parts: parts.length, size_B: statSync(file).size };
  } finally {
    rmSync(beside, { recursive: true, force: true });
  }
}

function copiesOf(
  folder: string,
  beside: string,
): readonly { readonly name: string; readonly path: string }[] {
  const copies = databases
    .filter((name) => existsSync(join(folder, name)))
    .map((name) => {
      const path = join(beside, name);
      copyDatabase(join(folder, name), path);
      return { name, path };
    });
  return [...copies, ...shelves.flatMap(({ shelf, named }) => shelved(folder, beside, shelf, named))];
}

/**
 * The files of a shelf, in an order that does not depend on the disk. They never change and may be removed at any moment
 * (an erasure), so each is held by a second name while the backup is written, or is not in it.
 */
function shelved(
  folder: string,
  beside: string,
  shelf: string,
  named: RegExp,
): readonly { readonly name: string; readonly path: string }[] {
  const from = join(folder, shelf);
  if (!existsSync(from)) return [];
  mkdirSync(join(beside, shelf));
  return readdirSync(from)
    .map((file) => `${shelf}/${file}`)
    .filter((name) => named.test(name))
    .toSorted()
    .flatMap((name) => {
      const path = join(beside, name);
      return isHeld(join(folder, name), path) ? [{ name, path }] : [];
    });
}

/** False where the file is gone by now. On another disk than the folder's it is copied. */
function isHeld(from: string, to: string): boolean {
  try {
    linkSync(from, to);
    return true;
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === "ENOENT") return false;
    copyFileSync(from, to);
    return true;
  }
}

/** VACUUM INTO reads in one transaction, beside a writer, and carries no free pages over. */
function copyDatabase(from: string, to: string): void {
  const db = new DatabaseSync(from, { readOnly: true, timeout: 10_000 });
  try {
    db.prepare("VACUUM INTO ?").run(to);
  } finally {
    db.close();
  }
}

/**
 * Unpacks `file` into `folder`, which is made where it is missing and may hold nothing but keys. Throws a StoreError
 * before anything is written when the backup is not whole. The record comes into place last.
 */
export function unpackFolder(file: string, folder: string): BackupTold {
  assertEmpty(folder);
  const { head, begin_B } = readHead(file);
  assertWhole(file, head, begin_B);
  for (const { shelf } of shelves) mkdirSync(join(folder, shelf), { recursive: true, mode: 0o700 });
  const unfinished = (name: string): string => join(folder, `${name}.restoring`);
  let at_B = begin_B;
  for (const { name, size_B } of head.parts) {
    const out = openSync(unfinished(name), "wx", 0o600);
    try {
      eachChunk(file, (bytes) => writeAll(out, bytes), at_B, size_B);
      fsyncSync(out);
    } finally {
      closeSync(out);
    }
    at_B += size_B;
  }
  writeFileSync(join(folder, "high-water.json"), JSON.stringify(markBeyond(unfinished("preen.db"))));
  const recordLast = head.parts.toSorted(
    (a, b) => Number(a.name === "preen.db") - Number(b.name === "preen.db"),
  );
  for (const { name } of recordLast) renameSync(unfinished(name), join(folder, name));
  return { madeAt: head.madeAt, parts: head.parts.length, size_B: at_B };
}

function assertEmpty(folder: string): void {
  const there = existsSync(folder) ? readdirSync(folder).filter((name) => !mayBeThere.has(name)) : [];
  if (there.length > 0)
    throw new StoreError(
      "unavailable",
      folder,
      `is not empty (${there.slice(0, 3).join(", ")}). Name an empty folder with PREEN_DATA; nothing was changed.`,
    );
}

/** A place in the log that the restored record does not reach: what the server takes for a sign of restoration. */
function markBeyond(database: string): { readonly position: number; readonly id: string } {
  const db = new DatabaseSync(database, { readOnly: true });
  try {
    const { newest } = db.prepare("SELECT max(position) AS newest FROM entry").get() as {
      newest: number | null;
    };
    return { position: (newest ?? 0) + 1, id: "restored" };
  } finally {
    db.close();
  }
}

function readHead(file: string): { readonly head: Head; readonly begin_B: number } {
  if (!existsSync(file)) throw new StoreError("unavailable", file, "is not there.");
  let read = Buffer.alloc(0);
  let begin_B = 0;
  eachChunk(file, (bytes) => {
    read = Buffer.concat([read, bytes]);
    begin_B = read.indexOf(10, read.indexOf(10) + 1) + 1;
    return begin_B === 0 && read.length < longestHead_B;
  });
  const [line = "", hash] = read.subarray(0, begin_B).toString().split("\n");
  const head: unknown = hash === hashOf(line) ? JSON.parse(line) : null;
  if (!isHead(head)) throw damaged(file, "its first two lines are not those of a backup");
  return { head, begin_B };
}

/** The hash says only that a line is whole, not who wrote it: no part may be named outside the folder. */
function isHead(value: unknown): value is Head {
  const { format: kind, version, madeAt, parts } = (value ?? {}) as Record<keyof Head, unknown>;
  return (
    kind === format &&
    version === 1 &&
    typeof madeAt === "string" &&
    Array.isArray(parts) &&
    parts.every(isPart)
  );
}

function isPart(value: unknown): value is Part {
  const { name, size_B, sha256 } = (value ?? {}) as Record<keyof Part, unknown>;
  const isOurs =
    typeof name === "string" &&
    ((databases as readonly string[]).includes(name) || shelves.some(({ named }) => named.test(name)));
  return isOurs && Number.isSafeInteger(size_B) && Number(size_B) >= 0 && typeof sha256 === "string";
}

function hashOf(text: string): string {
  return createHash("sha256").update(text).digest("hex");
}

function assertWhole(file: string, { parts }: Head, begin_B: number): void {
  const names = parts.map(({ name }) => name);
  if (!names.includes("preen.db")) throw damaged(file, "it holds no record");
  if (new Set(names).size !== names.length) throw damaged(file, "it holds a part twice");
  const size_B = statSync(file).size;
  const wanted_B = parts.reduce((sum, part) => sum + part.size_B, begin_B);
  if (size_B !== wanted_B) throw damaged(file, `it has ${size_B} bytes, its first line wants ${wanted_B}`);
  let at_B = begin_B;
  for (const { name, size_B: part_B, sha256 } of parts) {
    if (measure(file, at_B, part_B).sha256 !== sha256) throw damaged(file, `${name} in it was altered`);
    at_B += part_B;
  }
}

function damaged(file: string, why: string): StoreError {
  return new StoreError(
    "corrupted",
    file,
    `is no whole backup: ${why}. Nothing was written; take another backup.`,
  );
}

function measure(
  file: string,
  from_B = 0,
  size_B = Infinity,
): { readonly size_B: number; readonly sha256: string } {
  const hash = createHash("sha256");
  let read_B = 0;
  const take = (bytes: Buffer): void => {
    hash.update(bytes);
    read_B += bytes.length;
  };
  eachChunk(file, take, from_B, size_B);
  return { size_B: read_B, sha256: hash.digest("hex") };
}

/** Hands over the bytes of a file piece by piece until `take` answers false; in pieces of their own. */
function eachChunk(
  file: string,
  take: (bytes: Buffer) => boolean | void,
  from_B = 0,
  size_B = Infinity,
): void {
  const handle = openSync(file, "r");
  try {
    for (let at_B = from_B; at_B < from_B + size_B;) {
      const bytes = Buffer.alloc(Math.min(chunk_B, from_B + size_B - at_B));
      const read_B = readSync(handle, bytes, 0, bytes.length, at_B);
      if (read_B === 0 || take(bytes.subarray(0, read_B)) === false) return;
      at_B += read_B;
    }
  } finally {
    closeSync(handle);
  }
}

function writeAll(handle: number, bytes: Buffer): void {
  for (let at = 0; at < bytes.length;) at += writeSync(handle, bytes, at);
}
