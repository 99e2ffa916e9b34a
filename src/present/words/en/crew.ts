// Words of the reasons that the crew gives: who is on duty, who may fly what, until when.
import type { ReasonCode, RemedyCode } from "../../../core/facts/reason-codes.ts";
import { displayNumber } from "../../../core/quantity/display.ts";
import { phrase, subject } from "../phrase.ts";
import { numberOf, said, textOf, dateOf } from "../told.ts";
import type { Said, Told } from "../told.ts";

export type CrewReason = Extract<ReasonCode, `crew.${string}` | `rules.${string}` | `water.${string}`>;
export type CrewRemedy = Extract<RemedyCode, `crew.${string}` | `rules.${string}` | `water.${string}`>;

const who = (told: Told): string => told.names.person(textOf(told, "person"));

const papers: Readonly<Record<string, string>> = {
  licence: "licence",
  typeRating: "type rating",
  instrumentRating: "instrument rating",
  medical: "medical",
  proficiencyCheck: "proficiency check",
  lineCheck: "line check",
  emergencyCheck: "emergency equipment check",
  nvisCheck: "goggles check",
  hoistCheck: "hoist check",
};
const recencies: Readonly<Record<string, string>> = {
  landings: "landings in 90 days",
  night: "landings by night in 90 days",
  nvis: "flights with goggles in 90 days",
  instrument: "time by instruments in 6 months",
  hoist: "hoist cycles",
  nightHoist: "hoist cycles by night",
};
const roles: Readonly<Record<string, string>> = {
  pilot: "pilot",
  technicalCrew: "technical crew member",
  hoistOperator: "hoist operator",
  medic: "medical crew member",
};

const from = (table: Readonly<Record<string, string>>, told: Told, name: string): string =>
  table[textOf(told, name)] ?? textOf(told, name);
const paper = (told: Told): string => from(papers, told, "paper");
const recency = (told: Told): string => from(recencies, told, "recency");
const lapsing = (told: Told): string =>
  typeof told.reason.facts["recency"] === "string" ? recency(told) : paper(told);

function hours(told: Told, name: string): string {
  const value = numberOf(told, name);
  return value === null ? "hours not known" : `${displayNumber(value, 1, "lower", told.locale.language)} h`;
}

const lastDay = (told: Told): string =>
  typeof told.reason.facts["lastDay"] === "string"
    ? `last day ${dateOf(told, "lastDay")}`
    : "last day not recorded";

const commandHours: Readonly<Record<string, string>> = {
  pic_h: "in command",
  helicopterPic_h: "in command of helicopters",
  similar_h: "in an environment like this one",
  nightPic_h: "in command by night and by sight",
};

