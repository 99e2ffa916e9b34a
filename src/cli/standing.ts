// `preen standing [CRAFT]`: every craft with its standing, or one with the line and the reasons of each operation.
// Words in English, times in UTC and in the operator's zone, whatever the machine's zone and language are.
import { msToInstant } from "../core/facts/instant.ts";
import type { Reason } from "../core/facts/reason.ts";
import { compareReasons } from "../core/standing/combine.ts";
import { trackSun } from "../core/sky/sun.ts";
import { judgeBeside } from "../core/standing/judge-beside.ts";
import { standingOfCraft } from "../ledger/craft/craft-standing.ts";
import type { StandingOfCraft } from "../ledger/craft/craft-standing.ts";
import { settingsInForce } from "../ledger/operator/operator-ledger.ts";
import { craftLine } from "../present/craft-line.ts";
import { namesIn } from "../present/names.ts";
import { reasonWords } from "../present/reasons.ts";
import { timeBoth, timeSeenFrom } from "../present/words/formats.ts";
import { localeOf } from "../present/words/language.ts";
import { phraseText } from "../present/words/phrase.ts";
import { wordsIn } from "../present/words/words.ts";
import { craftNamed } from "./craft-named.ts";
import { openRecord } from "./record.ts";
import type { OpenRecord } from "./record.ts";
import { printJson, readCommandLine, runCommand } from "./words.ts";

const usage = "preen standing [CRAFT] [--json] [--at INSTANT]";
const words = wordsIn("en").standing;

function instantOrNull(at_ms: number | null): string | null {
  return at_ms === null ? null : msToInstant(at_ms);
}

function reasonForJson({ from_ms, until_ms, ...reason }: Reason): unknown {
  return { ...reason, from: instantOrNull(from_ms), until: instantOrNull(until_ms) };
}

function craftForJson(
  ledger: string,
  name: string | null,
  { standing, sheetHash }: StandingOfCraft,
): unknown {
  return {
    craft: ledger,
    name,
    at: msToInstant(standing.at_ms),
    sheet: sheetHash,
    operations: standing.operations.map(({ operation, verdict, limits, line, next }) => ({
      operation,
      verdict,
      limits,
      line: line.map(({ from_ms, until_ms, ...span }) => ({
        ...span,
        from: msToInstant(from_ms),
        until: msToInstant(until_ms),
      })),
      next: next === null ? null : { at: msToInstant(next.at_ms), from: next.from, to: next.to },
    })),
    reasons: standing.reasons.toSorted(compareReasons).map(reasonForJson),
  };
}

type Telling = { readonly record: OpenRecord; readonly zone: string };

function printReasons({ standing, sheet }: StandingOfCraft, { record, zone }: Telling): void {
  const locale = localeOf("en", zone);
  const names = namesIn("en", sheet, record.people);
  for (const reason of standing.reasons.toSorted(compareReasons)) {
    const { title, detail, remedy } = reasonWords({ reason, names, locale, now_ms: standing.at_ms });
    const { from_ms } = reason;
    const later =
      from_ms !== null && from_ms > standing.at_ms
        ? ` from ${timeSeenFrom(standing.at_ms, from_ms, locale)}`
        : "";
    const touched = reason.operations === "all" ? "" : ` (${reason.operations.join(", ")})`;
    process.stdout.write(`  ${words.effect[reason.effect]}${later}: ${phraseText(title)}${touched}\n`);
    process.stdout.write(
      `    ${[detail, `${remedy}, ${words.clearance[reason.remedy.clearance]}`].filter((part) => part !== "").join("; ")}\n`,
    );
  }
}

export function run(given: readonly string[]): Promise<number> {
  return runCommand("standing", async () => {
    const { args, json, at_ms } = readCommandLine(given, 1, usage);
    const record = await openRecord(at_ms);
    const settings = settingsInForce(record.operator.state);
    const { bases, sheetOf } = record;
    const known = {
      now_ms: at_ms,
      settings,
      exchanged_ms: at_ms,
      unsent: 0,
      sheetOf,
      bases,
      fleet: [...record.craft.values()].map(({ state }) => state),
      judge: judgeBeside(trackSun()),
    };
    const [wanted] = args;
    const chosen = wanted === undefined ? [...record.craft] : [craftNamed(record, wanted)];
    const standings = chosen
      .map(([ledger, folded]) => ({
        ledger,
        name: folded.state.opened?.name ?? null,
        of: standingOfCraft(folded, known),
      }))
      .toSorted((a, b) => (a.ledger < b.ledger ? -1 : 1));
    if (json) {
      printJson(standings.map(({ ledger, name, of }) => craftForJson(ledger, name, of)));
      return 0;
    }
    const zone = settings?.zone ?? "UTC";
    process.stdout.write(`as known at ${timeBoth(at_ms, localeOf("en", zone))}, from ${record.from}\n`);
    for (const { ledger, name, of } of standings) {
      process.stdout.write(`${craftLine(name ?? ledger, of.standing, "en")}\n`);
      if (wanted !== undefined) printReasons(of, { record, zone });
    }
    const [first] = standings;
    if (first !== undefined) {
      process.stdout.write(`${wordsIn("en").app.approvedDocumentsPrevail}\n`);
    }
    return 0;
  });
}
