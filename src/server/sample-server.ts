// A server to test with: an operator founded in a folder of its own, a clock that the test moves, and devices that sign
// like real ones. No network: requests go in through fastify's own injection.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { FastifyInstance, InjectOptions } from "fastify";
import { sha256, signerFromSeed } from "../crypto/node.ts";
import { bytesOf } from "../ledger/crypto.ts";
import type { Signer } from "../ledger/crypto.ts";
import type { LedgerId, StoredEntry } from "../ledger/entry.ts";
import { LedgerFold } from "../ledger/ledger-fold.ts";
import { noTrust } from "../ledger/acceptance.ts";
import { reopenEntry } from "../ledger/open.ts";
import { writeNext } from "../ledger/write-next.ts";
import { msToInstant } from "../core/facts/instant.ts";
import type { Problem } from "../wire/problem.ts";
import { Founding } from "./founding.ts";
import { buildHttp } from "./http.ts";
import { openOperatorServer, type OperatorServer } from "./operator-server.ts";

export const samplePeople = [
  { id: "p-one", name: "One", roles: ["pilot"], pin: "1111" },
  { id: "p-two", name: "Two", roles: ["engineer"], pin: "2222" },
] as const;
const administrator = { id: "p-admin", name: "Admin", pin: "9999" } as const;

export const sampleHost = "localhost:4717";

export type Answered<T> = {
  readonly status: number;
  readonly body: T;
  readonly headers: Record<string, unknown>;
};

export class SampleServer {
  readonly folder: string;
  server!: OperatorServer;
  app!: FastifyInstance;
  founding!: Founding;
  now_ms = Date.parse("2031-04-01T06:40:00.000Z");
  readonly faults: unknown[] = [];

  constructor(folder = mkdtempSync(join(tmpdir(), "preen-server-"))) {
    this.folder = folder;
  }

  /** Opens the folder and builds the HTTP rim on it. */
  async open(appFolder = join(this.folder, "no-app")): Promise<void> {
    const settings = { mode: "operator", folder: this.folder } as const;
    this.server = await openOperatorServer(settings, () => this.now_ms, { pinCost: 16 });
    this.founding = new Founding(this.server);
    this.app = await buildHttp({
      server: this.server,
      founding: this.founding,
      version: "1.2.3",
      appFolder,
      own: { port: () => 4717, origin: null, bind: "localhost" },
      onFault: (error) => this.faults.push(error),
    });
  }

  async found(): Promise<void> {
    const { code } = this.founding;
    const { status } = await this.post("/api/found", { code, operatorName: "Sample", administrator });
    if (status !== 200) throw new Error(`founding answered ${status}`);
    await this.server.directory.addPeople(samplePeople);
  }

  async close(): Promise<void> {
    await this.app.close();
    await this.server.close();
  }

  async remove(): Promise<void> {
    await this.close();
    rmSync(this.folder, { recursive: true, force: true });
  }

  async ask<T = Problem>(options: InjectOptions): Promise<Answered<T>> {
    const headers = { host: sampleHost, ...options.headers };
    const response = await this.app.inject({ ...options, headers });
    const isJson = String(response.headers["content-type"]).startsWith("application/json");
    return {
      status: response.statusCode,
      body: (isJson ? response.json() : response.body) as T,
      headers: response.headers,
    };
  }

  get<T = Problem>(url: string, token?: string): Promise<Answered<T>> {
    return this.ask<T>({ method: "GET", url, headers: bearer(token) });
  }

  post<T = Problem>(url: string, payload: object, token?: string): Promise<Answered<T>> {
    return this.ask<T>({ method: "POST", url, payload, headers: bearer(token) });
  }

  /** A device with a key of its own, enrolled for a person. */
  async enrol(person: string, pin: string, name = `device of ${person}`): Promise<SampleDevice> {
    const signer = signerFromSeed(sha256(bytesOf(name)));
    const { body, status } = await this.post<{ token: string; certificate: string; ledger: LedgerId }>(
      "/api/enrol",
      {
        person,
        pin,
        publicKey: signer.key,
        deviceName: name,
      },
    );
    if (status !== 200) throw new Error(`enrolment answered ${status}: ${JSON.stringify(body)}`);
    return new SampleDevice(this, person, signer, body.token, body.certificate);
  }
}

export class SampleDevice {
  readonly sample: SampleServer;
  readonly person: string;
  readonly signer: Signer;
  readonly token: string;
  readonly certificate: string;
  readonly #folds = new Map<LedgerId, LedgerFold<object>>();
  #salt = 0;

  constructor(sample: SampleServer, person: string, signer: Signer, token: string, certificate: string) {
    this.sample = sample;
    this.person = person;
    this.signer = signer;
    this.token = token;
    this.certificate = certificate;
  }

  /** Signs the next entry of this device; nothing is sent. */
  async write(ledger: LedgerId, type: string, body: unknown, signer = this.signer): Promise<StoredEntry> {
    const fold = this.#foldOf(ledger);
    const salt = (this.#salt++).toString(16).padStart(32, "0");
    const next = { ledger, type, body, by: this.person, at_ms: this.sample.now_ms, basis: {}, salt };
    const entry = await writeNext(fold, next, signer, sha256);
    fold.add([reopenEntry(entry)]);
    return entry;
  }

  /** The first entry of a craft's ledger; its body's sense is nothing to the server. */
  openCraft(name = "one"): Promise<StoredEntry> {
    const openedAt = msToInstant(this.sample.now_ms);
    const body = { name: `Craft ${name}`, variant: "2", sheet: "a".repeat(64), equipment: {}, openedAt };
    return this.write(`craft:${name}`, "craft.opened", body);
  }

  push(entries: readonly StoredEntry[]): Promise<Answered<PushReply>> {
    return this.sample.post<PushReply>("/api/push", { entries }, this.token);
  }

  /** Everything that the server has, as this device would pull it; later entries are written after it. */
  async pullAll(): Promise<readonly StoredEntry[]> {
    const entries: StoredEntry[] = [];
    for (let cursor = ""; ;) {
      const { body } = await this.sample.get<PullReply>(`/api/pull?limit=50${cursor}`, this.token);
      entries.push(...body.entries);
      for (const opened of body.entries.map(reopenEntry)) this.#foldOf(opened.envelope.ledger).add([opened]);
      if (!body.more) return entries;
      cursor = `&cursor=${body.cursor}`;
    }
  }

  #foldOf(ledger: LedgerId): LedgerFold<object> {
    const fold = this.#folds.get(ledger) ?? new LedgerFold({ initial: {}, types: [] }, [], noTrust);
    this.#folds.set(ledger, fold);
    return fold;
  }
}

export type PushReply = {
  readonly epoch: number;
  readonly verdicts: readonly {
    readonly id: string;
    readonly verdict: string;
    readonly code: string | null;
  }[];
  readonly mark: string;
};
export type PullReply = {
  readonly epoch: number;
  readonly entries: readonly StoredEntry[];
  readonly cursor: string;
  readonly more: boolean;
  readonly restarted: boolean;
};

function bearer(token: string | undefined): Record<string, string> {
  return token === undefined ? {} : { authorization: `Bearer ${token}` };
}
