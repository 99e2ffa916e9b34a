// Words of the reasons that deferrals as a set, the maintenance programme, components and obligations give.
import type { ReasonCode, RemedyCode } from "../../../core/facts/reason-codes.ts";
import { displayNumber } from "../../../core/quantity/display.ts";
import { timeSeenFrom } from "../formats.ts";
import { deferral, listNumber, matter } from "../matter.ts";
import { phrase, subject } from "../phrase.ts";
import { numberOf, said, textOf, dateOf } from "../told.ts";
import type { Said, Told } from "../told.ts";

export type DueReason =
  | Extract<
      ReasonCode,
      | `due.${string}`
      | `flight.${string}`
      | `finding.deferral${"Unconfirmed" | "TooMany" | "NotTogether" | "SameSystem" | "NotCounted"}`
    >
  | "finding.extensionInvalid";
export type DueRemedy = Extract<RemedyCode, `due.${string}` | `flight.${string}`>;

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

const clock = (told: Told, name: string): string => {
  const at_ms = numberOf(told, name);
  return at_ms === null ? "at an unknown time" : timeSeenFrom(told.now_ms, at_ms, told.locale);
};

const worksheetLacks: Readonly<Record<string, string>> = {
  rules: "the operator's factors are not recorded",
  factor: "a factor is not scored",
  refusal: "whether another operator refused is not answered",
  release: "the sum needs a release by management",
  signature: "not signed",
};

const lastDay = (told: Told): string =>
  typeof told.reason.facts["lastDay"] === "string"
    ? `last day ${dateOf(told, "lastDay")}`
    : "last day not recorded";

const meters: Readonly<Record<string, string>> = {
  flightHours_h: "The hour meter",
  landings: "The meter of landings",
  starts: "The meter of starts",
  hoistCycles: "The meter of hoist cycles",
};
const meterOf = (told: Told): string => meters[textOf(told, "counter")] ?? "The meter";
function metered(told: Told, name: string): string {
  const value = numberOf(told, name);
  if (value === null) return "?";
  const isHours = textOf(told, "counter") === "flightHours_h";
  return `${displayNumber(value, isHours ? 2 : 0, "both", told.locale.language)}${isHours ? " h" : ""}`;
}

export const dueReasons: Readonly<Record<DueReason, (told: Told) => Said>> = {
  "finding.deferralUnconfirmed": (told) =>
    said(
      phrase`${subject(deferral(told))} deferred, procedure (${textOf(told, "procedure")}) not confirmed`,
      listNumber(told),
    ),
  "finding.deferralTooMany": (told) =>
    said(
      phrase`${subject(deferral(told))}: more deferred than the list allows`,
      `${listNumber(told)}, ${textOf(told, "deferred")} deferred of ${textOf(told, "installed")}, ${textOf(told, "required")} required`,
    ),
  "finding.deferralNotTogether": (told) =>
    said(
      phrase`${subject(deferral(told))} must not be deferred together with ${deferral(told, "other")}`,
      listNumber(told),
    ),
  "finding.deferralSameSystem": (told) =>
    said(
      phrase`${subject(deferral(told))} deferred in the same system as ${deferral(told, "other")}`,
      listNumber(told),
    ),
  "finding.deferralNotCounted": (told) =>
    said(phrase`${subject(deferral(told))} deferred, the list does not say for how long`, listNumber(told)),
  "finding.extensionInvalid": (told) =>
    said(phrase`${subject(deferral(told))}: an extension that does not count`, listNumber(told)),
  "due.noBalance": () =>
    said(
      phrase`${subject("No opening balance")} of counters and work done`,
      "the airworthiness office signs it",
    ),
  "due.neverRecorded": (told) => said(matter(told, ": never recorded")),
  "due.removed": (told) => said(matter(told, ": removed, nothing fitted")),
  "due.dateMissing": (told) => said(matter(told, ": its date is not recorded")),
  "due.twice": (told) => said(matter(told, ": recorded twice in one place")),
  "due.counterNotKnown": (told) =>
    said(matter(told, `: ${counter(told)} not known`), "a flight does not state them"),
  "due.flightsOverlap": () =>
    said(phrase`${subject("Two flights")} overlap in time`, "one of them may be recorded twice"),
  "due.noRelease": () =>
    said(phrase`${subject("Work done")} has not been released`, "an engineer signs the release"),
  "due.over": (told) => said(matter(told, " is due"), left(told)),
  "due.left": (told) => said(matter(told, " is due soon"), left(told)),
  "due.inTolerance": (told) => said(matter(told, " is in its tolerance"), counter(told)),
  "due.duringCall": (told) => said(matter(told, " would be due during the reference call"), left(told)),
  "due.notInSheet": (told) =>
    said(phrase`${subject(textOf(told, "what"))} is recorded and not in the sheet`, "nothing counts by it"),
  "due.mapDataOld": (told) => said(matter(told, ": its edition is over"), lastDay(told)),
  "flight.underway": (told) =>
    said(phrase`${subject("A flight")} took off and is not logged`, `take-off ${clock(told, "off_ms")}`),
  "flight.exceedanceNotSaid": (told) =>
    said(
      phrase`${subject("Whether a limit was exceeded")} was not answered`,
      `${textOf(told, "count")} flights, the first ${clock(told, "off_ms")}`,
    ),
  "flight.meterFell": (told) =>
    said(
      phrase`${subject(meterOf(told))} shows less than before`,
      `${metered(told, "read")} after ${metered(told, "before")}`,
    ),
  "flight.meterDiffers": (told) =>
    said(
      phrase`${subject(meterOf(told))} and the flight log differ`,
      `meter ${metered(told, "read")}, log ${metered(told, "counted")}`,
    ),
  "flight.notReconciled": (told) =>
    said(
      phrase`${subject(meterOf(told))} was not read after the last flight`,
      `landed ${clock(told, "landed_ms")}`,
    ),
  "flight.worksheetDue": () => said(phrase`${subject("The risk worksheet")} is due before the flight`),
  "flight.worksheetLacks": (told) =>
    said(phrase`${subject("The risk worksheet")}: ${worksheetLacks[textOf(told, "lack")] ?? "?"}`),
  "due.dateOver": (told) => said(matter(told, " is due by date"), lastDay(told)),
};

export const dueRemedies: Readonly<Record<DueRemedy, string>> = {
  "flight.log": "log it",
  "flight.answer": "answer it",
  "flight.readMeter": "read it",
  "flight.reconcile": "give the reason, sign a new base",
  "flight.worksheet": "fill it in and sign",
  "due.do": "have it done",
  "due.record": "record it",
};
