// What the demo prints when it listens: who can be chosen with which PIN, and how each craft stands.
import { setImmediate } from "node:timers/promises";
import { demoPeople } from "../../demo/cast.ts";
import type { CraftState } from "../core/facts/craft.ts";
import type { Sheet } from "../core/sheet/schema.ts";
import { trackSun } from "../core/sky/sun.ts";
import { judgeBeside } from "../core/standing/judge-beside.ts";
import { basesHeld } from "../ledger/base/base-held.ts";
import { baseLedger } from "../ledger/base/base-ledger.ts";
import { craftLedger } from "../ledger/craft/craft-ledger.ts";
import { standingOfCraft } from "../ledger/craft/craft-standing.ts";
import { foldLedger } from "../ledger/fold.ts";
import type { Folded } from "../ledger/fold.ts";
import { reopenEntry } from "../ledger/open.ts";
import { openFold } from "../store/kept-fold.ts";
import { sha256 } from "../crypto/node.ts";
import { settingsInForce } from "../ledger/operator/operator-ledger.ts";
import { craftLine } from "../present/craft-line.ts";
import type { OperatorServer } from "./operator-server.ts";

export async function demoGreeting(server: OperatorServer): Promise<readonly string[]> {
  const people = demoPeople.map(({ name, roles, pin }) => `  ${name} (${roles.join(", ")})  PIN ${pin}`);
  return [
    "The demo: everything in it is invented. Choose a person and enter the PIN:",
    ...people,
    "How the machines stand now:",
    ...(await standings(server)),
  ];
}

async function standings({ record, sheets, now_ms }: OperatorServer): Promise<readonly string[]> {
  const ledgers = (await record.store.ledgers()).filter((ledger) => ledger.startsWith("craft:")).toSorted();
  const settings = record.operator === null ? null : settingsInForce(record.operator.state);
  const at_ms = now_ms();
  const sheetOf = (hash: string): Sheet | null => {
    const text = sheets.text(hash);
    return text === null ? null : (JSON.parse(text) as Sheet);
  };
  const { trust } = record;
  const ofBases = await Promise.all(
    (record.operator?.state.bases ?? []).map(async ({ base }) => ({
      base,
      entries: (await record.store.ofLedger(base)).map(reopenEntry),
    })),
  );
  const bases = basesHeld(record.operator?.state.bases ?? [], (name) =>
    foldLedger(baseLedger, ofBases.find((each) => each.base === name)?.entries ?? [], trust),
  );
  const judge = judgeBeside(trackSun());
  const craft: { readonly ledger: string; readonly folded: Folded<CraftState> }[] = [];
  for (const ledger of ledgers) {
    // Whoever asks for something meanwhile is answered between two of them.
    await setImmediate();
    // From the snapshot that is kept beside the record: a first request does not wait for a year to be folded.
    const kind = { definition: craftLedger, ledger, trust };
    const { fold } = await openFold(record.store, kind, sha256, { keep: true });
    craft.push({ ledger, folded: fold.folded });
  }
  const fleet = craft.map(({ folded }) => folded.state);
  const known = { now_ms: at_ms, settings, exchanged_ms: at_ms, unsent: 0, sheetOf, bases, judge, fleet };
  const lines: string[] = [];
  for (const { ledger, folded } of craft) {
    await setImmediate();
    lines.push(
      `  ${craftLine(folded.state.opened?.name ?? ledger, standingOfCraft(folded, known).standing, "en")}`,
    );
  }
  return lines;
}
