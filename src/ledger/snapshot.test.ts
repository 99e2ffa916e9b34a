import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { arrivals, overHistories } from "../../sim/ledger/arrivals.ts";
import {
  Device,
  begun_ms,
  keys,
  people,
  receiptFor,
  revoking,
  server,
  testLedger,
  trust,
} from "../../sim/ledger/world.ts";
import type { TestState } from "../../sim/ledger/world.ts";
import { sha256 } from "../crypto/node.ts";
import type { Trust } from "./acceptance.ts";
import { hashText } from "./crypto.ts";
import { foldLedger, foldVersion, stateHash } from "./fold.ts";
import type { Folded } from "./fold.ts";
import { LedgerFold } from "./ledger-fold.ts";
import type { Opened } from "./open.ts";
import type { Past } from "./past.ts";
import { foldOn, readSnapshot, snapshotText } from "./snapshot.ts";

const ledger = "craft:test-1";

function textOf(entries: readonly Opened[], leftOut?: number): string | null {
  return (
    snapshotText(testLedger, new LedgerFold(testLedger, entries, trust).whole, sha256, leftOut)?.text ?? null
  );
}

function pastOf(text: string, by: Trust = trust): Past<TestState> | null {
  return readSnapshot<TestState>(text, ledger, by, sha256);
}

/** What anybody may see of a fold that need not hold its entries. */
function seen({ state, aside, noted, heads, newest_ms, vouched_ms, erased }: Folded<TestState>): unknown {
  const hash = stateHash({ state, aside }, sha256);
  return {
    hash,
    state,
    aside,
    noted: new Set(noted),
    heads,
    newest_ms,
    vouched_ms,
    erased: [...erased].sort(),
  };
}

