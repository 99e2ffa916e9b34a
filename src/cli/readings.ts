// `preen readings CRAFT`: every gauge that is followed, with its consumption, what is left, and what is asked about it.
//   --csv          all readings and uplifts as comma-separated values, as core/level/level-csv describes them
//   --check FILE   whether a file could be imported: every error by line and column, or how much it holds. The import
//                  itself is made in the app, where a person's key signs it.
import { existsSync, readFileSync } from "node:fs";
import { msToInstant } from "../core/facts/instant.ts";
import { craftLevels, type CraftLevels, type GaugeLevels } from "../core/level/craft-levels.ts";
import { levelsFromCsv, levelsToCsv, type RowError } from "../core/level/level-csv.ts";
import { displayNumber } from "../core/quantity/display.ts";
import { sheetInForce } from "../core/walk/craft-config.ts";
import { craftNamed } from "./craft-named.ts";
import { openRecord } from "./record.ts";
import { printJson, readCommandLine, runCommand, UsageError } from "./words.ts";

const usage = "preen readings CRAFT [--csv | --check FILE] [--json] [--at INSTANT]";

type Own = { readonly csv: boolean; readonly check: string | null; readonly rest: readonly string[] };

/** Takes the options of this command out of the words. */
function ownOptions(words: readonly string[]): Own {
  const csv = words.includes("--csv");
  const at = words.indexOf("--check");
  const check = at < 0 ? null : (words[at + 1] ?? "");
  if (check === "") throw new UsageError(`--check: found nothing, wanted a file\nusage: ${usage}`);
  const rest = words.filter(
    (word, index) => word !== "--csv" && index !== at && (at < 0 || index !== at + 1),
  );
  if (csv && check !== null)
    throw new UsageError(`--csv and --check: found both, wanted one\nusage: ${usage}`);
  return { csv, check, rest };
}

function errorLine({ line, column, code, found, wanted }: RowError): string {
  const where = [line === 0 ? "the file" : `line ${line}`, column].filter((part) => part !== "").join(", ");
  const told = [found === "" ? "" : `found ${found}`, wanted === "" ? "" : `wanted ${wanted}`];
  return [`${where}: ${code}`, told.filter((part) => part !== "").join(", ")]
    .filter((part) => part !== "")
    .join(": ");
}

const shown = (value: number | null | undefined, decimals: number): string =>
  value === null || value === undefined ? "–" : displayNumber(value, decimals, "both", "en");

function gaugeLine({ gauge, trend, left, questions }: GaugeLevels): string {
  const rate = trend?.line?.rate;
  const alarm = trend?.watch?.alarm;
  return [
    `${gauge.id}:`,
    rate === undefined
      ? "no rate yet"
      : `${shown(rate.perHour, 4)} ${gauge.unit}/h (${shown(rate.low, 4)} to ${shown(rate.high, 4)})`,
    left === null
      ? ""
      : `, ${shown(left.expected_h, 0)} h to the ${left.mark} mark, ${shown(left.pessimistic_h, 0)} h if it goes badly`,
    alarm == null ? "" : `, ${alarm.kind} since ${shown(alarm.since_h, 0)} h`,
    questions.length === 0 ? "" : `, asked: ${questions.map(({ code }) => code).join(", ")}`,
  ]
    .join(" ")
    .replaceAll(" ,", ",")
    .replaceAll(/ +/gu, " ")
    .trim();
}

function forJson({ hours_h, gauges }: CraftLevels): unknown {
  return {
    hours_h,
    gauges: gauges
      .filter(({ trend }) => trend !== null)
      .map(({ gauge, trend, left, questions, series }) => ({
        gauge: gauge.id,
        unit: gauge.unit,
        readings: series.points.length,
        comparable: trend!.points.length,
        rate: trend!.line?.rate ?? null,
        normal: trend!.watch?.normal ?? null,
        alarm: trend!.watch?.alarm ?? null,
        left,
        questions,
      })),
  };
}

export function run(given: readonly string[]): Promise<number> {
  return runCommand("readings", async () => {
    const { csv, check, rest } = ownOptions(given);
    const { args, json, at_ms } = readCommandLine(rest, 1, usage);
    const [wanted] = args;
    if (wanted === undefined) throw new UsageError(`which craft?\nusage: ${usage}`);
    const record = await openRecord(at_ms);
    const [ledger, { state }] = craftNamed(record, wanted);
    const hash = sheetInForce(state, at_ms);
    const sheet = hash === null ? null : record.sheetOf(hash);
    if (sheet === null)
      throw new UsageError(`the sheet of ${ledger} is not at hand (${hash ?? "none holds"})`);
    const levels = craftLevels(sheet, state, at_ms);
    if (check !== null) {
      if (!existsSync(check)) throw new UsageError(`--check: found no file ${JSON.stringify(check)}`);
      const read = levelsFromCsv(readFileSync(check, "utf8"), sheet, state, at_ms);
      if (!("readings" in read)) {
        if (json) printJson(read);
        else for (const error of read.errors) process.stderr.write(`${errorLine(error)}\n`);
        return 2;
      }
      if (json) printJson(read);
      else
        process.stdout.write(
          `${read.readings.length} readings, ${read.uplifts.length} uplifts, nothing wrong; import the file in the app, under Levels\n`,
        );
      return 0;
    }
    if (csv) {
      process.stdout.write(levelsToCsv(levels));
      return 0;
    }
    if (json) {
      printJson({ craft: ledger, at: msToInstant(at_ms), sheet: hash, ...(forJson(levels) as object) });
      return 0;
    }
    process.stdout.write(
      `${state.opened?.name ?? ledger} at ${shown(levels.hours_h, 1)} h, from ${record.from}\n`,
    );
    for (const one of levels.gauges) if (one.trend !== null) process.stdout.write(`  ${gaugeLine(one)}\n`);
    return 0;
  });
}
