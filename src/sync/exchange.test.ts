// A small world from one seed: three devices, one server, a network that drops, doubles, delays and reorders, crashes of
// both sides, restored backups and wiped devices. Nothing sleeps; whatever can happen next is drawn from the seed. While
// it runs, nothing that the server acknowledged may vanish from the world; when everything is healed, all are equal.
import { describe, expect, test } from "vitest";
import type { StoredEntry } from "../ledger/entry.ts";
import { sampleEntry } from "../store/contract.ts";
import { MemoryStore, type MemoryDisk, makeMemoryDisk } from "../store/memory.ts";
import { CallError, Exchanger } from "./exchanger.ts";
import { deviceLimits } from "./device.ts";
import type { Answer, Call } from "./message.ts";
import { ServerSide } from "./server-side.ts";

const faults = [
  "requestLost",
  "answerLost",
  "doubled",
  "late",
  "serverCrash",
  "deviceCrash",
  "restored",
  "wiped",
  "unreadable",
  "diskFault",
] as const;
type Fault = (typeof faults)[number];

/** sfc32 by Chris Doty-Humphrey (PractRand); from memory, only its spread matters here. */
function generator(seed: number): () => number {
  let [a, b, c, d] = [0x9e37_79b9, 0x243f_6a88, seed | 0, 1];
  const next = (): number => {
    const t = (((a + b) | 0) + d) | 0;
    d = (d + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = ((c << 21) | (c >>> 11)) + t;
    return (t >>> 0) / 4_294_967_296;
  };
  for (let i = 0; i < 15; i++) next();
  return next;
}

type Device = {
  disk: MemoryDisk;
  store: MemoryStore;
  exchanger: Exchanger;
  wakeAt_ms: number | null;
  failing: boolean;
};

class World {
  readonly random: () => number;
  readonly counts: Record<Fault, number>;
  readonly devices: Device[] = [];
  /** Ids that a device was told the server holds. */
  readonly acknowledged = new Set<string>();
  readonly recorded = new Set<string>();
  readonly #tasks: (() => void)[] = [];
  readonly #faulty: (fault: Fault) => boolean;
  #serverDisk = makeMemoryDisk();
  #serverStore!: MemoryStore;
  #server!: ServerSide;
  #backup: MemoryDisk | null = null;
  #crashing = false;
  #now_ms = 1_900_000_000_000;
  #number = 0;
  healthy = false;

  constructor(seed: number, allowed: readonly Fault[]) {
    this.random = generator(seed);
    this.counts = Object.fromEntries(faults.map((fault) => [fault, 0])) as Record<Fault, number>;
    this.#faulty = (fault) => !this.healthy && allowed.includes(fault);
  }

  async start(): Promise<void> {
    await this.#startServer();
    for (let d = 0; d < 3; d++) this.devices.push(await this.#startDevice(makeMemoryDisk()));
  }

  /** One thing happens. */
  async tick(): Promise<void> {
    this.#now_ms += Math.floor(this.random() * 4_000);
    const device = this.#pick(this.devices);
    // What stopped halfway never goes on: the state before is all that is left.
    if (device.failing) await this.#crashDevice(device, device.disk);
    const roll = this.random();
    if (roll < 0.25) await this.#record(device);
    else if (roll < 0.26 && this.#strikes("serverCrash")) await this.#crashServer();
    else if (roll < 0.27 && this.#strikes("deviceCrash")) await this.#crashDevice(device, device.disk);
    else if (roll < 0.28) this.#backup = copyOf(this.#serverDisk);
    else if (roll < 0.285 && this.#backup !== null && this.#strikes("restored")) await this.#restore();
    else if (roll < 0.29 && this.#strikes("wiped")) await this.#wipe(device);
    else if (roll < 0.4) this.#wakeDue();
    else this.#runTask();
    await settled();
  }

  /** Everything works and everybody exchanges until nothing moves any more. */
  async heal(): Promise<void> {
    this.healthy = true;
    for (let round = 0; round < 60; round++) {
      for (const { exchanger } of this.devices) void exchanger.wake(true);
      await settled();
      for (let guard = 0; this.#tasks.length > 0 && guard < 10_000; guard++) {
        this.#runTask();
        await settled();
      }
    }
  }

  serverEntries(): readonly string[] {
    return textsOf(this.#serverDisk);
  }

  /** Ids anywhere in the world. */
  everywhere(): Set<string> {
    return new Set([
      ...this.#serverDisk.byId.keys(),
      ...this.devices.flatMap((d) => [...d.disk.byId.keys()]),
    ]);
  }

  epoch(): number {
    return this.#server.epoch;
  }

  async #record(device: Device): Promise<void> {
    const unreadable = this.random() < 0.02 && this.#strikes("unreadable");
    const entry = sampleEntry("craft:a", this.#number++);
    const made: StoredEntry = unreadable ? { ...entry, sig: "00".repeat(64) } : entry;
    try {
      await device.store.append([made]);
    } catch {
      return; // The person was told that it was not saved.
    }
    if (!unreadable) this.recorded.add(made.id);
    void device.exchanger.wake();
  }

  #wakeDue(): void {
    for (const device of this.devices) {
      if (device.wakeAt_ms === null || device.wakeAt_ms > this.#now_ms) continue;
      device.wakeAt_ms = null;
      void device.exchanger.wake();
    }
  }

  #runTask(): void {
    if (this.#tasks.length === 0) return;
    const [task] = this.#tasks.splice(Math.floor(this.random() * this.#tasks.length), 1);
    task!();
  }

  async #startServer(): Promise<void> {
    this.#crashing = false;
    this.#serverStore = new MemoryStore(this.#serverDisk, () => {
      if (this.#crashing) throw new Error("the server went down");
    });
    this.#server = await ServerSide.start({
      log: this.#serverStore,
      judge: async (entries) => {
        const kept = entries.filter(isReadable);
        return {
          verdicts: entries.map((entry) =>
            isReadable(entry)
              ? { id: entry.id, verdict: "accepted", code: null }
              : { id: entry.id, verdict: "notKept", code: "signatureWrong" },
          ),
          kept,
          receipts: kept.map((entry) => ({
            ...entry,
            id: `eeee${entry.id.slice(4)}`,
            body: `{"of":"${entry.id}"}`,
          })),
        };
      },
      chance: () =>
        Math.floor(this.random() * 4_294_967_296)
          .toString(16)
          .padStart(8, "0"),
      now: () => "2031-04-01T06:40:00.000Z",
      onRestored: async () => {},
    });
  }

  async #crashServer(): Promise<void> {
    this.#crashing = true;
    await settled();
    await this.#serverStore.close();
    await this.#startServer();
  }

  async #restore(): Promise<void> {
    await this.#serverStore.close();
    this.#serverDisk = copyOf(this.#backup!);
    await this.#startServer();
  }

  async #startDevice(disk: MemoryDisk): Promise<Device> {
    let started = false;
    const store = new MemoryStore(disk, () => {
      if (started && this.#strikes("diskFault", 0.005)) {
        device.failing = this.random() < 0.5;
        throw new Error("the disk of the device failed");
      }
    });
    const device: Device = {
      disk,
      store,
      failing: false,
      wakeAt_ms: null,
      exchanger: undefined as unknown as Exchanger,
    };
    device.exchanger = await Exchanger.start(
      {
        log: store,
        call: (call) => this.#call(call),
        screen: async (entries) => ({ readable: entries, unreadable: {} }),
        now_ms: () => this.#now_ms,
        chance: this.random,
        wakeAt: (at_ms) => (device.wakeAt_ms = at_ms),
      },
      {
        ...deviceLimits,
        entriesPerPush: 7,
        entriesPerPull: 9,
        entriesPerScan: 11,
        pushUnasked: 5,
        idsPerOffer: 13,
      },
    );
    started = true;
    return device;
  }

  async #crashDevice(device: Device, disk: MemoryDisk): Promise<void> {
    await device.store.close();
    Object.assign(device, await this.#startDevice(disk));
    void device.exchanger.wake();
  }

  /** The device loses its disk; what it had recorded and the server not acknowledged is lost with it. */
  async #wipe(device: Device): Promise<void> {
    const others = new Set(this.devices.filter((d) => d !== device).flatMap((d) => [...d.disk.byId.keys()]));
    for (const id of device.disk.byId.keys()) {
      if (!this.#serverDisk.byId.has(id) && !others.has(id)) this.recorded.delete(id);
    }
    await this.#crashDevice(device, makeMemoryDisk());
  }

  /** A call over the network: its request may be lost, doubled or late, its answer lost or late. */
  #call(call: Call): Promise<Answer> {
    return new Promise((resolve, reject) => {
      const timeOut = (): void => void this.#tasks.push(() => reject(new CallError("timedOut")));
      const deliver = async (): Promise<void> => {
        try {
          const answer = await this.#server.answer(call);
          if (this.#strikes("answerLost", 0.1)) return timeOut();
          this.#tasks.push(() => {
            if (answer.kind === "push") this.#noteVerdicts(answer);
            resolve(answer);
          });
        } catch {
          reject(new CallError("serverFailed"));
        }
      };
      if (this.#strikes("requestLost", 0.1)) return timeOut();
      this.#tasks.push(() => void deliver());
      if (this.#strikes("doubled", 0.1)) this.#tasks.push(() => void deliver());
      if (this.#strikes("late", 0.1)) timeOut();
    });
  }

  #noteVerdicts(answer: Answer & { kind: "push" }): void {
    for (const { id, verdict } of answer.verdicts) if (verdict !== "notKept") this.acknowledged.add(id);
  }

  #strikes(fault: Fault, probability = 1): boolean {
    if (!this.#faulty(fault) || this.random() >= probability) return false;
    this.counts[fault]++;
    return true;
  }

  #pick<T>(from: readonly T[]): T {
    return from[Math.floor(this.random() * from.length)]!;
  }
}

