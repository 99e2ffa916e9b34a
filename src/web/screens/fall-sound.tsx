// Setup: whether a fall sounds on this device, and how it does.
import { useState } from "react";
import { isSoundOn, setSound, soundOnce } from "../look/alarm.ts";
import { Button } from "../parts/button.tsx";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { useLineWords } from "./use-line-words.ts";

export function FallSound() {
  const { sound: words } = useLineWords();
  const [isOn, setOn] = useState(isSoundOn);
  return (
    <section className="stack">
      <ChoiceRow
        name={words.heading}
        choices={[
          { value: "on", label: words.on },
          { value: "off", label: words.off },
        ]}
        value={isOn ? "on" : "off"}
        onChoose={(value) => {
          setSound(value === "on");
          setOn(value === "on");
        }}
      />
      <p className="quiet small">{words.note}</p>
      <Button onPress={soundOnce}>{words.try}</Button>
    </section>
  );
}
