// `preen calc weather`: a METAR, SPECI or TAF read, every group of it accounted for (core/sky/read-report).
//
// What the topic has no field for (temperatures of a TAF, colour states, a third directional visibility) stands in
// `notRead`, verbatim, beside what could not be read.

import { ceilingOf, mentionsSky } from "../../core/sky/ceiling.ts";
import { readReport } from "../../core/sky/read-report.ts";
import {
  changes,
  type Conditions,
  type Group,
  type Period,
  type WeatherReport,
} from "../../core/sky/report.ts";
import { visibilityOf } from "../../core/sky/visibility.ts";
import { flag, type Field, list, number, object, optional, orNull, text, tuple, word } from "./fields.ts";
import { instant, instantText } from "./instants.ts";
import { CalcIssue, type Topic } from "./topic.ts";

const input = object({
  text: text(undefined, "one METAR, SPECI or TAF as issued"),
  issuedNear: instant("fixes month and year: the issue is the instant nearest to it"),
});

const conditionFields = {
  wind: orNull(
    object({
      from_deg: orNull(number({ min: 0, max: 360 }, "true; null when variable or missing")),
      variable: flag(),
      speed_kt: orNull(number({ min: 0 }, "null when missing")),
      speedAbove: flag("the speed is above the figure"),
      gust_kt: orNull(number({ min: 0 })),
      gustAbove: flag("the gust is above the figure"),
      between_deg: orNull(tuple([number(), number()])),
    }),
  ),
  visibility_m: orNull(number({ min: 0 })),
  visibilityAtLeast: flag("the visibility is the figure or more"),
  leastVisibility_m: orNull(number({ min: 0 })),
  leastVisibilityFrom_deg: orNull(number({ min: 0, max: 360 })),
  cavok: flag(),
  rvr: list(
    object({
      runway: text(),
      mean_m: orNull(number({ min: 0 }, "the lower end of a range; null when missing")),
      bound: orNull(word(["above", "below"])),
      tendency: orNull(word(["up", "down", "none"])),
    }),
  ),
  weather: list(text()),
  recent: list(text()),
  clouds: list(
    object({
      cover: orNull(word(["FEW", "SCT", "BKN", "OVC"])),
      base_ft: orNull(number({ min: 0 }, "above the aerodrome")),
      kind: orNull(word(["CB", "TCU"])),
    }),
  ),
  skyClear: orNull(word(["NSC", "NCD", "SKC", "CLR"])),
  verticalVisibility_ft: orNull(number({ min: 0 })),
  ceiling_ft: orNull(number({ min: 0 }, "above the aerodrome")),
  ceilingBound: word(["exact", "atLeast", "none", "unknown"]),
  temperature_C: orNull(number()),
  dewpoint_C: orNull(number()),
  qnh_hPa: orNull(number()),
  windShear: list(text()),
  sea: orNull(text()),
  runwayState: list(text()),
};

type ConditionName = keyof typeof conditionFields;
type Member = ReturnType<typeof optional<unknown>>;

const optionalFields = Object.fromEntries(
  Object.entries(conditionFields).map(([name, field]) => [name, optional(field as Field<unknown>)]),
) as Record<ConditionName, Member>;

const period = object({
  change: word(changes),
  from: orNull(instant()),
  to: orNull(instant()),
  ...optionalFields,
});

const output = object({
  kind: word(["METAR", "SPECI", "TAF"]),
  station: orNull(text()),
  issued: orNull(instant()),
  auto: flag(),
  nil: flag(),
  cancelled: flag(),
  status: orNull(word(["correction", "amendment"])),
  ...conditionFields,
  remarks: orNull(text()),
  trend: optional(list(period, {}, "METAR and SPECI")),
  valid: optional(orNull(tuple([instant(), instant()], "TAF"))),
  periods: optional(list(period, {}, "TAF; the base first")),
  notRead: list(text(), {}, "groups without a field above, verbatim"),
});

const topic: Topic = {
  topic: "weather",
  summary: "a METAR, SPECI or TAF read, every group of it accounted for",
  inputSchema: input.schema,
  outputSchema: output.schema,
  compute(element) {
    const given = input.read(element, "");
    const report = readReport(given.text, given.issuedNear);
    if (!isReport(report)) {
      throw new CalcIssue(
        "text",
        "expected a METAR, SPECI or TAF, found neither its word nor a station with a time",
      );
    }
    return weatherResult(report);
  },
};

export default topic;

/** It says what it is, or has the station and time that every report has. */
function isReport(report: WeatherReport): boolean {
  const has = (as: Group["as"]): boolean => report.groups.some((group) => group.as === as);
  return has("kind") || (has("station") && has("issueTime"));
}

