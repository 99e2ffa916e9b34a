// The units in which this device shows and takes masses, heights and distances: at the boundary only, everything behind it
// is in kilograms, feet and nautical miles. The choice is kept on this device, as light and language are.
export const unitChoices = { mass: ["kg", "lb"], height: ["ft", "m"], distance: ["nm", "km"] } as const;
export type UnitMatter = keyof typeof unitChoices;
export type ChosenUnits = { readonly [Matter in UnitMatter]: (typeof unitChoices)[Matter][number] };

export const usualUnits: ChosenUnits = { mass: "kg", height: "ft", distance: "nm" };

const kept = (matter: UnitMatter): string => `preen.${matter}Unit`;

export function chosenUnits(): ChosenUnits {
  const said = (matter: UnitMatter): string | null => localStorage.getItem(kept(matter));
  return {
    mass: said("mass") === "lb" ? "lb" : "kg",
    height: said("height") === "m" ? "m" : "ft",
    distance: said("distance") === "km" ? "km" : "nm",
  };
}

export function chooseUnit(matter: UnitMatter, unit: string): void {
  localStorage.setItem(kept(matter), unit);
}
