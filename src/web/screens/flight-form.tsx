// A flight as its crew state it. Nothing is prefilled but who is on duty; every figure is asked, none is taken as nought.
import { useState } from "react";
import { latestInstantOfTime } from "../../core/facts/calendar.ts";
import { minute_ms } from "../../core/facts/instant.ts";
import { readTypedNumber } from "../../present/typed-number.ts";
import { timePassed } from "../../present/words/formats.ts";
import type { CraftView } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Field } from "../parts/field.tsx";
import { Picker } from "../parts/picker.tsx";
import { Stepper } from "../parts/stepper.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp, useNames, useSnapshot } from "./app-context.tsx";

const figures = ["landings", "nightLandings", "starts", "hoistCycles", "instrument"] as const;
type Figure = (typeof figures)[number];
const whole = { decimals: 0, lowest: 0, highest: 1000 } as const;

export function FlightForm({ craft, onDone }: { readonly craft: CraftView; readonly onDone: () => void }) {
  const { device } = useApp();
  const { now_ms, zone } = useSnapshot();
  const { duty } = useWords();
  const locale = useLocale();
  const names = useNames(craft);
  const words = duty.flight;
  const [off, setOff] = useState("");
  const [on, setOn] = useState("");
  const [typed, setTyped] = useState<Readonly<Partial<Record<Figure, string>>>>({});
  const [nvis, setNvis] = useState<"yes" | "no" | null>(null);
  const [operation, setOperation] = useState<string | null>(null);
  const on_ms = latestInstantOfTime(on, now_ms, zone);
  const off_ms = on_ms === null ? null : latestInstantOfTime(off, on_ms - minute_ms, zone);
  const crew = craft.state.shifts
    .filter(({ from_ms, until_ms }) => from_ms <= now_ms && now_ms < until_ms)
    .flatMap(({ people }) => people.map(({ person }) => person));
  const numberOf = (figure: Figure): number | null =>
    readTypedNumber(typed[figure] ?? "", whole, locale.language).value;
  const [landings, nightLandings, starts, hoistCycles, instrument] = figures.map(numberOf);
  const issue = (time: string, at_ms: number | null): string | null =>
    time === "" || at_ms !== null || time.length < 5 ? null : words.noTime(time);
  const flight =
    off_ms === null ||
    on_ms === null ||
    landings == null ||
    nightLandings == null ||
    starts == null ||
    hoistCycles == null ||
    instrument == null ||
    nvis === null ||
    operation === null ||
    landings < 1
      ? null
      : {
          off_ms,
          on_ms,
          landings,
          nightLandings,
          starts,
          hoistCycles,
          instrument_min: instrument,
          operation,
        };
  const fits =
    flight !== null &&
    flight.nightLandings <= flight.landings &&
    flight.landings <= (flight.on_ms - flight.off_ms) / minute_ms;
  const why =
    crew.length === 0
      ? words.needsCrew
      : off_ms === null || on_ms === null
        ? words.needsTimes
        : flight === null
          ? words.needsAll
          : fits
            ? null
            : words.needsFewer;
  const save = (): void => {
    if (flight === null) return;
    void device
      .logFlight(craft.ledger, { ...flight, nvis: nvis === "yes", crew: [...new Set(crew)] })
      .then(onDone);
  };
  return (
    <div className="stack">
      <Field
        label={words.off}
        value={off}
        onChange={setOff}
        hint={words.timeHint}
        issue={issue(off, off_ms)}
      />
      <Field label={words.on} value={on} onChange={setOn} issue={issue(on, on_ms)} />
      {off_ms !== null && on_ms !== null && <p>{words.lasted(timePassed(on_ms - off_ms, locale))}</p>}
      {figures.map((figure) => (
        <Stepper
          key={figure}
          label={words[figure]}
          typed={typed[figure] ?? ""}
          onTyped={(text) => setTyped((held) => ({ ...held, [figure]: text }))}
          scale={whole}
          step={1}
          startAt={figure === "landings" ? 1 : 0}
          unit=""
        />
      ))}
      <ChoiceRow
        name={words.nvis}
        choices={[
          { value: "yes", label: words.yes },
          { value: "no", label: words.no },
        ]}
        value={nvis}
        onChoose={setNvis}
      />
      <Picker
        label={words.operation}
        choices={(craft.sheet?.operations ?? []).map(({ id, name }) => ({ id, name: name[locale.language] }))}
        value={operation}
        onChoose={setOperation}
      />
      <p className="small quiet">{words.crewOf(crew.map((person) => names.person(person)).join(", "))}</p>
      <Button look="filled" onPress={save} {...(why === null ? {} : { why })}>
        {words.save}
      </Button>
    </div>
  );
}
