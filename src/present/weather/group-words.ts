// A weather report in words, group by group: every group of its text with what it says, or that it was not read.
//
// A group is said from a reading of it alone behind the report's own header, so that what is said is what the group
// itself says and not what stands elsewhere. Times in the reader's zone; heights above the aerodrome, as issued.
import { displayNumber } from "../../core/quantity/display.ts";
import type { Worse } from "../../core/quantity/display.ts";
import { readReport } from "../../core/sky/read-report.ts";
import type { Conditions, Group, WeatherReport, Wind } from "../../core/sky/report.ts";
import { timeBoth } from "../words/formats.ts";
import type { Language, Locale } from "../words/language.ts";
import { german } from "./words-de.ts";
import { english } from "./words-en.ts";
import type { WeatherCode, WeatherWords } from "./words-en.ts";

const catalogues: Readonly<Record<Language, WeatherWords>> = { en: english, de: german };

export function weatherWordsIn(language: Language): WeatherWords {
  return catalogues[language];
}

export type GroupSaid = {
  readonly text: string;
  readonly isRead: boolean;
  readonly words: string;
  /** The group begins a change of a forecast or a trend. */
  readonly beginsChange: boolean;
};

type Teller = { readonly words: WeatherWords; readonly locale: Locale };

/** Every group of a report, in order. `stationName`: as the operator described it, null where nobody did. */
export function groupsSaid(
  report: WeatherReport,
  stationName: string | null,
  locale: Locale,
): readonly GroupSaid[] {
  const words = weatherWordsIn(locale.language);
  return report.groups.map((group) => ({
    text: group.text,
    isRead: group.isRead,
    words: saidOf(report, group, stationName, { words, locale }),
    beginsChange: group.as === "change",
  }));
}

function saidOf(report: WeatherReport, group: Group, stationName: string | null, teller: Teller): string {
  const { words, locale } = teller;
  const say = words.group;
  if (!group.isRead) return group.as === "unread" ? say.unread : say.impossible;
  switch (group.as) {
    case "kind":
      return say[report.kind];
    case "status":
      return report.status === null ? "" : say[report.status];
    case "station":
      return say.station(stationName);
    case "issueTime":
      return report.issued_ms === null ? say.unread : say.issued(timeBoth(report.issued_ms, locale));
    case "auto":
      return say.auto;
    case "nil":
      return say.nil;
    case "cancelled":
      return say.cancelled;
    case "validity":
      return report.valid === null ? say.unread : span(report.valid.from_ms, report.valid.to_ms, teller);
    case "change":
      return changeSaid(report, group, teller);
    case "changeTime": {
      const period = report.periods[group.part - 1];
      return period === undefined ? "" : span(period.from_ms, period.to_ms, teller);
    }
    case "colourState":
    case "remark":
    case "unread":
      return say[group.as];
    default:
      return conditionSaid(group, alone(report, group), teller);
  }
}

function changeSaid(report: WeatherReport, { part, text }: Group, teller: Teller): string {
  const period = report.periods[part - 1];
  const { change } = teller.words.group;
  if (period === undefined) return "";
  const hasTime = /\d{4}/u.test(text);
  return hasTime
    ? `${change[period.change]}, ${span(period.from_ms, period.to_ms, teller)}`
    : change[period.change];
}

function span(from_ms: number | null, to_ms: number | null, { words, locale }: Teller): string {
  if (from_ms === null) return words.group.timeNotRead;
  const from = timeBoth(from_ms, locale);
  return to_ms === null ? words.group.from(from) : words.group.fromTo(from, timeBoth(to_ms, locale));
}

const header: readonly Group["as"][] = ["kind", "station", "issueTime", "validity"];

/** What one group says, read behind the header of its report. */
function alone(report: WeatherReport, group: Group): Conditions {
  const head = report.groups.filter(({ as, isRead, part }) => part === 0 && isRead && header.includes(as));
  const text = [...head.map((each) => each.text), group.text].join(" ");
  return readReport(text, report.issued_ms ?? 0).conditions;
}

function figure(value: number, unit: string, worse: Worse, { locale }: Teller, decimals = 0): string {
  return `${displayNumber(value, decimals, worse, locale.language)} ${unit}`;
}

function degrees(value: number): string {
  return `${String(value).padStart(3, "0")}°`;
}

