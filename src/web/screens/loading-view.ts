// What the screen Loading shows of a load that is being put together: who and what is where, what it comes to, and what
// would make it fit. Kept apart from the record until it is said. Pure: a draft in, numbers out.
import type { LoadFacts, LoadingFact } from "../../core/facts/load.ts";
import { evaluateApplicability } from "../../core/sheet/applicability.ts";
import type { Sheet } from "../../core/sheet/schema.ts";
import { type BurnMargins, burnMargins } from "../../core/load/burn-margins.ts";
import {
  type FlightJudgement,
  judgeLoading,
  kitAboard,
  type LoadedCraft,
  type LoadingJudgement,
  type StatedLoading,
} from "../../core/load/judge-loading.ts";
import type { Flight } from "../../core/load/from-sheet.ts";
import type { LoadCase } from "../../core/load/load-case.ts";
import { fuelTotals } from "../../core/load/fuel-line.ts";
import { intersectIntervals } from "../../core/load/interval-set.ts";
import { safeMasses } from "../../core/load/solve.ts";
import { addTotals, centreOf, totalsOf } from "../../core/load/totals.ts";
import { type Issue, Refusal } from "../../core/quantity/refusal.ts";
import type { ArmMass } from "../../present/plots/envelope-plot.ts";

/** A load in the making; a mass is null until it is known. */
export type LoadDraft = {
  readonly persons: readonly {
    readonly seat: string;
    readonly person: string | null;
    readonly mass_kg: number | null;
  }[];
  readonly patients: StatedLoading["patients"];
  readonly kit: StatedLoading["kit"];
  /** The sheet's list that it is loaded by; null where none was named. */
  readonly kitList: string | null;
  readonly fuel_kg: number | null;
  readonly fuelAtEnd_kg: number | null;
  /** Entries that it takes the place of once said: what stood when it was begun. */
  readonly replaces: readonly string[];
};

/** From the newest load that stands, with the kit that was left behind taken out; empty where there is none. */
export function draftFrom({ loadings, kit }: LoadFacts): LoadDraft {
  const newest = loadings.toSorted((a, b) => b.at_ms - a.at_ms)[0];
  const replaces = [...loadings, ...Object.values(kit).flat()].map(({ entry }) => entry);
  if (newest === undefined) {
    return { persons: [], patients: [], kit: [], kitList: null, fuel_kg: null, fuelAtEnd_kg: null, replaces };
  }
  const { persons, patients, kitList = null, fuel_kg, fuelAtEnd_kg } = newest;
  const { aboard } = kitAboard(newest, kit);
  return { persons, patients, kit: aboard, kitList, fuel_kg, fuelAtEnd_kg, replaces };
}

/** The load as it would be recorded; null while a number of it is missing. */
export function statedOf(draft: LoadDraft): StatedLoading | null {
  const { persons, patients, kit, kitList, fuel_kg, fuelAtEnd_kg } = draft;
  if (fuel_kg === null || fuelAtEnd_kg === null || fuelAtEnd_kg > fuel_kg) return null;
  const known = persons.flatMap(({ mass_kg, ...person }) =>
    mass_kg === null ? [] : [{ ...person, mass_kg }],
  );
  if (known.length < persons.length) return null;
  const by = kitList === null ? {} : { kitList };
  return { persons: known, patients, kit, ...by, fuel_kg, fuelAtEnd_kg };
}

export function isSame(draft: LoadDraft, other: LoadDraft): boolean {
  return JSON.stringify({ ...draft, replaces: [] }) === JSON.stringify({ ...other, replaces: [] });
}

export type PlaceKind = "seat" | "stretcher" | "compartment" | "fuel";
export type Place = {
  readonly id: string;
  readonly kind: PlaceKind;
  readonly x_m: number;
  readonly y_m: number;
};

export const fuelPlace = "fuel";

/** Every place of this craft that can be loaded; seats that are not installed, or that a stretcher stands on, are left out. */
export function placesOf(
  sheet: Sheet,
  { variant, installed }: Pick<LoadedCraft, "variant" | "installed">,
): Place[] {
  const stretchers = sheet.stretchers.filter(({ equipment }) => installed[equipment] === true);
  const taken = new Set(stretchers.flatMap(({ takesSeats = [] }) => takesSeats));
  const seats = sheet.seats.filter(
    ({ id, applies }) =>
      !taken.has(id) && evaluateApplicability(applies, { variant, installed }, {}).value !== false,
  );
  const tanks = sheet.tanks.filter(
    ({ equipment }) => equipment === undefined || installed[equipment] === true,
  );
  const [largest] = tanks.toSorted((a, b) => b.usable_kg - a.usable_kg);
  const of =
    (kind: PlaceKind) =>
    ({ id, x_m, y_m }: { readonly id: string; readonly x_m: number; readonly y_m: number }): Place => ({
      id,
      kind,
      x_m,
      y_m,
    });
  return [
    ...seats.map(of("seat")),
    ...stretchers.map(of("stretcher")),
    ...sheet.compartments.map(of("compartment")),
    ...(largest === undefined
      ? []
      : [{ id: fuelPlace, kind: "fuel", x_m: largest.centre_kg_m_m.at(-1)![1], y_m: 0 } as const]),
  ];
}