describe("a fold that goes on from a snapshot", () => {
  test("is the fold from zero at every step, until it says that it needs all entries", async () => {
    const ways = { none: 0, step: 0, toTheEnd: 0, needsAll: 0 };
    await fc.assert(
      overHistories(70, (entries, seed) => {
        const cut = 1 + (seed % entries.length);
        const text = textOf(entries.slice(0, cut), seed % 9);
        const past = text === null ? null : pastOf(text);
        if (past === null) {
          ways.none += 1;
          return;
        }
        // The program starts again with what it had, and then the others come, as they come.
        const held = new Map(entries.filter(({ id }) => past.ids.has(id)).map((entry) => [entry.id, entry]));
        const fold = new LedgerFold(testLedger, [], trust, past);
        const kept = entries.slice(0, cut).filter(({ id }) => !past.ids.has(id));
        for (const batch of [kept, ...arrivals(entries.slice(cut), seed)]) {
          if (!fold.takes(batch)) {
            ways.needsAll += 1;
            return;
          }
          fold.add(batch);
          for (const entry of batch) held.set(entry.id, entry);
          expect(seen(fold.folded)).toEqual(seen(foldLedger(testLedger, held.values(), trust)));
          ways.step += 1;
        }
        ways.toTheEnd += 1;
      }),
      { numRuns: 200, seed: 26 },
    );
    // All ways must have been gone, or nothing was compared.
    expect(ways.step).toBeGreaterThan(300);
    expect(ways.toTheEnd).toBeGreaterThan(15);
    expect(ways.needsAll).toBeGreaterThan(50);
    expect(ways.none).toBeLessThan(20);
  });

  test("is the fold from zero at every entry of a long quiet record, and reads nothing", async () => {
    const { entries } = await quiet(140);
    const text = textOf(entries.slice(0, 150))!;
    const past = pastOf(text)!;
    expect(past.ids.size).toBe(150 - 64);
    const fold = foldOn(testLedger, entries.slice(86, 150), trust, past)!;
    for (const [at, entry] of entries.entries()) {
      if (at < 150) continue;
      expect(fold.takes([entry])).toBe(true);
      fold.add([entry]);
      expect(seen(fold.folded)).toEqual(seen(foldLedger(testLedger, entries.slice(0, at + 1), trust)));
    }
    expect(fold.counts).toEqual({ appended: entries.length - 150, inserted: 0, refolded: 0 });
  });

  test("asks for all entries where a late one belongs among them, and then is the fold from zero", async () => {
    const { entries, device } = await quiet(100);
    const past = pastOf(textOf(entries)!)!;
    // A tablet that was offline since the tenth entry writes one, by a clock of then.
    const apart = new Device(keys["p-two"], "p-two");
    apart.fold.add(entries.slice(0, 10));
    const late = await apart.write("slot.set", { slot: "b", value: 7, replaces: [] }, begun_ms + 5);
    const fold = foldOn(testLedger, entries.slice(past.ids.size), trust, past)!;
    expect(fold.takes([late])).toBe(false);
    expect(() => fold.add([late])).toThrow(RangeError);
    device.fold.add([late]);
    expect(seen(device.fold.folded)).toEqual(seen(foldLedger(testLedger, [late, ...entries], trust)));
    // One that was written beside the latest is put into its place.
    const beside = new Device(keys["p-two"], "p-two");
    beside.fold.add(entries.slice(0, -20));
    const near = await beside.write("slot.set", { slot: "b", value: 8, replaces: [] }, begun_ms + 90_500);
    expect(fold.takes([near])).toBe(true);
    fold.add([near]);
    expect(fold.counts.inserted).toBe(1);
    expect(seen(fold.folded)).toEqual(seen(foldLedger(testLedger, [near, ...entries], trust)));
  });

  test("is not gone on from once its keys are believed otherwise, and is when only others are", async () => {
    const { entries, theServer } = await quiet(40);
    const text = textOf(entries)!;
    expect(pastOf(text)).not.toBe(null);
    for (const key of [keys["p-one"].key, theServer.signer.key])
      expect(pastOf(text, revoking(key, begun_ms + 9_000_000))).toBe(null);
    expect(pastOf(text, { ...trust, root: "f".repeat(64) })).toBe(null);
    const other = keys[people.find((person) => person !== "p-one")!].key;
    expect(pastOf(text, revoking(other, begun_ms))).not.toBe(null);
    // The same while it runs.
    const fold = foldOn(testLedger, entries.slice(pastOf(text)!.ids.size), trust, pastOf(text)!)!;
    expect(fold.takes([], revoking(keys["p-one"].key, begun_ms))).toBe(false);
    expect(fold.takes([], revoking(other, begun_ms))).toBe(true);
  });

  test("takes none that is damaged, of another fold version or of another ledger", async () => {
    const { entries } = await quiet(40);
    expect(textOf([])).toBe(null);
    const text = textOf(entries)!;
    expect(pastOf(text)).not.toBe(null);
    for (const at of [0, 64, 70, text.length >> 1, text.length - 1]) {
      const other = text[at] === "1" ? "2" : "1";
      expect(pastOf(text.slice(0, at) + other + text.slice(at + 1))).toBe(null);
    }
    expect(pastOf(text.slice(0, -1))).toBe(null);
    expect(pastOf("")).toBe(null);
    expect(pastOf(versioned(text, foldVersion - 1))).toBe(null);
    expect(pastOf(versioned(text, foldVersion))).not.toBe(null);
    expect(readSnapshot(text, "craft:test-2", trust, sha256)).toBe(null);
  });

  test("is never made from another snapshot, so that no mistake is handed on", async () => {
    const { entries } = await quiet(60);
    const past = pastOf(textOf(entries)!)!;
    const on = foldOn(testLedger, entries.slice(past.ids.size), trust, past)!;
    expect(() => snapshotText(testLedger, on.whole, sha256)).toThrow(RangeError);
  });
});

