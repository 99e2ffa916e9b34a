// Where somebody who boards in a call can sit or lie, and who has that place already.
//
// In: sheet, record, what the loading fills, the call. Out: the stations that this craft has now (stretchers first, seats
// after, each in the order of the sheet), and every place that two would have at once. A seat that does not apply, or on
// which an installed stretcher stands, is none; where it is not known whether it is there, it is none either.
import type { CraftState } from "../facts/craft.ts";
import { own } from "../facts/own.ts";
import type { Station } from "../load/totals.ts";
import { evaluateApplicability } from "../sheet/applicability.ts";
import type { Sheet } from "../sheet/schema.ts";
import { craftConfigOf } from "../walk/craft-config.ts";
import type { Boarding, Call, Margin } from "./call.ts";
import { isBroken } from "./call-margin.ts";

/** A seat or stretcher, and the most that it takes. */
export type BoardingPlace = Station & { readonly id: string; readonly most_kg: number };

export function boardingPlaces(sheet: Sheet, state: CraftState): readonly BoardingPlace[] {
  const craft = craftConfigOf(state);
  const installed = (equipment: string): readonly boolean[] =>
    (own(state.equipment, equipment) ?? []).map((fact) => fact.installed);
  const stretchers = sheet.stretchers.filter(({ equipment }) => {
    const said = installed(equipment);
    return said.length > 0 && said.every(Boolean);
  });
  const underStretchers = new Set(
    sheet.stretchers
      .filter(({ equipment }) => installed(equipment).some(Boolean))
      .flatMap(({ takesSeats = [] }) => takesSeats),
  );
  const seats = sheet.seats.filter(
    ({ id, applies }) => !underStretchers.has(id) && evaluateApplicability(applies, craft, {}).value === true,
  );
  return [...stretchers, ...seats].map(({ id, x_m, y_m, maxMass_kg }) => ({
    id,
    x_m,
    y_m,
    most_kg: maxMass_kg,
  }));
}

/** Where somebody who boards sits or lies; null where the craft has no such place. */
export function stationOf(sheet: Sheet, state: CraftState, at: string): BoardingPlace | null {
  return boardingPlaces(sheet, state).find(({ id }) => id === at) ?? null;
}

/** Who is aboard on each leg, beside the loading. */
export function aboardOnLegs({ aboard, stops }: Call): readonly (readonly Boarding[])[] {
  let held: readonly Boarding[] = aboard;
  return stops.map((_stop, leg) => {
    const before = stops[leg - 1];
    if (before !== undefined)
      held = [...held.filter(({ id }) => !before.leaves.includes(id)), ...before.boards];
    return held;
  });
}

/** Not met at the stop at which somebody boards onto a place that somebody else has; a place once for a stop. */
export function doubledPlaces(call: Call, taken: readonly string[]): readonly Margin[] {
  const found = new Map<string, Margin>();
  for (const [leg, aboard] of aboardOnLegs(call).entries()) {
    const held = new Set(taken);
    for (const { at } of aboard) {
      if (held.has(at) && ![...found.values()].some(({ what }) => what === at))
        found.set(at, { ...isBroken("seat"), stop: leg - 1, what: at });
      held.add(at);
    }
  }
  return [...found.values()];
}
