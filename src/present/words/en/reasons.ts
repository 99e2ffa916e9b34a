import { displayNumber } from "../../../core/quantity/display.ts";
import { insideSentence } from "../../sentence-case.ts";
import { dateLong, timeSeenFrom } from "../formats.ts";
import { phrase, subject } from "../phrase.ts";
import type { Phrase } from "../phrase.ts";
import { plural } from "../plural.ts";
import type { ReasonCode, RemedyCode } from "../../../core/facts/reason-codes.ts";
import { numberOf, said, textOf, dateOf } from "../told.ts";
import type { Said, Told } from "../told.ts";
import { crewReasons, crewRemedies } from "./crew.ts";
import { dueReasons, dueRemedies } from "./due.ts";
import { finding } from "./finding.ts";
import { loadReasons, loadRemedies } from "./load.ts";
import { levelReasons, levelRemedies } from "./levels.ts";
import { powerReasons, powerRemedies } from "./power.ts";
import { referenceReasons, referenceRemedies } from "./reference.ts";
import { skyReasons, skyRemedies } from "./sky.ts";
import { walkReasons, walkRemedies } from "./walk-reasons.ts";

function time(told: Told, name: string): string {
  const at_ms = numberOf(told, name);
  return at_ms === null ? "at an unknown time" : timeSeenFrom(told.now_ms, at_ms, told.locale);
}

function figure(told: Told, name: string, worse: "lower" | "higher" | "both" = "both"): string {
  const value = numberOf(told, name);
  return value === null
    ? "?"
    : displayNumber(value, Number.isInteger(value) ? 0 : 2, worse, told.locale.language);
}

function count(told: Told, name: string, one: string, other: string): string {
  const value = numberOf(told, name);
  return value === null ? `? ${other}` : `${value} ${plural("en", value, { one, other })}`;
}

function what(told: Told): Phrase {
  const kind = textOf(told, "kind");
  const name = kind in finding.kind ? finding.kind[kind as keyof typeof finding.kind] : kind;
  return phrase`${subject(name)} at ${insideSentence(told.names.of("stop", textOf(told, "stop")), "en")}`;
}

function againBy(told: Told): string {
  const day = told.reason.facts["lastDay"];
  return typeof day === "string" ? `last day ${dateLong(day, told.locale)}` : textOf(told, "words");
}

/** How large it is, against what, and when the line gets there. */
function growth(told: Told): string {
  const unit = textOf(told, "unit");
  const per = textOf(told, "by") === "days" ? "days" : "flight hours";
  const sizes = `${figure(told, "value", "higher")} ${unit}, limit ${figure(told, "limit")} ${unit}`;
  const early = numberOf(told, "earliest");
  return `${sizes}, reached ${figure(told, "expected", "lower")} ${per} after it was last measured${
    early === null ? ", how surely is not known" : `, at the earliest ${figure(told, "earliest", "lower")}`
  }`;
}

const asides: Readonly<Record<string, string>> = {
  schema: "its form is not known here",
  missingParent: "an earlier entry is missing",
  uncertified: "its key is not certified",
  outOfCertificate: "its key's certificate did not hold",
  revoked: "its key is revoked",
  refused: "the server refused it",
  unknownType: "it needs a newer version of the program",
  newerVersion: "it needs a newer version of the program",
  fork: "one key wrote two different entries in one place",
  chainBroken: "it does not follow the entry before it of the same key",
  roleMissing: "its author does not have the role for it",
  erased: "its content was erased",
  senseless: "it makes no sense on the record before it",
};

const unreadable: Readonly<Record<string, string>> = {
  temperatureMissing: "the temperature beside it is missing",
  outsideBand: "the temperature is outside the sheet's limits",
  otherUnit: "it was read in another unit",
  notANumber: "it is no number",
};

