// What a report says as a function of time: spans with everything that has to be reckoned with in each.
//
// In: a report that was read, the rule by which its change groups count, for an observation also how long it stands.
// Out: touching spans, half open, that change only at the report's own times. Each span has one or more parts; a
// quantity has to be judged against every part that speaks of it, since the worse counts. Each statement names the
// group that made it.
//
// A TAF: the base until the first FM, each FM anew, a BECMG laid over what was (by the rule while it is under way),
// TEMPO and PROB beside it. A METAR: what was observed, all the time that it stands, and its trend beside it, since a
// trend of two hours takes nothing back that was seen. A change whose time was not read stands beside every span. NIL,
// CNL and an unknown validity give no span: not known. Used by judge-weather.ts and taf-window.ts.

import { type Ceiling, ceilingOf } from "./ceiling.ts";
import { type Contradiction, contradictionsOf } from "./contradictions.ts";
import { isPassingWeather, type PassingChange, type PlanningRule } from "./planning-rule.ts";
import type {
  Change,
  Conditions,
  Layer,
  Period,
  Quantity,
  Visibility,
  WeatherReport,
  Wind,
} from "./report.ts";
import { worstVisibilityOf } from "./visibility.ts";

/** Which group says so: `change` with its own words, empty for an observation or a base. */
export type By = { readonly change: Change | "observed"; readonly text: string };

/** A statement about one quantity; `isSure` is false where a missing or unread group could say worse. */
export type Say<Value> = { readonly value: Value; readonly isSure: boolean; readonly by: By };

export type Sky = {
  readonly ceiling: Ceiling;
  readonly clouds: readonly Layer[];
  /** Obscured: a vertical visibility stands in for the cloud. */
  readonly isObscured: boolean;
};

/** What one group says; null where it does not speak of a quantity. */
export type WeatherPart = {
  readonly by: By;
  readonly wind: Say<Wind | null> | null;
  readonly visibility: Say<Visibility | null> | null;
  readonly weather: Say<readonly string[]> | null;
  readonly sky: Say<Sky> | null;
  /** What does not go together in the group's own words. */
  readonly contradictions: readonly Contradiction[];
};

export type WeatherSpan = {
  readonly from_ms: number;
  readonly until_ms: number;
  readonly parts: readonly WeatherPart[];
};

/** The line of a report. `stands_ms`: how long an observation stands after its issue; a TAF has its own validity. */
export function weatherLine(
  report: WeatherReport,
  rule: PlanningRule,
  stands_ms: number,
): readonly WeatherSpan[] {
  if (report.isNil || report.isCancelled || report.issued_ms === null) return [];
  if (report.kind === "TAF") return report.valid === null ? [] : forecastLine(report, rule);
  return observedLine(report, rule, stands_ms);
}

// ---- parts ------------------------------------------------------------------------------------------------------------

function mentions({ stated, unsure }: Conditions, quantity: Quantity): boolean {
  return stated.includes(quantity) || unsure.includes(quantity);
}

/**
 * What a group says by itself. `isWhole`: it describes everything, so that what it leaves out is not known. `hasStray`:
 * a word of the report could have been a change of its own, so that nothing is sure.
 */
function partOf(conditions: Conditions, by: By, isWhole: boolean, hasStray: boolean): WeatherPart {
  const speaks = (quantity: Quantity): boolean => isWhole || mentions(conditions, quantity);
  const isSure = (quantity: Quantity): boolean => !hasStray && !conditions.unsure.includes(quantity);
  const ceiling = ceilingOf(conditions);
  const visibility = worstVisibilityOf(conditions);
  const weather = conditions.weather.filter((code) => code !== "NSW" && code !== "//");
  return {
    by,
    wind: speaks("wind")
      ? { value: conditions.wind, isSure: conditions.wind !== null && isSure("wind"), by }
      : null,
    visibility: speaks("visibility")
      ? { value: visibility, isSure: visibility !== null && isSure("visibility"), by }
      : null,
    weather: speaks("weather")
      ? { value: weather, isSure: !conditions.weather.includes("//") && isSure("weather"), by }
      : null,
    sky: speaks("sky")
      ? {
          value: { ceiling, clouds: conditions.clouds, isObscured: conditions.verticalVisibility !== null },
          isSure: ceiling.bound !== "unknown" && !hasStray,
          by,
        }
      : null,
    contradictions: contradictionsOf(conditions),
  };
}

/** What stands once a change is complete: its own statements, and the earlier ones where it does not speak. */
function overlay(before: WeatherPart, change: WeatherPart): WeatherPart {
  return {
    by: change.by,
    wind: change.wind ?? before.wind,
    visibility: change.visibility ?? before.visibility,
    weather: change.weather ?? before.weather,
    sky: change.sky ?? before.sky,
    contradictions: [...new Set([...before.contradictions, ...change.contradictions])],
  };
}

type Timed = {
  readonly period: Period;
  readonly part: WeatherPart;
  /** The group has a word in it that was not read. */
  readonly isDamaged: boolean;
};

