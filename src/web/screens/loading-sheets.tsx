// What is on one place, changed: who sits there, the heaviest patient, the kit, the fuel. What is typed is taken as typed;
// what fits better in another unit, or cannot be a person, is asked about and never converted in silence.
import { useState } from "react";
import { fuelReadings, massReadings, unitQuestion } from "../../core/quantity/unit-question.ts";
import type { Plausible, UnitReading } from "../../core/quantity/unit-question.ts";
import type { Seat } from "../../core/sheet/loading-blocks.ts";
import type { Sheet as TypeSheet } from "../../core/sheet/schema.ts";
import type { Names } from "../../present/names.ts";
import { readTypedNumber, typedText } from "../../present/typed-number.ts";
import { Button } from "../parts/button.tsx";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Field } from "../parts/field.tsx";
import { Stepper } from "../parts/stepper.tsx";
import { useLocale } from "../parts/words.tsx";
import type { Person } from "../device/model.ts";
import { freshKit, type LoadDraft, type Place } from "./loading-view.ts";
import { useLoadingWords } from "./use-loading-words.ts";
import type { MassUnit, MassWords } from "./mass-unit.ts";

export type PlaceSheetProps = {
  readonly sheet: TypeSheet;
  readonly place: Place;
  readonly draft: LoadDraft;
  readonly onDraft: (draft: LoadDraft) => void;
  readonly crew: readonly Person[];
  readonly names: Names;
  readonly mass: MassWords;
  readonly tank_kg: number;
  /** What the fuel gauge last read; null where it did not. */
  readonly fuelRead_kg: number | null;
};

export function PlaceInside(props: PlaceSheetProps) {
  switch (props.place.kind) {
    case "seat":
      return <SeatInside {...props} />;
    case "stretcher":
      return <StretcherInside {...props} />;
    case "compartment":
      return <KitInside {...props} />;
    case "fuel":
      return <FuelInside {...props} />;
    default:
      return props.place.kind satisfies never;
  }
}

type MassStepperProps = {
  readonly label: string;
  readonly value_kg: number | null;
  readonly onValue: (value_kg: number | null) => void;
  readonly startAt_kg: number;
  readonly most_kg: number;
  readonly step: number;
  readonly mass: MassWords;
  readonly hint?: string;
  /** Asks where another unit fits better. */
  readonly plausible?: Plausible;
  /** Fuel of this density: litres and gallons may have been meant as well. */
  readonly density_kgL?: number;
  readonly issue?: string | null;
  readonly mayBeZero?: boolean;
};

/** A mass by steps or typed, in the unit that is chosen. */
function MassStepper(props: MassStepperProps) {
  const { label, value_kg, onValue, startAt_kg, most_kg, step, mass, hint, plausible, issue = null } = props;
  const { mayBeZero = false, density_kgL = null } = props;
  const { language } = useLocale();
  const words = useLoadingWords();
  const [typed, setTyped] = useState(() =>
    value_kg === null
      ? ""
      : typedText(Number(mass.toUnit(value_kg).toFixed(1)), 1, language).replace(/[.,]0$/u, ""),
  );
  const scale = { decimals: 1, lowest: 0, highest: Math.floor(mass.toUnit(most_kg)) };
  const type = (next: string) => {
    setTyped(next);
    const { value, issue: wrong } = readTypedNumber(next, scale, language);
    const isNone = value === null || wrong !== null || (value === 0 && !mayBeZero);
    onValue(isNone ? null : mass.toKg(value));
  };
  const { value: read, issue: outside } = readTypedNumber(typed, scale, language);
  const asked =
    plausible === undefined || read === null ? null : question(read, mass.unit, plausible, density_kgL);
  const meant =
    asked === null || asked.instead === null
      ? null
      : words.ask.unit(
          `${typed} ${mass.unit}`,
          `${typed} ${shownUnit[asked.instead.unit] ?? asked.instead.unit}`,
        );
  const said =
    read === 0 && plausible !== undefined && !mayBeZero
      ? words.ask.zero
      : asked === null || density_kgL !== null
        ? (meant ?? issue)
        : (meant ?? words.ask.heavy(`${typed} ${mass.unit}`));
  const instead_kg = asked?.instead?.value ?? null;
  return (
    <div className="stack">
      <Stepper
        label={label}
        typed={typed}
        onTyped={type}
        scale={scale}
        step={step}
        startAt={Math.round(mass.toUnit(startAt_kg))}
        unit={mass.unit}
        hint={hint}
        issue={said}
      />
      {/* The field itself says that the number is outside; what may have been meant is said below it. */}
      {meant !== null && outside !== null && <p role="alert">{meant}</p>}
      {instead_kg !== null && (
        <Button onPress={() => type(typedText(Number(mass.toUnit(instead_kg).toFixed(1)), 1, language))}>
          {words.ask.take(mass.text(instead_kg, "both"))}
        </Button>
      )}
    </div>
  );
}

