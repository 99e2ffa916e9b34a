// Setup: in which units this device shows and takes masses, heights and distances.
import { useState } from "react";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { useWords } from "../parts/words.tsx";
import { chooseUnit, chosenUnits, unitChoices } from "./chosen-units.ts";
import type { UnitMatter } from "./chosen-units.ts";
import { useCallWords } from "./use-call-words.ts";

export function UnitsChoice() {
  const { units: names } = useWords();
  const words = useCallWords();
  const [units, setUnits] = useState(chosenUnits);
  return (
    <section className="stack">
      <h2 className="heading-small">{words.units.heading}</h2>
      {(Object.keys(unitChoices) as UnitMatter[]).map((matter) => (
        <ChoiceRow
          key={matter}
          name={words.units[matter]}
          choices={unitChoices[matter].map((unit) => ({ value: unit as string, label: names[unit] }))}
          value={units[matter]}
          onChoose={(unit) => {
            chooseUnit(matter, unit);
            setUnits(chosenUnits());
          }}
        />
      ))}
      <p className="quiet small">{words.units.note}</p>
    </section>
  );
}
