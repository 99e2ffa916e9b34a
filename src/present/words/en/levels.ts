// Words of the reasons that gauges give: their age, their trend, and what does not add up.
import type { ReasonCode, RemedyCode } from "../../../core/facts/reason-codes.ts";
import type { LevelQuestionCode } from "../../../core/level/level-questions.ts";
import { levelTold } from "../level-told.ts";
import { phrase, subject } from "../phrase.ts";
import type { Phrase } from "../phrase.ts";
import { numberOf, said, textOf } from "../told.ts";
import type { Said, Told } from "../told.ts";
import { units } from "./units.ts";

export type LevelReason = Extract<
  ReasonCode,
  `level.${"stale" | "mayBeBelow" | "consumptionHigh" | "faster" | "addNow" | "nearsMark" | "comparableDue" | "asked"}`
>;
export type LevelRemedy = Extract<
  RemedyCode,
  `level.${"tellEngineer" | "add" | "readComparable" | "answer"}`
>;

const { chance, figure, gauge, hour, hours, rate, several, time, unit } = levelTold({
  units,
  unknownTime: "at an unknown time",
  gauges: (count) => `${count} gauges`,
});

const left = (told: Told): string =>
  textOf(told, "by") === "greatest"
    ? `${hours(told, "pessimistic_h", "lower")} left at the greatest consumption that the sheet allows`
    : `${hours(told, "pessimistic_h", "lower")} left if it goes badly${
        numberOf(told, "expected_h") === null ? "" : `, ${hours(told, "expected_h", "lower")} expected`
      }`;
const today = (told: Told): string => `${hours(told, "today_h", "higher")} likely today`;

const asked: Readonly<Record<LevelQuestionCode, (told: Told) => Said>> = {
  rose: (told) =>
    said(
      phrase`${subject(gauge(told))} rose and nobody wrote what was filled`,
      `by ${figure(told, "by", 1, "both")} ${unit(told)} at ${hour(told, "hours_h")}; until it is written there is no forecast`,
    ),
  usesLess: (told) =>
    said(
      phrase`${subject(gauge(told))} uses less than before: was something filled and not written?`,
      `since ${hour(told, "since_h")}`,
    ),
  runsIn: (told) =>
    said(phrase`${subject(gauge(told))} rises: something runs in`, `since ${hour(told, "since_h")}`),
  passesOver: (told) =>
    said(
      phrase`${subject(gauge(told, "from"))} loses while ${gauge(told, "to")} gains`,
      `since ${hour(told, "since_h")}`,
    ),
  upliftDisagrees: (told) =>
    said(
      phrase`${subject(gauge(told))} rose by another amount than was filled`,
      `filled ${figure(told, "filled", 1, "both")}, rose ${figure(told, "seen", 1, "both")}, read ${time(told, "at_ms")}`,
    ),
  upliftHigh: (told) =>
    said(
      phrase`${subject(gauge(told))}: more was filled than the greatest consumption: ask maintenance`,
      `${figure(told, "perHour", 2, "higher")} ${unit(told)} per hour over ${figure(told, "flown_h", 1, "lower")} h, at most ${figure(told, "most", 2, "lower")}`,
    ),
  aboveCapacity: (told) =>
    said(
      phrase`${subject(gauge(told))}: more filled than it holds`,
      `${textOf(told, "typed")} ${unit(told)} on ${figure(told, "before", 1, "both")}, full at ${figure(told, "capacity", 1, "both")}`,
    ),
  gradeNotListed: (told) =>
    said(
      phrase`${subject(gauge(told))}: filled with a grade that the sheet does not list`,
      `${textOf(told, "grade")}, ${time(told, "at_ms")}`,
    ),
  gradesMixed: (told) =>
    said(
      phrase`${subject(gauge(told))}: grades mixed that must not be`,
      `${textOf(told, "first")} and ${textOf(told, "grade")}, ${time(told, "at_ms")}`,
    ),
  gradeNotKnown: (told) =>
    said(phrase`${subject(gauge(told))}: filled, and nobody said with which grade`, time(told, "at_ms")),
  upliftNotPlaced: (told) =>
    said(
      phrase`${subject(gauge(told))}: was it filled here?`,
      `${textOf(told, "typed")} ${unit(told)} ${time(told, "at_ms")}, for one of several gauges`,
    ),
  riseNotKnown: (told) =>
    said(
      phrase`${subject(gauge(told))}: filled in ${unit(told)}, which the sheet does not turn into its reading`,
      `${textOf(told, "typed")} ${unit(told)} ${time(told, "at_ms")}; the trend starts anew`,
    ),
  upliftInFuture: (told) =>
    said(phrase`${subject(gauge(told))}: an uplift in the future`, time(told, "at_ms")),
  readingInFuture: (told) =>
    said(
      phrase`${subject(gauge(told))}: a reading in the future`,
      `${textOf(told, "typed")}, ${time(told, "at_ms")}`,
    ),
  sameInstant: (told) =>
    said(
      phrase`${subject(gauge(told))}: read and filled at one instant, which came first?`,
      `${textOf(told, "typed")}, ${time(told, "at_ms")}`,
    ),
  hoursBack: (told) =>
    said(
      phrase`${subject(gauge(told))}: the hour meter was lower than last time`,
      `${figure(told, "hours_h", 1, "both")} h, ${time(told, "at_ms")}`,
    ),
};

export const levelReasons: Readonly<Record<LevelReason, (told: Told) => Said>> = {
  "level.stale": (told) => {
    const { what, names, many } = several(told);
    const read = `${many ? "oldest " : ""}read ${time(told, "oldest_ms")}`;
    return said(phrase`${subject(what)} must be read again`, many ? `${read}: ${names}` : read);
  },
  "level.mayBeBelow": (told) =>
    said(
      phrase`${subject(gauge(told))} may be past its mark by now`,
      `${hours(told, "flown_h", "higher")} flown since it read ${textOf(told, "typed")} ${unit(told)}`,
    ),
  "level.consumptionHigh": (told) =>
    said(
      phrase`${subject(gauge(told))} uses more than its limit`,
      `${rate(told, "perHour")} (${rate(told, "low", "both")} to ${rate(told, "high", "both")}), at most ${rate(told, "most", "lower")}`,
    ),
  "level.faster": (told) => {
    const { hours: often, isRare } = chance(told);
    const now =
      numberOf(told, "perHour") === null
        ? ""
        : `: ${rate(told, "perHour")}, before ${rate(told, "normal", "both")}`;
    return said(
      told.reason.facts["used"] === false
        ? phrase`${subject(gauge(told))} changes faster than before`
        : phrase`${subject(gauge(told))} uses more than before`,
      `since ${hour(told, "since_h")}${now}; scatter alone would do this ${isRare ? "less than" : "about"} once in ${often}`,
    );
  },
  "level.addNow": (told) => said(phrase`${subject(gauge(told))}: add now`, `${left(told)}, ${today(told)}`),
  "level.nearsMark": (told) =>
    said(phrase`${subject(gauge(told))} may reach its mark today`, `${left(told)}, ${today(told)}`),
  "level.comparableDue": (told) => {
    const { what, names, many } = several(told);
    const due: Phrase = phrase`${subject(what)}: a comparable reading is due`;
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
  "level.tellEngineer": "tell the engineer",
  "level.add": "fill up, and write what and how much",
  "level.readComparable": "read it under the sheet's conditions",
  "level.answer": "answer it under Levels",
};
