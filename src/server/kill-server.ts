// Kills the whole server with SIGKILL under load, again and again on one folder, and looks whether everything that it had
// acknowledged is there: entries with their receipts, in a craft's ledger and in the operator's, and photos whole. Devices
// push without a pause; what a kill left without an answer they push again, as a device does. Four kills in five wait for a
// number of answers drawn by chance and then for a part of the time that an answer takes, so that they fall in the middle of
// acknowledged traffic; the others come soon after the start. Proves safety against a crash of the process, not against a
// power cut. By itself: `npm run kill-server [-- ROUNDS]`, 50 rounds by default; ends with 1 when something was lost.
import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { setTimeout as wait } from "node:timers/promises";
import { demoKeySeed } from "../../demo/make-demo.ts";
import { demoBase, demoCraft, demoOperator, demoPeople } from "../../demo/cast.ts";
import { randomFrom } from "../../demo/random.ts";
import { msToInstant } from "../core/facts/instant.ts";
import { sha256, signerFromSeed } from "../crypto/node.ts";
import { bytesOf, toHex } from "../ledger/crypto.ts";
import type { Signer } from "../ledger/crypto.ts";
import type { StoredEntry } from "../ledger/entry.ts";
import { reopenEntry } from "../ledger/open.ts";
import { seal } from "../ledger/seal.ts";
import type { ReceiptBody } from "../ledger/system-entries.ts";
import { SqliteStore } from "../store/sqlite.ts";

export type KillResult = {
  readonly rounds: number;
  /** Entries and photos that the server said it has. */
  readonly acknowledged: number;
  readonly photos: number;
  /** Acknowledged and not there, or there without a receipt, or a photo that is not whole. */
  readonly lost: number;
  /** Kills at which the server had answered in that round and was at work on a push of entries. */
  readonly inTraffic: number;
  /** Pushes without an answer that were on the disk all the same, and those that were not: kills on both sides of the commit. */
  readonly keptUnanswered: number;
  readonly droppedUnanswered: number;
};

const perPush = 5;
const { ledger } = demoCraft[0]!;
const anchor_ms = Date.parse("2026-11-25T08:40:00.000Z");

/** What a device writes as its nth entry. */
type Writes = {
  readonly ledger: string;
  readonly type: string;
  readonly critical: boolean;
  body(n: number): unknown;
};

const readings: Writes = {
  ledger,
  type: "reading.taken",
  critical: true,
  body: (n) => {
    const value = 4.5 + (n % 10) / 10;
    const reading = { gauge: "engineOilRight", value, unit: "L", typed: String(value), conditions: {} };
    return { ...reading, hours_h: null, at: msToInstant(anchor_ms + n) };
  },
};

/** Into the operator's ledger, which says whom to believe. */
const descriptions: Writes = {
  ledger: demoOperator.id,
  type: "base.described",
  critical: false,
  body: (n) => ({
    base: demoBase.id,
    name: `${demoBase.name} ${n}`,
    lat_deg: demoBase.lat_deg,
    lon_deg: demoBase.lon_deg,
    elevation_m: demoBase.elevation_m,
    replaces: [],
  }),
};

type Sent = "answered" | "gone";

/** Posts as JSON; `gone` where the server was killed before the answer was whole. */
async function post(
  url: string,
  path: string,
  token: string,
  body: object,
): Promise<Sent | { readonly reply: unknown }> {
  try {
    const response = await fetch(`${url}${path}`, {
      method: "POST",
      headers: { authorization: `Bearer ${token}`, "content-type": "application/json" },
      body: JSON.stringify(body),
    });
    const reply: unknown = await response.json();
    if (!response.ok) throw new RangeError(`the server answered ${response.status} ${JSON.stringify(reply)}`);
    return { reply };
  } catch (error) {
    if (error instanceof RangeError) throw error;
    return "gone";
  }
}

/** A device that pushes entries, in its own chain, until the server is gone. */
class Pusher {
  readonly acknowledged: string[] = [];
  /** Answers in this round, and how long each took. */
  readonly took_ms: number[] = [];
  readonly writes: Writes;
  readonly #signer: Signer;
  readonly #token: string;
  readonly #by: string;
  #last: { readonly seq: number; readonly id: string } | null = null;
  #unanswered: readonly StoredEntry[] = [];

  constructor(signer: Signer, token: string, by: string, writes: Writes) {
    this.#signer = signer;
    this.#token = token;
    this.#by = by;
    this.writes = writes;
  }

  /** Ids of a push that has no answer; empty between two pushes. */
  get unanswered(): readonly string[] {
    return this.#unanswered.map(({ id }) => id);
  }