export type Answer =
  | { readonly kind: "judged"; readonly judgement: LoadingJudgement }
  | { readonly kind: "refused"; readonly issues: readonly Issue[] }
  | { readonly kind: "incomplete" };

export function answerOf(
  sheet: Sheet,
  craft: LoadedCraft,
  stated: StatedLoading | null,
  flights: readonly Flight[],
): Answer {
  if (stated === null) return { kind: "incomplete" };
  try {
    return { kind: "judged", judgement: judgeLoading(sheet, craft, stated, flights) };
  } catch (error) {
    if (error instanceof Refusal) return { kind: "refused", issues: error.issues };
    throw error;
  }
}

/** Inside with nobody, and up to every patient that was said. */
export function isInsideAll({ outbound, patients }: FlightJudgement): boolean {
  return (
    outbound.inside === true && patients.every(({ safeUpTo_kg, most_kg }) => (safeUpTo_kg ?? -1) >= most_kg)
  );
}

/** The smallest room without a patient and with the heaviest: the worse of both, side by side. */
export function marginsOf({ case: bare, heaviestCase }: FlightJudgement): BurnMargins {
  const [one, other] = [bare, heaviestCase].map(({ cargo, line, fuel, limits }) =>
    burnMargins(totalsOf(cargo), { line, ...fuel }, limits),
  ) as [BurnMargins, BurnMargins];
  const least = (key: keyof BurnMargins) => {
    const [a, b] = [one[key], other[key]];
    return a === null || b === null ? null : Math.min(a, b);
  };
  return {
    forward_m: least("forward_m"),
    aft_m: least("aft_m"),
    left_m: least("left_m"),
    right_m: least("right_m"),
    heavier_kg: least("heavier_kg"),
  };
}

const drawnStates = 32;

/** States along a burn, for drawing only: nothing is judged by them. */
export function drawnTrack({ cargo, line, fuel }: LoadCase, axis: "x_m" | "y_m"): ArmMass[] {
  const base = totalsOf(cargo);
  return Array.from({ length: drawnStates + 1 }, (_, index) => {
    const fuel_kg = fuel.from_kg + ((fuel.to_kg - fuel.from_kg) * index) / drawnStates;
    const totals = addTotals(base, fuelTotals(line, fuel_kg));
    return [centreOf(totals)[axis], totals.mass_kg] as const;
  });
}

/** Around everything from no patient to the greatest safe one, over the whole burn. */
export function drawnBand(sheet: Sheet, judged: FlightJudgement, axis: "x_m" | "y_m"): ArmMass[] {
  const [patient] = judged.patients;
  if (patient === undefined || patient.safeUpTo_kg === null) return [];
  const stretcher = sheet.stretchers.find(({ id }) => id === patient.stretcher);
  if (stretcher === undefined) return [];
  const { x_m, y_m } = stretcher;
  const heavy = {
    id: "patient",
    kind: "patient",
    place: null,
    mass_kg: patient.safeUpTo_kg,
    x_m,
    y_m,
  } as const;
  const out = drawnTrack(judged.case, axis);
  const back = drawnTrack({ ...judged.case, cargo: [...judged.case.cargo, heavy] }, axis);
  return [...out, ...back.toReversed()];
}

/** The state in which there is least room: without a patient, or with the heaviest. */
export function worstState(judged: FlightJudgement): {
  readonly x_m: number;
  readonly y_m: number;
  readonly mass_kg: number;
  readonly fuel_kg: number;
  readonly axis: "longitudinal" | "lateral";
  readonly margin_m: number | null;
} | null {
  // Of two as bad, the heavier.
  const both = [
    { load: judged.heaviestCase, worst: judged.heaviest.track.worst },
    { load: judged.case, worst: judged.outbound.track.worst },
  ];
  const roomOf = (margin_m: number | null | undefined) => margin_m ?? Number.NEGATIVE_INFINITY;
  const [first] = both
    .filter(({ worst }) => worst !== null)
    .toSorted((a, b) => roomOf(a.worst?.margin_m) - roomOf(b.worst?.margin_m));
  if (first === undefined || first.worst === null) return null;
  const { fuel_kg, axis, margin_m } = first.worst;
  const totals = addTotals(totalsOf(first.load.cargo), fuelTotals(first.load.line, fuel_kg));
  return { ...centreOf(totals), mass_kg: totals.mass_kg, fuel_kg, axis, margin_m };
}

