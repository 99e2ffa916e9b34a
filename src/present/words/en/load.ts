// Words of mass and balance: its reasons, and the screen on which a load is said. Masses round up, margins and what is
// still permitted round down.
import type { ReasonCode, RemedyCode } from "../../../core/facts/reason-codes.ts";
import { displayNumber, type Worse } from "../../../core/quantity/display.ts";
import { dateLong } from "../formats.ts";
import { phrase, subject } from "../phrase.ts";
import { plural } from "../plural.ts";
import { numberOf, said, textOf } from "../told.ts";
import type { Said, Told } from "../told.ts";

export type LoadReason = Extract<ReasonCode, `load.${string}`>;
export type LoadRemedy = Extract<RemedyCode, `load.${string}`>;

function kg(told: Told, name: string, worse: Worse): string {
  const value = numberOf(told, name);
  return value === null ? "? kg" : `${displayNumber(value, 0, worse, told.locale.language)} kg`;
}

function date(told: Told): string {
  const due = told.reason.facts.due;
  return typeof due === "string" ? dateLong(due, told.locale) : "?";
}

const axes: Readonly<Record<string, string>> = {
  longitudinal: "fore and aft",
  lateral: "to the side",
  coupled: "fore and aft and to the side together",
};

/** Where the centre of gravity is furthest outside, with the fuel then on board. */
function outside(told: Told): string {
  const margin_m = numberOf(told, "margin_m");
  if (numberOf(told, "fuel_kg") === null) return "";
  const by =
    margin_m === null
      ? "the mass itself is beyond the limits"
      : `by ${displayNumber(-margin_m * 1000, 0, "higher", told.locale.language)} mm`;
  return `${by}, worst with ${kg(told, "fuel_kg", "both")} fuel`;
}

function place(told: Told): string {
  const [block = "", id = "?"] = textOf(told, "place").split(".");
  const kind = { seats: "seat", stretchers: "stretcher", compartments: "compartment" } as const;
  return block in kind ? told.names.of(kind[block as keyof typeof kind], id) : textOf(told, "place");
}

export const loadReasons: Readonly<Record<LoadReason, (told: Told) => Said>> = {
  "load.noWeighing": () => said(phrase`${subject("The empty mass")} is not known: no weighing is recorded`),
  "load.weighingOld": (told) =>
    said(
      phrase`${subject("The weighing")} is more than four years old`,
      `due on ${date(told)}, unless the fleet's mass is used`,
    ),
  "load.revisionDue": (told) =>
    said(
      phrase`${subject("Empty mass and balance")} are to be revised`,
      `changes since the weighing come to ${kg(told, "net_kg", "both")}, more than 0.5 %`,
    ),
  "load.notSaid": () => said(phrase`${subject("Today's load")} has not been said`),
  "load.ofAnotherDay": () => said(phrase`${subject("The load")} was said for another day`),
  "load.cannotBeComputed": (told) =>
    said(
      phrase`${subject("Mass and balance")} cannot be computed`,
      `${textOf(told, "path")}: ${textOf(told, "found")}`,
    ),
  "load.limitsMissing": () =>
    said(phrase`${subject("The sheet")} has no limits of mass and balance for this flight`),
  "load.noPilot": () => said(phrase`${subject("The load")} has too few pilots in it`),
  "load.otherCrew": (told) =>
    said(
      phrase`${subject(told.names.person(textOf(told, "person")))} is in the load and does not have the machine`,
    ),
  "load.kitLeft": (told) =>
    said(
      phrase`${subject(textOf(told, "name"))} was left behind`,
      `${kg(told, "mass_kg", "higher")} less on board`,
    ),
  "load.kitDiffers": (told) =>
    said(phrase`${subject(textOf(told, "name"))}: people differ on whether it is aboard`),
  "load.placeOver": (told) =>
    said(
      phrase`${subject(place(told))} carries too much`,
      `${kg(told, "loaded_kg", "higher")}, at most ${kg(told, "most_kg", "lower")}`,
    ),
  "load.massOutside": (told) =>
    said(
      phrase`${subject("The mass")} is outside its limits`,
      `${kg(told, "start_kg", "higher")} at the start, ${kg(told, "end_kg", "higher")} at the end`,
    ),
  "load.balanceOutside": (told) =>
    said(
      phrase`${subject("The balance")} is outside its limits ${axes[textOf(told, "axis")] ?? ""}`,
      outside(told),
    ),
  "load.patientUpTo": (told) =>
    said(
      phrase`${subject("The patient")} up to ${kg(told, "safe_kg", "lower")} only`,
      `said was up to ${kg(told, "most_kg", "higher")}, on the ${told.names.of("stretcher", textOf(told, "stretcher"))}`,
    ),
  "load.hookOutside": () =>
    said(phrase`${subject("The balance")} is outside its limits with the empty hook out`),
  "load.hookUpTo": (told) =>
    said(
      phrase`${subject("On the hook")} up to ${kg(told, "safe_kg", "lower")} only`,
      `the hoist itself takes ${kg(told, "most_kg", "lower")}`,
    ),
};

export const loadRemedies: Readonly<Record<LoadRemedy, string>> = {
  "load.weigh": "have the machine weighed, record it",
  "load.say": "say what is on board",
  "load.kit": "fetch it, or leave it out of the load",
  "load.change": "change the load",
};

