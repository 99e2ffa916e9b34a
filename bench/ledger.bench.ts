// What the ledger costs: one more entry from typing to state (budget 1 ms: nobody may feel it), a whole fold, a late
// entry, one written beside others, one craft's fourteen months cold and from a snapshot, the proof of an export; and the canonical form beside another library's.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import canonicalize from "canonicalize";
import { makeDemo } from "../demo/make-demo.ts";
import { nodeVerifier, sha256, signerFromSeed } from "../src/crypto/node.ts";
import type { CraftState } from "../src/core/facts/craft.ts";
import { msToInstant } from "../src/core/facts/instant.ts";
import type { Sheet } from "../src/core/sheet/schema.ts";
import type { Trust } from "../src/ledger/acceptance.ts";
import { canonicalText } from "../src/ledger/canonical.ts";
import { craftLedger } from "../src/ledger/craft/craft-ledger.ts";
import { standingOfCraft } from "../src/ledger/craft/craft-standing.ts";
import { bytesOf } from "../src/ledger/crypto.ts";
import type { Signer } from "../src/ledger/crypto.ts";
import type { StoredEntry } from "../src/ledger/entry.ts";
import { exportLines } from "../src/ledger/export.ts";
import { foldLedger, stateHash } from "../src/ledger/fold.ts";
import type { Folded } from "../src/ledger/fold.ts";
import { LedgerFold } from "../src/ledger/ledger-fold.ts";
import { isOpened, isSigned, openEntry, reopenEntry } from "../src/ledger/open.ts";
import type { Opened } from "../src/ledger/open.ts";
import type { Past } from "../src/ledger/past.ts";
import { operatorLedger, settingsInForce } from "../src/ledger/operator/operator-ledger.ts";
import { foldOn, readSnapshot, snapshotText } from "../src/ledger/snapshot.ts";
import { proveExport } from "../src/ledger/prove-export.ts";
import { writeNext } from "../src/ledger/write-next.ts";
import { MemoryStore } from "../src/store/memory.ts";
import type { Bench, Row } from "./rows.ts";

const anchor_ms = Date.UTC(2026, 5, 1, 6);
const root = join(import.meta.dirname, "..");

type Base = {
  readonly entries: readonly Opened[];
  readonly all: readonly StoredEntry[];
  readonly trust: Trust;
};

/** The longest craft ledger of the invented demo, with a pilot's key certified besides. */
async function demoBase(pilot: Signer): Promise<Base> {
  const sheet = JSON.parse(readFileSync(join(root, "demo/sheet/quill.json"), "utf8")) as Sheet;
  const { entries: all } = await makeDemo({ sheet, anchor_ms }, { sha256, signerFromSeed });
  const byLedger = Map.groupBy(all.map(reopenEntry), ({ envelope }) => envelope.ledger);
  const [operator] = [...byLedger].find(([ledger]) => ledger.startsWith("operator:")) ?? [];
  const { trust } = foldLedger(
    operatorLedger,
    byLedger.get(operator ?? "") ?? [],
    operatorLedger.initial.trust,
  ).state;
  const [entries = []] = [...byLedger.values()].toSorted((a, b) => b.length - a.length);
  const certificate = {
    entry: "0".repeat(64),
    key: pilot.key,
    person: "p-bench",
    roles: ["pilot"],
    from_ms: 0,
    until_ms: null,
  };
  const certificates = { ...trust.certificates, [pilot.key]: [certificate] };
  return { entries, all, trust: { ...trust, certificates } };
}

function hashOf(folded: Folded<CraftState>): string {
  return stateHash(folded, sha256);
}

/** Writes, opens, verifies, stores and folds entries one after another; milliseconds for each. */
async function append(base: Base, pilot: Signer, count: number): Promise<number[]> {
  const fold = new LedgerFold(craftLedger, base.entries, base.trust);
  const store = new MemoryStore();
  await store.append(base.entries.map(({ stored }) => stored));
  const { ledger } = base.entries[0]!.envelope;
  const times: number[] = [];
  for (let turn = 0; turn < count; turn += 1) {
    const at_ms = anchor_ms + turn * 60_000;
    const body = {
      gauge: "gearboxOil",
      value: 12 + (turn % 7) / 10,
      unit: "bar",
      typed: "12,5",
      conditions: { oat_C: 4 },
      hours_h: null,
      at: msToInstant(at_ms),
    };
    const salt = turn.toString(16).padStart(32, "0");
    const next = { ledger, type: "reading.taken", body, by: "p-bench", at_ms, basis: {}, salt };
    const began = performance.now();
    const stored = await writeNext(fold, next, pilot, sha256);
    const opened = openEntry(stored, sha256);
    if (!isOpened(opened) || !(await isSigned(opened, nodeVerifier))) throw new Error("not an entry");
    await store.append([stored]);
    fold.add([opened]);
    times.push(performance.now() - began);
  }
  const { ordered, aside } = fold.folded;
  if (aside.length > 0 || fold.counts.appended !== count)
    throw new Error("an entry did not go the short way");
  if (hashOf(fold.folded) !== hashOf(foldLedger(craftLedger, ordered, base.trust)))
    throw new Error("the grown fold is not the fold from zero");
  return times;
}

