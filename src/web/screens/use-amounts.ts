// Masses, heights and distances with their units, as this device shows them.
import { useState } from "react";
import { useLocale, useWords } from "../parts/words.tsx";
import { type Amounts, amountsIn } from "./call-units.ts";
import { chosenUnits } from "./chosen-units.ts";

export function useAmounts(): Amounts {
  const { language } = useLocale();
  const { units: names } = useWords();
  const [units] = useState(chosenUnits);
  return amountsIn(units, language, names);
}