function timedParts(report: WeatherReport): Timed[] {
  return report.periods.map((period, index) => {
    const { change, conditions } = period;
    const text = report.groups
      .filter(({ part, as }) => part === index + 1 && (as === "change" || as === "changeTime"))
      .map((group) => group.text)
      .join(" ");
    const isWhole = change === "base" || change === "FM";
    return {
      period,
      part: partOf(conditions, { change, text }, isWhole, report.hasStray),
      isDamaged: conditions.unsure.length > 0,
    };
  });
}

function isPassing(change: Change): change is PassingChange {
  return change.startsWith("TEMPO") || change.startsWith("PROB");
}

function counts({ period, isDamaged }: Timed, rule: PlanningRule): boolean {
  const { change, conditions } = period;
  if (!isPassing(change)) return true;
  // What a damaged group hides may be a change of another kind, which the rule would not have left out.
  if (isDamaged) return true;
  const how = rule.passing[change];
  return how === "always" || (how === "persistent" && !isPassingWeather(conditions.weather));
}

/** The group as far as the rule lets it count: what falls or hides the view is told of in any case. */
function counted(timed: Timed, rule: PlanningRule): Timed {
  if (counts(timed, rule)) return timed;
  return { ...timed, part: { ...timed.part, wind: null, visibility: null, sky: null } };
}

// ---- lines ------------------------------------------------------------------------------------------------------------

function spansBetween(
  from_ms: number,
  until_ms: number,
  times: readonly (number | null)[],
  partsAt: (at_ms: number) => readonly WeatherPart[],
): WeatherSpan[] {
  const inside = times.filter((at_ms) => at_ms !== null && at_ms > from_ms && at_ms < until_ms) as number[];
  const starts = [...new Set([from_ms, ...inside])].toSorted((a, b) => a - b);
  return starts.map((start_ms, index) => ({
    from_ms: start_ms,
    until_ms: starts[index + 1] ?? until_ms,
    parts: partsAt(start_ms),
  }));
}

function observedLine(report: WeatherReport, rule: PlanningRule, stands_ms: number): readonly WeatherSpan[] {
  const from_ms = report.issued_ms as number;
  const until_ms = from_ms + stands_ms;
  if (!(until_ms > from_ms)) return [];
  const observed = partOf(report.conditions, { change: "observed", text: "" }, true, report.hasStray);
  const trend = timedParts(report)
    .filter(({ period }) => period.change !== "NOSIG")
    .map((timed) => counted(timed, rule));
  const applies = ({ period }: Timed, at_ms: number): boolean => {
    if (period.from_ms === null) return true;
    // What a BECMG leads to lasts; a TEMPO ends.
    const end_ms = period.change === "BECMG" ? Infinity : (period.to_ms ?? Infinity);
    return period.from_ms <= at_ms && at_ms < end_ms;
  };
  const times = trend.flatMap(({ period }) => [period.from_ms, period.to_ms]);
  return spansBetween(from_ms, until_ms, times, (at_ms) => [
    observed,
    ...trend.filter((timed) => applies(timed, at_ms)).map(({ part }) => part),
  ]);
}

function forecastLine(report: WeatherReport, rule: PlanningRule): readonly WeatherSpan[] {
  const { from_ms, to_ms } = report.valid as { from_ms: number; to_ms: number };
  const timed = timedParts(report);
  const lasting = timed
    .filter(({ period }) => !isPassing(period.change) && period.from_ms !== null)
    .toSorted((a, b) => (a.period.from_ms as number) - (b.period.from_ms as number));
  const beside = timed.flatMap((each) => {
    if (each.period.from_ms === null) return [each];
    return isPassing(each.period.change) ? [counted(each, rule)] : [];
  });
  const times = timed.flatMap(({ period }) => [period.from_ms, period.to_ms]);
  return spansBetween(from_ms, to_ms, times, (at_ms) => [
    ...prevailing(lasting, at_ms, rule),
    ...beside.filter(({ period }) => isDuring(period, at_ms)).map(({ part }) => part),
  ]);
}

function isDuring({ from_ms, to_ms }: Period, at_ms: number): boolean {
  return from_ms === null || (from_ms <= at_ms && at_ms < (to_ms ?? Infinity));
}

/** What prevails: more than one part while a change is under way. */
function prevailing(lasting: readonly Timed[], at_ms: number, rule: PlanningRule): readonly WeatherPart[] {
  let parts: readonly WeatherPart[] = [];
  for (const { period, part } of lasting) {
    if ((period.from_ms as number) > at_ms) break;
    if (period.change !== "BECMG") {
      parts = [part];
      continue;
    }
    const changed = parts.map((before) => overlay(before, part));
    if (at_ms >= (period.to_ms as number) || rule.becoming === "fromStart") parts = changed;
    else if (rule.becoming === "both") parts = [...parts, ...changed];
  }
  return parts;
}
