// The demo on the server: keys that follow from a published seed, the invented people with their PINs, and the history
// that demo/ tells, pushed like a device pushes its entries. Run once, on an empty record.
import { readFileSync } from "node:fs";
import { demoPeople } from "../../demo/cast.ts";
import type { DemoSpan } from "../../demo/cast.ts";
import { demoKeyNames, demoKeySeed, makeDemo } from "../../demo/make-demo.ts";
import { sha256, signerFromSeed } from "../crypto/node.ts";
import type { Sheet } from "../core/sheet/schema.ts";
import { craftLedger } from "../ledger/craft/craft-ledger.ts";
import { keepSnapshot } from "../store/kept-fold.ts";
import type { Keyring } from "./keyring.ts";
import type { OperatorServer } from "./operator-server.ts";

const sheetFile = new URL("../../demo/sheet/quill.json", import.meta.url);

export function demoKeyring(): Keyring {
  const signerOf = (name: string) => signerFromSeed(demoKeySeed(name, sha256));
  return {
    root: signerOf("operator"),
    server: signerOf("server"),
    // Anybody can make the demo's keys: a new one would be no better. A demo restored from a backup may fork.
    renewServer: () => {},
  };
}

let demoKeys: ReadonlySet<string> | null = null;

/** Whether a key is one of the demo's, which everybody can make and so nobody may trust. */
export function isDemoKey(key: string): boolean {
  demoKeys ??= new Set(demoKeyNames.map((name) => signerFromSeed(demoKeySeed(name, sha256)).key));
  return demoKeys.has(key);
}

/**
 * Entries go in last and all at once: a record without entries has not been seeded yet, and one that was interrupted is
 * seeded again. Made once, then kept: that takes seconds for the months, and nothing for a record that is there.
 */
export async function seedDemo(server: OperatorServer, span: DemoSpan): Promise<void> {
  const sheet = JSON.parse(readFileSync(sheetFile, "utf8")) as Sheet;
  server.sheets.put(sheet);
  await server.directory.addPeople(demoPeople);
  const began_ms = performance.now();
  if (span === "months") console.log("telling the demo's fourteen months, once; this takes some seconds");
  const demo = await makeDemo({ sheet, anchor_ms: server.now_ms(), span }, { sha256, signerFromSeed });
  const { entries, stateHashes } = demo;
  const answer = await server.exchange.answer({ kind: "push", seen: null, entries });
  const wrong = answer.kind === "push" ? answer.verdicts.filter(({ verdict }) => verdict !== "accepted") : [];
  if (wrong.length > 0)
    throw new Error(`the demo's history was not accepted: ${JSON.stringify(wrong.slice(0, 3))}`);
  if (span !== "months") return;
  const { store, trust } = server.record;
  for (const [ledger] of stateHashes)
    if (ledger.startsWith("craft:"))
      await keepSnapshot(store, { definition: craftLedger, ledger, trust }, sha256);
  const took_s = ((performance.now() - began_ms) / 1_000).toFixed(1);
  console.log(`${entries.length} entries, told and accepted in ${took_s} s`);
  for (const [ledger, hash] of stateHashes) console.log(`  ${ledger}  stateHash ${hash}`);
}