export const crewReasons: Readonly<Record<CrewReason, (told: Told) => Said>> = {
  "crew.onTwoCraft": (told) =>
    said(phrase`${subject(who(told))} is on duty with ${textOf(told, "craft")} as well`),
  "crew.noHoistFigures": (told) =>
    said(phrase`${subject(who(told))}: how much hoisting is needed has not been set`, "set by the operator"),
  "crew.hoursLeft": (told) =>
    said(phrase`${subject(who(told))} has ${hours(told, "left_h")} of flying left`, windowOf(told)),
  "crew.hoursUsedUp": (told) => said(phrase`${subject(who(told))} has no flying left`, windowOf(told)),
  "crew.restPeriodsFew": (told) =>
    said(
      phrase`${subject(who(told))} cannot have the rest periods of the quarter any more`,
      `${textOf(told, "taken")} of ${textOf(told, "needed")} taken, each of 24 h`,
    ),
  "crew.restInAssignment": (told) =>
    said(
      phrase`${subject(who(told))} has to be relieved: no rest within 24 h of the assignment`,
      `${hours(told, "rest_h")} on end`,
    ),
  "crew.restedShort": (told) =>
    said(
      phrase`${subject(who(told))} needs longer rest after the duty before`,
      `${hours(told, "rested_h")} of ${hours(told, "rest_h")}`,
    ),
  "crew.commandNotKnown": (told) =>
    said(phrase`${subject(who(told))}: hours in command have not been stated`),
  "crew.commandShort": (told) =>
    said(
      phrase`${subject(who(told))} has too few hours to command this`,
      `${from(commandHours, told, "figure")}, ${hours(told, "needed")} needed`,
    ),
  "crew.hoursNotKnown": (told) =>
    said(phrase`${subject(who(told))}: flight hours elsewhere are not recorded`),
  "water.notSaid": () => said(phrase`${subject("Sea and suits")} have not been said`),
  "water.seaAbove": (told) =>
    said(
      phrase`${subject("The sea")} is higher than the floats are good for`,
      `state ${textOf(told, "seaState")}, at most ${textOf(told, "most")}`,
    ),
  "water.suitsFew": (told) =>
    said(
      phrase`${subject("Suits")} are fewer than the people on duty`,
      `${textOf(told, "suits")} for ${textOf(told, "aboard")}, water ${textOf(told, "water_C")} °C`,
    ),
  "water.raftsFew": (told) =>
    said(
      phrase`${subject("The rafts")} hold fewer than the people on duty`,
      `${textOf(told, "places")} places for ${textOf(told, "aboard")}`,
    ),
  "rules.minimaUnconfirmed": (told) =>
    said(
      phrase`${subject("The weather minima")} are those of 2012, to be confirmed by the operator`,
      "cite" in told.reason.source ? (told.reason.source.cite ?? "") : "",
    ),
  "crew.noRules": () => said(phrase`${subject("Crew rules")} of the operator are not recorded`),
  "crew.noShift": () => said(phrase`${subject("Who is on duty")} has not been declared`),
  "crew.shiftEnds": () => said(phrase`${subject("The shift")} ends`, "nobody is declared after it"),
  "crew.noDutyFigures": () =>
    said(phrase`${subject("Duty and rest")}: no figures recorded`, "national rules, set by the operator"),
  "crew.notRested": (told) =>
    said(
      phrase`${subject(who(told))} has not rested enough`,
      `${hours(told, "rested_h")} of ${hours(told, "rest_h")}`,
    ),
  "crew.dutyTooLong": (told) =>
    said(phrase`${subject(who(told))} reaches the end of duty`, `at most ${hours(told, "duty_h")}`),
  "crew.tooFew": (told) => said(phrase`${subject(from(roles, told, "role"))} missing on duty`),
  "crew.singlePilotNight": () =>
    said(phrase`${subject("One pilot by night")}: the operator's conditions are not recorded`),
  "crew.paperNotKnown": (told) => said(phrase`${subject(who(told))}: ${paper(told)} not recorded`),
  "crew.paperLapses": (told) => said(phrase`${subject(who(told))}: ${paper(told)} lapses`, lastDay(told)),
  "crew.notRecent": (told) => said(phrase`${subject(who(told))}: too few ${recency(told)}`),
  "crew.recencyLapses": (told) => said(phrase`${subject(who(told))}: ${recency(told)} lapse`, lastDay(told)),
  "crew.lapsesInShift": (told) =>
    said(phrase`${subject(who(told))}: ${lapsing(told)} lapses before the shift ends`, lastDay(told)),
};

const windows: Readonly<Record<string, string>> = {
  in24h: "in 24 hours",
  quarter: "in the quarter",
  twoQuarters: "in two quarters",
  year: "in the calendar year",
};
const windowOf = (told: Told): string => `at most ${hours(told, "most_h")} ${from(windows, told, "window")}`;

export const crewRemedies: Readonly<Record<CrewRemedy, string>> = {
  "water.say": "say sea and suits",
  "water.suits": "bring suits",
  "rules.confirm": "confirm or replace them",
  "crew.declare": "declare who is on duty",
  "crew.record": "have it recorded",
  "crew.relieve": "another crew, or wait",
};