function windSaid(wind: Wind | null, teller: Teller): string {
  const { group: say } = teller.words;
  if (wind === null || wind.speed_kt === null) return say.windNotGiven;
  if (wind.speed_kt === 0 && wind.gust_kt === null) return say.calm;
  const from = wind.from_deg === null ? say.windVariable : say.windFrom(degrees(wind.from_deg));
  const speed = figure(wind.speed_kt, "kt", "higher", teller);
  const gust = wind.gust_kt === null ? null : figure(wind.gust_kt, "kt", "higher", teller);
  return [
    from,
    wind.isSpeedAbove ? say.moreThan(speed) : speed,
    gust === null ? null : say.gusts(wind.isGustAbove ? say.moreThan(gust) : gust),
  ]
    .filter((part) => part !== null)
    .join(", ");
}

/** The parts of a code of present weather. */
export function weatherCode(text: string): WeatherCode {
  const bare = text.replace(/^[+-]|^RE/u, "");
  const near = bare.startsWith("VC");
  return {
    intensity: text.startsWith("+") ? "heavy" : text.startsWith("-") ? "light" : "moderate",
    near,
    parts: (near ? bare.slice(2) : bare).match(/[A-Z]{2}/gu) ?? [],
  };
}

function conditionSaid({ as, text }: Group, said: Conditions, teller: Teller): string {
  const { words } = teller;
  const say = words.group;
  const height = (feet: number): string => figure(feet, "ft", "lower", teller);
  const far = (value_m: number, bound: "exact" | "atLeast" | "below"): string => {
    const value = figure(value_m, "m", "lower", teller);
    return bound === "atLeast" ? say.atLeast(value) : bound === "below" ? say.lessThan(value) : value;
  };
  switch (as) {
    case "wind":
      return windSaid(said.wind, teller);
    case "windVariation": {
      const [from, to] = text.split("V").map(Number);
      return from === undefined || to === undefined ? text : say.between(degrees(from), degrees(to));
    }
    case "visibility":
      return said.visibility === null
        ? say.notMeasured
        : say.visibility(far(said.visibility.value_m, said.visibility.bound));
    case "directionalVisibility":
      return said.directional
        .map(({ value_m, from_deg }) =>
          [say.visibility(far(value_m, "exact")), say.towards(degrees(from_deg))].join(" "),
        )
        .join(", ");
    case "cavok":
      return say.cavok;
    case "runwayVisualRange":
      return said.runwayVisualRange
        .map(({ runway, value_m, bound }) => {
          if (value_m === null) return say.runway(runway, say.notMeasured);
          const value = figure(value_m, "m", "lower", teller);
          const bounded =
            bound === "above" ? say.moreThan(value) : bound === "below" ? say.lessThan(value) : value;
          return say.runway(runway, bounded);
        })
        .join(", ");
    case "weather":
      if (text === "NSW") return say.noWeather;
      return text.startsWith("/") ? say.notMeasured : words.code(weatherCode(text));
    case "recentWeather":
      return said.recent.length === 0 ? say.notMeasured : say.recent(words.code(weatherCode(text)));
    case "cloud":
      return said.clouds
        .map(({ cover, base_ft, kind }) =>
          [
            say.cover(cover),
            base_ft === null ? say.heightUnknown : say.at(height(base_ft)),
            kind === null ? null : say[kind],
          ]
            .filter((part) => part !== null)
            .join(" "),
        )
        .join(", ");
    case "skyClear":
      return said.skyClear === null ? text : say[said.skyClear];
    case "verticalVisibility": {
      const up_ft = said.verticalVisibility?.height_ft ?? null;
      return say.vertical(up_ft === null ? say.heightUnknown : height(up_ft));
    }
    case "temperature": {
      const { temperature_C, dewpoint_C } = said;
      const dew = dewpoint_C === null ? null : figure(dewpoint_C, "°C", "both", teller);
      return temperature_C === null
        ? say.notMeasured
        : say.temperature(figure(temperature_C, "°C", "both", teller), dew);
    }
    case "forecastTemperature":
      return said.forecastTemperatures
        .map(({ extreme, value_C, at_ms }) =>
          say[extreme](figure(value_C, "°C", "both", teller), timeBoth(at_ms, teller.locale)),
        )
        .join(", ");
    case "pressure":
      return said.qnh_hPa === null
        ? say.notMeasured
        : say.pressure(figure(said.qnh_hPa, "hPa", "lower", teller));
    case "windShear":
    case "sea":
    case "runwayState":
      return say[as];
    default:
      return text;
  }
}
