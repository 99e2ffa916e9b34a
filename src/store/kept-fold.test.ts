import { describe, expect, test } from "vitest";
import {
  Device,
  begun_ms,
  keys,
  receiptFor,
  revoking,
  server,
  testLedger,
  trust,
} from "../../sim/ledger/world.ts";
import { sha256 } from "../crypto/node.ts";
import { foldLedger, stateHash } from "../ledger/fold.ts";
import type { Opened } from "../ledger/open.ts";
import { packedText, unpack } from "../ledger/pack.ts";
import { hashText } from "../ledger/crypto.ts";
import { keepSnapshot, openFold, tendSnapshot } from "./kept-fold.ts";
import { MemoryStore, makeMemoryDisk } from "./memory.ts";
import type { MemoryDisk } from "./memory.ts";

const kind = { definition: testLedger, ledger: "craft:test-1", trust };

function hashOf(entries: readonly Opened[], by = trust): string {
  return stateHash(foldLedger(testLedger, entries, by), sha256);
}

/** A disk with so many entries of one person, receipted, and others of another ledger between them. */
async function filled(count = 100): Promise<{
  disk: MemoryDisk;
  store: MemoryStore;
  device: Device;
  entries: readonly Opened[];
}> {
  const device = new Device(keys["p-one"], "p-one");
  const theServer = new Device(server, "server");
  const disk = makeMemoryDisk();
  const store = new MemoryStore(disk);
  for (let at = 0; at < count; at += 1) {
    const entry = await device.write(
      "slot.set",
      { slot: "a", value: at, replaces: [] },
      begun_ms + at * 1_000,
    );
    theServer.fold.add([entry]);
    const receipt = await receiptFor(theServer, [entry], begun_ms + at * 1_000 + 200);
    device.fold.add([receipt]);
    const other = { ...entry.stored, id: entry.id.replace(/^./u, "x") };
    const envelope = other.envelope.replace("craft:test-1", "craft:other");
    await store.append([entry.stored, { ...other, envelope }, receipt.stored]);
  }
  return { disk, store, device, entries: device.fold.folded.ordered };
}