export const reasons: Readonly<Record<ReasonCode, (told: Told) => Said>> = {
  "record.notOpened": () => said(phrase`${subject("The record")} of this machine has not been opened`),
  "record.aside": (told) =>
    said(
      phrase`${subject(count(told, "count", "entry", "entries"))} set aside`,
      asides[textOf(told, "why")] ?? textOf(told, "why"),
    ),
  "record.clockBack": (told) =>
    said(
      phrase`${subject("The clock")} is behind the newest entry`,
      `newest entry ${time(told, "newest_ms")}`,
    ),
  "record.neverExchanged": () =>
    said(phrase`${subject("This device")} has never exchanged with the server`, "others may know more"),
  "record.notExchangedSinceTakeover": (told) =>
    said(
      phrase`${subject("Not exchanged")} since the machine was taken over`,
      `taken over ${time(told, "takenOver_ms")}`,
    ),
  "record.upliftsAlike": (told) =>
    said(
      phrase`${subject("Two uplifts")} look alike: ${figure(told, "amount")} ${textOf(told, "unit")}`,
      `${time(told, "at_ms")} and ${time(told, "other_ms")}; one of them may be recorded twice`,
    ),
  "record.exchangeOld": (told) =>
    said(
      phrase`${subject("The last exchange")} is older than ${figure(told, "limit_min")} min`,
      `last ${time(told, "vouched_ms")}`,
    ),
  "sheet.notHeld": () => said(phrase`${subject("The type sheet")} is not on this device`),
  "finding.unjudged": (told) => said(phrase`${what(told)} is not judged`, textOf(told, "words")),
  "finding.grounds": (told) =>
    said(phrase`${what(told)} keeps the machine on the ground`, textOf(told, "words")),
  "finding.watched": (told) => said(phrase`${what(told)} is watched`, textOf(told, "words")),
  "finding.notCovered": (told) =>
    said(phrase`${what(told)} is not judged by anybody who may`, textOf(told, "words")),
  "finding.notReleased": (told) =>
    said(phrase`${what(told)} was worked on and not released`, textOf(told, "words")),
  "finding.measureDue": (told) => said(phrase`${what(told)} must be measured again`, againBy(told)),
  "finding.measureLeft": (told) =>
    said(
      phrase`${what(told)} is measured again within ${figure(told, "left_h", "lower")} flight hours`,
      textOf(told, "words"),
    ),
  "finding.grows": (told) => said(phrase`${what(told)} grows`, growth(told)),
  "finding.mayBePast": (told) => said(phrase`${what(told)} may have grown past its limit`, growth(told)),
  "finding.deferred": (told) =>
    said(
      phrase`${subject(told.names.of("deferral", textOf(told, "deferral")))} deferred`,
      `${textOf(told, "number")}, last day ${dateOf(told, "lastDay")}`,
    ),
  "finding.deferralLapsed": (told) =>
    said(
      phrase`${subject(told.names.of("deferral", textOf(told, "deferral")))}: the deferral lapses`,
      `${textOf(told, "number")}, last day ${dateOf(told, "lastDay")}`,
    ),
  "finding.lapsesInFlight": (told) =>
    said(
      phrase`${subject(told.names.of("deferral", textOf(told, "deferral")))}: the deferral lapses in flight, after the last take-off`,
      `${textOf(told, "number")}, last day ${dateOf(told, "lastDay")}`,
    ),
  "finding.deferralForbids": (told) =>
    said(
      phrase`${subject(told.names.of("deferral", textOf(told, "deferral")))} deferred, which forbids this`,
      textOf(told, "number"),
    ),
  "finding.deferralLimits": (told) =>
    said(
      phrase`${subject(told.names.of("deferral", textOf(told, "deferral")))} deferred, with a limit`,
      `${textOf(told, "number")}, ${textOf(told, "quantity")} ${figure(told, "value")}`,
    ),
  "finding.deferredToNothing": (told) =>
    said(phrase`${what(told)} is deferred without an entry of the operator's list`, textOf(told, "words")),
  "event.grounds": (told) =>
    said(
      phrase`${subject(told.names.of("event", textOf(told, "event")))}: on the ground until cleared`,
      `${time(told, "at_ms")} ${textOf(told, "words")}`.trim(),
    ),
  "event.asks": (told) =>
    said(
      phrase`${subject(told.names.of("event", textOf(told, "event")))}: somebody must look`,
      `${time(told, "at_ms")} ${textOf(told, "words")}`.trim(),
    ),
  "event.notListed": (told) =>
    said(
      phrase`${subject(textOf(told, "event"))}: an event that the sheet does not list`,
      textOf(told, "words"),
    ),
  "level.missing": (told) =>
    said(phrase`${subject(told.names.of("gauge", textOf(told, "gauge")))} has not been read`),
  "level.notKnown": (told) =>
    said(
      phrase`${subject(told.names.of("gauge", textOf(told, "gauge")))} cannot be judged`,
      `${textOf(told, "typed")} ${textOf(told, "unit")}: ${unreadable[textOf(told, "why")] ?? textOf(told, "why")}`,
    ),
  "level.withdrawn": (told) =>
    said(
      phrase`${subject(told.names.of("gauge", textOf(told, "gauge")))} is to be read again`,
      `${textOf(told, "typed")} ${textOf(told, "unit")} was taken back as mistyped`,
    ),
  "level.below": (told) =>
    said(
      phrase`${subject(told.names.of("gauge", textOf(told, "gauge")))} is below its limit`,
      `${textOf(told, "typed")} ${textOf(told, "unit")}, at least ${figure(told, "limit")}`,
    ),
  "level.above": (told) =>
    said(
      phrase`${subject(told.names.of("gauge", textOf(told, "gauge")))} is above its limit`,
      `${textOf(told, "typed")} ${textOf(told, "unit")}, at most ${figure(told, "limit")}`,
    ),
  "needs.notInstalled": (told) =>
    said(phrase`${subject(told.names.of("equipment", textOf(told, "equipment")))} is not installed`),
  "needs.notRecorded": (told) =>
    said(
      phrase`${subject(told.names.of("equipment", textOf(told, "equipment")))}: nobody recorded whether it is installed`,
    ),
  ...crewReasons,
  ...dueReasons,
  ...loadReasons,
  ...levelReasons,
  ...powerReasons,
  ...referenceReasons,
  ...walkReasons,
  ...skyReasons,
};

export const remedies: Readonly<Record<RemedyCode, string>> = {
  "record.openCraft": "the airworthiness office opens the record",
  "record.settleAside": "an administrator settles what was set aside",
  "record.setClock": "set this device's clock",
  "lookAlike.decide": "say whether it is one or two",
  "record.exchangeOrConfirm": "connect, or confirm that no other device was used",
  "sheet.fetch": "connect once, so that the sheet arrives",
  "finding.judge": "judge it",
  "finding.lookAgain": "look again on the next walk",
  "finding.toEngineer": "an engineer decides",
  "finding.measure": "measure it again",
  "finding.release": "an engineer releases it",
  "event.clear": "an engineer inspects and clears it",
  "level.read": "read it",
  "level.readAgain": "read it again, with the temperature",
  "level.fillOrAsk": "fill up, or ask the engineer",
  "level.toEngineer": "an engineer decides",
  "needs.install": "have it installed",
  "needs.record": "record whether it is installed",
  ...crewRemedies,
  ...dueRemedies,
  ...loadRemedies,
  ...levelRemedies,
  ...powerRemedies,
  ...referenceRemedies,
  ...walkRemedies,
  ...skyRemedies,
};
