import { displayNumber, type Worse } from "../../../core/quantity/display.ts";
import { dateLong } from "../formats.ts";
import { phrase, subject } from "../phrase.ts";
import { plural } from "../plural.ts";
import { numberOf, said, textOf } from "../told.ts";
import type { Said, Told } from "../told.ts";
import type { LoadReason, LoadRemedy } from "../en/load.ts";
import type { Words } from "../words.ts";

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

export const load: Words["load"] = {
  said: (time, person) => `Angegeben ${time} von ${person}`,
  notSaid: "Niemand hat angegeben, was heute an Bord ist",
  ofAnotherDay: "Diese Beladung galt einem anderen Tag. Bitte durchsehen und neu angeben.",
  standApart: (count) => `${count} Beladungen wurden unabhängig voneinander angegeben. Diese hier klärt es.`,
  changed: "Hier geändert, noch nicht angegeben",
  sayIt: "Beladung angeben",
  sayItNote: "sie gilt für heute",
  takeBack: "Änderungen zurücknehmen",
  unit: "Massen in",
  aboard: "An Bord",
  drawing: "Was an Bord ist, Platz für Platz, Nase oben",
  drawingAcross: "Was an Bord ist, Platz für Platz, Nase links",
  free: "frei",
  noPatient: "kein Patient",
  patientUpTo: (mass) => `niemand bis ${mass}`,
  nothing: "nichts",
  pieces: (count) => plural("de", count, { one: "1 Stück", other: `${count} Stück` }),
  notInstalled: "nicht eingebaut",
  takenAway: "hier steht die Trage",
  atMost: (mass) => `trägt ${mass}`,
  who: "Wer sitzt hier",
  nobody: "Niemand",
  guest: "Jemand anderes",
  mass: "Masse, bekleidet und mit Gepäck am Körper",
  usual: (mass) => `Das Musterblatt rechnet hier mit ${mass}. Besser die wahre.`,
  takeUsual: (mass) => `${mass} nehmen`,
  patientMass: "Schwerster zu erwartender Patient",
  patientHint: (usual, heavy) => `Üblich ${usual}, schwer ${heavy}. Geprüft von niemand bis hierher.`,
  ask: {
    zero: "Niemand hat keine Masse. Den Platz stattdessen leeren.",
    heavy: (mass) => `${mass} ist mehr als ein Mensch. War das gemeint?`,
    unit: (written, instead) => `${written}: oder waren ${instead} gemeint?`,
    take: (instead) => `${instead} nehmen`,
  },
  fuel: "Kraftstoff am Anfang",
  fuelEnd: "Geringster Kraftstoff bei einer Landung",
  fuelHint: (most) => `In die Tanks gehen ${most}.`,
  fuelMore: "Bei der Landung mehr als am Anfang",
  kit: "Ausrüstung",
  addKit: "Stück hinzufügen",
  kitName: "Was es ist",
  kitMass: "Seine Masse",
  left: "Zurückgelassen",
  leaveBehind: (name) => `${name}: zurückgelassen`,
  isBack: (name) => `${name}: wieder an Bord`,
  remove: (name) => `${name}: aus der Beladung nehmen`,
  removeShort: "Herausnehmen",
  done: "Fertig",
  answer: {
    inside: "Innerhalb aller Grenzen",
    insideAll: (mass) => `Innerhalb aller Grenzen, ohne Patient und bis ${mass}`,
    patientUpTo: (mass) => `Innerhalb bis zu einem Patienten von ${mass}`,
    outside: "Außerhalb der Grenzen",
    unknown: "Nicht bekannt",
    cannot: "Diese Beladung lässt sich nicht berechnen",
    noWeighing: "Für diese Maschine ist keine Wägung vermerkt, die Leermasse ist also nicht bekannt.",
    worst: (axis, fuel, margin) => `Am knappsten ${axis}: ${margin}, bei ${fuel} Restkraftstoff`,
    worstOut: (axis, fuel, by) => `Am weitesten außerhalb ${axis}: um ${by}, bei ${fuel} Restkraftstoff`,
    beyond: (fuel) => `Bei ${fuel} Restkraftstoff liegt schon die Masse außerhalb`,
    axis: { longitudinal: "in Längsrichtung", lateral: "seitlich" },
    mass: (start, end) => `${start} am Anfang, ${end} am Ende`,
    place: (name, loaded, most) => `${name} trägt ${loaded}, höchstens ${most}`,
  },
  flight: { normal: "Flug", hoist: "Winde" },
  flights: "Grenzen für",
  plot: {
    longitudinal: "Längs",
    lateral: "Seitlich",
    forward: "Nase",
    aft: "Heck",
    left: "links",
    right: "rechts",
    start: "Anfang",
    end: "Landung",
    worst: "am knappsten",
    mass: "Masse",
    describe: (name, start, end, inside) =>
      `${name}: von ${start} bis ${end}, ${inside ? "durchweg innerhalb der Grenze" : "zum Teil außerhalb der Grenze"}.`,
    band: "Grau: jeder Patient und jeder Kraftstoffstand, der sicher ist",
  },
  margins: "Spielraum zu jeder Grenze, der kleinste im ganzen Verbrauch",
  margin: {
    mass: "schwerer",
    forward: "zur Nase",
    aft: "zum Heck",
    left: "nach links",
    right: "nach rechts",
  },
  over: (amount) => `${amount} darüber`,
  fits: "Was passen würde",
  fit: {
    fuel: (mass) => `Kraftstoff am Anfang bis ${mass}`,
    fuelNone: "Mit keinem Kraftstoff am Anfang passt es",
    patient: (name, mass) => `Patient auf ${name} bis ${mass}`,
    patientNone: (name) => `Kein Patient auf ${name}`,
    hook: (mass) => `Am Haken bis ${mass}`,
    hookNone: "Nichts am Haken",
    leave: (name, mass) => `${name} (${mass}) zurücklassen`,
    seating: (moves) => `Anders sitzen: ${moves}`,
    move: (person, seat) => `${person} auf ${seat}`,
    none: "Nichts für sich allein macht es passend",
  },
  take: "Übernehmen",
  empty: "Leermasse",
  emptyRow: (mass, arm) => `${mass} bei ${arm}`,
  weighed: (date, report) => `Gewogen ${date}, ${report}`,
  on: (name) => `${name} eingebaut`,
  off: (name) => `${name} ausgebaut`,
  net: (mass) => `Änderungen seither ergeben ${mass}`,
  revise: "Mehr als 0,5 %: neu festzustellen",
};
