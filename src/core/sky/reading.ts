// A report while it is being read: the words, where the reader stands, what it has filed so far.
//
// Every word ends up in exactly one group, in the order of the text; `take` and `noteUnread` are the only ways there.

import { grammars, resemblances } from "./group-grammars.ts";
import { type Draft, note } from "./group-values.ts";
import type { Span } from "./report-time.ts";
import {
  type Change,
  type Group,
  type GroupName,
  noConditions,
  quantities,
  type ReportKind,
  type WeatherReport,
} from "./report.ts";

export type Part = { change: Change | null; from_ms: number | null; to_ms: number | null; draft: Draft };

export type MutableGroup = { -readonly [K in keyof Group]: Group[K] };

export type Reading = {
  readonly words: readonly string[];
  readonly near_ms: number;
  at: number;
  readonly groups: MutableGroup[];
  readonly parts: Part[];
  kind: ReportKind | null;
  station: string | null;
  issued_ms: number | null;
  hasIssueTime: boolean;
  isAuto: boolean;
  isNil: boolean;
  isCancelled: boolean;
  status: WeatherReport["status"];
  valid: Span | null;
  hasValidity: boolean;
  remarks: string[] | null;
  /** True behind a word that begins a change we do not know: what follows belongs to no known time. */
  isAstray: boolean;
  /** True once a word had no known form at all: in a TAF it could have begun a change. */
  hasStray: boolean;
};

export function startReading(words: readonly string[], near_ms: number): Reading {
  return {
    words,
    near_ms,
    at: 0,
    groups: [],
    parts: [{ change: null, from_ms: null, to_ms: null, draft: startDraft() }],
    kind: null,
    station: null,
    issued_ms: null,
    hasIssueTime: false,
    isAuto: false,
    isNil: false,
    isCancelled: false,
    status: null,
    valid: null,
    hasValidity: false,
    remarks: null,
    isAstray: false,
    hasStray: false,
  };
}

export function startDraft(): Draft {
  return {
    ...noConditions,
    directional: [],
    runwayVisualRange: [],
    weather: [],
    recent: [],
    clouds: [],
    windShear: [],
    runwayState: [],
    forecastTemperatures: [],
    stated: [],
    unsure: [],
    isStatute: false,
    unitless: [],
  };
}

/** Files the next `count` words as one group. */
export function take(reading: Reading, count: number, as: GroupName, isRead = true): void {
  const text = reading.words.slice(reading.at, reading.at + count).join(" ");
  reading.groups.push({ text, as, isRead, part: reading.parts.length - 1 });
  reading.at += count;
}

export function lastPart(reading: Reading): Part {
  return reading.parts.at(-1) as Part;
}

/** Files one word that nothing could read: the quantity it shows signs of is uncertain, or else every one. */
export function noteUnread(reading: Reading, text: string): void {
  const word = text.toUpperCase();
  const misplaced = grammars.find((grammar) => grammar.shape.test(word));
  const about =
    misplaced?.about ?? resemblances.find((resemblance) => resemblance.shape.test(word))?.about ?? null;
  const { draft } = lastPart(reading);
  if (about === null || reading.isAstray) reading.hasStray = true;
  for (const quantity of about === null || reading.isAstray ? quantities : [about])
    note(draft.unsure, quantity);
  reading.groups.push({ text, as: "unread", isRead: false, part: reading.parts.length - 1 });
}

export function isTaf(reading: Reading): boolean {
  return reading.kind === "TAF";
}

export function startPart(reading: Reading, change: Change): Part {
  const part: Part = { change, from_ms: null, to_ms: null, draft: startDraft() };
  reading.parts.push(part);
  reading.isAstray = false;
  return part;
}

export function clock_ms(reading: Reading): number {
  return reading.valid?.from_ms ?? reading.issued_ms ?? reading.near_ms;
}