  async push(url: string): Promise<void> {
    this.took_ms.length = 0;
    for (;;) {
      if (this.#unanswered.length === 0) this.#unanswered = await this.#next();
      const began_ms = performance.now();
      const answer = await post(url, "/api/push", this.#token, { entries: this.#unanswered });
      if (typeof answer === "string") return;
      const { verdicts } = answer.reply as { verdicts: { verdict: string }[] };
      if (verdicts.some(({ verdict }) => !["accepted", "held"].includes(verdict)))
        throw new RangeError(`the server answered ${JSON.stringify(verdicts)}`);
      this.took_ms.push(performance.now() - began_ms);
      this.acknowledged.push(...this.unanswered);
      this.#unanswered = [];
    }
  }

  async #next(): Promise<readonly StoredEntry[]> {
    const entries: StoredEntry[] = [];
    for (let count = 0; count < perPush; count += 1) {
      const seq = this.#last === null ? 0 : this.#last.seq + 1;
      const { body, ...kind } = this.writes;
      const entry = await seal(
        {
          ...kind,
          tv: 1,
          by: this.#by,
          body: body(seq),
          seq,
          prev: this.#last?.id ?? null,
          after: [],
          at: msToInstant(anchor_ms + seq),
          basis: {},
          salt: seq.toString(16).padStart(32, "0"),
        },
        this.#signer,
        sha256,
      );
      this.#last = { seq, id: entry.id };
      entries.push(entry);
    }
    return entries;
  }
}

/** A device that hands over photos, one after another, until the server is gone. */
class PhotoPusher {
  readonly acknowledged: string[] = [];
  readonly #token: string;
  #count = 0;

  constructor(token: string) {
    this.#token = token;
  }

