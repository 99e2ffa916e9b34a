// The record that the commands read: the server's database where there is one, otherwise the invented demo, made anew
// in memory. Read only; a database that cannot be opened as it should is an error, never an empty record.
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { demoKeySeed, makeDemo } from "../../demo/make-demo.ts";
import { demoPeople } from "../../demo/cast.ts";
import { sha256, signerFromSeed } from "../crypto/node.ts";
import type { CraftState } from "../core/facts/craft.ts";
import type { Sheet } from "../core/sheet/schema.ts";
import { noTrust } from "../ledger/acceptance.ts";
import { canonicalText } from "../ledger/canonical.ts";
import { basesHeld } from "../ledger/base/base-held.ts";
import type { BasePlace } from "../ledger/base/base-held.ts";
import { baseLedger } from "../ledger/base/base-ledger.ts";
import { craftLedger } from "../ledger/craft/craft-ledger.ts";
import { hashText } from "../ledger/crypto.ts";
import type { StoredEntry } from "../ledger/entry.ts";
import { foldLedger } from "../ledger/fold.ts";
import type { Folded } from "../ledger/fold.ts";
import { reopenEntry } from "../ledger/open.ts";
import { operatorLedger } from "../ledger/operator/operator-ledger.ts";
import type { OperatorState } from "../ledger/operator/operator-ledger.ts";
import { rootNote } from "../store/store.ts";
import { SqliteStore } from "../store/sqlite.ts";

export const root = new URL("../../", import.meta.url).pathname;

export function dataFolder(): string {
  return (
    process.env["PREEN_DATA"] ??
    join(root, "var", process.env["PREEN_MODE"] === "operator" ? "operator" : "demo")
  );
}

export type OpenRecord = {
  /** Where it was read from, in words. */
  readonly from: string;
  readonly operator: Folded<OperatorState>;
  readonly craft: ReadonlyMap<string, Folded<CraftState>>;
  readonly bases: readonly BasePlace[];
  readonly people: ReadonlyMap<string, string>;
  readonly sheetOf: (hash: string) => Sheet | null;
};

export function demoSheet(): Sheet {
  return JSON.parse(readFileSync(join(root, "demo/sheet/quill.json"), "utf8")) as Sheet;
}

export type StoredRecord = {
  /** Where it was read from, in words. */
  readonly from: string;
  readonly entries: readonly StoredEntry[];
  /** The operator's public key; null where the server that wrote the record did not leave it. */
  readonly operatorKey: string | null;
};

/** The entries as they are stored, by nobody judged. */
export async function readStored(at_ms: number): Promise<StoredRecord> {
  const file = join(dataFolder(), "preen.db");
  if (!existsSync(file)) {
    const demo = await makeDemo({ sheet: demoSheet(), anchor_ms: at_ms }, { sha256, signerFromSeed });
    const operatorKey = signerFromSeed(demoKeySeed("operator", sha256)).key;
    return { from: "the invented demo, made anew in memory", entries: demo.entries, operatorKey };
  }
  const store = new SqliteStore(file, { readOnly: true });
  try {
    const ledgers = await store.ledgers();
    const entries = (await Promise.all(ledgers.map((ledger) => store.ofLedger(ledger)))).flat();
    return { from: file, entries, operatorKey: await store.readNote(rootNote) };
  } finally {
    await store.close();
  }
}

function hashOf(sheet: unknown): string {
  return hashText(sha256, canonicalText(sheet));
}

/** A sheet of the server's shelf; null when it is not there, or is not what its name says. */
function sheetIn(folder: string, hash: string): Sheet | null {
  const file = join(folder, "sheets", `${hash}.json`);
  if (!existsSync(file)) return null;
  const sheet = JSON.parse(readFileSync(file, "utf8")) as Sheet;
  return hashOf(sheet) === hash ? sheet : null;
}

/** The names in the server's directory; nobody is named where there is none. */
function peopleIn(folder: string): ReadonlyMap<string, string> {
  const file = join(folder, "directory.db");
  if (!existsSync(file)) return new Map();
  const db = new DatabaseSync(file, { readOnly: true });
  try {
    const rows = db.prepare("SELECT id, name FROM person").all() as { id: string; name: string }[];
    return new Map(rows.map(({ id, name }) => [id, name]));
  } finally {
    db.close();
  }
}

/** Opens the record; `at_ms` anchors the demo when there is no database. */
export async function openRecord(at_ms: number): Promise<OpenRecord> {
  const file = join(dataFolder(), "preen.db");
  const held = existsSync(file);
  const sheet = demoSheet();
  const { from, entries: stored, operatorKey } = await readStored(at_ms);
  const byLedger = Map.groupBy(stored.map(reopenEntry), ({ envelope }) => envelope.ledger);
  const operators = [...byLedger.keys()].filter((ledger) => ledger.startsWith("operator:"));
  const operator = foldLedger(
    operatorLedger,
    operators.flatMap((ledger) => byLedger.get(ledger) ?? []),
    { ...noTrust, root: operatorKey },
  );
  const craft = new Map<string, Folded<CraftState>>();
  for (const [ledger, entries] of byLedger) {
    if (ledger.startsWith("craft:"))
      craft.set(ledger, foldLedger(craftLedger, entries, operator.state.trust));
  }
  const demoHash = held ? "" : hashOf(sheet);
  const bases = basesHeld(operator.state.bases, (ledger) =>
    foldLedger(baseLedger, byLedger.get(ledger) ?? [], operator.state.trust),
  );
  return {
    bases,
    from,
    operator,
    craft,
    people: held ? peopleIn(dataFolder()) : new Map(demoPeople.map(({ id, name }) => [id, name])),
    sheetOf: held ? (hash) => sheetIn(dataFolder(), hash) : (hash) => (hash === demoHash ? sheet : null),
  };
}
