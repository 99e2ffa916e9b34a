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
    return { persons: [], patients: [], kit: [], fuel_kg: null, fuelAtEnd_kg: null, replaces };
  }
  const { persons, patients, fuel_kg, fuelAtEnd_kg } = newest;
  return { persons, patients, kit: kitAboard(newest, kit).aboard, fuel_kg, fuelAtEnd_kg, replaces };
}

/** The load as it would be recorded; null while a number of it is missing. */
export function statedOf({ persons, patients, kit, fuel_kg, fuelAtEnd_kg }: LoadDraft): StatedLoading | null {
  if (fuel_kg === null || fuelAtEnd_kg === null || fuelAtEnd_kg > fuel_kg) return null;
  const known = persons.flatMap(({ mass_kg, ...person }) =>
    mass_kg === null ? [] : [{ ...person, mass_kg }],
  );
  return known.length < persons.length ? null : { persons: known, patients, kit, fuel_kg, fuelAtEnd_kg };
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
