// `preen weather CRAFT`: the weather and light over a craft at its base: what is held, group by group, the worst of the next
// day span by span, the light, the air. The same functions as the screen.
import type { BaseSky, ReportFact } from "../core/facts/sky.ts";
import { hour_ms, msToInstant } from "../core/facts/instant.ts";
import { displayNumber } from "../core/quantity/display.ts";
import type { Worse } from "../core/quantity/display.ts";
import { unreadGroups } from "../core/sky/report.ts";
import type { SkyBand, Worst } from "../core/sky/sky-bands.ts";
import { trackSun } from "../core/sky/sun.ts";
import { skyOver } from "../core/standing/sky.ts";
import type { SkyOver } from "../core/standing/sky.ts";
import { baseOfCraft, skyOf } from "../ledger/base/base-held.ts";
import { settingsInForce } from "../ledger/operator/operator-ledger.ts";
import { groupsSaid } from "../present/weather/group-words.ts";
import { timeBoth, timeSeenFrom } from "../present/words/formats.ts";
import { localeOf } from "../present/words/language.ts";
import type { Locale } from "../present/words/language.ts";
import { craftNamed } from "./craft-named.ts";
import { openRecord } from "./record.ts";
import { printJson, readCommandLine, runCommand, UsageError } from "./words.ts";

const usage = "preen weather CRAFT [--json] [--at INSTANT]";
const ahead_h = 24;

/** Infinity has no JSON: a sky without a ceiling is told apart from one that is not known. */
function worstForJson({ value, isSure }: Worst): unknown {
  return value === Infinity ? { value: null, none: true, isSure } : { value, none: false, isSure };
}

function bandForJson(band: SkyBand): unknown {
  const { from_ms, until_ms, ceiling, visibility, wind, gust, weather, isForecast } = band;
  return {
    from: msToInstant(from_ms),
    until: msToInstant(until_ms),
    ceiling_ft: worstForJson(ceiling),
    visibility_m: worstForJson(visibility),
    wind_kt: worstForJson(wind),
    gust_kt: worstForJson(gust),
    weather,
    isForecast,
  };
}

function forJson(base: string, sky: SkyOver, facts: ReadonlyMap<string, ReportFact>): unknown {
  const asides = new Map(sky.aside.map(({ entry, why }) => [entry, why]));
  return {
    base,
    light: sky.light.map(({ light, from_ms, until_ms }) => ({
      light,
      from: msToInstant(from_ms),
      until: msToInstant(until_ms),
    })),
    air: sky.air,
    planning: { rule: sky.planning.id, cite: sky.planning.cite },
    next: sky.weather.map(bandForJson),
    reports: [...sky.usable, ...sky.aside].flatMap(({ entry, report }) => {
      const fact = facts.get(entry);
      if (fact === undefined) return [];
      return [{ entry, text: fact.text, notRead: unreadGroups(report), notUsed: asides.get(entry) ?? null }];
    }),
  };
}

function amount({ value, isSure }: Worst, unit: string, worse: Worse): string {
  if (value === null) return "not known";
  const told = value === Infinity ? "none" : `${displayNumber(value, 0, worse, "en")} ${unit}`;
  return isSure ? told : `${told} (may be worse)`;
}

type Telling = {
  readonly base: BaseSky;
  readonly facts: ReadonlyMap<string, ReportFact>;
  readonly at_ms: number;
  readonly locale: Locale;
};

function print(sky: SkyOver, { base, facts, at_ms, locale }: Telling): void {
  const time = (ms: number): string => timeSeenFrom(at_ms, ms, locale);
  const stationName = (wanted: string | null): string | null =>
    base.state.stations.find(({ station }) => station === wanted)?.name ?? null;
  const name = `${base.name}, as known at ${timeBoth(at_ms, locale)}`;
  const out: string[] = [name];
  for (const { light, from_ms, until_ms } of sky.light)
    out.push(`  ${light} from ${time(from_ms)} until ${time(until_ms)}`);
  out.push(
    sky.air === null
      ? "  density altitude not known"
      : `  density altitude ${displayNumber(sky.air.densityAltitude_ft, 0, "higher", "en")} ft by ${sky.air.station}${sky.air.isSure ? "" : " (may be worse)"}`,
  );
  out.push(`  forecasts by: ${sky.planning.cite}`);
  for (const band of sky.weather) {
    const parts = [
      `ceiling ${amount(band.ceiling, "ft", "lower")}`,
      `visibility ${amount(band.visibility, "m", "lower")}`,
      `wind ${amount(band.wind, "kt", "higher")}`,
      `gusts ${amount(band.gust, "kt", "higher")}`,
      ...band.weather,
    ];
    out.push(`  from ${time(band.from_ms)}: ${parts.join(", ")}`);
  }
  for (const { entry, report } of [...sky.usable, ...sky.aside]) {
    const fact = facts.get(entry);
    if (fact === undefined) continue;
    const why = sky.aside.find((each) => each.entry === entry)?.why;
    out.push(`${fact.text}${why === undefined ? "" : `   (not used: ${why})`}`);
    for (const { text, words, isRead } of groupsSaid(report, stationName(report.station), locale))
      out.push(`  ${isRead ? " " : "!"} ${text.padEnd(14)} ${words}`);
  }
  process.stdout.write(`${out.join("\n")}\n`);
}

export function run(given: readonly string[]): Promise<number> {
  return runCommand("weather", async () => {
    const { args, json, at_ms } = readCommandLine(given, 1, usage);
    const [wanted] = args;
    if (wanted === undefined) throw new UsageError(`which craft?\nusage: ${usage}`);
    const record = await openRecord(at_ms);
    const [ledger, { state }] = craftNamed(record, wanted);
    const held = baseOfCraft(record.bases, state.based);
    if (held === null) throw new UsageError(`it is not known at which base ${ledger} stands`);
    const base = skyOf(held);
    const sky = skyOver(base, trackSun(), at_ms, at_ms + ahead_h * hour_ms);
    if (sky === null)
      throw new UsageError(`the weather limits of ${base.base} are not set, or set by two rule sets`);
    const facts = new Map(base.state.reports.map((fact) => [fact.entry, fact]));
    if (json) {
      printJson(forJson(base.base, sky, facts));
      return 0;
    }
    const locale = localeOf("en", settingsInForce(record.operator.state)?.zone ?? "UTC");
    print(sky, { base, facts, at_ms, locale });
    return 0;
  });
}
