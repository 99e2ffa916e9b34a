// A small world from one seed: devices, one server, a network that drops, doubles, delays and reorders, crashes of both
// sides, restored backups and wiped devices. Nothing sleeps; whatever can happen next is drawn from the seed. What is
// written and how the server judges it is passed in; so is a part of the exchange that is broken on purpose.
//
// While it runs, nothing that the server acknowledged may vanish from the world; when everything is healed, all are equal
// (faultsOf, called at any time and after heal).
import type { Hash, StoredEntry } from "../../src/ledger/entry.ts";
import { sampleEntry } from "../../src/store/contract.ts";
import { MemoryStore, makeMemoryDisk } from "../../src/store/memory.ts";
import type { MemoryDisk } from "../../src/store/memory.ts";
import { deviceLimits } from "../../src/sync/device.ts";
import { CallError, Exchanger } from "../../src/sync/exchanger.ts";
import type { DeviceLog } from "../../src/sync/exchanger.ts";
import type { Answer, Call } from "../../src/sync/message.ts";
import { ServerSide } from "../../src/sync/server-side.ts";
import type { Judge, ServerLog } from "../../src/sync/server-side.ts";

export const faults = [
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
export type Fault = (typeof faults)[number];

const network: readonly Fault[] = ["requestLost", "answerLost", "doubled", "late", "unreadable"];
const crashes: readonly Fault[] = [...network, "serverCrash", "deviceCrash", "diskFault"];
/** What a world may suffer, by how bad it is. */
export const weathers = {
  calm: [],
  network,
  crashes,
  restores: [...crashes, "restored"],
  wipes: [...crashes, "wiped"],
} as const satisfies Readonly<Record<string, readonly Fault[]>>;

/** What the server does with a crash: it works on one disk, with one judge at a time. */
export type Payload = {
  /** The next entry of a device, on what its disk holds; null where there is nothing to write now. */
  readonly write: (device: number, disk: MemoryDisk) => Promise<StoredEntry | null>;
  /** A judge on the server's disk as it is now. `restored`: the disk was put back from a backup. */
  readonly judgeOn: (disk: MemoryDisk, restored: boolean) => Judge;
};

/** Parts of the exchange as they are, for a test that breaks one of them. */
export type Breaks = {
  readonly serverLog?: (log: ServerLog, soon: (work: () => void) => void) => ServerLog;
  readonly deviceLog?: (log: DeviceLog, soon: (work: () => void) => void) => DeviceLog;
  readonly session?: () => string;
  readonly call?: (send: (call: Call) => Promise<Answer>) => (call: Call) => Promise<Answer>;
};

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
  readonly number: number;
  disk: MemoryDisk;
  store: MemoryStore;
  exchanger: Exchanger;
  wakeAt_ms: number | null;
  failing: boolean;
  /** Without a network. */
  isAway: boolean;
};

export type WorldOptions = {
  readonly seed: number;
  readonly allowed: readonly Fault[];
  readonly devices?: number;
  readonly payload?: Payload;
  readonly breaks?: Breaks;
  /** How likely a device writes something at a tick. */
  readonly writes?: number;
};

export class World {
  readonly random: () => number;
  readonly counts: Record<Fault, number>;
  readonly devices: Device[] = [];
  /** Ids that a device was told the server holds. */
  readonly acknowledged = new Set<Hash>();
  readonly recorded = new Set<Hash>();
  readonly #tasks: (() => void)[] = [];
  /** What a broken part puts off; lost in a crash. */
  #putOff: (() => void)[] = [];
  readonly #options: WorldOptions;
  readonly #payload: Payload;
  readonly #breaks: Breaks;
  #serverDisk = makeMemoryDisk();
  #serverStore!: MemoryStore;
  #server!: ServerSide;
  #backup: MemoryDisk | null = null;
  #crashing = false;
  #now_ms = 1_900_000_000_000;
  #isHealthy = false;

  constructor(options: WorldOptions) {
    this.random = generator(options.seed);
    this.counts = Object.fromEntries(faults.map((fault) => [fault, 0])) as Record<Fault, number>;
    this.#options = options;
    this.#payload = options.payload ?? samplePayload();
    this.#breaks = options.breaks ?? {};
  }

