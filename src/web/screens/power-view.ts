// What the screen Power shows, made of a sheet's charts: for each use the margin, and what would just be met.
import type { Lack } from "../../core/chart/read-chart.ts";
import { type PowerChart, powerChartsOf } from "../../core/power/power-chart.ts";
import {
  type FlightState,
  powerFor,
  type PowerAnswer,
  type PowerLack,
  type UpTo,
  upToByAll,
} from "../../core/power/power-margin.ts";
import { windCredits } from "../../core/rules/wind-credit.ts";
import { type PowerUse, powerUses } from "../../core/sheet/chart-blocks.ts";
import type { Sheet } from "../../core/sheet/schema.ts";
import { airAt, pressureAltitudeOf } from "../../core/air/atmosphere.ts";
import { Refusal } from "../../core/quantity/refusal.ts";
import { convert, inUnit } from "../../core/quantity/units.ts";
import type { CraftConfig } from "../../core/sheet/applicability.ts";
import type { Worse } from "../../core/quantity/display.ts";
import { displayNumber } from "../../core/quantity/display.ts";
import type { PowerWords } from "../../present/words/power-words.ts";
import { amountText, placeText, quantityName, type Telling } from "./charts-view.ts";
import type { MassWords } from "./mass-unit.ts";

export type PowerRow = {
  readonly use: PowerUse;
  readonly answer: PowerAnswer;
  readonly largest: UpTo;
  readonly highest: UpTo;
  readonly hottest: UpTo;
};

/** A row for every use that the sheet has a chart for, or that an operation needs. */
export function powerRows(
  sheet: Sheet,
  craft: CraftConfig,
  state: FlightState,
  ruleSet: "eu" | "us",
): readonly PowerRow[] {
  const charts = powerChartsOf(sheet, craft);
  const needed = new Set(sheet.operations.flatMap(({ needs }) => needs.power));
  const rule = windCredits[ruleSet];
  return powerUses
    .filter((use) => needed.has(use) || charts.some((chart: PowerChart) => chart.use === use))
    .map((use) => ({
      use,
      answer: powerFor(use, charts, state, rule),
      largest: upToByAll(use, charts, "mass_kg", state, rule),
      highest: upToByAll(use, charts, "pressureAltitude_ft", state, rule),
      hottest: upToByAll(use, charts, "temperature_C", state, rule),
    }));
}

export type AirThere = { readonly pressureAltitude_ft: number; readonly densityAltitude_ft: number };

/** The air at a place; null where it cannot be: outside the standard atmosphere, or no altimeter setting. */
export function airThere(elevation_ft: number, qnh_hPa: number, temperature_C: number): AirThere | null {
  try {
    const elevation = convert(inUnit(elevation_ft, "ft"), "ft", "m");
    const qnh = convert(inUnit(qnh_hPa, "hPa"), "hPa", "Pa");
    const height = pressureAltitudeOf(elevation, qnh, { elevation: "elevation_ft", qnh: "qnh_hPa" });
    const { densityAltitude } = airAt(height, convert(inUnit(temperature_C, "C"), "C", "K"), null);
    return {
      pressureAltitude_ft: convert(height, "m", "ft"),
      densityAltitude_ft: convert(densityAltitude, "m", "ft"),
    };
  } catch (error) {
    if (error instanceof Refusal) return null;
    throw error;
  }
}

type Say = { readonly words: PowerWords; readonly telling: Telling; readonly mass: MassWords };

/** Altitudes and temperatures that are still allowed round down. */
export function upToText(one: UpTo, what: keyof typeof texts, say: Say): string {
  const { words } = say;
  switch (one.is) {
    case "upTo":
      return texts[what](one.value, say);
    case "chartEnds":
      return words.chartEnds(texts[what](one.value, say));
    case "never":
      return words.never;
    case "always":
      return words.always;
    case "notKnown":
      return words.notKnown;
    default:
      return one satisfies never;
  }
}

const texts = {
  mass: (value: number, { mass }: Say) => mass.text(value, "lower"),
  altitude: (value: number, { telling }: Say) => `${displayNumber(value, 0, "lower", telling.language)} ft`,
  temperature: (value: number, { telling }: Say) =>
    `${displayNumber(value, 0, "lower", telling.language)} °C`,
};

export function roomText({ isMet, margin_kg }: PowerAnswer, { words, mass }: Say): string {
  if (margin_kg === null) return isMet === true ? words.always : words.notKnown;
  return margin_kg < 0 ? words.over(mass.text(-margin_kg, "higher")) : mass.text(margin_kg, "lower");
}

export type Behind = { readonly said: readonly string[]; readonly points: string | null };

/** What each chart of a use was compared with and what of the wind counted, and the points it was read from. */
export function behindText({ margins }: PowerAnswer, say: Say): readonly Behind[] {
  const { words, telling } = say;
  return margins.map((margin) => {
    if (margin.is === "notKnown") {
      return { said: margin.lacks.map((lack) => lackText(lack, say)), points: null };
    }
    const { own, wind, used } = margin;
    const amount = (value: number, worse: Worse) =>
      own.quantity === "mass_kg" ? say.mass.text(value, worse) : amountText(value, own.quantity, telling);
    const points = used
      .filter(({ step }) => step === undefined || step === used.at(-1)?.step)
      .map(({ at, value }) => `${amountText(value, own.quantity, telling)} (${placeText(at, telling)})`);
    const name = asSentence(quantityName(own.quantity, telling));
    const compared = words.own(name, amount(own.value, "lower"), amount(own.limit, "higher"));
    const said = [compared, ...(wind.is === "counted" ? [countedText(wind, say)] : [])];
    return { said, points: points.join("; ") };
  });
}

const asSentence = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);

type Counted = { readonly headwind_kt: number; readonly why: keyof PowerWords["counted"] };

function countedText({ headwind_kt, why }: Counted, { words, telling }: Say): string {
  const said = words.counted[why];
  const worse: Worse = headwind_kt < 0 ? "higher" : "lower";
  const wind = `${displayNumber(Math.abs(headwind_kt), 1, worse, telling.language)} kt`;
  return typeof said === "string" ? said : said(wind);
}

function lackText(lack: PowerLack, { words, telling }: Say): string {
  switch (lack.why) {
    case "noChart":
      return words.noChart;
    case "severalWays":
      return words.severalWays;
    case "tailwindNotInChart":
      return words.tailwindNotInChart(`${displayNumber(lack.tailwind_kt, 0, "higher", telling.language)} kt`);
    default:
      return chartLackText(lack, words, telling);
  }
}

/** Why a chart was not read. */
export function chartLackText({ input, asked, range }: Lack, words: PowerWords, telling: Telling): string {
  const name = asSentence(quantityName(input, telling));
  if (asked === null || range === null) return words.missing(name);
  const amount = (value: number) => amountText(value, input, telling);
  return words.outside(name, amount(asked), amount(range[0]), amount(range[1]));
}
