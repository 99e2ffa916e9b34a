// Serves the built app: files by their exact names, the app's page for every address that is one of its pages. A file
// that is not there is answered 404 and never by the page, or a browser would keep HTML as a script. Files are read and
// compressed once, and read again when another build has taken their place.
import { createHash } from "node:crypto";
import { readFileSync, readdirSync, statSync } from "node:fs";
import { extname, join, sep } from "node:path";
import { promisify } from "node:util";
import { brotliCompress, constants, gzip } from "node:zlib";
import type { FastifyReply, FastifyRequest } from "fastify";

const types: Readonly<Record<string, string>> = {
  ".css": "text/css; charset=utf-8",
  ".html": "text/html; charset=utf-8",
  ".ico": "image/x-icon",
  ".js": "text/javascript; charset=utf-8",
  ".json": "application/json; charset=utf-8",
  ".png": "image/png",
  ".svg": "image/svg+xml",
  ".txt": "text/plain; charset=utf-8",
  ".webmanifest": "application/manifest+json; charset=utf-8",
  ".woff2": "font/woff2",
};
/** Already compressed in themselves. */
const packed = new Set([".png", ".woff2", ".ico"]);

type Encoding = "br" | "gzip" | "identity";
type AppFile = {
  readonly type: string;
  readonly etag: string;
  readonly cache: string;
  readonly isPacked: boolean;
  readonly bodies: Map<Encoding, Promise<Buffer>>;
};

const page = "/index.html";

export class AppFiles {
  readonly #folder: string;
  #files: ReadonlyMap<string, AppFile> = new Map();
  #read_ms = -1;

  constructor(folder: string) {
    this.#folder = folder;
  }

  /** Whether there is an app to serve. */
  get isBuilt(): boolean {
    this.#refresh();
    return this.#files.has(page);
  }

  /** Answers a GET or HEAD for the app; false when there is no such file and no such page. */
  async answer(request: FastifyRequest, reply: FastifyReply): Promise<boolean> {
    this.#refresh();
    const path = pathOf(request.url);
    const file = path === null ? undefined : (this.#files.get(path) ?? this.#pageFor(path));
    if (file === undefined) return false;
    const encoding = encodingFor(request.headers["accept-encoding"], file.isPacked);
    const etag = `"${file.etag}-${encoding}"`;
    reply.header("cache-control", file.cache).header("etag", etag).header("vary", "accept-encoding");
    if (request.headers["if-none-match"] === etag) {
      await reply.code(304).send();
      return true;
    }
    if (encoding !== "identity") reply.header("content-encoding", encoding);
    await reply.type(file.type).send(await bodyIn(file, encoding));
    return true;
  }

  /** A page of the app is any address without a dot in its last part, outside the server's own. */
  #pageFor(path: string): AppFile | undefined {
    const isFile = path.slice(path.lastIndexOf("/") + 1).includes(".");
    return isFile || path === "/api" || path.startsWith("/api/") ? undefined : this.#files.get(page);
  }

  #refresh(): void {
    const built_ms = statSync(join(this.#folder, page), { throwIfNoEntry: false })?.mtimeMs ?? -1;
    if (built_ms === this.#read_ms) return;
    this.#read_ms = built_ms;
    this.#files = built_ms === -1 ? new Map() : readFiles(this.#folder);
  }
}

/** Null for what is no path: a bad escape, or a name that a careless file system would take for another. */
function pathOf(url: string): string | null {
  try {
    return decodeURIComponent(url.split(/[?#]/u)[0]!);
  } catch {
    return null;
  }
}

function readFiles(folder: string): ReadonlyMap<string, AppFile> {
  const names = readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name));
  return new Map(
    names.map((file) => [file.slice(folder.length).split(sep).join("/"), appFile(folder, file)]),
  );
}

function appFile(folder: string, file: string): AppFile {
  const body = readFileSync(file);
  const path = file.slice(folder.length).split(sep).join("/");
  // Vite puts the hash of its contents into the name of every file of this folder.
  const isNamedByContents = path.startsWith("/assets/");
  return {
    type: types[extname(file)] ?? "application/octet-stream",
    etag: createHash("sha256").update(body).digest("base64url").slice(0, 22),
    cache: isNamedByContents ? "public, max-age=31536000, immutable" : "no-cache",
    isPacked: packed.has(extname(file)),
    bodies: new Map([["identity", Promise.resolve(body)]]),
  };
}

function encodingFor(accepted: string | string[] | undefined, isPacked: boolean): Encoding {
  if (isPacked || accepted === undefined) return "identity";
  const names = String(accepted)
    .split(",")
    .filter((part) => !/;\s*q=0(?:\.0*)?\s*$/u.test(part))
    .map((part) => part.split(";")[0]!.trim().toLowerCase());
  return (["br", "gzip"] as const).find((name) => names.includes(name)) ?? "identity";
}

async function bodyIn(file: AppFile, encoding: Encoding): Promise<Buffer> {
  const held = file.bodies.get(encoding);
  if (held !== undefined) return held;
  const plain = await file.bodies.get("identity")!;
  // Quality 6 packs the app within 5 % of the best in a tenth of a second.
  const made =
    encoding === "br"
      ? promisify(brotliCompress)(plain, { params: { [constants.BROTLI_PARAM_QUALITY]: 6 } })
      : promisify(gzip)(plain, { level: 9 });
  file.bodies.set(encoding, made);
  return made;
}
