// For tests: commands and servers as somebody starts them, in processes of their own, on folders under one that is removed
// at the end; and a device that talks to such a server as a real one does.
import { execFile, spawn } from "node:child_process";
import type { ChildProcess } from "node:child_process";
import { once } from "node:events";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { sha256, signerFromSeed } from "../crypto/node.ts";
import { noTrust } from "../ledger/acceptance.ts";
import { bytesOf, toHex } from "../ledger/crypto.ts";
import type { Signer } from "../ledger/crypto.ts";
import type { StoredEntry } from "../ledger/entry.ts";
import { LedgerFold } from "../ledger/ledger-fold.ts";
import { reopenEntry } from "../ledger/open.ts";
import { writeNext } from "../ledger/write-next.ts";
import { enrolRoute, pushRoute } from "../wire/exchange.ts";
import { keepPhotoRoute } from "../wire/photos.ts";
import type { ReplyOf } from "../wire/route.ts";
import { Talk } from "./talk.ts";

const root = join(import.meta.dirname, "../..");
export const sampleAt = "2026-11-25T06:40:00.000Z";

export type Ran = { readonly code: number; readonly out: string; readonly err: string };
export type Served = { readonly url: string; stop(): Promise<void> };

export class SampleProcesses {
  readonly folder = mkdtempSync(join(tmpdir(), "preen-processes-"));
  readonly #running: ChildProcess[] = [];

  /** Runs a command on the folder of one server; `env` on top of the test's own. */
  preen(words: readonly string[], data = "nothing", env: NodeJS.ProcessEnv = {}): Promise<Ran> {
    const own = { ...process.env, PREEN_DATA: join(this.folder, data), ...env };
    const options = { env: own, maxBuffer: 2 ** 26 };
    return new Promise((resolve) => {
      execFile(process.execPath, [join(root, "src/cli/main.ts"), ...words], options, (error, out, err) => {
        resolve({ code: error === null ? 0 : Number(error.code), out, err });
      });
    });
  }

  /** A demo server on a folder of its own, once it listens. Rejects where it does not start. */
  async serve(data: string, isQuiet = false): Promise<Served> {
    const env = {
      ...process.env,
      PREEN_MODE: "demo",
      PREEN_DEMO: "fortnight",
      PREEN_DATA: join(this.folder, data),
      PREEN_PORT: "0",
      PREEN_AT: sampleAt,
    };
    const child = spawn(process.execPath, [join(root, "src/server/main.ts")], {
      env,
      stdio: ["ignore", "pipe", isQuiet ? "ignore" : "inherit"],
    });
    this.#running.push(child);
    const [line] = (await Promise.race([once(child.stdout, "data"), once(child, "exit")])) as [
      Buffer | number,
    ];
    const [, url] = /^listening (\S+)/u.exec(line.toString()) ?? [];
    if (url === undefined) throw new Error(`the server said or ended with ${String(line)}`);
    const stop = async (): Promise<void> => {
      child.kill("SIGTERM");
      await once(child, "exit");
    };
    return { url, stop };
  }

  async remove(): Promise<void> {
    for (const child of this.#running.filter(({ exitCode }) => exitCode === null)) {
      child.kill("SIGKILL");
      await once(child, "exit");
    }
    rmSync(this.folder, { recursive: true, force: true });
  }
}

/** A device of one person: writes in the chain of its own key on everything that it has pulled. */
export class SampleCaller {
  readonly signer: Signer;
  readonly person: string;
  #talk: Talk;
  #token: string;
  #count = 0;

  private constructor(talk: Talk, token: string, signer: Signer, person: string) {
    this.#talk = talk;
    this.#token = token;
    this.signer = signer;
    this.person = person;
  }

  static async enrol(url: string, person: string, pin: string): Promise<SampleCaller> {
    const signer = signerFromSeed(sha256(bytesOf(`sample device of ${person}`)));
    const caller = new SampleCaller(new Talk(url), "", signer, person);
    await caller.moveTo(url, pin);
    return caller;
  }

  /** Goes on with the same key at another server, or at the same one under another address. */
  async moveTo(url: string, pin: string): Promise<void> {
    this.#talk = new Talk(url);
    const device = { person: this.person, pin, publicKey: this.signer.key, deviceName: "sample" };
    this.#token = (await this.#talk.ask(enrolRoute, { body: device })).token;
  }

  pull(ledger: string): Promise<readonly StoredEntry[]> {
    return this.#talk.pull(ledger, this.#token);
  }

  push(entries: readonly StoredEntry[]): Promise<ReplyOf<typeof pushRoute>> {
    return this.#talk.ask(pushRoute, { body: { entries }, token: this.#token });
  }

  /** Writes an entry on all that the server has now, and pushes it. */
  async record(ledger: string, type: string, body: unknown, at_ms: number): Promise<StoredEntry> {
    const held = (await this.pull(ledger)).map(reopenEntry);
    const fold = new LedgerFold<object>({ initial: {}, types: [] }, held, noTrust);
    const salt = (this.#count++).toString(16).padStart(32, "0");
    const next = { ledger, type, body, by: this.person, at_ms, basis: {}, salt };
    const entry = await writeNext(fold, next, this.signer, sha256);
    const { verdicts } = await this.push([entry]);
    if (verdicts[0]?.verdict !== "accepted")
      throw new Error(`the server answered ${JSON.stringify(verdicts)}`);
    return entry;
  }

  async putPhoto(bytes: Uint8Array): Promise<void> {
    const body = { hash: toHex(sha256(bytes)), data: Buffer.from(bytes).toString("base64") };
    await this.#talk.ask(keepPhotoRoute, { body, token: this.#token });
  }
}

/** The smallest file that a server takes for a plain JPEG, with words of one's own where the picture would be. */
export function samplePhoto(words: string): Uint8Array {
  return Uint8Array.from([0xff, 0xd8, 0xff, 0xda, 0, 3, 1, ...bytesOf(words), 0xff, 0xd9]);
}

/** As an entry names it. */
export function samplePhotoRef(bytes: Uint8Array): Readonly<Record<string, unknown>> {
  const hash = toHex(sha256(bytes));
  return { hash, mime: "image/jpeg", bytes: bytes.length, width_px: 4, height_px: 3 };
}
