import { dueDateOf, kgOf, kitDifferences, outsideBy, placeOf } from "../load-told.ts";
import { phrase, subject } from "../phrase.ts";
import { numberOf, said, textOf } from "../told.ts";
import type { Said, Told } from "../told.ts";
import type { LoadReason, LoadRemedy } from "../en/load.ts";

const axes: Readonly<Record<string, string>> = {
  longitudinal: "in Längsrichtung",
  lateral: "seitlich",
  coupled: "längs und seitlich zusammen",
};

/** How far the centre of gravity is outside at its worst, with the fuel then on board. */
function outside(told: Told): string {
  if (numberOf(told, "fuel_kg") === null) return "";
  const by = outsideBy(told);
  return `${by === null ? "schon die Masse liegt außerhalb" : `um ${by}`}, am weitesten bei ${kgOf(told, "fuel_kg", "both")} Kraftstoff`;
}

export const loadReasons: Readonly<Record<LoadReason, (told: Told) => Said>> = {
  "load.noWeighing": () => said(phrase`${subject("Die Leermasse")} ist nicht bekannt: keine Wägung vermerkt`),
  "load.weighingOld": (told) =>
    said(
      phrase`${subject("Die Wägung")} ist mehr als vier Jahre alt`,
      `fällig am ${dueDateOf(told)}, wenn nicht die Flottenmasse gilt`,
    ),
  "load.revisionDue": (told) =>
    said(
      phrase`${subject("Leermasse und Schwerpunkt")} sind neu festzustellen`,
      `Änderungen seit der Wägung ergeben ${kgOf(told, "net_kg", "both")}, mehr als 0,5 %`,
    ),
  "load.notSaid": () => said(phrase`${subject("Die heutige Beladung")} ist noch nicht angegeben`),
  "load.ofAnotherDay": () => said(phrase`${subject("Die Beladung")} wurde für einen anderen Tag angegeben`),
  "load.cannotBeComputed": (told) =>
    said(
      phrase`${subject("Masse und Schwerpunkt")} lassen sich nicht berechnen`,
      `${textOf(told, "path")}: ${textOf(told, "found")}`,
    ),
  "load.limitsMissing": () =>
    said(phrase`${subject("Das Musterblatt")} hat für diesen Flug keine Grenzen für Masse und Schwerpunkt`),
  "load.noPilot": () => said(phrase`${subject("In der Beladung")} sind zu wenige Piloten`),
  "load.otherCrew": (told) =>
    said(
      phrase`${subject(told.names.person(textOf(told, "person")))} steht in der Beladung und hat die Maschine nicht`,
    ),
  "load.kitLeft": (told) =>
    said(
      phrase`${subject(textOf(told, "name"))} wurde zurückgelassen`,
      `${kgOf(told, "mass_kg", "higher")} weniger an Bord`,
    ),
  "load.kitDiffers": (told) =>
    said(phrase`${subject(textOf(told, "name"))}: die Angaben widersprechen sich, ob es an Bord ist`),
  "load.notAsListed": (told) =>
    said(
      phrase`${subject("Die Ausrüstung")} weicht von der Liste ${told.names.of("kitList", textOf(told, "kitList"))} ab`,
      kitDifferences(told, { missing: "fehlt", twice: "doppelt", different: "anders" }),
    ),
  "load.listGone": (told) =>
    said(
      phrase`${subject("Die Ausrüstung")} wurde nach einer Liste geladen, die das Musterblatt nicht mehr hat`,
      textOf(told, "kitList"),
    ),
  "load.placeOver": (told) =>
    said(
      phrase`${subject(placeOf(told))} trägt zu viel`,
      `${kgOf(told, "loaded_kg", "higher")}, höchstens ${kgOf(told, "most_kg", "lower")}`,
    ),
  "load.massOutside": (told) =>
    said(
      phrase`${subject("Die Masse")} liegt außerhalb der Grenzen`,
      `${kgOf(told, "start_kg", "higher")} am Anfang, ${kgOf(told, "end_kg", "higher")} am Ende`,
    ),
  "load.balanceOutside": (told) =>
    said(
      phrase`${subject("Der Schwerpunkt")} liegt ${axes[textOf(told, "axis")] ?? ""} außerhalb der Grenzen`,
      outside(told),
    ),
  "load.patientUpTo": (told) =>
    said(
      phrase`${subject("Der Patient")} nur bis ${kgOf(told, "safe_kg", "lower")}`,
      `angegeben war bis ${kgOf(told, "most_kg", "higher")}, ${told.names.of("stretcher", textOf(told, "stretcher"))}`,
    ),
  "load.hookOutside": () =>
    said(phrase`${subject("Der Schwerpunkt")} liegt schon mit leerem Haken außerhalb der Grenzen`),
  "load.hookUpTo": (told) =>
    said(
      phrase`${subject("Am Haken")} nur bis ${kgOf(told, "safe_kg", "lower")}`,
      `die Winde selbst trägt ${kgOf(told, "most_kg", "lower")}`,
    ),
};

export const loadRemedies: Readonly<Record<LoadRemedy, string>> = {
  "load.weigh": "Maschine wägen lassen, vermerken",
  "load.say": "angeben, was an Bord ist",
  "load.kit": "holen oder aus der Beladung nehmen",
  "load.change": "Beladung ändern",
};