const shownUnit: Readonly<Record<string, string>> = { usgal: "US gal" };

/** Null: it fits as written. Else what another unit would make of it, or nothing that can be. */
function question(
  value: number,
  unit: MassUnit,
  plausible: Plausible,
  density_kgL: number | null,
): { readonly instead: UnitReading | null } | null {
  if (value === 0) return null;
  const readings: Readonly<Record<string, UnitReading>> =
    density_kgL === null ? massReadings(value) : fuelReadings(value, density_kgL);
  // Where nothing is known of the amount, litres for kilograms is the commonest of these mistakes.
  const others = (["L", "kg", "lb", "usgal"] as const).flatMap((other) =>
    other === unit || readings[other] === undefined ? [] : [readings[other]],
  );
  const answer = unitQuestion(readings[unit]!, others, plausible);
  if (answer.kind === "fits") return null;
  return { instead: answer.kind === "question" ? answer.instead : null };
}

const usualKey = {
  pilot: "pilot_kg",
  crew: "technicalCrew_kg",
  medic: "medic_kg",
  passenger: "passenger_kg",
} as const satisfies Record<Seat["role"], keyof TypeSheet["masses"]>;

function SeatInside({ sheet, place, draft, onDraft, crew, names, mass }: PlaceSheetProps) {
  const words = useLoadingWords();
  const seat = sheet.seats.find(({ id }) => id === place.id);
  const [version, setVersion] = useState(0);
  if (seat === undefined) return null;
  const usual_kg = sheet.masses[usualKey[seat.role]];
  const sitting = draft.persons.find((one) => one.seat === place.id);
  const others = draft.persons.filter((one) => one.seat !== place.id);
  const put = (person: string | null, mass_kg: number | null) =>
    onDraft({
      ...draft,
      persons: [
        ...others.filter((one) => person === null || one.person !== person),
        { seat: place.id, person, mass_kg },
      ],
    });
  const choose = (value: string) => {
    setVersion(version + 1);
    if (value === "nobody") return onDraft({ ...draft, persons: others });
    const person = value === "guest" ? null : value;
    // Whoever sat elsewhere brings their own mass along.
    const before = draft.persons.find((one) => one.person === person && person !== null);
    return put(person, before?.mass_kg ?? null);
  };
  const known = new Set([...crew.map(({ id }) => id), ...(sitting?.person == null ? [] : [sitting.person])]);
  return (
    <div className="stack-wide">
      <ChoiceRow
        name={words.who}
        width="even"
        choices={[
          ...[...known].map((id) => ({ value: id, label: names.person(id) })),
          { value: "guest", label: words.guest },
          { value: "nobody", label: words.nobody },
        ]}
        value={sitting === undefined ? "nobody" : (sitting.person ?? "guest")}
        onChoose={choose}
      />
      {sitting !== undefined && (
        <>
          <MassStepper
            key={version}
            label={words.mass}
            value_kg={sitting.mass_kg}
            onValue={(mass_kg) => put(sitting.person, mass_kg)}
            startAt_kg={usual_kg}
            most_kg={400}
            step={1}
            mass={mass}
            hint={`${words.usual(mass.text(usual_kg, "higher"))} ${words.atMost(mass.text(seat.maxMass_kg, "lower"))}.`}
            plausible={{ min: 30, max: 200, usual: usual_kg }}
          />
          {sitting.mass_kg === null && (
            <Button
              onPress={() => {
                put(sitting.person, usual_kg);
                setVersion(version + 1);
              }}
            >
              {words.takeUsual(mass.text(usual_kg, "higher"))}
            </Button>
          )}
        </>
      )}
    </div>
  );
}