  async push(url: string): Promise<void> {
    for (;;) {
      const picture = bytesOf(`photo ${this.#count} `.repeat(4_000));
      const bytes = Uint8Array.from([0xff, 0xd8, 0xff, 0xda, 0, 3, 1, ...picture, 0xff, 0xd9]);
      const hash = toHex(sha256(bytes));
      const body = { hash, data: Buffer.from(bytes).toString("base64") };
      if (typeof (await post(url, "/api/photos", this.#token, body)) === "string") return;
      this.acknowledged.push(hash);
      this.#count += 1;
    }
  }
}

/** `seed`: of the instants of the kills. */
export async function killServer(rounds: number, folder: string, seed = 1): Promise<KillResult> {
  const data = join(folder, "data");
  const database = join(data, "preen.db");
  const random = randomFrom(seed);
  const pushers: Pusher[] = [];
  let photos: PhotoPusher | null = null;
  let [inTraffic, keptUnanswered, droppedUnanswered] = [0, 0, 0];
  for (let round = 0; round < rounds; round += 1) {
    const { child, url } = await startServer(data);
    if (photos === null) {
      for (const [index, { id, pin }] of demoPeople.slice(0, 2).entries())
        pushers.push(await enrolled(url, { id, pin, name: `killed device ${index}` }, readings));
      const administrator = demoPeople.find(({ roles }) => roles.includes("administrator"))!;
      pushers.push(
        await enrolled(url, { ...administrator, name: "killed device of an office" }, descriptions),
      );
      photos = new PhotoPusher(
        await tokenOf(url, demoPeople[0]!, signerFromSeed(demoKeySeed("photos", sha256)).key),
      );
    }
    const pushing = [...pushers, photos].map((pusher) => pusher.push(url));
    await (round % 5 === 4 ? wait(random.whole(20, 300)) : midTraffic(child, pushers, random));
    const inFlight = pushers.map((pusher) => pusher.unanswered);
    const hasAnswered = pushers.some(({ took_ms }) => took_ms.length > 0);
    child.kill("SIGKILL");
    await once(child, "close");
    await Promise.all(pushing);
    if (hasAnswered && inFlight.some((ids) => ids.length > 0)) inTraffic += 1;
    assertWhole(database);
    // What was answered between the look and the kill was not in flight any more.
    const open = pushers.flatMap(({ unanswered }) => (unanswered.length > 0 ? [unanswered] : []));
    const lacking = await lackingIn(database, open.flat());
    for (const ids of open) {
      if (ids.every((id) => !lacking.has(id))) keptUnanswered += 1;
      else if (ids.every((id) => lacking.has(id))) droppedUnanswered += 1;
      else throw new Error("a push was kept in part");
    }
  }
  const { acknowledged: kept } = photos!;
  return {
    rounds,
    acknowledged: pushers.reduce((sum, { acknowledged }) => sum + acknowledged.length, 0),
    photos: kept.length,
    lost: (await countLost(database, pushers)) + countBadPhotos(join(data, "photos"), kept),
    inTraffic,
    keptUnanswered,
    droppedUnanswered,
  };
}

/** Some answers, and then a part of the time that one takes, drawn anew each time. */
async function midTraffic(
  child: ChildProcess,
  pushers: readonly Pusher[],
  random: ReturnType<typeof randomFrom>,
): Promise<void> {
  const answers = random.whole(1, 12);
  const given = (): readonly number[] => pushers.flatMap(({ took_ms }) => took_ms);
  while (given().length < answers) {
    if (child.exitCode !== null) throw new Error(`the server ended by itself with ${child.exitCode}`);
    await wait(1);
  }
  const usual_ms = given().reduce((sum, took) => sum + took, 0) / given().length;
  await wait(random.whole(0, Math.ceil(usual_ms * 1.2)));
}

async function startServer(data: string): Promise<{ readonly child: ChildProcess; readonly url: string }> {
  const env = {
    ...process.env,
    PREEN_MODE: "demo",
    PREEN_DEMO: "fortnight",
    PREEN_DATA: data,
    PREEN_PORT: "0",
    PREEN_AT: msToInstant(anchor_ms),
  };
  const child = spawn(process.execPath, [join(import.meta.dirname, "main.ts")], {
    env,
    stdio: ["ignore", "pipe", "inherit"],
  });
  let text = "";
  child.stdout.setEncoding("utf8").on("data", (part: string) => (text += part));
  for (;;) {
    const url = /listening (http:\S+)/u.exec(text)?.[1];
    if (url !== undefined) return { child, url };
    if (child.exitCode !== null) throw new Error(`the server ended with ${child.exitCode}: ${text}`);
    await wait(10);
  }
}

type Owner = { readonly id: string; readonly pin: string; readonly name: string };

async function enrolled(url: string, { id, pin, name }: Owner, writes: Writes): Promise<Pusher> {
  const signer = signerFromSeed(demoKeySeed(name, sha256));
  return new Pusher(signer, await tokenOf(url, { id, pin }, signer.key), id, writes);
}

async function tokenOf(
  url: string,
  { id: person, pin }: Pick<Owner, "id" | "pin">,
  publicKey: string,
): Promise<string> {
  const response = await fetch(`${url}/api/enrol`, {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify({ person, pin, publicKey, deviceName: "killed" }),
  });
  const { token } = (await response.json()) as { token?: string };
  if (token === undefined) throw new Error(`enrolling answered ${response.status}`);
  return token;
}

function assertWhole(file: string): void {
  const db = new DatabaseSync(file);
  const found = db.prepare("PRAGMA integrity_check").get()?.["integrity_check"];
  db.close();
  if (found !== "ok") throw new Error(`${file}: integrity check found ${String(found)}`);
}

async function lackingIn(file: string, ids: readonly string[]): Promise<ReadonlySet<string>> {
  const store = new SqliteStore(file);
  const lacking = new Set(await store.lacking(ids));
  await store.close();
  return lacking;
}

async function countLost(file: string, pushers: readonly Pusher[]): Promise<number> {
  const store = new SqliteStore(file);
  let lost = 0;
  for (const { writes, acknowledged } of pushers) {
    const held = (await store.ofLedger(writes.ledger)).map(reopenEntry);
    const ids = new Set(held.map(({ id }) => id));
    const received = new Set(
      held
        .filter(({ envelope }) => envelope.type === "receipt")
        .flatMap(({ body }) => (body as ReceiptBody).entries.map(({ id }) => id)),
    );
    lost += acknowledged.filter((id) => !ids.has(id) || !received.has(id)).length;
  }
  await store.close();
  return lost;
}

/** Acknowledged ones that are not there, and any file under a photo's name that is not that photo. */
function countBadPhotos(shelf: string, acknowledged: readonly string[]): number {
  const files = existsSync(shelf) ? readdirSync(shelf).filter((name) => name.endsWith(".jpg")) : [];
  const torn = files.filter((name) => `${toHex(sha256(readFileSync(join(shelf, name))))}.jpg` !== name);
  return torn.length + acknowledged.filter((hash) => !files.includes(`${hash}.jpg`)).length;
}

if (process.argv[1] === import.meta.filename) {
  const folder = mkdtempSync(join(tmpdir(), "preen-kill-server-"));
  const told = await killServer(Number(process.argv[2] ?? 50), folder);
  rmSync(folder, { recursive: true });
  console.log(
    `${told.rounds} kills, ${told.inTraffic} of them while an append was in flight after answers in the same round\n` +
      `${told.acknowledged} entries and ${told.photos} photos acknowledged, ${told.lost} lost\n` +
      `pushes without an answer: ${told.keptUnanswered} on the disk, ${told.droppedUnanswered} not`,
  );
  process.exitCode = told.lost === 0 ? 0 : 1;
}
