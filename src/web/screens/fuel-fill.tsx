// Filling fuel at the aircraft: from where, how much in which unit, what the gauge showed before and after, the sample. What
// does not agree is said while it is typed and can be recorded as it is; nothing is prefilled, guessed or made to fit.
import { useState } from "react";
import { type FuelUnit, fuelUnits, samplesSeen } from "../../core/facts/base-tank.ts";
import { msToInstant } from "../../core/facts/instant.ts";
import { balanceFuel } from "../../core/fuel/fuel-balance.ts";
import type { FuelBalance } from "../../core/fuel/fuel-balance.ts";
import { fuelDensity_kgL } from "../../core/fuel/fuel-density.ts";
import { fuelToleranceOf, tanksAboard } from "../../core/fuel/fuel-tolerance.ts";
import { tankAt } from "../../core/fuel/tank-at.ts";
import { displayNumber, type Worse } from "../../core/quantity/display.ts";
import { Refusal } from "../../core/quantity/refusal.ts";
import { barWords } from "../../present/words/tank-bars.ts";
import { type Scale, typedText } from "../../present/typed-number.ts";
import type { CraftView } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Field } from "../parts/field.tsx";
import { Notice } from "../parts/notice.tsx";
import { Picker } from "../parts/picker.tsx";
import { useLocale } from "../parts/words.tsx";
import { useApp, useSnapshot } from "./app-context.tsx";
import { latestAt } from "./latest-at.ts";
import { NumberStepper } from "./number-stepper.tsx";
import { SignFoot } from "./sign-foot.tsx";
import { useFuelWords } from "./use-fuel-words.ts";
import { useNumbers } from "./use-numbers.ts";

type FormProps = { readonly craft: CraftView; readonly onDone: () => void };

export const massScale: Scale = { decimals: 0, lowest: 0, highest: 10_000 };
const amountScale: Scale = { decimals: 1, lowest: 0.1, highest: 20_000 };
export const densityScale: Scale = { decimals: 4, lowest: 0.775, highest: 0.84 };
export const fuelTemperatureScale: Scale = { decimals: 1, lowest: -40, highest: 50 };
const other = "other";
const elsewhere = "elsewhere";

