// One load of one craft: everything on board with its place, the fuel from start to end, and the limits that hold. Told
// are both axes over the whole burn, the margins at the start, and every place that carries more than it may.
//
// Verdict: false as soon as one limit or place is exceeded; null (not known) when nothing is exceeded but a longitudinal
// or lateral limit is missing, since without them nobody can say that the load is inside; true otherwise.
// Places (seats, stretchers, compartments, the hoist) add up all that is in them; on their limit is met.
// Units kg and m; right and aft positive. Refuses bad numbers, all at once and each with its path.

import { atMost } from "../quantity/compare.ts";
import { atIndex, atKey, type Issue } from "../quantity/refusal.ts";
import { type BurnTrack, trackBurn } from "./burn-track.ts";
import { type FuelLine, fuelTotals } from "./fuel-line.ts";
import { checkState, type Limits, type StateCheck } from "./limits.ts";
import {
  addNumberIssue,
  addTotals,
  centreOf,
  type Item,
  type Station,
  throwIssues,
  totalsOf,
} from "./totals.ts";

export const cargoKinds = ["empty", "equipment", "person", "patient", "kit", "hook", "ballast"] as const;
export type CargoKind = (typeof cargoKinds)[number];

export type Cargo = Item & {
  readonly id: string;
  readonly kind: CargoKind;
  /** The place that it is in, by id; null for what is built in. */
  readonly place: string | null;
};

export type Place = { readonly id: string; readonly most_kg: number };

export type LoadCase = {
  readonly cargo: readonly Cargo[];
  readonly places: readonly Place[];
  readonly line: FuelLine;
  readonly fuel: { readonly from_kg: number; readonly to_kg: number };
  readonly limits: Limits;
};

export type PlaceCheck = {
  readonly id: string;
  readonly loaded_kg: number;
  readonly most_kg: number;
  /** Negative when it carries too much. */
  readonly margin_kg: number;
  readonly met: boolean;
};

export type LoadAnswer = {
  /** Null: not known. */
  readonly inside: boolean | null;
  readonly track: BurnTrack;
  /** Inside and margins at the start of the burn. */
  readonly start: StateCheck;
  /** Everything but fuel. */
  readonly withoutFuel: Station & { readonly mass_kg: number };
  readonly places: readonly PlaceCheck[];
};

export function checkLoad({ cargo, places, line, fuel, limits }: LoadCase): LoadAnswer {
  const checks = checkPlaces(cargo, places);
  const base = totalsOf(cargo, "cargo");
  const track = trackBurn(base, { line, ...fuel }, limits, { low: "fuel.to_kg", high: "fuel.from_kg" });
  const isExceeded =
    checks.some(({ met }) => !met) || Object.values(track.inside).some((inside) => inside === false);
  const isUnknown = track.inside.longitudinal === null || track.inside.lateral === null;
  return {
    inside: isExceeded ? false : isUnknown ? null : true,
    track,
    start: checkState(limits, addTotals(base, fuelTotals(line, fuel.from_kg))),
    withoutFuel: { mass_kg: base.mass_kg, ...centreOf(base, "cargo") },
    places: checks,
  };
}

function checkPlaces(cargo: readonly Cargo[], places: readonly Place[]): PlaceCheck[] {
  const issues: Issue[] = [];
  const ids = new Set(places.map(({ id }) => id));
  places.forEach(({ most_kg }, index) => {
    addNumberIssue(most_kg, atKey(atIndex("places", index), "most_kg"), 0, 1e6, "kg", issues);
  });
  cargo.forEach(({ place }, index) => {
    if (place === null || ids.has(place)) return;
    const path = atKey(atIndex("cargo", index), "place");
    issues.push({ path, code: "outsideDomain", found: place, wanted: "the id of a place" });
  });
  throwIssues(issues);
  return places.map(({ id, most_kg }) => {
    const loaded_kg = cargo.reduce((sum, item) => (item.place === id ? sum + item.mass_kg : sum), 0);
    return { id, loaded_kg, most_kg, margin_kg: most_kg - loaded_kg, met: atMost(loaded_kg, most_kg) };
  });
}
