import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { arrivals, overHistories } from "../../sim/ledger/arrivals.ts";
import {
  Device,
  begun_ms,
  entryOf,
  keys,
  people,
  receiptFor,
  revoking,
  server,
  testLedger,
  trust,
  withoutBody,
} from "../../sim/ledger/world.ts";
import type { TestState } from "../../sim/ledger/world.ts";
import { sha256 } from "../crypto/node.ts";
import { noTrust } from "./acceptance.ts";
import { foldLedger, stateHash } from "./fold.ts";
import type { Folded } from "./fold.ts";
import { LedgerFold } from "./ledger-fold.ts";

/** Everything that anybody may look at. */
function seen(folded: Folded<TestState>): unknown {
  const { state, aside, noted, ordered, waiting, heads, statuses, receipts, erased, newest_ms } = folded;
  return {
    hash: stateHash(folded, sha256),
    state,
    aside,
    noted,
    ordered: ordered.map(({ id, erased: bare }) => [id, bare]),
    waiting: waiting.map(({ id }) => id),
    heads,
    statuses: Object.fromEntries(statuses),
    receipts: Object.fromEntries(receipts),
    erased: [...erased].sort(),
    newest_ms,
    admissions: folded.admissions,
    checkpoints: folded.checkpoints,
  };
}

