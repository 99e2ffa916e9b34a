// What the screens of findings show, without markup: parts at a place, what is known there, what fits the filter, and how a
// measure, a term and an issue are said.
import type { FindingFacts, FindingKind, Measure, MeasureAgain } from "../../core/facts/craft.ts";
import { hour_ms } from "../../core/facts/instant.ts";
import type { MeasureUnit } from "../../core/finding/bands.ts";
import { isClosed, judgementBy, type JudgingRole } from "../../core/finding/judgement.ts";
import { stageOf } from "../../core/finding/life.ts";
import type { MeasureIssue } from "../../core/finding/typed-measure.ts";
import { displayNumber } from "../../core/quantity/display.ts";
import { evaluateIn, termReader } from "../../core/sheet/applicability.ts";
import { craftConfigOf } from "../../core/walk/craft-config.ts";
import type { Damage } from "../../core/sheet/finding-blocks.ts";
import type { Sheet } from "../../core/sheet/schema.ts";
import type { FindingsWords } from "../../present/words/findings-words.ts";
import type { Language } from "../../present/words/language.ts";
import type { Words } from "../../present/words/words.ts";
import type { CraftView, Person } from "../device/model.ts";

/** Part and zone: one or more damage limits of the sheet, by kind. */
export type Zone = { readonly key: string; readonly name: string; readonly limits: readonly Damage[] };

/** The parts that the sheet limits at a stop, each once; those of equipment that is not on board are left out. */
export function zonesAt({ sheet, state }: CraftView, stop: string, language: Language): readonly Zone[] {
  if (sheet === null) return [];
  const read = termReader(craftConfigOf(state), {});
  const here = sheet.damage.filter(
    ({ stops, applies }) => stops.includes(stop) && evaluateIn(applies, read) !== false,
  );
  const groups = Map.groupBy(here, ({ part, zone }) => `${part[language]}, ${zone[language]}`);
  return [...groups].map(([name, limits]) => ({ key: limits[0]!.id, name, limits }));
}

const kindOf: Partial<Record<Damage["kind"], FindingKind>> = { looseness: "loose" };

/** The kind of a finding that falls under a limit. */
export function kindUnder({ kind }: Damage): FindingKind {
  return kindOf[kind] ?? (kind as FindingKind);
}

/** How long a finding that was closed still counts as known at its place: seen again, it is opened again. */
const closedKnown_ms = 30 * 24 * hour_ms;

/** What is known at a stop: of the same limit first, what is open before what was closed lately, the newest first. */
export function knownAt(
  { sheet, state }: CraftView,
  stop: string,
  damage: string | null,
  now_ms: number,
): readonly FindingFacts[] {
  const isKnown = (finding: FindingFacts): boolean =>
    !isClosed(sheet, finding) || finding.closed.some(({ at_ms }) => at_ms >= now_ms - closedKnown_ms);
  return Object.values(state.findings)
    .filter((finding) => finding.raised.stop === stop && isKnown(finding))
    .toSorted(
      (a, b) =>
        Number(isClosed(sheet, a)) - Number(isClosed(sheet, b)) ||
        Number(b.raised.damage === damage) - Number(a.raised.damage === damage) ||
        b.raised.at_ms - a.raised.at_ms,
    );
}

/** Part and zone of a finding where it has a limit. */
export function partOf(sheet: Sheet | null, { raised }: FindingFacts, language: Language): string | null {
  const damage = sheet?.damage.find(({ id }) => id === raised.damage);
  return damage === undefined ? null : `${damage.part[language]}, ${damage.zone[language]}`;
}

/** `worse`: the direction in which a rounded number may only err. */
export function numberText(
  value: number,
  language: Language,
  decimals = 2,
  worse: "lower" | "higher" | "both" = "both",
): string {
  const shown = displayNumber(value, decimals, worse, language);
  // Trailing zeros say nothing here: 0.80 mm is 0.8 mm.
  return /[.,]/u.test(shown) ? shown.replace(/[.,]?0+$/u, "") : shown;
}

/** A size: larger is worse, so it is never shown smaller than it is. */
export function sizeText(value: number, unit: string, words: FindingsWords, language: Language): string {
  const name = words.unitName[unit as MeasureUnit] ?? unit;
  return `${numberText(value, language, 2, "higher")} ${name}`;
}

