// Words of the reasons of mass and balance. Masses round up, margins and what is still permitted round down.
import type { ReasonCode, RemedyCode } from "../../../core/facts/reason-codes.ts";
import { dueDateOf, kgOf, kitDifferences, outsideBy, placeOf } from "../load-told.ts";
import { phrase, subject } from "../phrase.ts";
import { numberOf, said, textOf } from "../told.ts";
import type { Said, Told } from "../told.ts";

export type LoadReason = Extract<ReasonCode, `load.${string}`>;
export type LoadRemedy = Extract<RemedyCode, `load.${string}`>;

const axes: Readonly<Record<string, string>> = {
  longitudinal: "fore and aft",
  lateral: "to the side",
  coupled: "fore and aft and to the side together",
};

/** How far the centre of gravity is outside at its worst, with the fuel then on board. */
function outside(told: Told): string {
  if (numberOf(told, "fuel_kg") === null) return "";
  const by = outsideBy(told);
  return `${by === null ? "the mass itself is beyond the limits" : `by ${by}`}, worst with ${kgOf(told, "fuel_kg", "both")} fuel`;
}

export const loadReasons: Readonly<Record<LoadReason, (told: Told) => Said>> = {
  "load.noWeighing": () => said(phrase`${subject("The empty mass")} is not known: no weighing is recorded`),
  "load.weighingOld": (told) =>
    said(
      phrase`${subject("The weighing")} is more than four years old`,
      `due on ${dueDateOf(told)}, unless the fleet's mass is used`,
    ),
  "load.revisionDue": (told) =>
    said(
      phrase`${subject("Empty mass and balance")} are to be revised`,
      `changes since the weighing come to ${kgOf(told, "net_kg", "both")}, more than 0.5 %`,
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
      `${kgOf(told, "mass_kg", "higher")} less on board`,
    ),
  "load.kitDiffers": (told) =>
    said(phrase`${subject(textOf(told, "name"))}: people differ on whether it is aboard`),
  "load.notAsListed": (told) =>
    said(
      phrase`${subject("The kit")} is not as the list ${told.names.of("kitList", textOf(told, "kitList"))} says`,
      kitDifferences(told, { missing: "missing", twice: "there twice", different: "different" }),
    ),
  "load.listGone": (told) =>
    said(
      phrase`${subject("The kit")} was loaded by a list that the sheet no longer has`,
      textOf(told, "kitList"),
    ),
  "load.placeOver": (told) =>
    said(
      phrase`${subject(placeOf(told))} carries too much`,
      `${kgOf(told, "loaded_kg", "higher")}, at most ${kgOf(told, "most_kg", "lower")}`,
    ),
  "load.massOutside": (told) =>
    said(
      phrase`${subject("The mass")} is outside its limits`,
      `${kgOf(told, "start_kg", "higher")} at the start, ${kgOf(told, "end_kg", "higher")} at the end`,
    ),
  "load.balanceOutside": (told) =>
    said(
      phrase`${subject("The balance")} is outside its limits ${axes[textOf(told, "axis")] ?? ""}`,
      outside(told),
    ),
  "load.patientUpTo": (told) =>
    said(
      phrase`${subject("The patient")} up to ${kgOf(told, "safe_kg", "lower")} only`,
      `said was up to ${kgOf(told, "most_kg", "higher")}, on the ${told.names.of("stretcher", textOf(told, "stretcher"))}`,
    ),
  "load.hookOutside": () =>
    said(phrase`${subject("The balance")} is outside its limits with the empty hook out`),
  "load.hookUpTo": (told) =>
    said(
      phrase`${subject("On the hook")} up to ${kgOf(told, "safe_kg", "lower")} only`,
      `the hoist itself takes ${kgOf(told, "most_kg", "lower")}`,
    ),
};

export const loadRemedies: Readonly<Record<LoadRemedy, string>> = {
  "load.weigh": "have the machine weighed, record it",
  "load.say": "say what is on board",
  "load.kit": "fetch it, or leave it out of the load",
  "load.change": "change the load",
};
