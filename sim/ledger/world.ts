// A small invented ledger and the devices that write in it, for tests of the ledger's core: every kind of trouble can be
// told as a step (forks, refusals, late parents, erasures, types from a newer program), from plain numbers that
// fast-check can shrink. Signatures are left out: nothing in the fold looks at them.
import { sha256 } from "../../src/crypto/node.ts";
import { noTrust } from "../../src/ledger/acceptance.ts";
import type { Certificate, Trust } from "../../src/ledger/acceptance.ts";
import { bytesOf, hashText } from "../../src/ledger/crypto.ts";
import type { Signer } from "../../src/ledger/crypto.ts";
import type { Hash, StoredEntry } from "../../src/ledger/entry.ts";
import { entryType, refuse } from "../../src/ledger/entry-type.ts";
import type { EntryType } from "../../src/ledger/entry-type.ts";
import type { LedgerDefinition } from "../../src/ledger/fold.ts";
import { LedgerFold } from "../../src/ledger/ledger-fold.ts";
import { isOpened, openEntry } from "../../src/ledger/open.ts";
import type { Opened } from "../../src/ledger/open.ts";
import { seal } from "../../src/ledger/seal.ts";
import type { Unsealed } from "../../src/ledger/seal.ts";
import { msToInstant } from "../../src/core/facts/instant.ts";
import { z } from "zod";

export const ledger = "craft:test-1";
export const begun_ms = Date.UTC(2026, 0, 1, 6);

/** A key whose signatures are blank. */
export function blankSigner(name: string): Signer {
  return { key: hashText(sha256, `key of ${name}`), sign: () => Promise.resolve("0".repeat(128)) };
}

export const people = ["p-one", "p-two", "p-three", "p-four"] as const;
export type Person = (typeof people)[number];
export const root = blankSigner("root");
export const server = blankSigner("server");
export const keys: Readonly<Record<Person | "stranger", Signer>> = {
  "p-one": blankSigner("p-one"),
  "p-two": blankSigner("p-two"),
  "p-three": blankSigner("p-three"),
  "p-four": blankSigner("p-four"),
  stranger: blankSigner("stranger"),
};

const certificate = (key: string, person: string, roles: readonly string[]): Certificate => ({
  entry: hashText(sha256, `certificate of ${person}`),
  key,
  person,
  roles,
  from_ms: begun_ms - 86_400_000,
  until_ms: null,
});

export const rolesOf: Readonly<Record<Person, readonly string[]>> = {
  "p-one": ["pilot"],
  "p-two": ["pilot", "engineer"],
  "p-three": ["administrator"],
  "p-four": ["pilot"],
};

/** Everybody but the stranger is certified. */
export const trust: Trust = {
  ...noTrust,
  root: root.key,
  certificates: Object.fromEntries([
    [server.key, [certificate(server.key, "server", ["server"])]],
    ...people.map((person) => [keys[person].key, [certificate(keys[person].key, person, rolesOf[person])]]),
  ]) as Trust["certificates"],
};

/** As `trust`, with one key revoked from an instant on. */
export function revoking(key: string, at_ms: number, of: Trust = trust): Trust {
  const entry = hashText(sha256, `revocation of ${key}`);
  return { ...of, revocations: { ...of.revocations, [key]: { entry, key, at_ms, why: "lost" } } };
}

/** Depends on the order of entries on purpose. */
export type TestState = {
  readonly slots: Readonly<Record<string, readonly { readonly entry: Hash; readonly value: number }[]>>;
  readonly told: readonly Hash[];
  readonly closed: readonly Hash[];
};

const slot = z.string().regex(/^[a-e]$/u);