export function FillForm({ craft, onDone }: FormProps) {
  const { device } = useApp();
  const { now_ms, zone } = useSnapshot();
  const words = useFuelWords();
  const { form } = words;
  const { language } = useLocale();
  const tanks = craft.sky?.state.tanks ?? null;
  const [from, setFrom] = useState<string | null>(null);
  const [unit, setUnit] = useState<FuelUnit | null>(null);
  const [grade, setGrade] = useState<string | null>(null);
  const [sample, setSample] = useState<(typeof samplesSeen)[number] | "none" | null>(null);
  const number = useNumbers({
    before: massScale,
    amount: amountScale,
    after: massScale,
    density: densityScale,
    temperature: fuelTemperatureScale,
  });
  const before = number.value("before");
  const amount = number.value("amount");
  const after = number.value("after");
  const density = number.value("density");
  const fuel_C = number.value("temperature");
  const [gradeTyped, setGradeTyped] = useState("");
  const [time, setTime] = useState("");
  const at_ms = time.trim() === "" ? now_ms : latestAt(time.trim(), now_ms, zone);
  const named = [...new Set((tanks?.described ?? []).map(({ tank }) => tank))];
  const tank = from === null || from === elsewhere ? null : from;
  const delivery = tanks?.delivered
    .filter((one) => one.tank === tank)
    .toSorted((a, b) => b.at_ms - a.at_ms)[0];
  const aboard = craft.sheet === null ? [] : tanksAboard(craft.sheet, craft.state);
  const grades = (craft.sheet?.fluids ?? [])
    .filter(({ id }) => aboard.some(({ fluid }) => fluid === id))
    .flatMap((fluid) => fluid.grades);
  const said = grade === other ? gradeTyped.trim() : grade;
  const missing: readonly (readonly [boolean, string])[] = [
    [from === null, form.needs.from],
    [before === null, form.needs.before],
    [amount === null, form.needs.amount],
    [unit === null, form.needs.unit],
    [density === null, form.needs.density],
    [fuel_C === null && number.text("temperature").trim() !== "", form.needs.temperature],
    [after === null, form.needs.after],
    [said === null || said === "", form.needs.grade],
    [sample === null, form.needs.sample],
    [at_ms === null, form.needs.time],
  ];
  const why = missing.find(([isMissing]) => isMissing)?.[1] ?? null;
  return (
    <div className="stack">
      <Picker
        label={form.from}
        choices={[
          ...named.map((id) => ({ id, name: nameOf(tanks, id) })),
          { id: elsewhere, name: form.fromElsewhere },
        ]}
        value={from}
        onChoose={setFrom}
      />
      {tank !== null && <TankBars craft={craft} tank={tank} at_ms={at_ms ?? now_ms} />}
      <NumberStepper number={number} name="before" label={form.before} unit={"kg"} step={5} startAt={100} />
      <NumberStepper
        number={number}
        name="amount"
        label={form.amount}
        unit={unit === null ? "" : words.units[unit]}
        step={5}
        startAt={100}
      />
      <ChoiceRow
        name={form.unit}
        choices={fuelUnits.map((value) => ({ value, label: words.units[value] }))}
        value={unit}
        onChoose={setUnit}
      />
      <NumberStepper
        number={number}
        name="density"
        label={form.density}
        unit={"kg/L"}
        step={0.001}
        startAt={0.8}
        hint={form.densityHint}
      />
      {delivery !== undefined && (
        <Button
          look="plain"
          onPress={() => number.set("density")(typedText(delivery.density_kgL, 4, language))}
        >
          {form.densityByDocket(displayNumber(delivery.density_kgL, 4, "both", language), delivery.docket)}
        </Button>
      )}
      <NumberStepper
        number={number}
        name="temperature"
        label={form.temperature}
        unit={"°C"}
        step={1}
        startAt={10}
      />
      <NumberStepper number={number} name="after" label={form.after} unit={"kg"} step={5} startAt={100} />
      {before !== null && amount !== null && unit !== null && density !== null && after !== null && (
        <Balance craft={craft} of={{ before, amount, unit, density, fuel_C, after }} />
      )}
      <ChoiceRow
        name={form.grade}
        choices={[
          ...grades.map((value) => ({ value, label: value })),
          { value: other, label: form.otherGrade },
        ]}
        value={grade}
        onChoose={setGrade}
      />
      {grade === other && <Field label={form.gradeTyped} value={gradeTyped} onChange={setGradeTyped} />}
      <ChoiceRow
        name={form.sample}
        width="long"
        choices={([...samplesSeen, "none"] as const).map((value) => ({
          value,
          label: form.sampleChoice[value],
        }))}
        value={sample}
        onChoose={setSample}
      />
      <Field
        label={form.when}
        value={time}
        onChange={setTime}
        hint={form.whenHint}
        issue={at_ms === null && time.trim().length >= 5 ? form.noTime(time) : null}
      />
      <SignFoot
        label={form.save}
        why={why}
        onSign={() =>
          device.sign(craft.ledger, "fuel.filled", {
            before_kg: before,
            amount,
            unit,
            typed: number.text("amount").trim(),
            density_kgL: density,
            fuel_C,
            after_kg: after,
            grade: said,
            baseTank: tank,
            sample: sample === "none" ? null : sample,
            at: msToInstant(at_ms ?? now_ms),
            replaces: [],
          })
        }
        onDone={onDone}
      />
    </div>
  );
}

export function nameOf(
  tanks: { readonly described: readonly { readonly tank: string; readonly name: string }[] } | null,
  id: string,
): string {
  return tanks?.described.findLast(({ tank }) => tank === id)?.name ?? id;
}

