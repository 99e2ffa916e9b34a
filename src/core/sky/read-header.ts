// Reads the header of a report: kind, status, station, time of issue, AUTO, NIL, validity, CNL.
//
// The order is taken as it comes, since COR and AMD stand in front of the station in one country and behind the time in
// another; but a time, a validity and a station are each taken once.

import { hourSpan, issueInstant } from "./report-time.ts";
import { lastPart, type Reading, take } from "./reading.ts";

/** The header ends with the first group of conditions or the first change. */
export function isInHeader(reading: Reading): boolean {
  return reading.parts.length === 1 && lastPart(reading).draft.stated.length === 0;
}

export function readHeader(reading: Reading, word: string): boolean {
  if (readKindOrStatus(reading, word) || readMark(reading, word)) return true;
  const issue = /^(\d{6})Z$/u.exec(word);
  if (issue !== null && !reading.hasIssueTime) {
    reading.hasIssueTime = true;
    reading.issued_ms = issueInstant(issue[1] as string, reading.near_ms);
    take(reading, 1, "issueTime", reading.issued_ms !== null);
    return true;
  }
  if (reading.station === null && !reading.hasIssueTime && /^[A-Z][A-Z0-9]{3}$/u.test(word)) {
    reading.station = word;
    take(reading, 1, "station");
    return true;
  }
  return readValidity(reading, word);
}

function readKindOrStatus(reading: Reading, word: string): boolean {
  const isKind = word === "METAR" || word === "SPECI" || word === "TAF";
  if (isKind && reading.station === null && (reading.kind === null || reading.kind === word)) {
    reading.kind = word;
    take(reading, 1, "kind");
    return true;
  }
  // CCA, CCB … and AAA, AAB … are the bulletin's own letters for the same (WMO-No. 386).
  const status =
    word === "COR" || /^CC[A-X]$/u.test(word)
      ? "correction"
      : word === "AMD" || /^AA[A-X]$/u.test(word)
        ? "amendment"
        : null;
  if (status === null || (reading.status !== null && reading.status !== status)) return false;
  reading.status = status;
  take(reading, 1, "status");
  return true;
}

function readMark(reading: Reading, word: string): boolean {
  if (reading.station === null) return false;
  if (word === "AUTO") {
    reading.isAuto = true;
    take(reading, 1, "auto");
    return true;
  }
  if (word === "NIL") {
    reading.isNil = true;
    take(reading, 1, "nil");
    return true;
  }
  if (word === "CNL" && reading.hasValidity) {
    reading.isCancelled = true;
    take(reading, 1, "cancelled");
    return true;
  }
  return false;
}

function readValidity(reading: Reading, word: string): boolean {
  const found = /^(\d{4})\/(\d{4})$/u.exec(word);
  if (found === null || reading.hasValidity || !reading.hasIssueTime) return false;
  if (reading.kind !== null && reading.kind !== "TAF") return false;
  reading.kind = "TAF";
  reading.hasValidity = true;
  const near_ms = reading.issued_ms ?? reading.near_ms;
  reading.valid = hourSpan(found[1] as string, found[2] as string, near_ms);
  take(reading, 1, "validity", reading.valid !== null);
  return true;
}