export const load = {
  said: (time: string, person: string) => `Said ${time} by ${person}`,
  notSaid: "Nobody has said what is on board today",
  ofAnotherDay: "This load was said for another day. Look it through and say it again.",
  standApart: (count: number) =>
    `${count} loads were said without knowing of each other. Saying this one settles it.`,
  changed: "Changed here, not said yet",
  sayIt: "Say this load",
  sayItNote: "it counts for today",
  takeBack: "Take changes back",
  unit: "Masses in",
  aboard: "On board",
  drawing: "What is on board, place by place, nose at the top",
  drawingAcross: "What is on board, place by place, nose at the left",
  free: "free",
  noPatient: "no patient",
  patientUpTo: (mass: string) => `nobody to ${mass}`,
  nothing: "nothing",
  pieces: (count: number) => plural("en", count, { one: "1 piece", other: `${count} pieces` }),
  notInstalled: "not installed",
  takenAway: "the stretcher stands here",
  atMost: (mass: string) => `takes ${mass}`,
  who: "Who sits here",
  nobody: "Nobody",
  guest: "Somebody else",
  mass: "Mass, dressed and with what they carry",
  usual: (mass: string) => `The sheet's usual mass here is ${mass}. Better the true one.`,
  takeUsual: (mass: string) => `Take ${mass}`,
  patientMass: "Heaviest patient to expect",
  patientHint: (usual: string, heavy: string) =>
    `Usual ${usual}, heavy ${heavy}. Judged from nobody up to this.`,
  ask: {
    zero: "Nobody has no mass. Empty the place instead.",
    heavy: (mass: string) => `${mass} is more than a person. Was it meant?`,
    unit: (written: string, instead: string) => `${written}: or were ${instead} meant?`,
    take: (instead: string) => `Take ${instead}`,
  },
  fuel: "Fuel at the start",
  fuelEnd: "Least fuel at a landing",
  fuelHint: (most: string) => `The tanks hold ${most}.`,
  fuelMore: "More at the landing than at the start",
  kit: "Kit",
  addKit: "Add a piece",
  kitName: "What it is",
  kitMass: "Its mass",
  left: "Left behind",
  leaveBehind: (name: string) => `${name}: left behind`,
  isBack: (name: string) => `${name}: back aboard`,
  remove: (name: string) => `${name}: take out of the load`,
  removeShort: "Take out",
  done: "Done",
  answer: {
    inside: "Inside all limits",
    insideAll: (mass: string) => `Inside all limits, without a patient and up to ${mass}`,
    patientUpTo: (mass: string) => `Inside up to a patient of ${mass}`,
    outside: "Outside the limits",
    unknown: "Not known",
    cannot: "This load cannot be computed",
    noWeighing: "No weighing of this machine is recorded, so its empty mass is not known.",
    worst: (axis: string, fuel: string, margin: string) =>
      `Least room ${axis}: ${margin}, with ${fuel} of fuel left`,
    worstOut: (axis: string, fuel: string, by: string) =>
      `Furthest outside ${axis}: by ${by}, with ${fuel} of fuel left`,
    beyond: (fuel: string) => `With ${fuel} of fuel left the mass itself is beyond the limits`,
    axis: { longitudinal: "fore and aft", lateral: "to the side" },
    mass: (start: string, end: string) => `${start} at the start, ${end} at the end`,
    place: (place: string, loaded: string, most: string) => `${place} carries ${loaded}, at most ${most}`,
  },
  flight: { normal: "Flight", hoist: "Hoisting" },
  flights: "Limits for",
  plot: {
    longitudinal: "Fore and aft",
    lateral: "To the side",
    forward: "nose",
    aft: "tail",
    left: "left",
    right: "right",
    start: "start",
    end: "landing",
    worst: "least room",
    mass: "mass",
    describe: (name: string, start: string, end: string, inside: boolean) =>
      `${name}: from ${start} to ${end}, ${inside ? "inside the limit all the way" : "outside the limit in part"}.`,
    band: "Grey: every patient and every fuel state that is safe",
  },
  margins: "Room to each limit, the least over the whole burn",
  margin: {
    mass: "heavier",
    forward: "to the nose",
    aft: "to the tail",
    left: "to the left",
    right: "to the right",
  },
  over: (amount: string) => `${amount} beyond`,
  fits: "What would fit",
  fit: {
    fuel: (mass: string) => `Fuel at the start up to ${mass}`,
    fuelNone: "No fuel at the start makes it fit",
    patient: (place: string, mass: string) => `Patient on the ${place} up to ${mass}`,
    patientNone: (place: string) => `No patient on the ${place}`,
    hook: (mass: string) => `On the hook up to ${mass}`,
    hookNone: "Nothing on the hook",
    leave: (name: string, mass: string) => `Leave ${name} (${mass}) behind`,
    seating: (moves: string) => `Sit otherwise: ${moves}`,
    move: (person: string, seat: string) => `${person} on ${seat}`,
    none: "Nothing on its own makes it fit",
  },
  take: "Take it",
  empty: "Empty mass",
  emptyRow: (mass: string, arm: string) => `${mass} at ${arm}`,
  weighed: (date: string, report: string) => `Weighed ${date}, ${report}`,
  on: (name: string) => `${name} on`,
  off: (name: string) => `${name} off`,
  net: (mass: string) => `changes since come to ${mass}`,
  revise: "More than 0.5 %: to be revised",
};
