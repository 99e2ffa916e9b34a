// `preen walk CRAFT [--kind full|launch|parking]`: the plan of a walk with why each item applies or not, today.
// Conditions that nobody has said (frost, dust, …) are unknown, and unknown keeps an item in.
import { parseArgs } from "node:util";
import type { WalkKind } from "../core/facts/craft.ts";
import { walkKinds } from "../core/facts/craft.ts";
import type { PlanRow, Term } from "../core/sheet/applicability.ts";
import { planToHash, planWalk } from "../core/walk/plan.ts";
import { sheetInForce } from "../core/walk/craft-config.ts";
import { secondsFor } from "../core/walk/pace.ts";
import { sha256 } from "../crypto/node.ts";
import { canonicalText } from "../ledger/canonical.ts";
import { hashText } from "../ledger/crypto.ts";
import { craftNamed } from "./craft-named.ts";
import { openRecord } from "./record.ts";
import { printJson, readCommandLine, runCommand, UsageError } from "./words.ts";

const usage = "preen walk CRAFT [--kind full|launch|parking] [--json] [--at INSTANT]";

function termText({ kind, name, state }: Term): string {
  const told = state === "unknown" ? "not known" : state ? "yes" : "no";
  return `${kind} ${name}: ${told}`;
}

function whyText({ state, why, insteadOf, provision, certain }: PlanRow): string {
  const terms = why.map(termText).join("; ");
  if (insteadOf.length > 0) return `in place of ${insteadOf.join(", ")}`;
  if (state !== "applies")
    return [state, terms, provision === null ? "" : `instead: ${provision}`].filter(Boolean).join("; ");
  if (terms === "") return "always";
  return certain ? terms : `kept in: ${terms}`;
}

function rowForJson(row: PlanRow): unknown {
  const { item, state, certain, why, provision, insteadOf } = row;
  return {
    item: item.id,
    stop: item.stop,
    ata: item.ata,
    text: item.text,
    state,
    certain,
    why,
    provision,
    insteadOf,
  };
}

/** Takes `--kind KIND` out of the words. */
function kindIn(words: readonly string[]): { readonly kind: WalkKind; readonly rest: readonly string[] } {
  const at = words.indexOf("--kind");
  if (at < 0) return { kind: "full", rest: words };
  const { values } = parseArgs({
    args: words.slice(at, at + 2),
    options: { kind: { type: "string" } },
    strict: false,
  });
  const kind = walkKinds.find((known) => known === values.kind);
  if (kind === undefined)
    throw new UsageError(`--kind: found ${String(words[at + 1])}, wanted ${walkKinds.join(", ")}`);
  return { kind, rest: [...words.slice(0, at), ...words.slice(at + 2)] };
}

export function run(given: readonly string[]): Promise<number> {
  return runCommand("walk", async () => {
    const { kind, rest } = kindIn(given);
    const { args, json, at_ms } = readCommandLine(rest, 1, usage);
    const [wanted] = args;
    if (wanted === undefined) throw new UsageError(`which craft?\nusage: ${usage}`);
    const record = await openRecord(at_ms);
    const [ledger, { state }] = craftNamed(record, wanted);
    const hash = sheetInForce(state, at_ms);
    const sheet = hash === null ? null : record.sheetOf(hash);
    if (sheet === null)
      throw new UsageError(`the sheet of ${ledger} is not at hand (${hash ?? "none holds"})`);
    const plan = planWalk(sheet, state, kind, {});
    const planHash = hashText(sha256, canonicalText(planToHash(plan, {})));
    if (json) {
      printJson({
        craft: ledger,
        kind,
        sheet: hash,
        plan: planHash,
        rows: plan.rows.map(rowForJson),
        left: plan.left.map(rowForJson),
      });
      return 0;
    }
    const minutes = Math.ceil(secondsFor(sheet, plan.rows) / 60);
    process.stdout.write(
      `${state.opened?.name ?? ledger}: ${kind} walk, ${plan.rows.length} items at ${plan.stops.length} stops, about ${minutes} min, plan ${planHash.slice(0, 12)}\n`,
    );
    for (const { stop, rows } of plan.stops) {
      process.stdout.write(`\n${stop.name.en} (${stop.access})\n`);
      for (const row of rows)
        process.stdout.write(
          `  ${row.item.text.en} [${row.item.id}, ATA ${row.item.ata}; ${whyText(row)}]\n`,
        );
    }
    process.stdout.write(`\nnot walked: ${plan.left.length} items\n`);
    for (const row of plan.left)
      process.stdout.write(`  ${row.item.text.en} [${row.item.id}; ${whyText(row)}]\n`);
    return 0;
  });
}
