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
  licence: "Lizenz",
  typeRating: "Musterberechtigung",
  instrumentRating: "Instrumentenflugberechtigung",
  medical: "Tauglichkeit",
  proficiencyCheck: "Befähigungsüberprüfung",
  lineCheck: "Streckenüberprüfung",
  emergencyCheck: "Überprüfung Notausrüstung",
  nvisCheck: "Überprüfung Nachtsichtbrille",
  hoistCheck: "Überprüfung Winde",
};
const recencies: Readonly<Record<string, string>> = {
  landings: "Landungen in 90 Tagen",
  night: "Nachtlandungen in 90 Tagen",
  nvis: "Flüge mit Nachtsichtbrille in 90 Tagen",
  instrument: "Zeit nach Instrumenten in 6 Monaten",
  hoist: "Windenzyklen",
  nightHoist: "Windenzyklen bei Nacht",
};
const roles: Readonly<Record<string, string>> = {
  pilot: "Pilot",
  technicalCrew: "Technisches Besatzungsmitglied",
  hoistOperator: "Windenführer",
  medic: "Medizinisches Besatzungsmitglied",
};

const from = (table: Readonly<Record<string, string>>, told: Told, name: string): string =>
  table[textOf(told, name)] ?? textOf(told, name);
const paper = (told: Told): string => from(papers, told, "paper");
const recency = (told: Told): string => from(recencies, told, "recency");
const lapsing = (told: Told): string =>
  typeof told.reason.facts["recency"] === "string" ? recency(told) : paper(told);

function hours(told: Told, name: string): string {
  const value = numberOf(told, name);
  return value === null
    ? "Stunden nicht bekannt"
    : `${displayNumber(value, 1, "lower", told.locale.language)} h`;
}

const lastDay = (told: Told): string =>
  typeof told.reason.facts["lastDay"] === "string"
    ? `letzter Tag ${dateOf(told, "lastDay")}`
    : "letzter Tag nicht vermerkt";

const commandHours: Readonly<Record<string, string>> = {
  pic_h: "als Kommandant",
  helicopterPic_h: "als Kommandant auf Hubschraubern",
  similar_h: "in einer Umgebung wie dieser",
  nightPic_h: "als Kommandant bei Nacht nach Sicht",
};