const types: readonly EntryType<TestState>[] = [
  entryType(
    { type: "slot.set", tv: 1, critical: true, roles: ["pilot", "engineer"] },
    z.strictObject({ slot, value: z.number(), replaces: z.array(z.string()) }),
    (state: TestState, body, { id }) => ({
      ...state,
      told: [...state.told, id],
      slots: {
        ...state.slots,
        [body.slot]: [
          ...(state.slots[body.slot] ?? []).filter(({ entry }) => !body.replaces.includes(entry)),
          { entry: id, value: body.value },
        ],
      },
    }),
  ),
  entryType(
    { type: "slot.closed", tv: 1, critical: true, roles: ["engineer"] },
    z.strictObject({ slot }),
    (state: TestState, body, { id }) =>
      state.slots[body.slot] === undefined
        ? refuse("slotNeverSet", "slot", body.slot, "a slot that was set")
        : { ...state, told: [...state.told, id], closed: [...state.closed, id] },
  ),
];

export const testLedger: LedgerDefinition<TestState> & { readonly checkpointEvery: number } = {
  initial: { slots: {}, told: [], closed: [] },
  types,
  // Small, so that short histories have many.
  checkpointEvery: 8,
};

export type Written = Partial<Omit<Unsealed, "body">> & { readonly body?: unknown };

/** One device: what it holds and the key with which it writes. */
export class Device {
  readonly fold = new LedgerFold(testLedger, [], trust);
  readonly signer: Signer;
  readonly by: string;
  #written = 0;

  constructor(signer: Signer, by: string) {
    this.signer = signer;
    this.by = by;
  }

  /** Writes the next entry of its chain on everything that it holds; `change` says what is unusual about it. */
  async write(type: string, body: unknown, at_ms: number, change: Written = {}): Promise<Opened> {
    const last = this.fold.lastOf(this.signer.key);
    this.#written += 1;
    const entry = await entryOf(this.signer, {
      type,
      seq: last === undefined ? 0 : last.seq + 1,
      prev: last?.id ?? null,
      at: msToInstant(at_ms),
      by: this.by,
      after: this.fold.folded.heads,
      salt: hashText(sha256, `${this.by} ${this.#written}`).slice(0, 32),
      ...change,
      body,
    });
    this.fold.add([entry]);
    return entry;
  }

  get entries(): readonly Opened[] {
    return [...this.fold.folded.ordered, ...this.fold.folded.waiting];
  }
}

/** Seals any entry of the test ledger, orderly or not. */
export async function entryOf(signer: Signer, change: Written & { readonly body: unknown }): Promise<Opened> {
  const stored = await seal(
    {
      ledger,
      type: "slot.set",
      tv: 1,
      seq: 0,
      prev: null,
      at: msToInstant(begun_ms),
      by: "p-one",
      after: [],
      critical: true,
      basis: {},
      salt: "00".repeat(16),
      ...change,
    },
    signer,
    sha256,
  );
  return opened(stored);
}

export function opened(stored: StoredEntry): Opened {
  const result = openEntry(stored, sha256);
  if (!isOpened(result)) throw new Error(`the test wrote an entry that cannot be opened: ${result.path}`);
  return result;
}

export function withoutBody({ stored }: Opened): Opened {
  return opened({ ...stored, salt: null, body: null });
}

/** What may happen, as numbers: which device, what, and two free choices. */
export type Happening = readonly [device: number, what: number, one: number, two: number];

/** Everything that happened to a ledger, in an order in which it could be written. */
export async function happen(steps: readonly Happening[]): Promise<readonly Opened[]> {
  const devices = [
    ...people.map((person) => new Device(keys[person], person)),
    new Device(keys.stranger, "p-one"),
  ];
  const theServer = new Device(server, "server");
  const all = new Map<Hash, Opened>();
  let at_ms = begun_ms;
  for (const [who, what, one, two] of steps) {
    // Clocks are wrong by up to a minute either way, and steps come every ten seconds.
    at_ms += 10_000;
    const device = devices[who % devices.length]!;
    // Two times in three the device has just exchanged and knows everything, which is what happens most.
    if (one % 3 !== 0) for (const each of [device, theServer]) each.fold.add(all.values());
    const claimed_ms = at_ms + (two % 13) * 10_000 - 60_000;
    for (const entry of await step(device, theServer, devices, { what, one, two, at_ms, claimed_ms }))
      all.set(entry.id, entry);
  }
  return [...all.values()];
}