describe("planted bugs of the way by snapshots are each caught", () => {
  test("a fold that ignores a late entry", async () => {
    const { entries } = await quiet(100);
    const past = pastOf(textOf(entries)!)!;
    const apart = new Device(keys["p-two"], "p-two");
    apart.fold.add(entries.slice(0, 10));
    const late = await apart.write("slot.set", { slot: "b", value: 7, replaces: [] }, begun_ms + 5);
    const fold = foldOn(testLedger, entries.slice(past.ids.size), trust, past)!;
    // The bug: what is not taken is left out.
    expect(seen(fold.folded)).not.toEqual(seen(foldLedger(testLedger, [...entries, late], trust)));
  });

  test("a fold that puts a late entry at the end", async () => {
    const { entries } = await quiet(100);
    const past = pastOf(textOf(entries)!)!;
    const apart = new Device(keys["p-two"], "p-two");
    apart.fold.add(entries.slice(0, 10));
    const late = await apart.write("slot.set", { slot: "b", value: 7, replaces: [] }, begun_ms + 5);
    // The bug: nothing counts as older than the latest of the past.
    const fold = new LedgerFold(testLedger, entries.slice(past.ids.size), trust, { ...past, latest: "" });
    fold.add([late]);
    expect(seen(fold.folded)).not.toEqual(seen(foldLedger(testLedger, [...entries, late], trust)));
  });

  test("a snapshot of an older fold, accepted", async () => {
    const { entries } = await quiet(60);
    const text = textOf(entries)!;
    const [told] = pastOf(text)!.state.told;
    // An older fold told less.
    const older = versioned(text.replace(`"${told!}",`, `"${"0".repeat(64)}",`), foldVersion - 1);
    expect(pastOf(older)).toBe(null);
    // The bug: the version is not looked at.
    const past = pastOf(versioned(older, foldVersion))!;
    const fold = foldOn(testLedger, entries.slice(past.ids.size), trust, past);
    expect(fold === null ? null : seen(fold.folded)).not.toEqual(
      seen(foldLedger(testLedger, entries, trust)),
    );
  });

  test("a snapshot that forgets who has been revoked since", async () => {
    const { entries } = await quiet(60);
    const since = revoking(keys["p-one"].key, begun_ms);
    const past = pastOf(textOf(entries)!)!;
    // The bug: the trust of then is taken for that of now.
    const fold = new LedgerFold(testLedger, entries.slice(past.ids.size), trust, past);
    expect(seen(fold.folded)).not.toEqual(seen(foldLedger(testLedger, entries, since)));
  });
});

/** The same with another version, and the right hash over it. */
function versioned(text: string, fold: number): string {
  type Packed = { readonly shapes: string[][]; readonly parts: (number[] | number | string)[] };
  const { shapes, parts } = JSON.parse(text.slice(65)) as Packed;
  const root = parts.at(-1) as number[];
  const place = 1 + shapes[root[0]! - 1]!.indexOf("fold");
  const changed = [...parts.slice(0, -1), fold, root.with(place, parts.length - 1)];
  const body = JSON.stringify({ shapes, parts: changed });
  return `${hashText(sha256, body)} ${body}`;
}

/** One person writes, the server receipts every fifth. */
async function quiet(
  count: number,
): Promise<{ entries: readonly Opened[]; device: Device; theServer: Device }> {
  const device = new Device(keys["p-one"], "p-one");
  const theServer = new Device(server, "server");
  for (let at = 0; at < count; at += 1) {
    const body = { slot: "abc"[at % 3], value: at, replaces: [] };
    const entry = await device.write("slot.set", body, begun_ms + at * 1_000);
    theServer.fold.add([entry]);
    if (at % 5 !== 4) continue;
    const open = device.entries.slice(-5);
    theServer.fold.add(device.entries);
    device.fold.add([
      await receiptFor(
        theServer,
        open.filter(({ envelope }) => envelope.type !== "receipt"),
        begun_ms + at * 1_000 + 300,
      ),
    ]);
  }
  return { entries: device.fold.folded.ordered, device, theServer };
}
