// The record that the commands read: the server's database where there is one, otherwise the invented demo, made anew
// in memory. Read only; a database that cannot be opened as it should is an error, never an empty record.
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { makeDemo } from "../../demo/make-demo.ts";
import { demoPeople } from "../../demo/cast.ts";
import { sha256, signerFromSeed } from "../crypto/node.ts";
import type { CraftState } from "../core/facts/craft.ts";
import type { Sheet } from "../core/sheet/schema.ts";
import { canonicalText } from "../ledger/canonical.ts";
import { craftLedger } from "../ledger/craft/craft-ledger.ts";
import { hashText } from "../ledger/crypto.ts";
import type { StoredEntry } from "../ledger/entry.ts";
import { foldLedger } from "../ledger/fold.ts";
import type { Folded } from "../ledger/fold.ts";
import { reopenEntry } from "../ledger/open.ts";
import { operatorLedger } from "../ledger/operator/operator-ledger.ts";
import type { OperatorState } from "../ledger/operator/operator-ledger.ts";
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
  readonly people: ReadonlyMap<string, string>;
  readonly sheetOf: (hash: string) => Sheet | null;
};

export function demoSheet(): Sheet {
  return JSON.parse(readFileSync(join(root, "demo/sheet/quill.json"), "utf8")) as Sheet;
}

async function storedEntries(file: string): Promise<readonly StoredEntry[]> {
  const store = new SqliteStore(file);
  try {
    const ledgers = await store.ledgers();
    return (await Promise.all(ledgers.map((ledger) => store.ofLedger(ledger)))).flat();
  } finally {
    await store.close();
  }
}

/** Opens the record; `at_ms` anchors the demo when there is no database. */
export async function openRecord(at_ms: number): Promise<OpenRecord> {
  const file = join(dataFolder(), "preen.db");
  const sheet = demoSheet();
  const sheets = new Map([[hashText(sha256, canonicalText(sheet)), sheet]]);
  const held = existsSync(file);
  const stored = held
    ? await storedEntries(file)
    : (await makeDemo({ sheet, anchor_ms: at_ms }, { sha256, signerFromSeed })).entries;
  const byLedger = Map.groupBy(stored.map(reopenEntry), ({ envelope }) => envelope.ledger);
  const operators = [...byLedger.keys()].filter((ledger) => ledger.startsWith("operator:"));
  const operator = foldLedger(
    operatorLedger,
    operators.flatMap((ledger) => byLedger.get(ledger) ?? []),
    operatorLedger.initial.trust,
  );
  const craft = new Map<string, Folded<CraftState>>();
  for (const [ledger, entries] of byLedger) {
    if (ledger.startsWith("craft:"))
      craft.set(ledger, foldLedger(craftLedger, entries, operator.state.trust));
  }
  return {
    from: held ? file : "the invented demo, made anew in memory",
    operator,
    craft,
    people: new Map(demoPeople.map(({ id, name }) => [id, name])),
    sheetOf: (hash) => sheets.get(hash) ?? null,
  };
}
