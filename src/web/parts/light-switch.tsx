// Day, dark, red, goggles. Leaving red or goggles for a brighter light is asked about first: one slip of a glove would
// cost everybody in the cockpit their eyes for half an hour.
import { useState } from "react";
import { isDim, lights } from "../look/light.ts";
import type { Light } from "../look/light.ts";
import { ChoiceRow } from "./choice-row.tsx";
import { Notice } from "./notice.tsx";
import { TwoButtons } from "./two-buttons.tsx";
import { useWords } from "./words.tsx";

type LightSwitchProps = { readonly light: Light; readonly onLight: (light: Light) => void };

export function LightSwitch({ light, onLight }: LightSwitchProps) {
  const { light: words } = useWords().app;
  const [asked, setAsked] = useState<Light | null>(null);
  const choose = (next: Light) => {
    if (isDim(light) && !isDim(next)) setAsked(next);
    else {
      setAsked(null);
      onLight(next);
    }
  };
  return (
    <div className="stack">
      <ChoiceRow
        name={words.name}
        choices={lights.map((value) => ({ value, label: words[value] }))}
        value={light}
        onChoose={choose}
      />
      {asked !== null && (
        <>
          <Notice title={words.bright(words[asked])} />
          <TwoButtons
            left={{
              children: words.switchTo(words[asked]),
              onPress: () => {
                setAsked(null);
                onLight(asked);
              },
            }}
            right={{ children: words.stay, onPress: () => setAsked(null) }}
          />
        </>
      )}
    </div>
  );
}
