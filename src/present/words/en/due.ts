// Words of the reasons that deferrals as a set, the maintenance programme, components and obligations give.
import type { ReasonCode, RemedyCode } from "../../../core/facts/reason-codes.ts";
import { displayNumber } from "../../../core/quantity/display.ts";
import { dateLong } from "../formats.ts";
import { phrase, subject } from "../phrase.ts";
import type { Phrase } from "../phrase.ts";
import { numberOf, said, textOf } from "../told.ts";
import type { Said, Told } from "../told.ts";

export type DueReason =
  | Extract<
      ReasonCode,
      | `due.${string}`
      | `finding.deferral${"Unconfirmed" | "TooMany" | "NotTogether" | "SameSystem" | "NotCounted"}`
    >
  | "finding.extensionInvalid";
export type DueRemedy = Extract<RemedyCode, `due.${string}`>;

const deferral = (told: Told, key = "deferral"): string => told.names.of("deferral", textOf(told, key));
const number = (told: Told): string => textOf(told, "number");

/** What is due: a task, a part with its place and serial number, or an obligation in its own words. */
function thing(told: Told): string {
  const { task, component, words, serial } = told.reason.facts;
  if (typeof task === "string") return told.names.of("task", task);
  if (typeof component === "string") {
    const part = told.names.of("component", component);
    return typeof serial === "string" ? `${part} ${serial}` : part;
  }
  return typeof words === "string" ? words : "?";
}

const line = (told: Told, rest: string): Phrase => phrase`${subject(thing(told))}${rest}`;

const counters: Readonly<Record<string, string>> = {
  flightHours_h: "flight hours",
  landings: "landings",
  starts: "starts",
  hoistCycles: "hoist cycles",
  date: "date",
};
const counter = (told: Told): string => counters[textOf(told, "counter")] ?? textOf(told, "counter");

function left(told: Told): string {
  const value = numberOf(told, "left");
  if (value === null) return "not known how many are left";
  const places = Number.isInteger(value) ? 0 : 1;
  const shown = displayNumber(Math.abs(value), places, value < 0 ? "higher" : "lower", told.locale.language);
  return value < 0 ? `${shown} ${counter(told)} past` : `${shown} ${counter(told)} left`;
}

const lastDay = (told: Told): string =>
  typeof told.reason.facts["lastDay"] === "string"
    ? `last day ${dateLong(textOf(told, "lastDay"), told.locale)}`
    : "last day not recorded";

export const dueReasons: Readonly<Record<DueReason, (told: Told) => Said>> = {
  "finding.deferralUnconfirmed": (told) =>
    said(
      phrase`${subject(deferral(told))} deferred, procedure (${textOf(told, "procedure")}) not confirmed`,
      number(told),
    ),
  "finding.deferralTooMany": (told) =>
    said(
      phrase`${subject(deferral(told))}: more deferred than the list allows`,
      `${number(told)}, ${textOf(told, "deferred")} deferred of ${textOf(told, "installed")}, ${textOf(told, "required")} required`,
    ),
  "finding.deferralNotTogether": (told) =>
    said(
      phrase`${subject(deferral(told))} must not be deferred together with ${deferral(told, "other")}`,
      number(told),
    ),
  "finding.deferralSameSystem": (told) =>
    said(
      phrase`${subject(deferral(told))} deferred in the same system as ${deferral(told, "other")}`,
      number(told),
    ),
  "finding.deferralNotCounted": (told) =>
    said(phrase`${subject(deferral(told))} deferred, the list does not say for how long`, number(told)),
  "finding.extensionInvalid": (told) =>
    said(phrase`${subject(deferral(told))}: an extension that does not count`, number(told)),
  "due.noBalance": () =>
    said(
      phrase`${subject("No opening balance")} of counters and work done`,
      "the airworthiness office signs it",
    ),
  "due.neverRecorded": (told) => said(line(told, ": never recorded")),
  "due.removed": (told) => said(line(told, ": removed, nothing fitted")),
  "due.dateMissing": (told) => said(line(told, ": its date is not recorded")),
  "due.twice": (told) => said(line(told, ": recorded twice in one place")),
  "due.counterNotKnown": (told) =>
    said(line(told, `: ${counter(told)} not known`), "a flight does not state them"),
  "due.flightsOverlap": () =>
    said(phrase`${subject("Two flights")} overlap in time`, "one of them may be recorded twice"),
  "due.noRelease": () =>
    said(phrase`${subject("Work done")} has not been released`, "an engineer signs the release"),
  "due.over": (told) => said(line(told, " is due"), left(told)),
  "due.left": (told) => said(line(told, " is due soon"), left(told)),
  "due.inTolerance": (told) => said(line(told, " is in its tolerance"), counter(told)),
  "due.dateOver": (told) => said(line(told, " is due by date"), lastDay(told)),
};

export const dueRemedies: Readonly<Record<DueRemedy, string>> = {
  "due.do": "have it done",
  "due.record": "record it",
};
