// For tests and the demo: a weighing by the sheet's usual empty mass, and a loading that a day begins with.
import { msToInstant } from "../../core/facts/instant.ts";
import type { Sheet } from "../../core/sheet/schema.ts";
import type { LoadingShape } from "./load-entries.ts";

/** The body of `craft.weighed`: the variant's usual empty machine with the equipment that is on, at the catalogue's masses. */
export function freshWeighing(
  sheet: Pick<Sheet, "type" | "equipment">,
  variantId: string,
  equipment: Readonly<Record<string, boolean>>,
  at_ms: number,
  report: string,
) {
  const { referenceEmpty } = sheet.type.variants.find(({ id }) => id === variantId)!;
  const on = sheet.equipment.filter(({ id }) => equipment[id] === true);
  const parts = [referenceEmpty, ...on];
  const mass_kg = parts.reduce((sum, part) => sum + part.mass_kg, 0);
  const arm = (axis: "x_m" | "y_m"): number => {
    const moment = parts.reduce((sum, part) => sum + part.mass_kg * part[axis], 0);
    return Number((moment / mass_kg).toFixed(4));
  };
  return {
    mass_kg: Number(mass_kg.toFixed(1)),
    x_m: arm("x_m"),
    y_m: arm("y_m"),
    included: on.map(({ id }) => id),
    role: "engineer",
    report,
    at: msToInstant(at_ms),
    replaces: [],
  };
}

/** The body of `loading.said` with one pilot, and what is given besides. */
export function freshLoading(
  sheet: Pick<Sheet, "seats" | "masses">,
  at_ms: number,
  given: Partial<LoadingShape> & Pick<LoadingShape, "fuel_kg" | "fuelAtEnd_kg">,
  replaces: readonly string[] = [],
) {
  const pilot = sheet.seats.find(({ role }) => role === "pilot");
  const persons =
    pilot === undefined ? [] : [{ seat: pilot.id, person: null, mass_kg: sheet.masses.pilot_kg }];
  return { persons, patients: [], kit: [], ...given, at: msToInstant(at_ms), replaces: [...replaces] };
}
