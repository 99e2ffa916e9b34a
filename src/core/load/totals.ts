// Mass and moments of a list of masses, and the centre of gravity that they give.
//
// Moments in kg·m about the sheet's datum: x aft positive, y right positive. The centre of gravity is the moment over
// the mass. Source: any mass and balance handbook (FAA-H-8083-1, chapter 2; EASA CAT.POL.MAB); common practice.
// Refuses, all at once and each with its path: a mass that is negative, not finite or above 1e9 kg; an arm that is not
// finite or beyond 1e9 m. A mass of 0 is a mass. Where the total is 0 kg there is no centre of gravity: refused.

import { atIndex, atKey, type Issue, refuse, Refusal } from "../quantity/refusal.ts";

/** One mass at one place; the place is the centre of that mass. */
export type Item = { readonly mass_kg: number; readonly x_m: number; readonly y_m: number };

export type Station = { readonly x_m: number; readonly y_m: number };

export type Totals = { readonly mass_kg: number; readonly x_kgm: number; readonly y_kgm: number };

export const noMass: Totals = { mass_kg: 0, x_kgm: 0, y_kgm: 0 };

const largest = 1e9;

/** Sums in the order given. Zero for an empty list. */
export function totalsOf(items: readonly Item[], path = "items"): Totals {
  const issues: Issue[] = [];
  items.forEach((item, index) => addItemIssues(item, atIndex(path, index), issues));
  throwIssues(issues);
  let { mass_kg, x_kgm, y_kgm } = noMass;
  for (const item of items) {
    mass_kg += item.mass_kg;
    x_kgm += item.mass_kg * item.x_m;
    y_kgm += item.mass_kg * item.y_m;
  }
  return { mass_kg, x_kgm, y_kgm };
}

export function addTotals(one: Totals, other: Totals): Totals {
  return {
    mass_kg: one.mass_kg + other.mass_kg,
    x_kgm: one.x_kgm + other.x_kgm,
    y_kgm: one.y_kgm + other.y_kgm,
  };
}

/** Totals of one mass at a station; the mass may be negative here, to take it away again. */
export function totalsAt(station: Station, mass_kg: number): Totals {
  return { mass_kg, x_kgm: mass_kg * station.x_m, y_kgm: mass_kg * station.y_m };
}

/** The centre of gravity. Refuses a total that is not above 0 kg. */
export function centreOf(totals: Totals, path = ""): Station {
  if (!(totals.mass_kg > 0)) {
    refuse(
      path,
      "impossible",
      `a total of ${totals.mass_kg} kg`,
      "a mass above 0 kg, which alone has a centre",
    );
  }
  return { x_m: totals.x_kgm / totals.mass_kg, y_m: totals.y_kgm / totals.mass_kg };
}

export function addItemIssues(item: Item, path: string, issues: Issue[]): void {
  addNumberIssue(item.mass_kg, atKey(path, "mass_kg"), 0, largest, "kg", issues);
  addStationIssues(item, path, issues);
}

export function addStationIssues(station: Station, path: string, issues: Issue[]): void {
  addNumberIssue(station.x_m, atKey(path, "x_m"), -largest, largest, "m", issues);
  addNumberIssue(station.y_m, atKey(path, "y_m"), -largest, largest, "m", issues);
}

/** Adds an issue unless `value` is a number from `low` to `high`. */
export function addNumberIssue(
  value: number,
  path: string,
  low: number,
  high: number,
  unit: string,
  issues: Issue[],
): void {
  if (typeof value === "number" && value >= low && value <= high) return;
  const code =
    typeof value !== "number" ? "notANumber" : Number.isFinite(value) ? "outsideDomain" : "notFinite";
  issues.push({ path, code, found: String(value), wanted: `${low} … ${high} ${unit}` });
}

export function throwIssues(issues: readonly Issue[]): void {
  const [first, ...rest] = issues;
  if (first !== undefined) throw new Refusal([first, ...rest]);
}