/** The result of the topic for a report that was read. */
export function weatherResult(report: WeatherReport): Record<string, unknown> {
  const isTaf = report.kind === "TAF";
  return {
    kind: report.kind,
    station: report.station,
    issued: instantOrNull(report.issued_ms),
    auto: report.isAuto,
    nil: report.isNil,
    cancelled: report.isCancelled,
    status: report.status,
    ...conditionsResult(report.conditions),
    remarks: report.remarks,
    ...(isTaf
      ? {
          valid:
            report.valid === null
              ? null
              : [instantText(report.valid.from_ms), instantText(report.valid.to_ms)],
          periods: report.periods.map(periodResult),
        }
      : { trend: report.periods.map(periodResult) }),
    notRead: report.groups
      .filter((group, index) => !group.isRead || !hasField(report, group, index))
      .map((group) => group.text),
  };
}

function instantOrNull(at_ms: number | null): string | null {
  return at_ms === null ? null : instantText(at_ms);
}

function periodResult({ change, from_ms, to_ms, conditions }: Period): Record<string, unknown> {
  const all = conditionsResult(conditions);
  const stated = Object.fromEntries(statedNames(conditions).map((name) => [name, all[name]]));
  return { change, from: instantOrNull(from_ms), to: instantOrNull(to_ms), ...stated };
}

/** The fields that the text of a part states; wind, visibility and ceiling also where an unread group could have. */
function statedNames(conditions: Conditions): ConditionName[] {
  const { stated, unsure, cavok, recent, weather } = conditions;
  const names: ConditionName[] = [];
  if (stated.includes("wind") || unsure.includes("wind")) names.push("wind");
  if (stated.includes("visibility") || unsure.includes("visibility"))
    names.push("visibility_m", "visibilityAtLeast");
  if (conditions.directional.length > 0) names.push("leastVisibility_m", "leastVisibilityFrom_deg");
  if (cavok) names.push("cavok");
  if (stated.includes("runwayVisualRange")) names.push("rvr");
  if (weather.length > 0) names.push("weather");
  if (recent.length > 0) names.push("recent");
  if (conditions.clouds.length > 0) names.push("clouds");
  if (conditions.skyClear !== null) names.push("skyClear");
  if (conditions.verticalVisibility !== null) names.push("verticalVisibility_ft");
  if (mentionsSky(conditions)) names.push("ceiling_ft", "ceilingBound");
  if (stated.includes("pressure")) names.push("qnh_hPa");
  if (stated.includes("windShear")) names.push("windShear");
  return names;
}

function conditionsResult(conditions: Conditions): Record<ConditionName, unknown> {
  const { wind, directional } = conditions;
  const visibility = visibilityOf(conditions);
  const least = leastOf(directional);
  const ceiling = ceilingOf(conditions);
  return {
    wind:
      wind === null
        ? null
        : {
            from_deg: wind.from_deg,
            variable: wind.isVariable,
            speed_kt: wind.speed_kt,
            speedAbove: wind.isSpeedAbove,
            gust_kt: wind.gust_kt,
            gustAbove: wind.isGustAbove,
            between_deg: wind.between_deg,
          },
    visibility_m: visibility?.value_m ?? null,
    visibilityAtLeast: visibility?.bound === "atLeast",
    leastVisibility_m: least?.value_m ?? null,
    leastVisibilityFrom_deg: least?.from_deg ?? null,
    cavok: conditions.cavok,
    rvr: conditions.runwayVisualRange.map(({ runway, value_m, bound, tendency }) => ({
      runway,
      mean_m: value_m,
      bound,
      tendency,
    })),
    weather: conditions.weather,
    recent: conditions.recent,
    clouds: conditions.clouds,
    skyClear: conditions.skyClear,
    verticalVisibility_ft: conditions.verticalVisibility?.height_ft ?? null,
    ceiling_ft: ceiling.ceiling_ft,
    ceilingBound: ceiling.bound,
    temperature_C: conditions.temperature_C,
    dewpoint_C: conditions.dewpoint_C,
    qnh_hPa: conditions.qnh_hPa,
    windShear: conditions.windShear,
    sea: conditions.sea,
    runwayState: conditions.runwayState,
  };
}

function leastOf(directional: Conditions["directional"]): Conditions["directional"][number] | undefined {
  return directional.toSorted((a, b) => a.value_m - b.value_m)[0];
}

/** Whether a group that was read has a field to stand in. Of several directional visibilities only the least has one. */
function hasField(report: WeatherReport, group: Group, index: number): boolean {
  if (group.as === "forecastTemperature" || group.as === "colourState") return false;
  if (group.as !== "directionalVisibility") return true;
  const least = leastOf(report.conditions.directional);
  const order = report.groups.slice(0, index).filter(({ as }) => as === "directionalVisibility").length;
  return report.conditions.directional[order] === least;
}
