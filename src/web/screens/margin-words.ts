// A margin in words: what it is of, where, and how much is left or short. The same for an answer and for one that was kept.
import { minute_ms } from "../../core/facts/instant.ts";
import { own } from "../../core/facts/own.ts";
import { displayNumber } from "../../core/quantity/display.ts";
import type { Margin } from "../../core/reach/call.ts";
import type { Names } from "../../present/names.ts";
import type { CallWords } from "../../present/words/call-words.ts";
import { timeLeft, timePassed } from "../../present/words/formats.ts";
import type { Locale } from "../../present/words/language.ts";
import type { Amounts } from "./call-units.ts";
import { boardingPlaceName } from "./call-view.ts";

export type MarginTeller = {
  readonly words: CallWords;
  readonly amounts: Amounts;
  readonly names: Names;
  readonly locale: Locale;
};

/** Of a kept answer the kind and the unit are texts. */
export type ToldMargin = Pick<Margin, "stop" | "leg" | "met" | "room" | "what"> & {
  readonly kind: string;
  readonly unit: string;
};

/** `stops` as in the answer, the start first. */
export function marginName(
  { kind, stop, leg, what }: ToldMargin,
  stops: readonly { readonly name: string }[],
  { words, names }: MarginTeller,
): string {
  const named = own(words.margin as Readonly<Record<string, string>>, kind) ?? kind;
  const full =
    (kind === "place" || kind === "seat") && what !== null
      ? words.marginAt(named, boardingPlaceName(names, what))
      : named;
  const end = leg === null ? undefined : stops[leg + 1]?.name;
  if (end !== undefined) return words.marginOnLeg(full, end);
  const place = stop === null ? null : stop < 0 ? words.start : (stops[stop + 1]?.name ?? null);
  return place === null ? full : words.marginAt(full, place);
}

/** `112 kg left`, `9 kg short`, `not known`. */
export function roomText({ kind, met, room, unit, what }: ToldMargin, teller: MarginTeller): string {
  const { words } = teller;
  const why = room === null && met !== true ? own(words.why, what ?? "") : undefined;
  if (why !== undefined) return `${met === null ? words.notKnown : words.notMet}: ${why}`;
  if (met === null) return words.notKnown;
  if (room === null) return met ? words.met : kind === "seat" ? words.seatTaken : words.notMet;
  // What was solved to the last bit may lie a bit beyond its limit and is met: nothing is left, and nothing is short.
  if (room < 0 && !met) return words.short(amountOf(-room, unit, "higher", teller));
  return words.left(amountOf(Math.max(0, room), unit, "lower", teller));
}

/** A number with its unit, never made to look better than it is. */
function amountOf(
  value: number,
  unit: string,
  worse: "lower" | "higher",
  { words, amounts, locale }: MarginTeller,
): string {
  if (unit === "kg") return amounts.mass(value, worse);
  if (unit === "ft") return amounts.height(value, worse);
  if (unit === "min") return (worse === "lower" ? timeLeft : timePassed)(value * minute_ms, locale);
  const name = own(words.unit as Readonly<Record<string, string>>, unit) ?? unit;
  return `${displayNumber(value, unit === "h" ? 1 : 0, worse, locale.language)} ${name}`.trim();
}

/** Fuel that is left, for a column that has its unit at its head: tanks that would have run dry are told as that. */
export function fuelText(fuel_kg: number, { words, amounts }: MarginTeller): string {
  return fuel_kg < 0 ? words.noFuel : amounts.bare(fuel_kg, "mass", "lower");
}