function isReadable(entry: StoredEntry): boolean {
  return !entry.sig.startsWith("00");
}

function copyOf(disk: MemoryDisk): MemoryDisk {
  return {
    entries: disk.entries.map((row) => ({ ...row })),
    byId: new Map(disk.byId),
    notes: new Map(disk.notes),
    drafts: new Map(disk.drafts),
    snapshots: new Map(disk.snapshots),
  };
}

function textsOf(disk: MemoryDisk): readonly string[] {
  return disk.entries.map(({ entry }) => JSON.stringify(entry)).toSorted();
}

/** All promises that can settle without the world moving have settled. */
function settled(): Promise<void> {
  return new Promise((resolve) => {
    setImmediate(resolve);
  });
}

const calm: readonly Fault[] = [];
const network: readonly Fault[] = ["requestLost", "answerLost", "doubled", "late", "unreadable"];
const crashes: readonly Fault[] = [...network, "serverCrash", "deviceCrash", "diskFault"];
const restores: readonly Fault[] = [...crashes, "restored"];
const wipes: readonly Fault[] = [...crashes, "wiped"];

describe("Devices and server come to hold the same", () => {
  const worlds = [
    { name: "when all is well", allowed: calm, seeds: 3 },
    { name: "over a bad network", allowed: network, seeds: 60 },
    { name: "across crashes", allowed: crashes, seeds: 60 },
    { name: "when the server is restored from backups", allowed: restores, seeds: 60 },
    { name: "when devices lose their store", allowed: wipes, seeds: 60 },
  ].flatMap(({ name, allowed, seeds }) =>
    Array.from({ length: seeds }, (_, i) => ({ name, allowed, seed: i + 1 })),
  );
  const total = Object.fromEntries(faults.map((fault) => [fault, 0])) as Record<Fault, number>;

  test.each(worlds)("$name, seed $seed", async ({ allowed, seed }) => {
    const world = new World(seed, allowed);
    await world.start();
    for (let tick = 0; tick < 700; tick++) {
      await world.tick();
      if (tick % 20 === 0) {
        const here = world.everywhere();
        expect([...world.acknowledged].filter((id) => !here.has(id))).toEqual([]);
      }
    }
    await world.heal();
    for (const fault of faults) total[fault] += world.counts[fault];
    const server = world.serverEntries();
    for (const { disk, exchanger } of world.devices) {
      expect(exchanger.state.last?.ending).toBe("done");
      expect(exchanger.state.epoch).toBe(world.epoch());
      // What nobody can read stays with the device that holds it, and is told there.
      const aside = Object.keys(exchanger.state.setAside);
      const texts = textsOf(disk).filter((text) => isReadable(JSON.parse(text) as StoredEntry));
      expect(texts.filter((text) => !server.includes(text))).toEqual([]);
      expect(server.filter((text) => !texts.includes(text))).toEqual([]);
      const unreadable = disk.entries.filter((row) => !isReadable(row.entry)).map((row) => row.entry.id);
      expect(aside.toSorted()).toEqual(unreadable.toSorted());
    }
    const held = new Set(server.map((text) => (JSON.parse(text) as StoredEntry).id));
    expect([...world.recorded].filter((id) => !held.has(id))).toEqual([]);
    expect([...world.acknowledged].filter((id) => !held.has(id))).toEqual([]);
    expect(world.recorded.size).toBeGreaterThan(100);
  });

  test("every kind of fault really struck", () => {
    for (const fault of faults) expect([fault, total[fault] > 5]).toEqual([fault, true]);
  });
});
