// Whole devices against the whole server: the exchange's two halves with real signatures, real receipts and the HTTP
// between them, lost answers and a restored server included.
import { cpSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { nodeVerifier, sha256 } from "../crypto/node.ts";
import { craftLedger } from "../ledger/craft/craft-ledger.ts";
import type { StoredEntry } from "../ledger/entry.ts";
import { foldLedger } from "../ledger/fold.ts";
import { isOpened, isSigned, openEntry, reopenEntry } from "../ledger/open.ts";
import { operatorLedger } from "../ledger/operator/operator-ledger.ts";
import { MemoryStore } from "../store/memory.ts";
import { CallError, Exchanger, type Screened } from "../sync/exchanger.ts";
import type { Answer, Call } from "../sync/message.ts";
import { offerRoute, pullRoute, pushRoute } from "../wire/exchange.ts";
import { SampleServer, type Answered, type SampleDevice } from "./sample-server.ts";

let sample: SampleServer;
beforeEach(async () => {
  sample = new SampleServer();
  await sample.open();
  await sample.found();
});
afterEach(() => sample.remove());

/** Opens and verifies what was pulled, as a device must before it keeps it. */
async function screen(entries: readonly StoredEntry[]): Promise<Screened> {
  const readable: StoredEntry[] = [];
  const unreadable: Record<string, string> = {};
  for (const entry of entries) {
    const opened = openEntry(entry, sha256);
    if (!isOpened(opened)) unreadable[entry.id] = opened.code;
    else if (await isSigned(opened, nodeVerifier)) readable.push(entry);
    else unreadable[entry.id] = "signatureWrong";
  }
  return { readable, unreadable };
}

/** One call over the injected HTTP, read by the wire's own shapes. */
async function ask(device: SampleDevice, call: Call): Promise<Answer> {
  const { kind, ...asked } = call;
  const given = Object.fromEntries(Object.entries(asked).filter(([, value]) => value !== null));
  const query = new URLSearchParams(Object.entries(given).map(([name, value]) => [name, String(value)]));
  const answered: Answered<unknown> =
    kind === "pull"
      ? await sample.get<unknown>(`/api/pull?${query}`, device.token)
      : await sample.post<unknown>(`/api/${kind}`, given, device.token);
  if (answered.status === 401) throw new CallError("tokenRefused");
  if (answered.status !== 200) throw new CallError("serverFailed");
  if (kind === "offer") return { kind, ...offerRoute.reply.parse(answered.body) };
  if (kind === "push") return { kind, ...pushRoute.reply.parse(answered.body) };
  return { kind, ...pullRoute.reply.parse(answered.body) };
}

type Whole = { readonly device: SampleDevice; readonly store: MemoryStore; readonly exchanger: Exchanger };

/** Every `loses`-th answer is lost on its way back. */
async function wholeDevice(person: string, pin: string, loses = Infinity): Promise<Whole> {
  const device = await sample.enrol(person, pin);
  const store = new MemoryStore();
  let calls = 0;
  const exchanger = await Exchanger.start({
    log: store,
    call: async (call) => {
      const answer = await ask(device, call);
      if (++calls % loses === 0) throw new CallError("timedOut");
      return answer;
    },
    screen,
    now_ms: () => sample.now_ms,
    chance: () => 0.5,
    wakeAt: () => {},
  });
  return { device, store, exchanger };
}

async function record({ device, store }: Whole, count: number): Promise<void> {
  for (let n = 0; n < count; n++)
    await store.append([await device.write("craft:one", "event.noted", { event: "e", words: `${n}` })]);
}

async function exchangeAll(devices: readonly Whole[]): Promise<void> {
  for (let round = 0; round < 6; round++) for (const { exchanger } of devices) await exchanger.wake(true);
}

async function textsOf(store: Pick<MemoryStore, "since">): Promise<readonly string[]> {
  return (await store.since(0, 10_000)).rows.map(({ entry }) => JSON.stringify(entry)).toSorted();
}

describe("Whole devices and the whole server", () => {
  test("come to hold the same bytes, every entry with its receipt, over lost answers", async () => {
    const devices = [await wholeDevice("p-one", "1111", 3), await wholeDevice("p-two", "2222", 4)];
    const [one, two] = devices as [Whole, Whole];
    await one.store.append([await one.device.openCraft("one")]);
    await record(one, 40);
    await record(two, 30);
    await exchangeAll(devices);
    await record(two, 5);
    await exchangeAll(devices);
    const server = await textsOf(sample.server.record.store);
    for (const { store, exchanger } of devices) {
      expect(exchanger.state.last?.ending).toBe("done");
      expect(exchanger.state.setAside).toEqual({});
      expect(await textsOf(store)).toEqual(server);
    }
    const opened = (await one.store.ofLedger("craft:one")).map(reopenEntry);
    const folded = foldLedger(craftLedger, opened, sample.server.record.trust);
    const own = folded.ordered.filter(({ envelope }) => envelope.type !== "receipt");
    expect(own.length).toBe(76);
    expect(own.filter(({ id }) => folded.receipts.get(id)?.verdict !== "accepted")).toEqual([]);
    expect(folded.waiting).toEqual([]);
  });

  test("learn whom to believe from the operator's ledger that they pull", async () => {
    const whole = await wholeDevice("p-one", "1111");
    await whole.exchanger.wake();
    const { ledger } = sample.server.record.operator!;
    const entries = (await whole.store.ofLedger(ledger)).map(reopenEntry);
    const { trust } = foldLedger(operatorLedger, entries, operatorLedger.initial.trust).state;
    expect(trust).toEqual(sample.server.record.trust);
    expect(trust.root).toBe(sample.server.keyring.root.key);
  });

  test("bring back what a restored server has lost", async () => {
    const devices = [await wholeDevice("p-one", "1111"), await wholeDevice("p-two", "2222")];
    const [one, two] = devices as [Whole, Whole];
    await one.store.append([await one.device.openCraft("one")]);
    await exchangeAll(devices);
    await sample.close();
    const backup = mkdtempSync(join(tmpdir(), "preen-backup-"));
    cpSync(join(sample.folder, "preen.db"), join(backup, "preen.db"));
    await sample.open();
    await record(one, 25);
    await record(two, 25);
    await exchangeAll(devices);
    const before = await textsOf(sample.server.record.store);
    await sample.close();
    cpSync(join(backup, "preen.db"), join(sample.folder, "preen.db"));
    rmSync(backup, { recursive: true });
    await sample.open();
    expect(await sample.server.record.store.count()).toBeLessThan(before.length);
    await exchangeAll(devices);
    const after = await textsOf(sample.server.record.store);
    expect(before.filter((text) => !after.includes(text))).toEqual([]);
    for (const { store, exchanger } of devices) {
      expect(exchanger.state.epoch).toBe(2);
      expect(await textsOf(store)).toEqual(after);
    }
    const opened = (await one.store.ofLedger("craft:one")).map(reopenEntry);
    const folded = foldLedger(craftLedger, opened, sample.server.record.trust);
    expect(folded.aside.filter(({ code }) => code === "fork")).toEqual([]);
  });
});