/** What stands against a tank, before anybody takes from it. */
function TankBars({
  craft,
  tank,
  at_ms,
}: {
  readonly craft: CraftView;
  readonly tank: string;
  readonly at_ms: number;
}) {
  const { form } = useFuelWords();
  const { language } = useLocale();
  if (craft.sky === null) return null;
  const { tanks } = craft.sky.state;
  const [bar] = tankAt(tanks, tank, at_ms).bars;
  if (bar === undefined) return null;
  return (
    <Notice kind="problem" title={form.barred(nameOf(tanks, tank), barWords(bar.code, language))}>
      <p>{form.barredKept}</p>
    </Notice>
  );
}

type Filled = {
  readonly before: number;
  readonly amount: number;
  readonly unit: FuelUnit;
  readonly density: number;
  readonly fuel_C: number | null;
  readonly after: number;
};

/** Null where this density cannot have this temperature. */
export function balanceOf(
  craft: CraftView,
  filled: Filled,
): (FuelBalance & { readonly capacity_kg: number }) | null {
  if (craft.sheet === null) return null;
  const aboard = tanksAboard(craft.sheet, craft.state);
  const capacity_kg = aboard.reduce((sum, { usable_kg, unusable_kg }) => sum + usable_kg + unusable_kg, 0);
  try {
    const { density, fuel_C } = filled;
    const balance = balanceFuel({
      before_kg: filled.before,
      uplift: { amount: filled.amount, unit: filled.unit },
      after_kg: filled.after,
      density_kgL: fuel_C === null ? density : fuelDensity_kgL(density, fuel_C),
      tolerance: fuelToleranceOf(craft.sheet, aboard),
      capacity_kg,
    });
    return { ...balance, capacity_kg };
  } catch (error) {
    if (error instanceof Refusal) return null;
    throw error;
  }
}

function Balance({ craft, of }: { readonly craft: CraftView; readonly of: Filled }) {
  const words = useFuelWords();
  const { form } = words;
  const { language } = useLocale();
  const balance = balanceOf(craft, of);
  if (balance === null) return <Notice kind="problem" title={form.densityRefused} />;
  const kg = (value: number, worse: Worse = "both") => `${displayNumber(value, 0, worse, language)} kg`;
  const { uplift_kg, difference_kg, tolerance_kg, agrees, fits, perhaps, capacity_kg } = balance;
  const sum = form.balance(kg(of.before), kg(uplift_kg), kg(of.before + uplift_kg), kg(of.after));
  const apart = kg(Math.abs(difference_kg), "higher");
  const hasTolerance =
    craft.sheet !== null && fuelToleranceOf(craft.sheet, tanksAboard(craft.sheet, craft.state)) !== null;
  if (agrees && fits)
    return (
      <output className="fuel-balance">
        {sum}. {form.agrees(apart, kg(tolerance_kg, "lower"))}.
      </output>
    );
  const why = agrees
    ? form.full(kg(capacity_kg, "lower"))
    : hasTolerance
      ? form.apart(apart, kg(tolerance_kg, "lower"))
      : form.noTolerance(apart);
  return (
    <Notice kind="problem" title={why}>
      <p>{sum}.</p>
      {perhaps.length > 0 && <p>{form.perhaps(perhaps.map((unit) => words.units[unit]).join(", "))}</p>}
      <p className="quiet">{form.keptAnyway}</p>
    </Notice>
  );
}

/** A sample from the machine's own drains, beside any filling. */
export function SampleForm({ craft, onDone }: FormProps) {
  const { device } = useApp();
  const { form } = useFuelWords();
  const [sample, setSample] = useState<(typeof samplesSeen)[number] | null>(null);
  const [seen, setSeen] = useState("");
  return (
    <div className="stack">
      <ChoiceRow
        name={form.sample}
        width="long"
        choices={samplesSeen.map((value) => ({ value, label: form.sampleChoice[value] }))}
        value={sample}
        onChoose={setSample}
      />
      <Field label={form.words} value={seen} onChange={setSeen} lines="many" />
      <SignFoot
        label={form.saveSample}
        why={sample === null ? form.needs.sample : null}
        onSign={() => device.sign(craft.ledger, "fuel.sampled", { sample, words: seen.trim(), replaces: [] })}
        onDone={onDone}
      />
    </div>
  );
}
