// The standing of each craft of the invented demo with its line over 72 hours, its rows, what ends it and what would
// help: assessed anew as the clock moves on and the record stays, which is what an open page does at every tick.
// Peer: the same line by looking at the same reasons at every minute, as a line would be drawn without its breakpoints; it
// is compared with ours at every minute before anything is timed, and cannot say the instant itself.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { makeDemo } from "../demo/make-demo.ts";
import { sha256, signerFromSeed } from "../src/crypto/node.ts";
import { minute_ms } from "../src/core/facts/instant.ts";
import type { Sheet } from "../src/core/sheet/schema.ts";
import { trackSun } from "../src/core/sky/sun.ts";
import type { CraftStanding } from "../src/core/standing/assess.ts";
import { standingAt } from "../src/core/standing/combine.ts";
import type { Verdict } from "../src/core/standing/combine.ts";
import { judgeBeside } from "../src/core/standing/judge-beside.ts";
import { noTrust } from "../src/ledger/acceptance.ts";
import { basesHeld } from "../src/ledger/base/base-held.ts";
import { baseLedger } from "../src/ledger/base/base-ledger.ts";
import { craftLedger } from "../src/ledger/craft/craft-ledger.ts";
import { standingOfCraft } from "../src/ledger/craft/craft-standing.ts";
import { foldLedger } from "../src/ledger/fold.ts";
import { reopenEntry } from "../src/ledger/open.ts";
import { operatorLedger, settingsInForce } from "../src/ledger/operator/operator-ledger.ts";
import type { Bench } from "./rows.ts";

const anchor_ms = Date.UTC(2026, 10, 25, 8, 40);
const line_min = 72 * 60;

async function demoStandings(): Promise<readonly ((now_ms: number) => CraftStanding)[]> {
  const sheet = JSON.parse(
    readFileSync(join(import.meta.dirname, "..", "demo/sheet/quill.json"), "utf8"),
  ) as Sheet;
  const { entries, root } = await makeDemo({ sheet, anchor_ms }, { sha256, signerFromSeed });
  const byLedger = Map.groupBy(entries.map(reopenEntry), ({ envelope }) => envelope.ledger);
  const named = (start: string) => [...byLedger].filter(([ledger]) => ledger.startsWith(start));
  const operator = foldLedger(operatorLedger, named("operator:")[0]![1], { ...noTrust, root: root.key });
  const { trust } = operator.state;
  const settings = settingsInForce(operator.state);
  const bases = basesHeld(operator.state.bases, (ledger) =>
    foldLedger(baseLedger, byLedger.get(ledger) ?? [], trust),
  );
  const judge = judgeBeside(trackSun());
  return named("craft:").map(([, held]) => {
    const folded = foldLedger(craftLedger, held, trust);
    return (now_ms: number): CraftStanding => {
      const known = {
        now_ms,
        settings,
        exchanged_ms: anchor_ms,
        unsent: 0,
        sheetOf: () => sheet,
        bases,
        fleet: [],
        judge,
      };
      return standingOfCraft(folded, known).standing;
    };
  });
}

function sampled({ at_ms, reasons, operations }: CraftStanding): readonly (readonly Verdict[])[] {
  return operations.map(({ operation }) =>
    Array.from(
      { length: line_min },
      (_, minute) => standingAt(reasons, operation, at_ms + minute * minute_ms).verdict,
    ),
  );
}

function assertSame(standing: CraftStanding): void {
  sampled(standing).forEach((verdicts, index) => {
    const { operation, line } = standing.operations[index]!;
    verdicts.forEach((verdict, minute) => {
      const at_ms = standing.at_ms + minute * minute_ms;
      const span = line.find(({ from_ms, until_ms }) => from_ms <= at_ms && at_ms < until_ms);
      if (span?.verdict !== verdict)
        throw new Error(`${operation} ${at_ms}: the line says ${span?.verdict}, a look ${verdict}`);
    });
  });
}

const bench: Bench = async (size) => {
  const standings = await demoStandings();
  for (const standing of standings) assertSame(standing(anchor_ms));
  const times = size === "tiny" ? 1 : 200;
  const warm = size === "tiny" ? 1 : 200;
  for (let turn = 0; turn < warm; turn += 1) for (const standing of standings) standing(anchor_ms + turn);
  let begun = performance.now();
  let looked = 0;
  for (let turn = 0; turn < times; turn += 1)
    for (const standing of standings)
      looked += standing(anchor_ms + turn * 15_000).operations.reduce(
        (sum, { line }) => sum + line.length,
        0,
      );
  const value = (performance.now() - begun) / times / standings.length;
  if (looked === 0) throw new Error("the standings have no lines");
  const assessed = standings.map((standing) => standing(anchor_ms));
  begun = performance.now();
  for (const standing of assessed) sampled(standing);
  const peer = {
    name: "its lines alone, looked at every minute",
    value: (performance.now() - begun) / assessed.length,
  };
  return [
    {
      name: "standing of a craft with its 72 h line, warm",
      value,
      unit: "ms",
      budget: 2,
      better: "lower",
      peer,
    },
  ];
};

export default bench;
