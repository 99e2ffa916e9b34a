import { displayNumber, type Worse } from "../../../core/quantity/display.ts";
import { dateLong } from "../formats.ts";
import { phrase, subject } from "../phrase.ts";
import { numberOf, said, textOf } from "../told.ts";
import type { Said, Told } from "../told.ts";
import type { LoadReason, LoadRemedy } from "../en/load.ts";

function kg(told: Told, name: string, worse: Worse): string {
  const value = numberOf(told, name);
  return value === null ? "? kg" : `${displayNumber(value, 0, worse, told.locale.language)} kg`;
}

function date(told: Told): string {
  const due = told.reason.facts.due;
  return typeof due === "string" ? dateLong(due, told.locale) : "?";
}

const axes: Readonly<Record<string, string>> = {
  longitudinal: "in Längsrichtung",
  lateral: "seitlich",
  coupled: "längs und seitlich zusammen",
};

function outside(told: Told): string {
  const margin_m = numberOf(told, "margin_m");
  if (numberOf(told, "fuel_kg") === null) return "";
  const by =
    margin_m === null
      ? "schon die Masse liegt außerhalb"
      : `um ${displayNumber(-margin_m * 1000, 0, "higher", told.locale.language)} mm`;
  return `${by}, am weitesten bei ${kg(told, "fuel_kg", "both")} Kraftstoff`;
}

function place(told: Told): string {
  const [block = "", id = "?"] = textOf(told, "place").split(".");
  const kind = { seats: "seat", stretchers: "stretcher", compartments: "compartment" } as const;
  return block in kind ? told.names.of(kind[block as keyof typeof kind], id) : textOf(told, "place");
}

export const loadReasons: Readonly<Record<LoadReason, (told: Told) => Said>> = {
  "load.noWeighing": () => said(phrase`${subject("Die Leermasse")} ist nicht bekannt: keine Wägung vermerkt`),
  "load.weighingOld": (told) =>
    said(
      phrase`${subject("Die Wägung")} ist mehr als vier Jahre alt`,
      `fällig am ${date(told)}, wenn nicht die Flottenmasse gilt`,
    ),
  "load.revisionDue": (told) =>
    said(
      phrase`${subject("Leermasse und Schwerpunkt")} sind neu festzustellen`,
      `Änderungen seit der Wägung ergeben ${kg(told, "net_kg", "both")}, mehr als 0,5 %`,
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
      `${kg(told, "mass_kg", "higher")} weniger an Bord`,
    ),
  "load.kitDiffers": (told) =>
    said(phrase`${subject(textOf(told, "name"))}: die Angaben widersprechen sich, ob es an Bord ist`),
  "load.placeOver": (told) =>
    said(
      phrase`${subject(place(told))} trägt zu viel`,
      `${kg(told, "loaded_kg", "higher")}, höchstens ${kg(told, "most_kg", "lower")}`,
    ),
  "load.massOutside": (told) =>
    said(
      phrase`${subject("Die Masse")} liegt außerhalb der Grenzen`,
      `${kg(told, "start_kg", "higher")} am Anfang, ${kg(told, "end_kg", "higher")} am Ende`,
    ),
  "load.balanceOutside": (told) =>
    said(
      phrase`${subject("Der Schwerpunkt")} liegt ${axes[textOf(told, "axis")] ?? ""} außerhalb der Grenzen`,
      outside(told),
    ),
  "load.patientUpTo": (told) =>
    said(
      phrase`${subject("Der Patient")} nur bis ${kg(told, "safe_kg", "lower")}`,
      `angegeben war bis ${kg(told, "most_kg", "higher")}, ${told.names.of("stretcher", textOf(told, "stretcher"))}`,
    ),
  "load.hookOutside": () =>
    said(phrase`${subject("Der Schwerpunkt")} liegt schon mit leerem Haken außerhalb der Grenzen`),
  "load.hookUpTo": (told) =>
    said(
      phrase`${subject("Am Haken")} nur bis ${kg(told, "safe_kg", "lower")}`,
      `die Winde selbst trägt ${kg(told, "most_kg", "lower")}`,
    ),
};

export const loadRemedies: Readonly<Record<LoadRemedy, string>> = {
  "load.weigh": "Maschine wägen lassen, vermerken",
  "load.say": "angeben, was an Bord ist",
  "load.kit": "holen oder aus der Beladung nehmen",
  "load.change": "Beladung ändern",
};