function StretcherInside({ sheet, place, draft, onDraft, mass }: PlaceSheetProps) {
  const words = useLoadingWords();
  const stretcher = sheet.stretchers.find(({ id }) => id === place.id);
  const expected = draft.patients.find((one) => one.stretcher === place.id);
  if (stretcher === undefined) return null;
  const { patient_kg, heavyPatient_kg } = sheet.masses;
  const others = draft.patients.filter((one) => one.stretcher !== place.id);
  const set = (most_kg: number | null) =>
    onDraft({
      ...draft,
      patients: most_kg === null ? others : [...others, { stretcher: place.id, most_kg }],
    });
  return (
    <div className="stack-wide">
      <MassStepper
        label={words.patientMass}
        value_kg={expected?.most_kg ?? null}
        onValue={set}
        startAt_kg={heavyPatient_kg}
        most_kg={400}
        step={5}
        mass={mass}
        hint={`${words.patientHint(mass.text(patient_kg, "higher"), mass.text(heavyPatient_kg, "higher"))} ${words.atMost(mass.text(stretcher.maxMass_kg, "lower"))}.`}
        plausible={{ min: 2, max: 300, usual: patient_kg }}
      />
    </div>
  );
}

function FuelInside({ sheet, draft, onDraft, mass, tank_kg, fuelRead_kg }: PlaceSheetProps) {
  const words = useLoadingWords();
  const { fuel_kg, fuelAtEnd_kg } = draft;
  const isMore = fuel_kg !== null && fuelAtEnd_kg !== null && fuelAtEnd_kg > fuel_kg;
  const [tank] = sheet.tanks;
  const asks = {
    plausible: { min: 0, max: tank_kg, ...(fuelRead_kg === null ? {} : { usual: fuelRead_kg }) },
    ...(tank === undefined ? {} : { density_kgL: tank.density_kgL }),
  };
  return (
    <div className="stack-wide">
      <MassStepper
        {...asks}
        label={words.fuel}
        value_kg={fuel_kg}
        onValue={(value) => onDraft({ ...draft, fuel_kg: value })}
        startAt_kg={tank_kg}
        most_kg={tank_kg}
        step={10}
        mass={mass}
        mayBeZero
        hint={words.fuelHint(mass.text(tank_kg, "lower"))}
      />
      <MassStepper
        {...asks}
        plausible={{ min: 0, max: tank_kg }}
        label={words.fuelEnd}
        value_kg={fuelAtEnd_kg}
        onValue={(value) => onDraft({ ...draft, fuelAtEnd_kg: value })}
        startAt_kg={0}
        most_kg={tank_kg}
        step={10}
        mass={mass}
        mayBeZero
        issue={isMore ? words.fuelMore : null}
      />
    </div>
  );
}

function KitInside({ sheet, place, draft, onDraft, mass }: PlaceSheetProps) {
  const words = useLoadingWords();
  const compartment = sheet.compartments.find(({ id }) => id === place.id);
  const [name, setName] = useState("");
  const [added_kg, setAdded] = useState<number | null>(null);
  const [version, setVersion] = useState(0);
  const here = draft.kit.filter(({ at }) => at === place.id);
  if (compartment === undefined) return null;
  const add = () => {
    if (added_kg === null || name.trim() === "") return;
    const kit = freshKit(name, draft);
    onDraft({ ...draft, kit: [...draft.kit, { kit, name: name.trim(), mass_kg: added_kg, at: place.id }] });
    setName("");
    setAdded(null);
    setVersion(version + 1);
  };
  return (
    <div className="stack-wide">
      <ul className="rows">
        {here.length === 0 && <li className="quiet">{words.nothing}</li>}
        {here.map((one) => (
          <li key={one.kit} className="load-fit">
            <span>
              {one.name} <span className="mono quiet">{mass.text(one.mass_kg, "higher")}</span>
            </span>
            <Button
              onPress={() => onDraft({ ...draft, kit: draft.kit.filter(({ kit }) => kit !== one.kit) })}
              label={words.remove(one.name)}
            >
              {words.removeShort}
            </Button>
          </li>
        ))}
      </ul>
      <p className="quiet small">{words.atMost(mass.text(compartment.maxMass_kg, "lower"))}.</p>
      <Field label={words.kitName} value={name} onChange={setName} />
      <MassStepper
        key={version}
        label={words.kitMass}
        value_kg={added_kg}
        onValue={setAdded}
        startAt_kg={10}
        most_kg={1000}
        step={1}
        mass={mass}
      />
      <Button
        onPress={add}
        {...(added_kg === null || name.trim() === "" ? { why: `${words.kitName}, ${words.kitMass}` } : {})}
      >
        {words.addKit}
      </Button>
    </div>
  );
}
