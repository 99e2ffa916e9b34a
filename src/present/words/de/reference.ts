// Words of the reasons of reference calls (mass, power and fuel of an operation when no call is at hand) and of fuel.
import type { TankBarCode } from "../../../core/fuel/tank-at.ts";
import { displayNumber } from "../../../core/quantity/display.ts";
import type { ReferenceReason, ReferenceRemedy } from "../en/reference.ts";
import { kgOf } from "../load-told.ts";
import { phrase, subject } from "../phrase.ts";
import { numberOf, said, textOf } from "../told.ts";
import type { Said, Told } from "../told.ts";

const matters: Readonly<Record<string, string>> = {
  fuel: "den Kraftstoff",
  tank: "die Tanks",
  mass: "die größte Masse",
  leastMass: "die kleinste Masse",
  balance: "den Schwerpunkt",
  place: "einen Sitz oder eine Trage",
  hook: "den Haken",
  hoverInGroundEffect: "das Schweben im Bodeneffekt",
  hoverOutOfGroundEffect: "das Schweben außerhalb des Bodeneffekts",
  oneEngineInoperative: "den Flug mit einem Triebwerk",
  climb: "das Steigen",
  operatingLimit: "eine Betriebsgrenze",
};

const samples: Readonly<Record<string, string>> = { water: "Wasser darin", particles: "Teilchen darin" };

/** Was gegen einen Tank der Basis spricht: am Tank selbst, und bei Kraftstoff, der aus ihm kam. */
export const tankBars: Readonly<Record<TankBarCode, string>> = {
  notDescribed: "diesen Tank hat niemand beschrieben",
  notInUse: "er ist außer Betrieb",
  sampleFailed: "seine Probe war nicht klar, oder Wasser wurde gefunden",
  shut: "er war gesperrt",
  otherGrade: "Kraftstoff einer anderen Sorte wurde hineingeliefert",
  settling: "der Kraftstoff setzte sich nach einer Lieferung noch",
  filterOver: "sein Filter ist über der Zeit",
  filterNotKnown: "wann sein Filter gewechselt wurde, ist nicht bekannt",
  neverSampled: "er wurde nie geprüft",
  notSampledSinceDelivery: "er wurde nach der letzten Lieferung nicht geprüft",
  sampleOld: "seine Probe ist zu alt",
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
  `für ${matter(told, "use")}: ${kgOf(told, "mass_kg", "higher")}, das Diagramm gibt ${kgOf(told, "most_kg", "lower")} in ${feet(told, "elevation_ft")}`;

const minutes = (told: Told, name: string, worse: "lower" | "higher"): string => {
  const value = numberOf(told, name);
  return value === null ? "?" : displayNumber(value, 0, worse, told.locale.language);
};

export const referenceReasons: Readonly<Record<ReferenceReason, (told: Told) => Said>> = {
  "fuel.notSampled": () => said(phrase`${subject("Der Kraftstoff")} wurde getankt und nicht geprüft`),
  "fuel.notClean": (told) =>
    said(
      phrase`${subject("Die Kraftstoffprobe")} ist nicht klar`,
      samples[textOf(told, "sample")] ?? textOf(told, "sample"),
    ),
  "fuel.disagrees": (told) =>
    said(
      phrase`${subject("Der Kraftstoff")} vorher, getankt und nachher passt nicht zusammen`,
      `${kgOf(told, "difference_kg", "both")} Unterschied, höchstens ${kgOf(told, "tolerance_kg", "lower")}${fits(told, "es passte in")}`,
    ),
  "fuel.toleranceMissing": (told) =>
    said(
      phrase`${subject("Kraftstoff vorher, getankt und nachher")} unterscheiden sich um ${kgOf(told, "difference_kg", "both")}`,
      "das Musterblatt sagt nicht, wie genau die Anzeigen sind",
    ),
  "fuel.wrongGrade": (told) =>
    said(
      phrase`${subject("Kraftstoff")} einer Sorte, die das Musterblatt nicht nennt: ${textOf(told, "grade")}`,
    ),
  "fuel.tankBarred": (told) =>
    said(phrase`${subject("Kraftstoff")} kam aus ${textOf(told, "tank")}`, barOf(told)),
  "fuel.tankFailedSince": (told) =>
    said(
      phrase`${subject("Kraftstoff")} kam aus ${textOf(told, "tank")}, dessen nächste Probe nicht klar war`,
    ),
  "fuel.tankNotForUse": (told) =>
    said(phrase`${subject("Kein Kraftstoff")} aus ${textOf(told, "tank")} zurzeit`, barOf(told)),
  "fuel.tankLow": (told) =>
    said(
      phrase`${subject("Der Vorrat")} in ${textOf(told, "tank")} ist gering`,
      `mindestens ${litres(told, "left_L")} übrig`,
    ),
  "reference.missing": () =>
    said(
      phrase`${subject("Das Musterblatt")} hat keinen Bezugseinsatz: Masse, Leistung und Kraftstoff sind nicht bekannt`,
    ),
  "reference.notKnown": (told) =>
    said(phrase`${subject("Der Bezugseinsatz")} lässt ${matter(told, "matter")} offen`, textOf(told, "what")),
  "reference.fuelShort": (told) =>
    said(
      phrase`${subject("Für den Bezugseinsatz")} fehlen ${kgOf(told, "short_kg", "higher")} Kraftstoff`,
      `${kgOf(told, "fuel_kg", "lower")} an Bord, ${kgOf(told, "required_kg", "higher")} nötig`,
    ),
  "reference.oxygenShort": (told) =>
    said(
      phrase`${subject("Sauerstoff")} für die Zeit über 10 000 ft des Bezugseinsatzes`,
      `${minutes(told, "minutes", "higher")} min darüber, ${minutes(told, "allowed_min", "lower")} min gedeckt`,
    ),
  "reference.overloaded": (told) =>
    said(
      phrase`${subject("Der Bezugseinsatz")} geht mit der heutigen Beladung über ${matter(told, "matter")} hinaus`,
    ),
  "reference.patientUpTo": (told) =>
    said(
      phrase`${subject("Der Patient")} des Bezugseinsatzes nur bis ${kgOf(told, "upTo_kg", "lower")}`,
      `üblich sind ${kgOf(told, "patient_kg", "higher")}; begrenzt durch ${matter(told, "matter")}`,
    ),
  "reference.powerShort": (told) =>
    said(phrase`${subject("Die Leistung")} reicht an keinem Ort des Bezugseinsatzes`, power(told)),
  "reference.siteUpTo": (told) =>
    said(phrase`${subject("Landeplätze")} nur bis ${feet(told, "upTo_ft")}`, power(told)),
};

export const referenceRemedies: Readonly<Record<ReferenceRemedy, string>> = {
  "sheet.referenceCall": "dem Betrieb im Musterblatt einen Bezugseinsatz geben",
  "fuel.add": "tanken",
  "fuel.sample": "eine Probe nehmen",
  "fuel.drain": "ablassen und neu prüfen",
  "fuel.setTolerance": "die Genauigkeit der Kraftstoffanzeigen ins Musterblatt schreiben",
  "fuel.seeToTank": "den Tank prüfen oder beheben, was ihn sperrt",
  "fuel.order": "Kraftstoff bestellen",
  "fuel.readAgain": "neu ablesen und fragen, in welcher Einheit getankt wurde",
};
