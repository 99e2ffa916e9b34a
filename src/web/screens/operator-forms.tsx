// Forms of the operator's record: papers, dates of birth, flying elsewhere, crew rules, flying rules.
import { useState } from "react";
import { paperKinds, recencyKinds } from "../../core/facts/crew.ts";
import type { PaperKind } from "../../core/facts/crew.ts";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Field } from "../parts/field.tsx";
import { Picker } from "../parts/picker.tsx";
import { useApp, useSnapshot } from "./app-context.tsx";
import { DateField } from "./date-field.tsx";
import { OperationPicker } from "./operation-picker.tsx";
import { standingFlying } from "./operator-rules.ts";
import type { OperatorFormProps } from "./operator.tsx";
import { NumberField } from "./number-field.tsx";
import { SignFoot } from "./sign-foot.tsx";
import { useOfficeWords } from "./use-office-words.ts";
import { useTyped } from "./use-typed.ts";
import type { Typed } from "./use-typed.ts";

export function PersonPicker({
  value,
  onChoose,
}: {
  readonly value: string | null;
  readonly onChoose: (id: string) => void;
}) {
  const { operator: words } = useOfficeWords();
  const { people } = useSnapshot();
  return (
    <Picker
      label={words.person}
      choices={people.map(({ id, name }) => ({ id, name }))}
      value={value}
      onChoose={onChoose}
    />
  );
}

export function PaperForm({ onDone }: OperatorFormProps) {
  const { device } = useApp();
  const { operator: words, office } = useOfficeWords();
  const { operator } = useSnapshot();
  const typed = useTyped();
  const [person, setPerson] = useState<string | null>(null);
  const [paper, setPaper] = useState<PaperKind | null>(null);
  const issuedOn = typed.date("issuedOn");
  return (
    <div className="stack">
      <PersonPicker value={person} onChoose={setPerson} />
      <Picker
        label={words.paperKind}
        choices={paperKinds.map((id) => ({ id, name: words.papers[id] }))}
        value={paper}
        onChoose={(id) => setPaper(paperKinds.find((kind) => kind === id) ?? null)}
      />
      <DateField label={words.issuedOn} value={typed.text("issuedOn")} onChange={typed.set("issuedOn")} />
      <DateField label={words.statedLast} value={typed.text("lastDay")} onChange={typed.set("lastDay")} />
      <SignFoot
        label={office.save}
        why={person === null || paper === null || issuedOn === null ? office.missing : null}
        onSign={() =>
          device.sign(operator.ledger, "paper.recorded", {
            person,
            paper,
            issuedOn,
            lastDay: typed.date("lastDay"),
            replaces: [],
          })
        }
        onDone={onDone}
      />
    </div>
  );
}

export function BornForm({ onDone }: OperatorFormProps) {
  const { device } = useApp();
  const { operator: words, office } = useOfficeWords();
  const { operator } = useSnapshot();
  const typed = useTyped();
  const [person, setPerson] = useState<string | null>(null);
  const bornOn = typed.date("bornOn");
  const standing = operator.state.crew.born.filter((one) => one.person === person);
  return (
    <div className="stack">
      <PersonPicker value={person} onChoose={setPerson} />
      <DateField label={words.bornOn} value={typed.text("bornOn")} onChange={typed.set("bornOn")} />
      <SignFoot
        label={office.save}
        why={person === null || bornOn === null ? office.missing : null}
        onSign={() =>
          device.sign(operator.ledger, "person.born", {
            person,
            bornOn,
            replaces: standing.map(({ entry }) => entry),
          })
        }
        onDone={onDone}
      />
    </div>
  );
}

const flown = [
  "landings",
  "nightLandings",
  "nvisFlights",
  "instrument_min",
  "hoistCycles",
  "nightHoistCycles",
] as const;

