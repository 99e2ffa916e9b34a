// Words of the reasons of reference calls (mass, power and fuel of an operation when no call is at hand) and of fuel.
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
  "fuel.readAgain": "neu ablesen und fragen, in welcher Einheit getankt wurde",
};