/** As typed; where something else is used, that too. */
export function measureText(measure: Measure, words: FindingsWords, language: Language): string {
  const used = sizeText(measure.value, measure.unit, words, language);
  const plain = (text: string) => text.replaceAll(",", ".").replaceAll(/\s/gu, "").toLowerCase();
  const isSame = plain(used) === plain(measure.typed) || measure.typed === "";
  // Older entries keep the number alone as typed.
  if (isSame || plain(`${measure.typed}${measure.unit}`) === plain(used)) return used;
  return words.issue.used(measure.typed, used);
}

export function issueText(issue: MeasureIssue, words: FindingsWords, language: Language): string {
  const say = words.issue;
  const named = (units: readonly MeasureUnit[]) => units.map((unit) => words.unitName[unit]).join(", ");
  switch (issue.kind) {
    case "vague":
      return say.vague(issue.typed);
    case "asBefore":
      return say.asBefore(issue.typed);
    case "noUnit":
      return say.noUnit(issue.typed);
    case "wrongUnit":
      return say.wrongUnit(issue.unit, named(issue.units));
    case "notANumber":
      return say.notANumber(issue.typed);
    case "negative":
      return say.negative(issue.typed);
    case "ambiguous":
      return say.ambiguous(
        issue.typed,
        ...(issue.readings.map((value) => numberText(value, language)) as [string, string]),
      );
    default:
      return issue satisfies never;
  }
}

/** "30 days or 25 flight hours". */
export function againText(
  { days, flight_h }: MeasureAgain,
  words: FindingsWords,
  language: Language,
): string {
  return [
    ...(days === null ? [] : [words.bands.days(days)]),
    ...(flight_h === null ? [] : [words.bands.hours(numberText(flight_h, language, 1, "lower"))]),
  ].join(words.bands.or);
}

/** The role in which a person judges: the one with the most authority that they hold. */
export function judgingRole(me: Person | null): JudgingRole {
  for (const role of ["engineer", "airworthiness", "pilot"] as const)
    if (me?.roles.includes(role) === true) return role;
  return "crewMember";
}

/** How a finding stands, in a word or two: its outcome while it is open, the end of its life once it is closed. */
export function standsAs(
  sheet: Sheet | null,
  finding: FindingFacts,
  words: FindingsWords,
  common: Words,
): string {
  const stage = stageOf(sheet, finding);
  const judgement = judgementBy(sheet, finding);
  return stage === "assessed" && judgement !== null
    ? common.finding.outcome[judgement.outcome]
    : words.stage[stage];
}

export const spans = ["open", "month", "quarter", "all"] as const;
export type Span = (typeof spans)[number];

export type Filter = {
  readonly span: Span;
  /** Null for every kind. */
  readonly kind: FindingKind | null;
  readonly stop: string | null;
};

export type Found = { readonly craft: CraftView; readonly finding: FindingFacts };

const daysOf: Readonly<Record<Exclude<Span, "open">, number>> = { month: 30, quarter: 90, all: 427 };

/** Findings that fit, newest first; a finding counts by every time it was seen. */
export function foundBy(craft: readonly CraftView[], filter: Filter, now_ms: number): readonly Found[] {
  const fits = ({ craft: { sheet }, finding }: Found): boolean => {
    if (filter.kind !== null && finding.raised.kind !== filter.kind) return false;
    if (filter.stop !== null && finding.raised.stop !== filter.stop) return false;
    if (filter.span === "open") return !isClosed(sheet, finding);
    const from_ms = now_ms - daysOf[filter.span] * 24 * hour_ms;
    return lastSeen_ms(finding) >= from_ms;
  };
  return craft
    .flatMap((view) => Object.values(view.state.findings).map((finding): Found => ({ craft: view, finding })))
    .filter(fits)
    .toSorted((a, b) => b.finding.raised.at_ms - a.finding.raised.at_ms);
}

function lastSeen_ms({ raised, seenAgain, measured }: FindingFacts): number {
  return Math.max(raised.at_ms, ...[...seenAgain, ...measured].map(({ at_ms }) => at_ms));
}

export function timesSeen({ seenAgain, measured }: FindingFacts): number {
  return 1 + seenAgain.length + measured.length;
}