/** Kit each piece of which, left behind alone, makes the load fit. Empty where it fits already. */
export function kitToLeave(
  sheet: Sheet,
  craft: LoadedCraft,
  stated: StatedLoading,
  flight: Flight,
): StatedLoading["kit"] {
  return stated.kit.filter(({ kit }) => {
    const lighter = { ...stated, kit: stated.kit.filter((other) => other.kit !== kit) };
    const answer = answerOf(sheet, craft, lighter, [flight]);
    return answer.kind === "judged" && answer.judgement.flights.every(isInsideAll);
  });
}

/** The least mass in one place that makes the load fit, for each place where one does; empty where it fits already. */
export function ballastFor(sheet: Sheet, judged: FlightJudgement): readonly Ballast[] {
  if (isInsideAll(judged)) return [];
  return sheet.compartments.flatMap(({ id, x_m, y_m, maxMass_kg }) => {
    const held_kg = judged.case.cargo
      .filter(({ place }) => place === `compartments.${id}`)
      .reduce((sum, { mass_kg }) => sum + mass_kg, 0);
    const most_kg = maxMass_kg - held_kg;
    if (most_kg <= 0) return [];
    const sets = [judged.case, judged.heaviestCase].map(({ cargo, line, fuel, limits }) => {
      const fuel_kg = { low: fuel.to_kg, high: fuel.from_kg };
      const mass_kg = { low: 0, high: most_kg };
      return safeMasses({ base: totalsOf(cargo), station: { x_m, y_m }, mass_kg, line, fuel_kg }, limits).set;
    });
    const [least] = intersectIntervals(sets[0]!, sets[1]!);
    // Whole kilograms, as somebody would load them, where the next one above still fits.
    const mass_kg = least === undefined ? null : Math.ceil(least.low - 1e-9);
    return least === undefined || mass_kg === null || mass_kg < 1 || mass_kg > least.high
      ? []
      : [{ at: id, mass_kg }];
  });
}

export type Ballast = { readonly at: string; readonly mass_kg: number };

/** The coupled limits that hold somewhere on the burn with the heaviest patient, with the part of it to which they do. */
export function coupledPlots({ heaviestCase }: FlightJudgement): readonly CoupledPlot[] {
  const { cargo, line, fuel, limits } = heaviestCase;
  const base = totalsOf(cargo);
  const states = Array.from({ length: drawnStates + 1 }, (_, index) => {
    const fuel_kg = fuel.from_kg + ((fuel.to_kg - fuel.from_kg) * index) / drawnStates;
    return addTotals(base, fuelTotals(line, fuel_kg));
  });
  return limits.coupled.flatMap(({ outline, above_kg, upTo_kg }) => {
    const held = states.filter(({ mass_kg }) => mass_kg >= above_kg && mass_kg <= upTo_kg);
    if (held.length === 0) return [];
    const track = held.map((totals): ArmMass => {
      const { x_m, y_m } = centreOf(totals);
      return [x_m, y_m];
    });
    return [{ limit: outline.corners, track, above_kg, upTo_kg }];
  });
}

export type CoupledPlot = {
  /** [x_m, y_m] */
  readonly limit: readonly ArmMass[];
  readonly track: readonly ArmMass[];
  readonly above_kg: number;
  readonly upTo_kg: number;
};

/** The same persons on other seats of their kind that make the load fit, first found with the fewest moves; null for none. */
export function otherSeating(
  sheet: Sheet,
  craft: LoadedCraft,
  stated: StatedLoading,
  flight: Flight,
  free: readonly string[],
): StatedLoading["persons"] | null {
  const role = new Map(sheet.seats.map(({ id, role: kind }) => [id, kind]));
  const isPilot = (seat: string) => role.get(seat) === "pilot";
  for (const [index, person] of stated.persons.entries()) {
    if (isPilot(person.seat)) continue;
    for (const seat of free) {
      if (isPilot(seat)) continue;
      const persons = stated.persons.with(index, { ...person, seat });
      const answer = answerOf(sheet, craft, { ...stated, persons }, [flight]);
      if (answer.kind === "judged" && answer.judgement.flights.every(isInsideAll)) return persons;
    }
  }
  return null;
}

export function newestLoading({ loadings }: LoadFacts): LoadingFact | null {
  return loadings.toSorted((a, b) => b.at_ms - a.at_ms)[0] ?? null;
}

/** An id that no kit of the load has yet. */
export function freshKit(name: string, { kit }: LoadDraft): string {
  const letters = name.normalize("NFKD").replaceAll(/[^A-Za-z0-9]/gu, "");
  const stem = /^[A-Za-z]/u.test(letters) ? letters.slice(0, 40) : `kit${letters.slice(0, 40)}`;
  let id = stem;
  for (let count = 2; kit.some((one) => one.kit === id); count += 1) id = `${stem}-${count}`;
  return id;
}
