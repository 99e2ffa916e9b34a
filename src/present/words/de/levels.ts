// Words of the reasons that gauges give: their age, their trend, and what does not add up.
import type { LevelQuestionCode } from "../../../core/level/level-questions.ts";
import { levelTold } from "../level-told.ts";
import type { LevelReason, LevelRemedy } from "../en/levels.ts";
import { phrase, subject } from "../phrase.ts";
import type { Phrase } from "../phrase.ts";
import { numberOf, said, textOf } from "../told.ts";
import type { Said, Told } from "../told.ts";
import { units } from "./units.ts";

const { chance, figure, gauge, hour, hours, rate, several, time, unit } = levelTold({
  units,
  unknownTime: "zu unbekannter Zeit",
  gauges: (count) => `${count} Anzeigen`,
});

const left = (told: Told): string =>
  textOf(told, "by") === "greatest"
    ? `noch ${hours(told, "pessimistic_h", "lower")} beim größten Verbrauch, den das Musterblatt zulässt`
    : `noch ${hours(told, "pessimistic_h", "lower")}, wenn es schlecht läuft${
        numberOf(told, "expected_h") === null ? "" : `, zu erwarten ${hours(told, "expected_h", "lower")}`
      }`;
const today = (told: Told): string => `heute wahrscheinlich ${hours(told, "today_h", "higher")}`;

const asked: Readonly<Record<LevelQuestionCode, (told: Told) => Said>> = {
  rose: (told) =>
    said(
      phrase`${subject(gauge(told))} ist gestiegen, und niemand hat vermerkt, was nachgefüllt wurde`,
      `um ${figure(told, "by", 1, "both")} ${unit(told)} bei ${hour(told, "hours_h")}; ohne Vermerk gibt es keine Vorhersage`,
    ),
  usesLess: (told) =>
    said(
      phrase`${subject(gauge(told))} verbraucht weniger als zuvor: wurde nachgefüllt und nicht vermerkt?`,
      `seit ${hour(told, "since_h")}`,
    ),
  runsIn: (told) =>
    said(phrase`${subject(gauge(told))} steigt: es läuft etwas hinein`, `seit ${hour(told, "since_h")}`),
  passesOver: (told) =>
    said(
      phrase`${subject(gauge(told, "from"))} verliert, während ${gauge(told, "to")} gewinnt`,
      `seit ${hour(told, "since_h")}`,
    ),
  upliftDisagrees: (told) =>
    said(
      phrase`${subject(gauge(told))} ist um anderes gestiegen, als nachgefüllt wurde`,
      `nachgefüllt ${figure(told, "filled", 1, "both")}, gestiegen ${figure(told, "seen", 1, "both")}, abgelesen ${time(told, "at_ms")}`,
    ),
  upliftHigh: (told) =>
    said(
      phrase`${subject(gauge(told))}: mehr nachgefüllt, als der größte Verbrauch hergibt: die Technik fragen`,
      `${figure(told, "perHour", 2, "higher")} ${unit(told)} je Stunde über ${figure(told, "flown_h", 1, "lower")} h, höchstens ${figure(told, "most", 2, "lower")}`,
    ),
  aboveCapacity: (told) =>
    said(
      phrase`${subject(gauge(told))}: mehr nachgefüllt, als hineinpasst`,
      `${textOf(told, "typed")} ${unit(told)} auf ${figure(told, "before", 1, "both")}, voll bei ${figure(told, "capacity", 1, "both")}`,
    ),
  gradeNotListed: (told) =>
    said(
      phrase`${subject(gauge(told))}: mit einer Sorte nachgefüllt, die das Musterblatt nicht nennt`,
      `${textOf(told, "grade")}, ${time(told, "at_ms")}`,
    ),
  gradesMixed: (told) =>
    said(
      phrase`${subject(gauge(told))}: Sorten gemischt, die nicht gemischt werden dürfen`,
      `${textOf(told, "first")} und ${textOf(told, "grade")}, ${time(told, "at_ms")}`,
    ),
  gradeNotKnown: (told) =>
    said(
      phrase`${subject(gauge(told))}: nachgefüllt, ohne dass die Sorte vermerkt wurde`,
      time(told, "at_ms"),
    ),
  upliftNotPlaced: (told) =>
    said(
      phrase`${subject(gauge(told))}: wurde hier nachgefüllt?`,
      `${textOf(told, "typed")} ${unit(told)} ${time(told, "at_ms")}, für eine von mehreren Anzeigen`,
    ),
  riseNotKnown: (told) =>
    said(
      phrase`${subject(gauge(told))}: nachgefüllt in ${unit(told)}, was das Musterblatt nicht in die Anzeige umrechnet`,
      `${textOf(told, "typed")} ${unit(told)} ${time(told, "at_ms")}; der Verlauf beginnt neu`,
    ),
  upliftInFuture: (told) =>
    said(phrase`${subject(gauge(told))}: nachgefüllt in der Zukunft`, time(told, "at_ms")),
  readingInFuture: (told) =>
    said(
      phrase`${subject(gauge(told))}: abgelesen in der Zukunft`,
      `${textOf(told, "typed")}, ${time(told, "at_ms")}`,
    ),
  sameInstant: (told) =>
    said(
      phrase`${subject(gauge(told))}: im selben Augenblick abgelesen und nachgefüllt, was war zuerst?`,
      `${textOf(told, "typed")}, ${time(told, "at_ms")}`,
    ),
  hoursBack: (told) =>
    said(
      phrase`${subject(gauge(told))}: der Stundenzähler stand tiefer als beim letzten Mal`,
      `${figure(told, "hours_h", 1, "both")} h, ${time(told, "at_ms")}`,
    ),
};

