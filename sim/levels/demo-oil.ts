// The demo's own engine oils, judged by every method as a history is: the leak that its story has, and the five that have
// none. The plan stood in the sheet before this story was told.
import { readFileSync } from "node:fs";
import { demoCraft } from "../../demo/cast.ts";
import { loggedBefore } from "../../demo/history.ts";
import { demoLeak } from "../../demo/levels.ts";
import { demoDays, demoSeed, makeDemo } from "../../demo/make-demo.ts";
import { craftLevels } from "../../src/core/level/craft-levels.ts";
import type { Sheet } from "../../src/core/sheet/schema.ts";
import { sha256, signerFromSeed } from "../../src/crypto/node.ts";
import { craftLedger } from "../../src/ledger/craft/craft-ledger.ts";
import { foldLedger } from "../../src/ledger/fold.ts";
import { reopenEntry } from "../../src/ledger/open.ts";
import { operatorLedger } from "../../src/ledger/operator/operator-ledger.ts";
import { demoPlan, outcomeOf, type Outcome } from "./measure.ts";

/** The demo's pictures and tests are of this morning. */
const anchor_ms = Date.parse("2026-11-25T05:40:00.000Z");

export async function demoOil(): Promise<readonly Outcome[]> {
  const sheet = JSON.parse(
    readFileSync(new URL("../../demo/sheet/quill.json", import.meta.url), "utf8"),
  ) as Sheet;
  const plan = demoPlan(sheet);
  const demo = await makeDemo({ sheet, anchor_ms }, { sha256, signerFromSeed });
  const byLedger = Map.groupBy(demo.entries.map(reopenEntry), ({ envelope }) => envelope.ledger);
  const operators = [...byLedger].flatMap(([ledger, entries]) =>
    ledger.startsWith("operator:") ? entries : [],
  );
  const { trust } = foldLedger(operatorLedger, operators, operatorLedger.initial.trust).state;
  return demoCraft.flatMap(({ ledger, name }, index) => {
    const { state } = foldLedger(craftLedger, byLedger.get(ledger)!, trust);
    const { leakFrom_h } = loggedBefore({ sheet, anchor_ms, seed: demoSeed, days: demoDays }, index);
    return craftLevels(sheet, state, anchor_ms)
      .gauges.filter(({ gauge }) => gauge.id.startsWith("engineOil"))
      .map(({ gauge, trend }) => {
        const leaks = name === demoLeak.craft && gauge.id === demoLeak.gauge;
        const { points } = trend!;
        const until_h = points.at(-1)!.hours_h;
        const history = {
          points,
          from_h: points[0]!.hours_h,
          until_h,
          leakFrom_h: leaks ? leakFrom_h : until_h,
        };
        const outcome = outcomeOf(`${name}, ${gauge.name.en}`, leaks ? demoLeak.perHour : 0, history, plan);
        return leaks ? outcome : { ...outcome, delays_h: [] };
      });
  });
}