type Told = {
  readonly what: number;
  readonly one: number;
  readonly two: number;
  readonly at_ms: number;
  readonly claimed_ms: number;
};

const slots = ["a", "b", "c", "d", "e"];

async function step(
  device: Device,
  theServer: Device,
  devices: readonly Device[],
  { what, one, two, at_ms, claimed_ms }: Told,
): Promise<readonly Opened[]> {
  const held = device.entries;
  const some = held[one % Math.max(1, held.length)];
  const slotName = slots[one % slots.length]!;
  const standing = device.fold.folded.state.slots[slotName] ?? [];
  const set = {
    slot: slotName,
    value: two,
    replaces: two % 2 === 0 ? standing.map(({ entry }) => entry) : [],
  };
  switch (what % 16) {
    case 0:
    case 1:
    case 2:
    case 3:
      return [await device.write("slot.set", set, claimed_ms)];
    case 4:
      return [await device.write("slot.closed", { slot: slotName }, claimed_ms)];
    case 5:
    case 6:
    case 7:
      device.fold.add(devices[one % devices.length]!.entries);
      return [];
    case 8:
      device.fold.add(theServer.entries);
      theServer.fold.add(device.entries);
      return [];
    case 9:
    case 10:
      return receipt(theServer, at_ms, two);
    case 11:
      return [await device.write("slot.set", { ...set, extra: 1 }, claimed_ms)];
    case 12: {
      const strange = [
        { type: "slot.set", tv: 2, critical: true },
        { type: "slot.weighed", tv: 1, critical: true },
        { type: "slot.shown", tv: 1, critical: false },
      ];
      const { type, ...change } = strange[two % 3]!;
      return [await device.write(type, set, claimed_ms, change)];
    }
    case 13: {
      // The same place of the chain a second time, as a cloned device would.
      const last = device.fold.entry(device.fold.lastOf(device.signer.key)?.id ?? "");
      if (last === undefined) return [];
      const { seq, prev, after } = last.envelope;
      // Half of the time the copy had exchanged, and knew everything.
      const change = two % 2 === 0 ? { seq, prev, after } : { seq, prev };
      return [await device.write("slot.set", { ...set, value: two + 1_000 }, claimed_ms, change)];
    }
    case 14: {
      if (some === undefined) return [];
      const type = two % 3 === 0 ? "fork.decided" : two % 3 === 1 ? "aside.settled" : "erase";
      return [await device.write(type, systemBody(type, some.id), claimed_ms)];
    }
    default:
      // A chain that goes on from somebody else's entry.
      return some === undefined
        ? []
        : [await device.write("slot.set", set, claimed_ms, { prev: some.id, seq: 1 + (two % 3), after: [] })];
  }
}

export function systemBody(type: string, id: Hash): unknown {
  if (type === "fork.decided") return { counts: id, words: "the second device was a copy" };
  if (type === "aside.settled") return { entries: [id], words: "written anew" };
  return { entry: id, role: "administrator", legalReason: "asked for by the person" };
}

/** The server receipts what it holds and has not receipted yet; every seventh or so is refused. */
async function receipt(theServer: Device, at_ms: number, chance: number): Promise<readonly Opened[]> {
  const { receipts } = theServer.fold.folded;
  const open = theServer.entries.filter(
    ({ id, envelope }) => envelope.key !== server.key && !receipts.has(id),
  );
  const refused = new Set(open.filter(({ id }) => (bytesOf(id)[0]! + chance) % 7 === 0).map(({ id }) => id));
  return open.length === 0 ? [] : [await receiptFor(theServer, open, at_ms, refused)];
}

export function receiptFor(
  theServer: Device,
  entries: readonly Opened[],
  at_ms: number,
  refused: ReadonlySet<Hash> = new Set(),
): Promise<Opened> {
  const lines = entries.map(({ id }) => ({
    id,
    receivedAt: msToInstant(at_ms),
    verdict: refused.has(id) ? "refused" : "accepted",
    code: refused.has(id) ? "schema" : null,
  }));
  return theServer.write("receipt", { entries: lines }, at_ms);
}