describe("a fold from what a store keeps", () => {
  test("goes on from the snapshot with what came after it, and reads little", async () => {
    const { disk, store, device, entries } = await filled();
    await keepSnapshot(store, kind, sha256);
    const next = await device.write("slot.set", { slot: "b", value: 1, replaces: [] }, begun_ms + 200_000);
    await store.append([next.stored]);
    const asked: string[] = [];
    const watched = new MemoryStore(disk, (operation) => asked.push(operation));
    const { fold, from } = await openFold(watched, kind, sha256);
    expect(from).toBe("snapshot");
    expect(stateHash(fold.folded, sha256)).toBe(hashOf([...entries, next]));
    expect(fold.folded.ordered.length).toBe(65);
    expect(asked.length).toBeLessThan(20);
    expect(fold.has(entries[0]!.id)).toBe(true);
    expect(fold.entry(entries[0]!.id)).toBe(undefined);
  });

  test("goes on where part of what stands after the snapshot came before what stands in it", async () => {
    const { store, device, entries } = await filled();
    // The same entries on another disk, where they came from the end.
    const other = new MemoryStore();
    await other.append(entries.toReversed().map(({ stored }) => stored));
    await keepSnapshot(other, kind, sha256);
    const next = await device.write("slot.set", { slot: "b", value: 1, replaces: [] }, begun_ms + 200_000);
    await other.append([next.stored]);
    const { fold, from } = await openFold(other, kind, sha256);
    expect(from).toBe("snapshot");
    expect(stateHash(fold.folded, sha256)).toBe(hashOf([...entries, next]));
    await store.close();
  });

  test("without a snapshot reads all, and keeps one when it is asked to", async () => {
    const { store, entries } = await filled();
    expect((await openFold(store, kind, sha256)).from).toBe("entries");
    expect(await store.readSnapshot(kind.ledger)).toBe(null);
    const { fold } = await openFold(store, kind, sha256, { keep: true });
    expect(stateHash(fold.folded, sha256)).toBe(hashOf(entries));
    expect((await openFold(store, kind, sha256)).from).toBe("snapshot");
  });

  test.each(["cut off", "changed inside", "of another place", "no text of ours", "empty"])(
    "throws away one that is %s, and is whole all the same",
    async (damage) => {
      const { store, entries } = await filled();
      await keepSnapshot(store, kind, sha256);
      const text = (await store.readSnapshot(kind.ledger))!;
      const damaged = {
        "cut off": text.slice(0, -100),
        "changed inside": text.replace('"told"', '"tale"'),
        "of another place": text.replace(/^\d+/u, "5"),
        "no text of ours": "not a snapshot",
        empty: "",
      }[damage]!;
      expect(damaged).not.toBe(text);
      await store.writeSnapshot(kind.ledger, damaged);
      const { fold, from } = await openFold(store, kind, sha256);
      expect(stateHash(fold.folded, sha256)).toBe(hashOf(entries));
      // What stands before another place is read again: that costs time and nothing else.
      if (damage === "of another place") expect(from).toBe("snapshot");
      else {
        expect(from).toBe("thrownAway");
        expect(await store.readSnapshot(kind.ledger)).toBe(null);
      }
    },
  );

  test("throws away one that stands for entries which the store does not hold", async () => {
    const { store, entries } = await filled();
    await keepSnapshot(store, kind, sha256);
    const text = (await store.readSnapshot(kind.ledger))!;
    // The store of a week ago, as after a restore; and one that lost an entry in the middle.
    for (const held of [entries.slice(0, 50), entries.toSpliced(20, 1)]) {
      const older = new MemoryStore();
      await older.append(held.map(({ stored }) => stored));
      await older.writeSnapshot(kind.ledger, text.replace(/^\d+/u, String(held.length)));
      const { fold, from } = await openFold(older, kind, sha256);
      expect(from).toBe("thrownAway");
      expect(stateHash(fold.folded, sha256)).toBe(hashOf(held));
    }
  });

  test("throws away one that does not know of all that stood before it", async () => {
    const { store, entries } = await filled();
    await keepSnapshot(store, kind, sha256);
    const text = (await store.readSnapshot(kind.ledger))!;
    const apart = new Device(keys["p-two"], "p-two");
    apart.fold.add(entries.slice(0, 3));
    const late = await apart.write("slot.set", { slot: "b", value: 9, replaces: [] }, begun_ms + 5);
    const richer = new MemoryStore();
    await richer.append([late, ...entries].map(({ stored }) => stored));
    await richer.writeSnapshot(kind.ledger, text.replace(/^\d+/u, String(entries.length - 10)));
    const { fold, from } = await openFold(richer, kind, sha256);
    expect(from).toBe("thrownAway");
    expect(stateHash(fold.folded, sha256)).toBe(hashOf([late, ...entries]));
  });

  test("reads all where what came after belongs before, or other keys are believed", async () => {
    const { store, entries } = await filled();
    await keepSnapshot(store, kind, sha256);
    const apart = new Device(keys["p-two"], "p-two");
    apart.fold.add(entries.slice(0, 3));
    const late = await apart.write("slot.set", { slot: "b", value: 9, replaces: [] }, begun_ms + 5);
    const revoked = revoking(keys["p-one"].key, begun_ms + 50_000);
    const others = await openFold(store, { ...kind, trust: revoked }, sha256);
    expect(others.from).toBe("thrownAway");
    expect(stateHash(others.fold.folded, sha256)).toBe(hashOf(entries, revoked));
    await keepSnapshot(store, kind, sha256);
    await store.append([late.stored]);
    const { fold, from } = await openFold(store, kind, sha256);
    expect(from).toBe("thrownAway");
    expect(stateHash(fold.folded, sha256)).toBe(hashOf([late, ...entries]));
  });

  test("keeps none while a body that was erased by right still lies there", async () => {
    const { store, entries } = await filled();
    const office = new Device(keys["p-three"], "p-three");
    office.fold.add(entries);
    const body = { entry: entries[4]!.id, role: "administrator", legalReason: "asked for" };
    const erase = await office.write("erase", body, begun_ms + 300_000);
    await store.append([erase.stored]);
    await keepSnapshot(store, kind, sha256);
    expect(await store.readSnapshot(kind.ledger)).toBe(null);
    await store.erase([entries[4]!.id]);
    const fold = await keepSnapshot(store, kind, sha256);
    const opened = await openFold(store, kind, sha256);
    expect(opened.from).toBe("snapshot");
    expect(stateHash(opened.fold.folded, sha256)).toBe(stateHash(fold.folded, sha256));
    expect([...opened.fold.folded.erased]).toEqual([entries[4]!.id]);
  });
});

