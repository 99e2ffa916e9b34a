// Reads one group of conditions by the table of group grammars, into the part of the report that is open.

import { type Grammar, grammars, type Place } from "./group-grammars.ts";
import { type Draft, forget, note } from "./group-values.ts";
import { clock_ms, isTaf, lastPart, type MutableGroup, type Reading, take } from "./reading.ts";

/** The rows that may stand at a place, by the first character of a group. */
const byLead = new Map<Place, Map<string, Grammar[]>>();
for (const grammar of grammars) {
  for (const at of grammar.places) {
    const rows = byLead.get(at) ?? new Map<string, Grammar[]>();
    byLead.set(at, rows);
    for (const lead of grammar.lead) rows.set(lead, [...(rows.get(lead) ?? []), grammar]);
  }
}

function place(reading: Reading): Place {
  if (isTaf(reading)) return "forecast";
  return reading.parts.length === 1 ? "observed" : "trend";
}

export function readConditions(reading: Reading): boolean {
  const first = (reading.words[reading.at] as string).toUpperCase();
  if (first === "/////" && readSlashes(reading)) return true;
  const rows = byLead.get(place(reading))?.get(first.charAt(0)) ?? [];
  for (const grammar of rows) {
    for (let count = grammar.words ?? 1; count > 0; count -= 1) {
      const found = matchWords(reading, grammar, first, count);
      if (found === null) continue;
      // NOSIG says that nothing changes: conditions behind it belong to no trend.
      if (lastPart(reading).change === "NOSIG" && grammar.as !== "colourState") return false;
      fileGroup(reading, grammar, found, count);
      return true;
    }
  }
  return false;
}

function matchWords(
  reading: Reading,
  grammar: Grammar,
  first: string,
  count: number,
): RegExpExecArray | null {
  if (count === 1) return grammar.shape.exec(first);
  const words = reading.words.slice(reading.at, reading.at + count);
  return words.length < count ? null : grammar.shape.exec(words.join(" ").toUpperCase());
}

/** `/////` is the missing wind in front of the visibility, and the missing temperatures behind it. */
function readSlashes(reading: Reading): boolean {
  if (place(reading) !== "observed") return false;
  const { stated } = lastPart(reading).draft;
  if (stated.includes("wind") || stated.includes("visibility")) return false;
  note(stated, "wind");
  take(reading, 1, "wind");
  return true;
}

function fileGroup(reading: Reading, grammar: Grammar, found: RegExpExecArray, count: number): void {
  const { draft } = lastPart(reading);
  const earlier =
    grammar.isSingle === true
      ? reading.groups.find(
          (group) => group.as === grammar.as && group.isRead && group.part === reading.parts.length - 1,
        )
      : undefined;
  const qnh_hPa = draft.qnh_hPa;
  const isRead = grammar.read(found, draft, clock_ms(reading));
  const { about } = grammar;
  if (isRead && about !== null) note(draft.stated, about);
  if (!isRead && about !== null) note(draft.unsure, about);
  take(reading, count, grammar.as, isRead);
  if (earlier !== undefined && isRead) settleTwice(reading, earlier, draft, qnh_hPa);
}

/** Two readings of one quantity: agreeing ones stand as the first, contradicting ones are both given up. */
function settleTwice(reading: Reading, earlier: MutableGroup, draft: Draft, qnh_hPa: number | null): void {
  const later = reading.groups.at(-1) as MutableGroup;
  if (earlier.text.toUpperCase() === later.text.toUpperCase()) return;
  // Q1013 A2992: the same pressure in two units, each rounded down.
  if (later.as === "pressure" && Math.abs((draft.qnh_hPa ?? 0) - (qnh_hPa ?? 0)) <= 1) {
    draft.qnh_hPa = qnh_hPa;
    return;
  }
  earlier.isRead = false;
  later.isRead = false;
  forget(draft, later.as);
  const about = grammars.find((grammar) => grammar.as === later.as)?.about;
  if (about !== null && about !== undefined) note(draft.unsure, about);
}
