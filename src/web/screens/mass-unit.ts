// Masses in kilograms or pounds, at the boundary only: everything behind it is in kilograms. The choice is kept on this
// device (chosen-units.ts).
import { useState } from "react";
import { displayNumber, type Worse } from "../../core/quantity/display.ts";
import { convert, inUnit } from "../../core/quantity/units.ts";
import { useLocale, useWords } from "../parts/words.tsx";
import { chooseUnit, chosenUnits } from "./chosen-units.ts";

export type MassUnit = "kg" | "lb";

export type MassWords = {
  readonly unit: MassUnit;
  readonly setUnit: (unit: MassUnit) => void;
  /** A mass with its unit, rounded against the reader. */
  readonly text: (mass_kg: number, worse: Worse) => string;
  readonly toUnit: (mass_kg: number) => number;
  readonly toKg: (value: number) => number;
};

export function useMassUnit(): MassWords {
  const { language } = useLocale();
  const { units } = useWords();
  const [unit, setUnit] = useState<MassUnit>(() => chosenUnits().mass);
  const toUnit = (mass_kg: number) => (unit === "kg" ? mass_kg : convert(inUnit(mass_kg, "kg"), "kg", "lb"));
  return {
    unit,
    setUnit: (next) => {
      chooseUnit("mass", next);
      setUnit(next);
    },
    text: (mass_kg, worse) => `${displayNumber(toUnit(mass_kg), 0, worse, language)}\u00a0${units[unit]}`,
    toUnit,
    toKg: (value) => (unit === "kg" ? value : convert(inUnit(value, "lb"), "lb", "kg")),
  };
}
