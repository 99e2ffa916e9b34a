// Reads a METAR, SPECI or TAF into what it says, by the table of group grammars.
//
// In: the text as issued and an instant near its issue, since the text carries day and time only. Out: a WeatherReport
// whose `groups`, joined by a blank, give the text back word for word, so that nothing can be lost unseen; what could
// not be read is in there too, marked. Never throws and never guesses: a word that has the form of nothing could have
// said anything, so everything that its part of the report says counts as uncertain; a damaged group that still shows
// what it was about makes only that uncertain.
//
// Sources: as in group-grammars.ts. Check values: published/weather-reports.json.

import { type Draft, feetToMetres } from "./group-values.ts";
import { readChange, readChangeTime } from "./read-change.ts";
import { readConditions } from "./read-conditions.ts";
import { isInHeader, readHeader } from "./read-header.ts";
import { isTaf, noteUnread, type Part, type Reading, startReading, take } from "./reading.ts";
import { trendLength_ms } from "./report-time.ts";
import type { Change, Conditions, Period, WeatherReport } from "./report.ts";

/** Reads the text of one report. `near_ms` fixes the month and year: the issue is the instant nearest to it. */
export function readReport(text: string, near_ms: number): WeatherReport {
  // "=" ends a report; what stands behind it belongs to another one and is not read.
  const end = text.indexOf("=");
  const words = splitWords(end < 0 ? text : text.slice(0, end));
  const reading = startReading(words, near_ms);
  while (reading.at < words.length) readNext(reading);
  if (end >= 0)
    for (const word of splitWords(text.slice(end).replaceAll("=", " "))) noteUnread(reading, word);
  return finish(reading, text);
}

function splitWords(text: string): string[] {
  return text.split(/\s+/u).filter((word) => word !== "");
}

function readNext(reading: Reading): void {
  const word = (reading.words[reading.at] as string).toUpperCase();
  if (reading.remarks !== null) return noteRemark(reading);
  if (word === "RMK") {
    reading.remarks = [];
    return take(reading, 1, "remark");
  }
  if (isInHeader(reading) && readHeader(reading, word)) return;
  if (readChange(reading, word)) return;
  if (readChangeTime(reading, word)) return;
  if (!reading.isAstray && readConditions(reading)) return;
  noteUnread(reading, reading.words[reading.at] as string);
  reading.at += 1;
}

function noteRemark(reading: Reading): void {
  reading.remarks?.push(reading.words[reading.at] as string);
  take(reading, 1, "remark");
}

function finish(reading: Reading, text: string): WeatherReport {
  const [main, ...rest] = reading.parts as [Part, ...Part[]];
  const kind = reading.kind ?? "METAR";
  const conditions = finishConditions(main.draft);
  const changes = rest.map((part) => finishPeriod(reading, part));
  const hasBase = kind === "TAF" && !reading.isNil && !reading.isCancelled;
  return {
    text,
    kind,
    station: reading.station,
    issued_ms: reading.issued_ms,
    isAuto: reading.isAuto,
    isNil: reading.isNil,
    isCancelled: reading.isCancelled,
    status: reading.status,
    conditions,
    hasStray: reading.hasStray,
    remarks: reading.remarks === null ? null : reading.remarks.join(" "),
    valid: reading.valid,
    periods: hasBase ? withBase(reading, conditions, changes) : changes,
    // In a TAF the base is the first period, so that the changes begin at the second.
    groups: hasBase
      ? reading.groups.map(({ part, ...group }) => ({ ...group, part: part + 1 }))
      : reading.groups,
  };
}

function finishConditions({ isStatute, unitless, ...conditions }: Draft): Conditions {
  if (!isStatute || unitless.length === 0) return conditions;
  return {
    ...conditions,
    runwayVisualRange: conditions.runwayVisualRange.map((range) =>
      unitless.includes(range) ? { ...range, value_m: feetToMetres(range.value_m as number) } : range,
    ),
  };
}

function finishPeriod(reading: Reading, part: Part): Period {
  const conditions = finishConditions(part.draft);
  const change = part.change as Change;
  const { from_ms, to_ms } = isTaf(reading) ? part : trendSpan(reading, part);
  return { change, from_ms, to_ms, conditions };
}

/** A trend without a time of its own covers the two hours of the forecast; one whose time was not read has none. */
function trendSpan(reading: Reading, part: Part): { from_ms: number | null; to_ms: number | null } {
  const number = reading.parts.indexOf(part);
  const isUnread = reading.groups.some(
    (group) => group.part === number && group.as === "changeTime" && !group.isRead,
  );
  const { issued_ms } = reading;
  if (isUnread || issued_ms === null) return { from_ms: null, to_ms: null };
  const from_ms = part.from_ms ?? issued_ms;
  return { from_ms, to_ms: part.to_ms ?? Math.max(from_ms, issued_ms + trendLength_ms) };
}

/** The base holds until the first FM, each FM until the next one or the end. */
function withBase(reading: Reading, conditions: Conditions, changes: readonly Period[]): Period[] {
  const end_ms = reading.valid?.to_ms ?? null;
  const base: Period = {
    change: "base",
    from_ms: reading.valid?.from_ms ?? null,
    to_ms: end_ms,
    conditions,
  };
  const periods = [base, ...changes];
  return periods.map((period, index) => {
    if (period.change !== "base" && period.change !== "FM") return period;
    if (period.from_ms === null) return { ...period, to_ms: null };
    const next = periods.slice(index + 1).find((later) => later.change === "FM" && later.from_ms !== null);
    return { ...period, to_ms: next?.from_ms ?? end_ms };
  });
}