describe("snapshots that are tended beside the program", () => {
  test("are thrown away where something was erased while they were made", async () => {
    const { disk, entries } = await filled();
    const office = new Device(keys["p-three"], "p-three");
    office.fold.add(entries);
    const body = { entry: entries[4]!.id, role: "administrator", legalReason: "asked for" };
    const erase = await office.write("erase", body, begun_ms + 300_000);
    const other = new MemoryStore(disk);
    /** The window next to this one, which erases at the very moment at which the snapshot is written. */
    class Beside extends MemoryStore {
      override async writeSnapshot(ledger: string, text: string | null): Promise<void> {
        if (text !== null) {
          await other.append([erase.stored]);
          await other.erase([entries[4]!.id]);
        }
        await super.writeSnapshot(ledger, text);
      }
    }
    await keepSnapshot(new Beside(disk), kind, sha256);
    expect(await other.readSnapshot(kind.ledger)).toBe(null);
    const { fold } = await openFold(other, kind, sha256);
    expect([...fold.folded.erased]).toEqual([entries[4]!.id]);
  });

  test("are left alone while they fit, and renewed once they spare too little", async () => {
    const { store, device } = await filled(300);
    expect(await tendSnapshot(store, kind, sha256)).toBe("renewed");
    expect(await tendSnapshot(store, kind, sha256)).toBe("fits");
    const text = await store.readSnapshot(kind.ledger);
    for (let at = 0; at < 520; at += 1) {
      const body = { slot: "b", value: at, replaces: [] };
      const entry = await device.write("slot.set", body, begun_ms + 1_000_000 + at);
      await store.append([entry.stored]);
      if (at === 10) expect(await tendSnapshot(store, kind, sha256)).toBe("fits");
    }
    expect(await tendSnapshot(store, kind, sha256)).toBe("renewed");
    expect(await store.readSnapshot(kind.ledger)).not.toBe(text);
    expect((await openFold(store, kind, sha256)).fold.folded.ordered.length).toBe(64);
  });

  test("are not made of a few entries, which are folded as quickly", async () => {
    const { store } = await filled(50);
    expect(await tendSnapshot(store, kind, sha256)).toBe("few");
    expect(await store.readSnapshot(kind.ledger)).toBe(null);
  });

  test("are mended where somebody changed what they say, hash and all: entries alone say what is so", async () => {
    const { store, entries } = await filled(300);
    await keepSnapshot(store, kind, sha256);
    const [through, , body] = (await store.readSnapshot(kind.ledger))!.split(/ (?=[0-9a-f]{64} )| (?=\{)/u);
    const written = unpack(body!) as { readonly step: { readonly state: { readonly slots: object } } };
    const state = { ...written.step.state, slots: {} };
    const forged = packedText({ ...written, step: { ...written.step, state } });
    await store.writeSnapshot(kind.ledger, `${through!} ${hashText(sha256, forged)} ${forged}`);
    const fooled = await openFold(store, kind, sha256);
    expect(fooled.from).toBe("snapshot");
    expect(stateHash(fooled.fold.folded, sha256)).not.toBe(hashOf(entries));
    expect(await tendSnapshot(store, kind, sha256)).toBe("mended");
    const mended = await openFold(store, kind, sha256);
    expect(mended.from).toBe("snapshot");
    expect(stateHash(mended.fold.folded, sha256)).toBe(hashOf(entries));
  });
});