  async start(): Promise<void> {
    await this.#startServer(false);
    for (let number = 0; number < (this.#options.devices ?? 3); number++)
      this.devices.push(await this.#startDevice(number, makeMemoryDisk()));
  }

  /** One thing happens. */
  async tick(): Promise<void> {
    const writes = this.#options.writes ?? 0.25;
    this.#now_ms += Math.floor(this.random() * 4_000);
    const device = this.#pick(this.devices);
    // What stopped halfway never goes on: the state before is all that is left.
    if (device.failing) await this.#crashDevice(device, device.disk);
    const roll = this.random() - writes;
    if (roll < 0) await this.write(device.number);
    else if (roll < 0.01 && this.#strikes("serverCrash")) await this.#crashServer();
    else if (roll < 0.02 && this.#strikes("deviceCrash")) await this.#crashDevice(device, device.disk);
    else if (roll < 0.03) this.#backup = copyOf(this.#serverDisk);
    else if (roll < 0.035 && this.#backup !== null && this.#strikes("restored")) await this.#restore();
    else if (roll < 0.04 && this.#strikes("wiped")) await this.#wipe(device);
    else if (roll < 0.15) this.#wakeDue();
    else if (roll < 0.17) for (const work of this.#putOff.splice(0)) work();
    else this.#runTask();
    await settled();
  }

  /** Everything works and everybody who has a network exchanges until nothing moves any more. */
  async heal(hasNetwork: (device: number) => boolean = () => true): Promise<void> {
    this.#isHealthy = true;
    for (const device of this.devices) device.isAway = !hasNetwork(device.number);
    const present = this.devices.filter(({ isAway }) => !isAway);
    for (let round = 0; round < 60; round++) {
      for (const device of present) {
        if (device.failing) await this.#crashDevice(device, device.disk);
        void device.exchanger.wake(true);
      }
      await settled();
      for (let guard = 0; this.#tasks.length > 0 && guard < 10_000; guard++) {
        this.#runTask();
        await settled();
      }
      const isQuiet = present.every(({ exchanger: { state } }) => state.last?.ending === "done");
      if (round > 1 && isQuiet && this.#areEqual(present)) break;
    }
    this.#isHealthy = false;
  }

  /** A device writes its next entry; null where it had nothing to write, or its disk failed. */
  async write(number: number): Promise<Hash | null> {
    const device = this.devices[number]!;
    const entry = await this.#payload.write(number, device.disk);
    if (entry === null) return null;
    const isUnreadable = this.random() < 0.02 && this.#strikes("unreadable");
    const made: StoredEntry = isUnreadable ? { ...entry, sig: unreadableSig } : entry;
    try {
      await device.store.append([made]);
    } catch {
      return null; // The person was told that it was not saved.
    }
    if (!isUnreadable) this.recorded.add(made.id);
    void device.exchanger.wake();
    return made.id;
  }

  /** A device that stopped halfway is started again. */
  async revive(number: number): Promise<void> {
    const device = this.devices[number]!;
    if (device.failing) await this.#crashDevice(device, device.disk);
  }

  get serverDisk(): MemoryDisk {
    return this.#serverDisk;
  }

  /** Ids that were acknowledged and are nowhere in the world any more. */
  vanished(): readonly Hash[] {
    const here = new Set([
      ...this.#serverDisk.byId.keys(),
      ...this.devices.flatMap(({ disk }) => [...disk.byId.keys()]),
    ]);
    return [...this.acknowledged].filter((id) => !here.has(id));
  }

  /** What speaks against a healed world, by the name of what should hold; empty when all does. */
  faultsWhenHealed(): readonly WorldFault[] {
    const found = new Set<WorldFault>();
    const server = textsOf(this.#serverDisk);
    const held = new Set(this.#serverDisk.entries.map(({ entry }) => entry.id));
    for (const { disk, exchanger } of this.devices) {
      const { last, epoch, setAside } = exchanger.state;
      if (last?.ending !== "done") found.add("every exchange comes to its end");
      if (epoch !== this.#server.epoch) found.add("every device knows the server's epoch");
      // What nobody can read stays with the device that holds it, and is told there.
      const isSame = textsOf(disk).filter(isReadableText).join("\n") === server.join("\n");
      if (!isSame) found.add("all hold the same entries, byte for byte");
      const unreadable = disk.entries.flatMap(({ entry }) => (isReadable(entry) ? [] : [entry.id]));
      if (unreadable.toSorted().join() !== Object.keys(setAside).toSorted().join())
        found.add("what nobody can read is set aside where it is, and nothing else");
    }
    const said = this.#serverDisk.entries.map(({ entry: { envelope, body } }) => `${envelope} ${body}`);
    if (new Set(said).size !== said.length) found.add("what was pushed twice stands once");
    if ([...this.recorded].some((id) => !held.has(id))) found.add("what was recorded reaches the server");
    if ([...this.acknowledged].some((id) => !held.has(id))) found.add("what was acknowledged is never gone");
    return [...found];
  }

  #areEqual(devices: readonly Device[]): boolean {
    const server = textsOf(this.#serverDisk).join("\n");
    return devices.every(({ disk }) => textsOf(disk).filter(isReadableText).join("\n") === server);
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

  async #startServer(restored: boolean): Promise<void> {
    this.#crashing = false;
    this.#putOff = [];
    this.#serverStore = new MemoryStore(this.#serverDisk, () => {
      if (this.#crashing) throw new Error("the server went down");
    });
    const { serverLog = (log: ServerLog) => log, session } = this.#breaks;
    this.#server = await ServerSide.start({
      log: serverLog(this.#serverStore, (work) => this.#putOff.push(work)),
      judge: this.#payload.judgeOn(this.#serverDisk, restored),
      chance:
        session ??
        (() =>
          Math.floor(this.random() * 4_294_967_296)
            .toString(16)
            .padStart(8, "0")),
      now: () => "2031-04-01T06:40:00.000Z",
      onRestored: async () => {},
    });
  }

  async #crashServer(): Promise<void> {
    this.#crashing = true;
    await settled();
    await this.#serverStore.close();
    await this.#startServer(false);
  }

  async #restore(): Promise<void> {
    await this.#serverStore.close();
    this.#serverDisk = copyOf(this.#backup!);
    await this.#startServer(true);
  }

  async #startDevice(number: number, disk: MemoryDisk): Promise<Device> {
    let started = false;
    const store = new MemoryStore(disk, () => {
      if (started && this.#strikes("diskFault", 0.005)) {
        device.failing = this.random() < 0.5;
        throw new Error("the disk of the device failed");
      }
    });
    const device: Device = {
      number,
      disk,
      store,
      failing: false,
      wakeAt_ms: null,
      isAway: this.devices[number]?.isAway ?? false,
      exchanger: undefined as unknown as Exchanger,
    };
    const { deviceLog = (log: DeviceLog) => log, call = (send) => send } = this.#breaks;
    device.exchanger = await Exchanger.start(
      {
        log: deviceLog(store, (work) => this.#putOff.push(work)),
        call: call((asked) => this.#call(asked, device.number)),
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
    this.#putOff = [];
    Object.assign(device, await this.#startDevice(device.number, disk));
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
  #call(call: Call, from: number): Promise<Answer> {
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
      if (this.devices[from]?.isAway === true || this.#strikes("requestLost", 0.1)) return timeOut();
      this.#tasks.push(() => void deliver());
      if (this.#strikes("doubled", 0.1)) this.#tasks.push(() => void deliver());
      if (this.#strikes("late", 0.1)) timeOut();
    });
  }

  #noteVerdicts(answer: Answer & { kind: "push" }): void {
    for (const { id, verdict } of answer.verdicts) if (verdict !== "notKept") this.acknowledged.add(id);
  }

  #strikes(fault: Fault, probability = 1): boolean {
    if (this.#isHealthy || !this.#options.allowed.includes(fault) || this.random() >= probability)
      return false;
    this.counts[fault]++;
    return true;
  }

  #pick<T>(from: readonly T[]): T {
    return from[Math.floor(this.random() * from.length)]!;
  }
}

export const worldFaults = [
  "every exchange comes to its end",
  "every device knows the server's epoch",
  "all hold the same entries, byte for byte",
  "what was pushed twice stands once",
  "what nobody can read is set aside where it is, and nothing else",
  "what was recorded reaches the server",
  "what was acknowledged is never gone",
] as const;
export type WorldFault = (typeof worldFaults)[number];

const unreadableSig = "ff".repeat(64);

function isReadable(entry: StoredEntry): boolean {
  return entry.sig !== unreadableSig;
}

function isReadableText(text: string): boolean {
  return isReadable(JSON.parse(text) as StoredEntry);
}

/** Entries that mean nothing, and a server that receipts each that can be read. */
function samplePayload(): Payload {
  let number = 0;
  return {
    write: async () => sampleEntry("craft:a", number++),
    judgeOn: () => async (entries) => {
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
  };
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

/** Runs a world for some ticks, heals it, and tells what spoke against it and when; empty for an exchange that is whole. */
export async function runWorld(
  options: WorldOptions,
  ticks = 700,
): Promise<{
  readonly world: World;
  readonly against: readonly WorldFault[];
}> {
  const world = new World(options);
  await world.start();
  for (let tick = 0; tick < ticks; tick++) {
    await world.tick();
    if (tick % 20 === 0 && world.vanished().length > 0)
      return { world, against: ["what was acknowledged is never gone"] };
  }
  await world.heal();
  return { world, against: world.faultsWhenHealed() };
}