export function ExperienceForm({ onDone }: OperatorFormProps) {
  const { device } = useApp();
  const { operator: words, office, flights } = useOfficeWords();
  const { operator } = useSnapshot();
  const typed = useTyped();
  const [person, setPerson] = useState<string | null>(null);
  const on = typed.date("on");
  const each = flown.map((name) => [name, typed.number(name)] as const);
  const labels: Readonly<Record<(typeof flown)[number], string>> = {
    landings: office.counters.landings,
    nightLandings: flights.experienceLabels.nightLandings,
    nvisFlights: flights.experienceLabels.nvisFlights,
    instrument_min: flights.experienceLabels.instrument_min,
    hoistCycles: office.counters.hoistCycles,
    nightHoistCycles: flights.nightHoist,
  };
  return (
    <div className="stack">
      <PersonPicker value={person} onChoose={setPerson} />
      <DateField label={words.experienceOn} value={typed.text("on")} onChange={typed.set("on")} />
      {flown.map((name) => (
        <NumberField key={name} label={labels[name]} name={name} typed={typed} />
      ))}
      <NumberField label={words.experienceHours} name={"flight_h"} typed={typed} />
      <SignFoot
        label={office.save}
        why={
          person === null || on === null || each.some(([, value]) => value === null) ? office.missing : null
        }
        onSign={() =>
          device.sign(operator.ledger, "experience.recorded", {
            person,
            on,
            ...Object.fromEntries(each),
            flight_h: typed.number("flight_h"),
            replaces: [],
          })
        }
        onDone={onDone}
      />
    </div>
  );
}

function NumberFields({
  names,
  typed,
}: {
  readonly names: Readonly<Record<string, string>>;
  readonly typed: Typed;
}) {
  return Object.entries(names).map(([name, label]) => (
    <NumberField key={name} label={label} name={name} typed={typed} />
  ));
}

export function CrewRulesForm({ onDone }: OperatorFormProps) {
  const { device } = useApp();
  const { operator: words, office } = useOfficeWords();
  const { operator } = useSnapshot();
  const typed = useTyped();
  const [ruleSet, setRuleSet] = useState<"eu" | "us" | null>(null);
  const [single, setSingle] = useState<"yes" | "no" | null>(null);
  const [usDuty, setUsDuty] = useState<"267" | "271" | null>(null);
  const standing = operator.state.crew.rules;
  const cite = typed.text("cite").trim();
  const [duty_h, rest_h] = [typed.number("duty"), typed.number("rest")];
  const hoist = ["dayNeed", "dayDays", "nightNeed", "nightDays"].map((name) => typed.number(name));
  const [dayNeed, dayDays, nightNeed, nightDays] = hoist;
  const hasHoist = hoist.every((value) => value !== null);
  const isHoistBroken = !hasHoist && hoist.some((value) => value !== null);
  const needsDuty = ruleSet !== "us";
  const isWhole =
    ruleSet !== null &&
    (ruleSet === "eu" || usDuty !== null) &&
    single !== null &&
    cite !== "" &&
    !isHoistBroken &&
    (!needsDuty || (duty_h !== null && rest_h !== null));
  // What the form does not state is kept as it stood: leaving it out must not loosen it.
  const asks = standing.flatMap((rules) => rules.asks);
  const stricter = standing.flatMap((rules) => rules.stricter);
  const hoistKept = standing.find((rules) => rules.hoist !== null)?.hoist ?? null;
  return (
    <div className="stack">
      <ChoiceRow
        name={words.ruleSet}
        choices={[
          { value: "eu", label: "EU" },
          { value: "us", label: "US" },
        ]}
        value={ruleSet}
        onChoose={setRuleSet}
      />
      {ruleSet === "us" && (
        <ChoiceRow
          name={words.usDuty}
          choices={[
            { value: "267", label: "14 CFR 135.267" },
            { value: "271", label: "14 CFR 135.271" },
          ]}
          value={usDuty}
          onChoose={setUsDuty}
          width="long"
        />
      )}
      <NumberFields
        typed={typed}
        names={{
          duty: `${words.duty} (h)`,
          rest: `${words.rest} (h)`,
          dayNeed: words.hoistDay,
          dayDays: `${words.hoistDay}, ${words.within}`,
          nightNeed: words.hoistNight,
          nightDays: `${words.hoistNight}, ${words.within}`,
        }}
      />
      <ChoiceRow
        name={words.singleNight}
        choices={[
          { value: "yes", label: office.yes },
          { value: "no", label: office.no },
        ]}
        value={single}
        onChoose={setSingle}
      />
      <Field label={words.cite} value={typed.text("cite")} onChange={typed.set("cite")} />
      <SignFoot
        label={office.save}
        why={isWhole ? null : words.needsAll}
        onSign={() =>
          device.sign(operator.ledger, "crewRules.set", {
            ruleSet,
            duty: duty_h === null || rest_h === null ? null : { duty_h, rest_h, cite },
            singlePilotNight: { allowed: single === "yes", cite },
            hoist: hasHoist
              ? {
                  day: { need: dayNeed, days: dayDays },
                  night: { need: nightNeed, days: nightDays },
                  cite,
                }
              : hoistKept,
            usDuty: usDuty ?? "267",
            stricter,
            asks: asks.map(({ operation, recency, papers }) => ({
              operation,
              recency: recencyKinds.filter((kind) => recency.includes(kind)),
              papers: [...papers],
            })),
            replaces: standing.map(({ entry }) => entry),
          })
        }
        onDone={onDone}
      />
    </div>
  );
}