function median(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[values.length >> 1]!;
}

/** Median milliseconds of `work`, called `times` times after a few that do not count. */
function timed(times: number, work: () => void): number {
  for (let turn = 0; turn < Math.min(3, times); turn += 1) work();
  const taken: number[] = [];
  for (let turn = 0; turn < times; turn += 1) {
    const began = performance.now();
    work();
    taken.push(performance.now() - began);
  }
  return median(taken);
}

/** Writes the canonical form of each value by both ways, in turns, so that both have the same weather. */
function canonicalRows(values: readonly unknown[], name: string, times: number): readonly Row[] {
  for (const value of values)
    if (canonicalText(value) !== canonicalize(value)) throw new Error(`${name}: the two forms differ`);
  let length = 0;
  const [ours, theirs]: [number[], number[]] = [[], []];
  for (let turn = 0; turn < times; turn += 1) {
    ours.push(timed(1, () => values.forEach((value) => (length += canonicalText(value).length))));
    theirs.push(timed(1, () => values.forEach((value) => (length += canonicalize(value)?.length ?? 0))));
  }
  if (length === 0) throw new Error("nothing was written");
  const [value, peer] = [median(ours), median(theirs)];
  return [
    {
      name: `canonical form of ${name}`,
      value,
      unit: "ms",
      better: "lower",
      peer: { name: "canonicalize", value: peer },
    },
    {
      name: `canonical form of ${name}, as many times as fast`,
      value: peer / value,
      unit: "×",
      budget: 2,
      better: "higher",
    },
  ];
}

/**
 * One craft's fourteen months: cold from its stored texts to a standing, and from a snapshot. Told in full once a round; a
 * tiny run tells the two weeks.
 */
async function monthsRows(tiny: boolean): Promise<readonly Row[]> {
  const sheet = JSON.parse(readFileSync(join(root, "demo/sheet/quill.json"), "utf8")) as Sheet;
  const at_ms = Date.parse("2026-11-25T08:40:00.000Z");
  const span = tiny ? "fortnight" : "months";
  const { entries: all } = await makeDemo({ sheet, anchor_ms: at_ms, span }, { sha256, signerFromSeed });
  const byLedger = Map.groupBy(all, (stored) => reopenEntry(stored).envelope.ledger);
  const operators = [...byLedger].filter(([ledger]) => ledger.startsWith("operator:"));
  const operator = foldLedger(
    operatorLedger,
    operators.flatMap(([, stored]) => stored.map(reopenEntry)),
    operatorLedger.initial.trust,
  ).state;
  const { trust } = operator;
  const stored = byLedger.get("craft:tinde")!;
  const known = {
    now_ms: at_ms,
    settings: settingsInForce(operator),
    exchanged_ms: at_ms,
    unsent: 0,
    sheetOf: () => sheet,
    bases: [],
    fleet: [],
    judge: null,
  };
  const times = tiny ? 1 : 5;
  const opened = stored.map(reopenEntry);
  const grown = new LedgerFold(craftLedger, opened, trust);
  const kept = snapshotText(craftLedger, grown.whole, sha256);
  if (kept === null) throw new Error("no snapshot was made");
  const { text, past } = kept;
  const after = grown.folded.ordered.filter(({ id }) => !past.ids.has(id)).map(({ stored: each }) => each);
  const from = (read: () => Past<CraftState> | null): Folded<CraftState> => {
    const before = read();
    const on = before === null ? null : foldOn(craftLedger, after.map(reopenEntry), trust, before);
    if (on === null) throw new Error("the snapshot was not gone on from");
    return on.folded;
  };
  const fromText = (): Folded<CraftState> =>
    from(() => readSnapshot<CraftState>(text, "craft:tinde", trust, sha256));
  if (hashOf(fromText()) !== hashOf(grown.folded) || after.length === 0)
    throw new Error("the fold from a snapshot is not the fold from zero, or leaves nothing to fold");
  const stand = (folded: Folded<CraftState>): void => {
    if (standingOfCraft(folded, known).standing.operations.length === 0) throw new Error("no standing");
  };
  return [
    {
      name: `cold: ${stored.length} stored entries of one craft to its standing`,
      value: timed(times, () => stand(foldLedger(craftLedger, stored.map(reopenEntry), trust))),
      unit: "ms",
      budget: 600,
      better: "lower",
    },
    {
      name: `the same from a snapshot: ${(text.length / 1e6).toFixed(1)} MB of text checked and read, ${after.length} entries parsed and folded on, to its standing`,
      value: timed(times, () => stand(fromText())),
      unit: "ms",
      budget: 60,
      better: "lower",
      peer: {
        name: "with the snapshot in memory, without the standing",
        value: timed(times, () => from(() => past)),
      },
    },
    {
      name: "a snapshot made of a fold, tried and written as text (off the main thread)",
      value: timed(times, () => snapshotText(craftLedger, grown.whole, sha256)),
      unit: "ms",
      better: "lower",
    },
    await besideRow(grown, opened, tiny),
  ];
}