export const crewReasons: Readonly<Record<CrewReason, (told: Told) => Said>> = {
  "crew.onTwoCraft": (told) =>
    said(phrase`${subject(who(told))} hat auch mit ${textOf(told, "craft")} Dienst`),
  "crew.noHoistFigures": (told) =>
    said(
      phrase`${subject(who(told))}: wie viel Windenarbeit nötig ist, ist nicht festgelegt`,
      "legt der Betreiber fest",
    ),
  "crew.hoursLeft": (told) =>
    said(phrase`${subject(who(told))} hat noch ${hours(told, "left_h")} Flugzeit`, windowOf(told)),
  "crew.hoursUsedUp": (told) => said(phrase`${subject(who(told))} hat keine Flugzeit mehr`, windowOf(told)),
  "crew.restPeriodsFew": (told) =>
    said(
      phrase`${subject(who(told))} kann die Ruhezeiten des Quartals nicht mehr bekommen`,
      `${textOf(told, "taken")} von ${textOf(told, "needed")} genommen, je 24 h`,
    ),
  "crew.restInAssignment": (told) =>
    said(
      phrase`${subject(who(told))} ist abzulösen: keine Ruhe in 24 h der Bereitschaft`,
      `${hours(told, "rest_h")} am Stück`,
    ),
  "crew.restedShort": (told) =>
    said(
      phrase`${subject(who(told))} braucht nach dem Dienst davor längere Ruhe`,
      `${hours(told, "rested_h")} von ${hours(told, "rest_h")}`,
    ),
  "crew.commandNotKnown": (told) =>
    said(phrase`${subject(who(told))}: Stunden als Kommandant sind nicht angegeben`),
  "crew.commandShort": (told) =>
    said(
      phrase`${subject(who(told))} hat zu wenig Stunden, um hier zu kommandieren`,
      `${from(commandHours, told, "figure")}, ${hours(told, "needed")} nötig`,
    ),
  "crew.hoursNotKnown": (told) =>
    said(phrase`${subject(who(told))}: Flugstunden anderswo sind nicht vermerkt`),
  "water.notSaid": () => said(phrase`${subject("See und Anzüge")} sind nicht angegeben`),
  "water.seaAbove": (told) =>
    said(
      phrase`${subject("Die See")} geht höher, als die Schwimmer vertragen`,
      `Stärke ${textOf(told, "seaState")}, höchstens ${textOf(told, "most")}`,
    ),
  "water.suitsFew": (told) =>
    said(
      phrase`${subject("Anzüge")} sind weniger als Leute im Dienst`,
      `${textOf(told, "suits")} für ${textOf(told, "aboard")}, Wasser ${textOf(told, "water_C")} °C`,
    ),
  "water.raftsFew": (told) =>
    said(
      phrase`${subject("Die Flöße")} fassen weniger als Leute im Dienst`,
      `${textOf(told, "places")} Plätze für ${textOf(told, "aboard")}`,
    ),
  "rules.minimaUnconfirmed": (told) =>
    said(
      phrase`${subject("Die Wettermindestwerte")} sind die von 2012, vom Betreiber zu bestätigen`,
      "cite" in told.reason.source ? (told.reason.source.cite ?? "") : "",
    ),
  "crew.noRules": () => said(phrase`${subject("Besatzungsregeln")} des Betreibers sind nicht vermerkt`),
  "crew.noShift": () => said(phrase`${subject("Wer Dienst hat")}, ist nicht angegeben`),
  "crew.shiftEnds": () => said(phrase`${subject("Die Schicht")} endet`, "danach ist niemand angegeben"),
  "crew.noDutyFigures": () =>
    said(
      phrase`${subject("Dienst und Ruhe")}: keine Werte vermerkt`,
      "nationale Regeln, vom Betreiber eingesetzt",
    ),
  "crew.notRested": (told) =>
    said(
      phrase`${subject(who(told))} hat nicht genug geruht`,
      `${hours(told, "rested_h")} von ${hours(told, "rest_h")}`,
    ),
  "crew.dutyTooLong": (told) =>
    said(phrase`${subject(who(told))} erreicht das Dienstende`, `höchstens ${hours(told, "duty_h")}`),
  "crew.tooFew": (told) => said(phrase`${subject(from(roles, told, "role"))} fehlt im Dienst`),
  "crew.singlePilotNight": () =>
    said(phrase`${subject("Ein Pilot bei Nacht")}: Bedingungen des Betreibers sind nicht vermerkt`),
  "crew.paperNotKnown": (told) => said(phrase`${subject(who(told))}: ${paper(told)} nicht vermerkt`),
  "crew.paperLapses": (told) => said(phrase`${subject(who(told))}: ${paper(told)} läuft ab`, lastDay(told)),
  "crew.notRecent": (told) => said(phrase`${subject(who(told))}: zu wenig ${recency(told)}`),
  "crew.recencyLapses": (told) =>
    said(phrase`${subject(who(told))}: ${recency(told)} laufen ab`, lastDay(told)),
  "crew.lapsesInShift": (told) =>
    said(phrase`${subject(who(told))}: ${lapsing(told)} läuft vor Schichtende ab`, lastDay(told)),
};

const windows: Readonly<Record<string, string>> = {
  in24h: "in 24 Stunden",
  quarter: "im Quartal",
  twoQuarters: "in zwei Quartalen",
  year: "im Kalenderjahr",
};
const windowOf = (told: Told): string =>
  `höchstens ${hours(told, "most_h")} ${from(windows, told, "window")}`;

export const crewRemedies: Readonly<Record<CrewRemedy, string>> = {
  "water.say": "See und Anzüge angeben",
  "water.suits": "Anzüge holen",
  "rules.confirm": "bestätigen oder ersetzen",
  "crew.declare": "angeben, wer Dienst hat",
  "crew.record": "vermerken lassen",
  "crew.relieve": "andere Besatzung, oder warten",
};
