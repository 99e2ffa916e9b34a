// Words of the reasons of reference calls (mass, power and fuel of an operation when no call is at hand) and of fuel.
import type { ReasonCode, RemedyCode } from "../../../core/facts/reason-codes.ts";
import type { TankBarCode } from "../../../core/fuel/tank-at.ts";
import { displayNumber } from "../../../core/quantity/display.ts";
import { kgOf } from "../load-told.ts";
import { phrase, subject } from "../phrase.ts";
import { numberOf, said, textOf } from "../told.ts";
import type { Said, Told } from "../told.ts";

export type ReferenceReason = Extract<ReasonCode, `reference.${string}` | `fuel.${string}`>;
export type ReferenceRemedy = Extract<RemedyCode, "sheet.referenceCall" | `fuel.${string}`>;

const matters: Readonly<Record<string, string>> = {
  fuel: "fuel",
  tank: "the tanks",
  mass: "the largest mass",
  leastMass: "the least mass",
  balance: "the balance",
  place: "a seat or stretcher",
  hook: "the hook",
  hoverInGroundEffect: "hover in ground effect",
  hoverOutOfGroundEffect: "hover out of ground effect",
  oneEngineInoperative: "one engine inoperative",
  climb: "climb",
  operatingLimit: "an operating limit",
};

const samples: Readonly<Record<string, string>> = { water: "water in it", particles: "particles in it" };

/** What stands against a tank of the base; at the tank, and of fuel that came from it. */
export const tankBars: Readonly<Record<TankBarCode, string>> = {
  notDescribed: "nobody has described this tank",
  notInUse: "it is out of use",
  sampleFailed: "its sample was not clear, or water was found",
  shut: "it was shut",
  otherGrade: "fuel of another grade was delivered into it",
  settling: "the fuel was still settling after a delivery",
  filterOver: "its filter is past its time",
  filterNotKnown: "when its filter was changed is not known",
  neverSampled: "it was never sampled",
  notSampledSinceDelivery: "it was not sampled after the last delivery",
  sampleOld: "its sample is out of date",
};

function barOf(told: Told): string {
  const bar = textOf(told, "bar");
  return Object.hasOwn(tankBars, bar) ? tankBars[bar as TankBarCode] : bar;
}

function litres(told: Told, name: string): string {
  const value = numberOf(told, name);
  return value === null ? "? L" : `${displayNumber(value, 0, "lower", told.locale.language)} L`;
}

function fits(told: Told, words: string): string {
  const { perhaps } = told.reason.facts;
  return typeof perhaps === "string" && perhaps !== "" ? `; ${words} ${perhaps}` : "";
}

const matter = (told: Told, name: string): string => matters[textOf(told, name)] ?? textOf(told, name);

function feet(told: Told, name: string): string {
  const value = numberOf(told, name);
  return value === null ? "? ft" : `${displayNumber(value, 0, "lower", told.locale.language)} ft`;
}

const power = (told: Told): string =>
  `${matter(told, "use")}: ${kgOf(told, "mass_kg", "higher")}, the chart gives ${kgOf(told, "most_kg", "lower")} at ${feet(told, "elevation_ft")}`;

const minutes = (told: Told, name: string, worse: "lower" | "higher"): string => {
  const value = numberOf(told, name);
  return value === null ? "?" : displayNumber(value, 0, worse, told.locale.language);
};

export const referenceReasons: Readonly<Record<ReferenceReason, (told: Told) => Said>> = {
  "fuel.notSampled": () => said(phrase`${subject("The fuel")} was filled in and not sampled`),
  "fuel.notClean": (told) =>
    said(
      phrase`${subject("The fuel sample")} is not clear`,
      samples[textOf(told, "sample")] ?? textOf(told, "sample"),
    ),
  "fuel.disagrees": (told) =>
    said(
      phrase`${subject("The fuel")} before, filled in and after do not agree`,
      `${kgOf(told, "difference_kg", "both")} apart, at most ${kgOf(told, "tolerance_kg", "lower")}${fits(told, "it would agree in")}`,
    ),
  "fuel.toleranceMissing": (told) =>
    said(
      phrase`${subject("Fuel before, filled in and after")} differ by ${kgOf(told, "difference_kg", "both")}`,
      "the sheet does not say how exact the gauges read",
    ),
  "fuel.wrongGrade": (told) =>
    said(phrase`${subject("Fuel")} of a grade that the sheet does not list: ${textOf(told, "grade")}`),
  "fuel.tankBarred": (told) =>
    said(phrase`${subject("Fuel")} was taken from ${textOf(told, "tank")}`, barOf(told)),
  "fuel.tankFailedSince": (told) =>
    said(phrase`${subject("Fuel")} came from ${textOf(told, "tank")}, whose next sample was not clear`),
  "fuel.tankNotForUse": (told) =>
    said(phrase`${subject("No fuel")} from ${textOf(told, "tank")} now`, barOf(told)),
  "fuel.tankLow": (told) =>
    said(
      phrase`${subject("The stock")} in ${textOf(told, "tank")} is low`,
      `at least ${litres(told, "left_L")} left`,
    ),
  "reference.missing": () =>
    said(phrase`${subject("The sheet")} has no reference call: mass, power and fuel are not known`),
  "reference.notKnown": (told) =>
    said(
      phrase`${subject("The reference call")} leaves ${matter(told, "matter")} open`,
      textOf(told, "what"),
    ),
  "reference.fuelShort": (told) =>
    said(
      phrase`${subject("Fuel")} is ${kgOf(told, "short_kg", "higher")} short for the reference call`,
      `${kgOf(told, "fuel_kg", "lower")} on board, ${kgOf(told, "required_kg", "higher")} required`,
    ),
  "reference.oxygenShort": (told) =>
    said(
      phrase`${subject("Oxygen")} for the time above 10,000 ft of the reference call`,
      `${minutes(told, "minutes", "higher")} min above it, ${minutes(told, "allowed_min", "lower")} min covered`,
    ),
  "reference.overloaded": (told) =>
    said(phrase`${subject("The reference call")} is outside ${matter(told, "matter")} with today's load`),
  "reference.patientUpTo": (told) =>
    said(
      phrase`${subject("The patient")} of the reference call up to ${kgOf(told, "upTo_kg", "lower")} only`,
      `usual is ${kgOf(told, "patient_kg", "higher")}; ${matter(told, "matter")} ends it`,
    ),
  "reference.powerShort": (told) =>
    said(phrase`${subject("Power")} does not suffice at any site of the reference call`, power(told)),
  "reference.siteUpTo": (told) =>
    said(phrase`${subject("Sites")} up to ${feet(told, "upTo_ft")} only`, power(told)),
};

export const referenceRemedies: Readonly<Record<ReferenceRemedy, string>> = {
  "sheet.referenceCall": "give the operation a reference call in its sheet",
  "fuel.add": "add fuel",
  "fuel.sample": "take a sample",
  "fuel.drain": "drain, and sample again",
  "fuel.setTolerance": "state the accuracy of the fuel gauges in the sheet",
  "fuel.seeToTank": "sample the tank, or see to what bars it",
  "fuel.order": "order fuel",
  "fuel.readAgain": "read again, and ask in which unit it was filled",
};