/** Entries written beside each other by two devices, as they come in one after the other. */
async function besideRow(
  grown: LedgerFold<CraftState>,
  opened: readonly Opened[],
  tiny: boolean,
): Promise<Row> {
  const { ledger } = opened[0]!.envelope;
  const at_ms = opened.at(-1)!.at_ms + 60_000;
  const pilots = ["one", "other"].map((name) => signerFromSeed(sha256(bytesOf(`a key for timing, ${name}`))));
  const branches = pilots.map(
    () => new LedgerFold(craftLedger, opened, grown.folded.trust, null, { keepsStates: true }),
  );
  const taken: number[] = [];
  for (let turn = 0; turn < (tiny ? 2 : 20); turn += 1) {
    for (const [index, pilot] of pilots.entries()) {
      const at = msToInstant(at_ms + (2 * turn + index) * 1_000);
      const body = { words: "beside", at };
      const salt = (2 * turn + index).toString(16).padStart(32, "0");
      const next = {
        ledger,
        type: "exchange.confirmed",
        body,
        by: "p-ravn",
        at_ms: Date.parse(at),
        basis: {},
        salt,
      };
      const stored = await writeNext(branches[index]!, next, pilot, sha256);
      const entry = reopenEntry(stored);
      branches[index]!.add([entry]);
      const began = performance.now();
      grown.add([entry]);
      taken.push(performance.now() - began);
    }
  }
  if (grown.counts.refolded > 0 || grown.counts.inserted === 0) throw new Error("nothing was put between");
  const from = timed(tiny ? 1 : 3, () =>
    foldLedger(craftLedger, [...grown.folded.ordered], grown.folded.trust, grown.folded),
  );
  return {
    name: "one entry written beside others, put into its place",
    value: median(taken),
    unit: "ms",
    better: "lower",
    peer: { name: "all judged again, folded from the checkpoint", value: from },
  };
}

const bench: Bench = async (size) => {
  const tiny = size === "tiny";
  const pilot = signerFromSeed(sha256(bytesOf("a key for timing")));
  const base = await demoBase(pilot);
  const { entries, trust } = base;
  const fromZero = timed(tiny ? 1 : 9, () => foldLedger(craftLedger, entries, trust));
  const appended = await append(base, pilot, tiny ? 20 : 400);
  const before = foldLedger(craftLedger, entries, trust);
  const late = entries.filter(({ id }) => id !== before.heads[0]);
  const lateFold = foldLedger(craftLedger, late, trust);
  const parts = entries.flatMap(({ envelope, body }) => [envelope, body]);
  const lines = [...exportLines(base.all, msToInstant(anchor_ms), sha256)];
  const began = performance.now();
  const { proven } = await proveExport(lines, nodeVerifier);
  if (!proven) throw new Error("the demo's own export is not proven");
  return [
    {
      name: `one more entry on ${entries.length}: seal, open, verify, store, fold`,
      value: median(appended),
      unit: "ms",
      budget: 1,
      better: "lower",
      peer: { name: "its fold from zero", value: fromZero },
    },
    {
      name: `fold of ${entries.length} entries from zero`,
      value: fromZero,
      unit: "ms",
      better: "lower",
    },
    {
      name: "one late entry, folded again from a checkpoint",
      value: timed(tiny ? 1 : 9, () => foldLedger(craftLedger, entries, trust, lateFold)),
      unit: "ms",
      better: "lower",
      peer: { name: "from zero", value: fromZero },
    },
    {
      name: `proof of an export of ${base.all.length} entries`,
      value: performance.now() - began,
      unit: "ms",
      better: "lower",
    },
    ...canonicalRows(parts, `${parts.length} envelopes and bodies`, tiny ? 2 : 41),
    ...canonicalRows([before.state], "a craft's state", tiny ? 2 : 41),
    ...(await monthsRows(tiny)),
  ];
};

export default bench;