export function FlyingForm({ onDone }: OperatorFormProps) {
  const { device } = useApp();
  const { operator: words, office } = useOfficeWords();
  const { operator } = useSnapshot();
  const typed = useTyped();
  const [lapse, setLapse] = useState<"forbidden" | "pointedOut" | null>(null);
  const [water, setWater] = useState<string | null>(null);
  const standing = operator.state.flightRules;
  const cite = typed.text("cite").trim();
  const tolerance_h = typed.number("tolerance");
  const figures = ["sea", "suits", "rafts", "stands"].map((name) => typed.number(name));
  const [seaStateAtMost, suitsBelow_C, raftPlaces, stands_min] = figures;
  const hasWater = water !== null && figures.every((value) => value !== null);
  const isWaterBroken = !hasWater && (water !== null || figures.some((value) => value !== null));
  const kept = standingFlying(standing);
  const isWhole = tolerance_h !== null && lapse !== null && cite !== "" && !isWaterBroken;
  return (
    <div className="stack">
      <NumberFields
        typed={typed}
        names={{
          tolerance: `${words.tolerance} (h)`,
          sea: words.seaAtMost,
          suits: `${words.suitsBelow} (°C)`,
          rafts: words.raftPlaces,
          stands: `${words.stands} (min)`,
        }}
      />
      <OperationPicker label={words.overWaterFor} value={water} onChoose={setWater} />
      {kept.overWater !== null && <p className="small quiet">{words.overWaterKept}</p>}
      <ChoiceRow
        name={words.lapse}
        choices={[
          { value: "forbidden", label: words.lapseForbidden },
          { value: "pointedOut", label: words.lapsePointedOut },
        ]}
        value={lapse}
        onChoose={setLapse}
      />
      <Field label={words.cite} value={typed.text("cite")} onChange={typed.set("cite")} />
      <SignFoot
        label={office.save}
        why={isWhole ? null : words.needsAll}
        onSign={() =>
          device.sign(operator.ledger, "flightRules.set", {
            meter: { tolerance_h, cite },
            worksheet: kept.worksheet,
            overWater: hasWater
              ? { operations: [water], seaStateAtMost, suitsBelow_C, raftPlaces, stands_min, cite }
              : kept.overWater,
            lapseInFlight: lapse,
            replaces: standing.map(({ entry }) => entry),
          })
        }
        onDone={onDone}
      />
    </div>
  );
}
