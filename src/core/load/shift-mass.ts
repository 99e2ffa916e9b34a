// Moving a mass that is already on board from one station to another. The total stays, the moment changes by the mass
// times the way, so mass moved / total = change of the centre / way (FAA-H-8083-25, chapter 10, weight shifting).
//
// Along one axis only: the other axis' limits are not looked at here; check the load again after the move.
// Refuses: a total not above 0 kg, a negative mass, more than is on board, a way of nothing.

import { refuse } from "../quantity/refusal.ts";
import { addTotals, centreOf, type Station, type Totals, totalsAt } from "./totals.ts";

/** The totals after `mass_kg` went from one station to another. */
export function moveMass(totals: Totals, mass_kg: number, from: Station, to: Station): Totals {
  if (!(mass_kg >= 0 && mass_kg <= totals.mass_kg)) {
    refuse("mass_kg", "outsideDomain", `${mass_kg} kg`, `0 … ${totals.mass_kg} kg, what is on board`);
  }
  return addTotals(addTotals(totals, totalsAt(from, -mass_kg)), totalsAt(to, mass_kg));
}

/** The mass to move from x to x for the centre to be at `wanted_m`; negative when it would have to go the other way. */
export function massToMove(totals: Totals, from_m: number, to_m: number, wanted_m: number): number {
  const { x_m } = centreOf(totals);
  if (!(Math.abs(to_m - from_m) > 0)) {
    refuse("to_m", "impossible", `a way from ${from_m} m to ${to_m} m`, "two different stations");
  }
  return (totals.mass_kg * (wanted_m - x_m)) / (to_m - from_m);
}