describe("a fold that grows", () => {
  test("is the fold from zero at every step, in whatever order, batches and copies entries arrive", async () => {
    const ways = { appended: 0, inserted: 0, refolded: 0 };
    await fc.assert(
      overHistories(50, (entries, seed) => {
        const fold = new LedgerFold(testLedger, [], trust);
        const held = new Map<string, (typeof entries)[number]>();
        for (const batch of arrivals(entries, seed)) {
          fold.add(batch);
          for (const entry of batch) held.set(entry.id, entry);
          expect(seen(fold.folded)).toEqual(seen(foldLedger(testLedger, held.values(), trust)));
        }
        ways.appended += fold.counts.appended;
        ways.inserted += fold.counts.inserted;
        ways.refolded += fold.counts.refolded;
      }),
      { numRuns: 120, seed: 21 },
    );
    // All ways must have been gone, or nothing was compared.
    expect(ways.appended).toBeGreaterThan(100);
    expect(ways.inserted).toBeGreaterThan(100);
    expect(ways.refolded).toBeGreaterThan(200);
  });

  test("is the fold from zero when entries come in the order in which they were written, as most do", async () => {
    const ways = { appended: 0, inserted: 0, refolded: 0 };
    await fc.assert(
      overHistories(80, (entries) => {
        const fold = new LedgerFold(testLedger, [], trust);
        for (const entry of entries) fold.add([entry]);
        expect(seen(fold.folded)).toEqual(seen(foldLedger(testLedger, entries, trust)));
        ways.appended += fold.counts.appended;
        ways.inserted += fold.counts.inserted;
        ways.refolded += fold.counts.refolded;
      }),
      { numRuns: 100, seed: 22 },
    );
    expect(ways.appended).toBeGreaterThan(500);
    expect(ways.inserted).toBeGreaterThan(200);
  });

  test("goes on from any earlier fold as from zero, and from a checkpoint rather than from the start", async () => {
    let spared = 0;
    await fc.assert(
      overHistories(80, (entries, seed) => {
        const whole = foldLedger(testLedger, entries, trust);
        const cut = seed % (entries.length + 1);
        const before = foldLedger(testLedger, entries.slice(0, cut), trust);
        const on = foldLedger(testLedger, entries, trust, before);
        expect(seen(on)).toEqual(seen(whole));
        spared += whole.ran - on.ran;
      }),
      { numRuns: 120, seed: 23 },
    );
    expect(spared).toBeGreaterThan(500);
  });

  test("does not need its checkpoints: thrown away at random they change nothing", async () => {
    await fc.assert(
      overHistories(60, (entries, seed) => {
        const before = foldLedger(testLedger, entries.slice(0, seed % (entries.length + 1)), trust);
        // All of them thrown away, or whichever the seed says.
        const kept = before.checkpoints.filter((_, at) => seed % 3 !== 0 && ((seed >> at) & 1) === 1);
        const on = foldLedger(testLedger, entries, trust, { ...before, checkpoints: kept });
        const rare = foldLedger({ ...testLedger, checkpointEvery: 512 }, entries, trust);
        const whole = foldLedger(testLedger, entries, trust);
        // Fewer of them may be left, but each is one that the whole fold has.
        expect(seen({ ...on, checkpoints: whole.checkpoints })).toEqual(seen(whole));
        for (const checkpoint of on.checkpoints) expect(whole.checkpoints).toContainEqual(checkpoint);
        expect(stateHash(rare, sha256)).toBe(stateHash(on, sha256));
      }),
      { numRuns: 60, seed: 24 },
    );
  });

  test("does not go on from a checkpoint whose entries have lost their bodies since", async () => {
    const device = new Device(keys["p-one"], "p-one");
    for (let at = 0; at < 10; at += 1)
      await device.write("slot.set", { slot: "a", value: at, replaces: [] }, begun_ms);
    const before = foldLedger(testLedger, device.entries, trust);
    const bare = device.entries.with(3, withoutBody(device.entries[3]!));
    const on = foldLedger(testLedger, bare, trust, before);
    expect(seen(on)).toEqual(seen(foldLedger(testLedger, bare, trust)));
    expect(on.statuses.get(bare[3]!.id)).toBe("erased");
  });

  test("follows the trust as it changes, and not when it is only told anew", async () => {
    await fc.assert(
      overHistories(50, (entries, seed) => {
        const fold = new LedgerFold(testLedger, entries, trust);
        const lost = keys[people[seed % people.length]!].key;
        const changed = revoking(lost, begun_ms + (seed % 300_000));
        fold.add([], changed);
        expect(seen(fold.folded)).toEqual(seen(foldLedger(testLedger, entries, changed)));
        const { refolded } = fold.counts;
        fold.add([], structuredClone(changed));
        expect(fold.counts.refolded).toBe(refolded);
        fold.add([], trust);
        expect(seen(fold.folded)).toEqual(seen(foldLedger(testLedger, entries, trust)));
      }),
      { numRuns: 60, seed: 25 },
    );
  });

  test("runs one reducer for an entry that comes last, receipts included", async () => {
    const device = new Device(keys["p-one"], "p-one");
    const theServer = new Device(server, "server");
    const fold = new LedgerFold(testLedger, [], trust);
    for (let round = 0; round < 20; round += 1) {
      const entry = await device.write(
        "slot.set",
        { slot: "a", value: round, replaces: [] },
        begun_ms + round,
      );
      theServer.fold.add([entry]);
      const receipt = await receiptFor(theServer, [entry], begun_ms + 500 + round);
      device.fold.add([receipt]);
      fold.add([entry]);
      fold.add([receipt]);
    }
    expect(fold.counts).toEqual({ appended: 40, inserted: 0, refolded: 0 });
    expect(fold.folded.newest_ms).toBe(begun_ms + 519);
    expect(seen(fold.folded)).toEqual(seen(foldLedger(testLedger, [...device.entries].reverse(), trust)));
  });

  test("goes the short way also where nobody is believed, as on a server that only keeps places", async () => {
    const device = new Device(keys["p-one"], "p-one");
    const theServer = new Device(server, "server");
    const fold = new LedgerFold<object>({ initial: {}, types: [] }, [], noTrust);
    for (let round = 0; round < 5; round += 1) {
      const entry = await device.write("slot.set", { slot: "a", value: round, replaces: [] }, begun_ms);
      theServer.fold.add([entry]);
      const receipt = await receiptFor(theServer, [entry], begun_ms);
      device.fold.add([receipt]);
      fold.add([entry]);
      fold.add([receipt]);
    }
    expect(fold.counts).toEqual({ appended: 10, inserted: 0, refolded: 0 });
    const whole = foldLedger<object>({ initial: {}, types: [] }, device.entries, noTrust);
    expect(fold.folded.statuses).toEqual(whole.statuses);
    expect(fold.folded.heads).toEqual(whole.heads);
  });

  test("takes back a time that was only claimed once the server says when it came", async () => {
    const device = new Device(keys["p-one"], "p-one");
    const theServer = new Device(server, "server");
    const early = await device.write("slot.set", { slot: "a", value: 1, replaces: [] }, begun_ms);
    const ahead = await device.write("slot.set", { slot: "a", value: 2, replaces: [] }, begun_ms + 9_000_000);
    expect(device.fold.folded.newest_ms).toBe(begun_ms + 9_000_000);
    theServer.fold.add([early, ahead]);
    device.fold.add([await receiptFor(theServer, [ahead], begun_ms + 1_000)]);
    expect(device.fold.counts.refolded).toBe(0);
    expect(device.fold.folded.newest_ms).toBe(begun_ms + 1_000);
  });

  test("does not take an entry for the last one that follows only 32 of 40 heads", async () => {
    const apart = await Promise.all(
      Array.from({ length: 40 }, (_, at) =>
        entryOf(
          { ...keys["p-one"], key: at.toString(16).padStart(64, "0") },
          { body: { at }, at: later(at) },
        ),
      ),
    );
    const fold = new LedgerFold(testLedger, apart, trust);
    const next = await entryOf(keys["p-two"], {
      body: { slot: "a", value: 1, replaces: [] },
      by: "p-two",
      after: fold.folded.heads,
      at: later(0),
    });
    fold.add([next]);
    expect(fold.counts).toEqual({ appended: 0, inserted: 0, refolded: 1 });
    expect(seen(fold.folded)).toEqual(seen(foldLedger(testLedger, [next, ...apart], trust)));
  });

  test("takes the body of an entry of which it held a bare copy", async () => {
    const entry = await entryOf(keys["p-one"], { body: { slot: "a", value: 1, replaces: [] } });
    const fold = new LedgerFold(testLedger, [withoutBody(entry)], trust);
    expect(fold.folded.statuses.get(entry.id)).toBe("erased");
    fold.add([entry]);
    expect(fold.folded.statuses.get(entry.id)).toBe("pending");
    fold.add([withoutBody(entry)]);
    expect(fold.folded.statuses.get(entry.id)).toBe("pending");
  });
});

function later(at: number): string {
  return new Date(begun_ms + at).toISOString();
}