export const levelReasons: Readonly<Record<LevelReason, (told: Told) => Said>> = {
  "level.stale": (told) => {
    const { what, names, many } = several(told);
    const read = `${many ? "die älteste " : ""}abgelesen ${time(told, "oldest_ms")}`;
    return said(phrase`${subject(what)} neu abzulesen`, many ? `${read}: ${names}` : read);
  },
  "level.mayBeBelow": (told) =>
    said(
      phrase`${subject(gauge(told))} kann inzwischen an der Marke vorbei sein`,
      `${hours(told, "flown_h", "higher")} geflogen, seit ${textOf(told, "typed")} ${unit(told)} abgelesen wurden`,
    ),
  "level.consumptionHigh": (told) =>
    said(
      phrase`${subject(gauge(told))} verbraucht mehr als erlaubt`,
      `${rate(told, "perHour")} (${rate(told, "low", "both")} bis ${rate(told, "high", "both")}), höchstens ${rate(told, "most", "lower")}`,
    ),
  "level.faster": (told) => {
    const { hours: often, isRare } = chance(told);
    const now =
      numberOf(told, "perHour") === null
        ? ""
        : `: ${rate(told, "perHour")}, vorher ${rate(told, "normal", "both")}`;
    return said(
      told.reason.facts["used"] === false
        ? phrase`${subject(gauge(told))} ändert sich schneller als zuvor`
        : phrase`${subject(gauge(told))} verbraucht mehr als zuvor`,
      `seit ${hour(told, "since_h")}${now}; bloße Ablesestreuung täte das ${isRare ? "seltener als" : "etwa"} einmal in ${often}`,
    );
  },
  "level.addNow": (told) =>
    said(phrase`${subject(gauge(told))}: jetzt nachfüllen`, `${left(told)}, ${today(told)}`),
  "level.nearsMark": (told) =>
    said(phrase`${subject(gauge(told))} kann heute die Marke erreichen`, `${left(told)}, ${today(told)}`),
  "level.comparableDue": (told) => {
    const { what, names, many } = several(told);
    const due: Phrase = phrase`${subject(what)}: eine vergleichbare Ablesung ist fällig`;
    return said(due, many ? names : "");
  },
  "level.asked": (told) => {
    const code = textOf(told, "question");
    return code in asked
      ? asked[code as LevelQuestionCode](told)
      : said(phrase`${subject(gauge(told))}: ${code}`);
  },
};

export const levelRemedies: Readonly<Record<LevelRemedy, string>> = {
  "level.tellEngineer": "der Technik sagen",
  "level.add": "nachfüllen und vermerken, was und wie viel",
  "level.readComparable": "unter den Bedingungen des Musterblatts ablesen",
  "level.answer": "unter Füllstände beantworten",
};
