// Reads what begins a change and when it applies: NOSIG, BECMG, TEMPO, PROB and FM, and their times.
//
// A change whose time was not read keeps its conditions, at no known time. A change of a kind that is not known here
// (INTER, PROB20) leaves the reader astray: what follows belongs to no known time and is not read at all.

import { hourSpan, nearestInstant, trendInstant } from "./report-time.ts";
import { clock_ms, isTaf, lastPart, type Part, type Reading, startPart, take } from "./reading.ts";

export function readChange(reading: Reading, word: string): boolean {
  if (word === "BECMG" || word === "TEMPO" || (word === "NOSIG" && !isTaf(reading))) {
    startPart(reading, word);
    take(reading, 1, "change");
    return true;
  }
  // A trend of a METAR has no probabilities (ICAO Annex 3, appendix 5).
  if (isTaf(reading) && (word === "PROB30" || word === "PROB40")) {
    const isTempo = reading.words[reading.at + 1]?.toUpperCase() === "TEMPO";
    startPart(reading, isTempo ? `${word}_TEMPO` : word);
    take(reading, isTempo ? 2 : 1, "change");
    return true;
  }
  if (isTaf(reading) && /^FM\d+$/u.test(word)) {
    readFrom(reading, word);
    return true;
  }
  // A change that is not known here: its own word, and all that follows until the next known one, belongs to no time.
  if (/^(?:INTER|PROB\d*|(?:FM|TL|AT)\d+)$/u.test(word) && !expectsTrendTime(reading, word)) {
    reading.isAstray = true;
  }
  return false;
}

/** FMDDHHMM of a TAF: inside the validity and after the FM before it, or else its conditions hold at no known time. */
function readFrom(reading: Reading, word: string): void {
  const digits = word.slice(2);
  const at_ms =
    digits.length === 6
      ? nearestInstant(
          Number(digits.slice(0, 2)),
          Number(digits.slice(2, 4)),
          Number(digits.slice(4, 6)),
          clock_ms(reading),
        )
      : null;
  const { valid } = reading;
  const isInside = at_ms !== null && (valid === null || (at_ms >= valid.from_ms && at_ms < valid.to_ms));
  const before = reading.parts.findLast((part) => part.change === "FM" && part.from_ms !== null);
  const isNext = at_ms !== null && (before === undefined || at_ms > (before.from_ms as number));
  const part = startPart(reading, "FM");
  if (isInside && isNext) part.from_ms = at_ms;
  take(reading, 1, "change", part.from_ms !== null);
}

function expectsTrendTime(reading: Reading, word: string): boolean {
  const { change } = lastPart(reading);
  return !isTaf(reading) && (change === "BECMG" || change === "TEMPO") && /^(?:FM|TL|AT)\d{4}$/u.test(word);
}

function hasNoConditions(part: Part): boolean {
  return part.draft.stated.length === 0 && part.draft.unsure.length === 0;
}

export function readChangeTime(reading: Reading, word: string): boolean {
  const part = lastPart(reading);
  if (part.change === null || !hasNoConditions(part)) return readStraySpan(reading, word);
  if (expectsTrendTime(reading, word)) return readTrendTime(reading, part, word);
  const found = /^(\d{4})\/(\d{4})$/u.exec(word);
  if (found === null || !isTaf(reading) || part.from_ms !== null || part.change === "FM") {
    return readStraySpan(reading, word);
  }
  const span = hourSpan(found[1] as string, found[2] as string, clock_ms(reading));
  const { valid } = reading;
  const isInside =
    span !== null && (valid === null || (span.from_ms < valid.to_ms && span.to_ms > valid.from_ms));
  if (isInside) {
    part.from_ms = span.from_ms;
    part.to_ms = span.to_ms;
  }
  take(reading, 1, "changeTime", isInside);
  return true;
}

/** A span of hours where none is expected begins something that we cannot place. */
function readStraySpan(reading: Reading, word: string): boolean {
  if (/^\d{4}\/\d{4}$/u.test(word)) reading.isAstray = true;
  return false;
}

function readTrendTime(reading: Reading, part: Part, word: string): boolean {
  const at_ms = reading.issued_ms === null ? null : trendInstant(word.slice(2), reading.issued_ms);
  const isLate = at_ms !== null && part.from_ms !== null && at_ms < part.from_ms;
  const isRead = at_ms !== null && !isLate;
  if (isRead && word.startsWith("FM")) part.from_ms = at_ms;
  else if (isRead && word.startsWith("TL")) part.to_ms = at_ms;
  else if (isRead) part.from_ms = part.to_ms = at_ms;
  take(reading, 1, "changeTime", isRead);
  return true;
}
