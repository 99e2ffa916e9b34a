// Forms about a tank of the base: sample and dip, delivery, drawn for others, shut and opened, filter, and its description.
import { useState } from "react";
import { fuelUnits, samplesSeen } from "../../core/facts/base-tank.ts";
import type { FuelUnit, SampleSeen } from "../../core/facts/base-tank.ts";
import type { BaseSky } from "../../core/facts/sky.ts";
import { tankRules } from "../../core/fuel/tank-at.ts";
import { typedText, type Scale } from "../../present/typed-number.ts";
import type { SignedType } from "../device/model.ts";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Field } from "../parts/field.tsx";
import { Notice } from "../parts/notice.tsx";
import { useLocale } from "../parts/words.tsx";
import { useApp } from "./app-context.tsx";
import { densityScale, fuelTemperatureScale } from "./fuel-fill.tsx";
import { NumberStepper } from "./number-stepper.tsx";
import { SignFoot } from "./sign-foot.tsx";
import { useFuelWords } from "./use-fuel-words.ts";
import { useNumbers, type Numbers } from "./use-numbers.ts";

type TankFormProps = {
  readonly base: BaseSky;
  readonly tank: string;
  readonly onDone: () => void;
};

const volumeScale: Scale = { decimals: 0, lowest: 0, highest: 1_000_000 };
const amountScale: Scale = { decimals: 1, lowest: 0.1, highest: 1_000_000 };

function UnitRow({
  value,
  onChoose,
}: {
  readonly value: FuelUnit | null;
  readonly onChoose: (unit: FuelUnit) => void;
}) {
  const words = useFuelWords();
  return (
    <ChoiceRow
      name={words.form.unit}
      choices={fuelUnits.map((unit) => ({ value: unit, label: words.units[unit] }))}
      value={value}
      onChoose={onChoose}
    />
  );
}

export function CheckForm({ base, tank, onDone }: TankFormProps) {
  const { device } = useApp();
  const { form, tankForm: words } = useFuelWords();
  const [sample, setSample] = useState<SampleSeen | null>(null);
  const [water, setWater] = useState<"none" | "found" | null>(null);
  const number = useNumbers({ stock: volumeScale });
  const typed = number.text("stock").trim();
  const stock_L = number.value("stock");
  const isOpen = sample === null || water === null || (typed !== "" && stock_L === null);
  const isBad = (sample !== null && sample !== "clear") || water === "found";
  return (
    <div className="stack">
      <ChoiceRow
        name={form.sample}
        width="long"
        choices={samplesSeen.map((value) => ({ value, label: form.sampleChoice[value] }))}
        value={sample}
        onChoose={setSample}
      />
      <ChoiceRow
        name={words.water}
        choices={[
          { value: "none", label: words.waterNone },
          { value: "found", label: words.waterFound },
        ]}
        value={water}
        onChoose={setWater}
      />
      <NumberStepper
        number={number}
        name="stock"
        label={words.stock}
        unit="L"
        step={10}
        startAt={1_000}
        hint={words.stockHint}
      />
      {isBad && <Notice title={words.isBad} />}
      <SignFoot
        label={words.save}
        why={isOpen ? words.needs : null}
        onSign={() =>
          device.sign(base.base, "tank.checked", {
            tank,
            sample,
            waterFound: water === "found",
            stock_L,
            typed,
            replaces: [],
          })
        }
        onDone={onDone}
      />
    </div>
  );
}

type AmountName = "amount" | "density" | "temperature";
const amountScales = {
  amount: amountScale,
  density: densityScale,
  temperature: fuelTemperatureScale,
} as const;

/** The body of an amount; null while something is open. */
function amountOf(number: Numbers<AmountName>, unit: FuelUnit | null): object | null {
  const [amount, density_kgL, fuel_C] = [
    number.value("amount"),
    number.value("density"),
    number.value("temperature"),
  ];
  const isWrong = fuel_C === null && number.text("temperature").trim() !== "";
  if (amount === null || unit === null || density_kgL === null || isWrong) return null;
  return { amount, unit, typed: number.text("amount").trim(), density_kgL, fuel_C };
}

function AmountFields({
  number,
  unit,
  setUnit,
}: {
  readonly number: Numbers<AmountName>;
  readonly unit: FuelUnit | null;
  readonly setUnit: (unit: FuelUnit) => void;
}) {
  const words = useFuelWords();
  const { form } = words;
  return (
    <>
      <NumberStepper
        number={number}
        name="amount"
        label={form.amount}
        unit={unit === null ? "" : words.units[unit]}
        step={100}
        startAt={1_000}
      />
      <UnitRow value={unit} onChoose={setUnit} />
      <NumberStepper
        number={number}
        name="density"
        label={form.density}
        unit="kg/L"
        step={0.001}
        startAt={0.8}
        hint={form.densityHint}
      />
      <NumberStepper
        number={number}
        name="temperature"
        label={form.temperature}
        unit="°C"
        step={1}
        startAt={10}
      />
    </>
  );
}

export function DeliverForm({ base, tank, onDone }: TankFormProps) {
  const { device } = useApp();
  const { form, tankForm: words } = useFuelWords();
  const number = useNumbers(amountScales);
  const [unit, setUnit] = useState<FuelUnit | null>(null);
  const [docket, setDocket] = useState("");
  const [batch, setBatch] = useState("");
  const [grade, setGrade] = useState("");
  const amount = amountOf(number, unit);
  const isOpen = amount === null || [docket, batch, grade].some((text) => text.trim() === "");
  return (
    <div className="stack">
      <Field label={words.docket} value={docket} onChange={setDocket} />
      <Field label={words.batch} value={batch} onChange={setBatch} />
      <Field label={form.grade} value={grade} onChange={setGrade} />
      <AmountFields number={number} unit={unit} setUnit={setUnit} />
      <SignFoot
        label={words.save}
        why={isOpen ? words.needs : null}
        onSign={() =>
          device.sign(base.base, "tank.delivered", {
            tank,
            ...amount,
            docket: docket.trim(),
            batch: batch.trim(),
            grade: grade.trim(),
            replaces: [],
          })
        }
        onDone={onDone}
      />
    </div>
  );
}

export function DrawForm({ base, tank, onDone }: TankFormProps) {
  const { device } = useApp();
  const { tankForm: words } = useFuelWords();
  const number = useNumbers(amountScales);
  const [unit, setUnit] = useState<FuelUnit | null>(null);
  const [why, setWhy] = useState("");
  const amount = amountOf(number, unit);
  return (
    <div className="stack">
      <AmountFields number={number} unit={unit} setUnit={setUnit} />
      <Field label={words.why} value={why} onChange={setWhy} lines="many" />
      <SignFoot
        label={words.save}
        why={amount === null || why.trim() === "" ? words.needs : null}
        onSign={() =>
          device.sign(base.base, "tank.drawn", { tank, ...amount, words: why.trim(), replaces: [] })
        }
        onDone={onDone}
      />
    </div>
  );
}

type WordsFormProps = TankFormProps & {
  readonly type: Extract<SignedType, "tank.shut" | "tank.opened" | "tank.filterChanged">;
  readonly ends?: readonly string[];
};

/** Shut, opened again, filter changed: with why. */
export function WordsForm({ base, tank, type, ends = [], onDone }: WordsFormProps) {
  const { device } = useApp();
  const { tankForm: words } = useFuelWords();
  const [why, setWhy] = useState("");
  const more = type === "tank.opened" ? { ends } : { replaces: [] };
  return (
    <div className="stack">
      <Field label={words.why} value={why} onChange={setWhy} lines="many" />
      <SignFoot
        label={words.save}
        why={why.trim() === "" ? words.needs : null}
        onSign={() => device.sign(base.base, type, { tank, words: why.trim(), ...more })}
        onDone={onDone}
      />
    </div>
  );
}

const ruleScales = {
  capacity: volumeScale,
  low: volumeScale,
  dip: volumeScale,
  sampleEvery: { decimals: 1, lowest: 0.1, highest: 744 },
  settle: { decimals: 1, lowest: 0, highest: 168 },
  filter: { decimals: 0, lowest: 1, highest: 3_660 },
} as const satisfies Record<string, Scale>;

type DescribeProps = Omit<TankFormProps, "tank"> & { readonly tank: string | null };

/** What the operator's manual says of a tank: a new one, or another word on one that stands. */
export function DescribeForm({ base, tank, onDone }: DescribeProps) {
  const { device } = useApp();
  const { language } = useLocale();
  const { form, tankForm: words } = useFuelWords();
  const { tanks } = base.state;
  const before = tank === null ? null : tankRules(tanks, tank);
  const text = (value: number | null | undefined, decimals = 0): string =>
    value == null ? "" : typedText(value, decimals, language);
  const number = useNumbers(ruleScales, {
    capacity: text(before?.capacity_L),
    low: text(before?.low_L),
    dip: text(before?.dipWithin_L),
    sampleEvery: text(before?.sampleEvery_h, 1),
    settle: text(before?.settle_h, 1),
    filter: text(before?.filterEvery_days),
  });
  const [name, setName] = useState(before?.name ?? "");
  const [grade, setGrade] = useState(before?.grade ?? "");
  const [cite, setCite] = useState(before?.cite ?? "");
  const [inUse, setInUse] = useState<"yes" | "no">(before?.inUse === false ? "no" : "yes");
  const [made] = useState(() => `tank-${crypto.randomUUID()}`);
  const rule = (key: keyof typeof ruleScales, label: string, hint?: string) => (
    <Field
      label={label}
      value={number.text(key)}
      onChange={number.set(key)}
      inputMode="decimal"
      {...(hint === undefined ? {} : { hint })}
    />
  );
  const needed = (["capacity", "low", "dip", "sampleEvery", "settle"] as const).map((key) =>
    number.value(key),
  );
  const isOpen =
    needed.includes(null) ||
    (number.value("filter") === null && number.text("filter").trim() !== "") ||
    [name, grade, cite].some((one) => one.trim() === "");
  return (
    <div className="stack">
      <Field label={words.name} value={name} onChange={setName} />
      <Field label={form.grade} value={grade} onChange={setGrade} />
      {rule("capacity", words.capacity)}
      {rule("low", words.low)}
      {rule("dip", words.dip)}
      {rule("sampleEvery", words.sampleEvery)}
      {rule("settle", words.settle, words.settleHint)}
      {rule("filter", words.filter, words.filterHint)}
      <ChoiceRow
        name={words.inUse}
        choices={[
          { value: "yes", label: words.yes },
          { value: "no", label: words.no },
        ]}
        value={inUse}
        onChoose={setInUse}
      />
      <Field label={words.cite} value={cite} onChange={setCite} />
      <SignFoot
        label={words.save}
        why={isOpen ? words.needs : null}
        onSign={() =>
          device.sign(base.base, "tank.described", {
            tank: tank ?? made,
            name: name.trim(),
            grade: grade.trim(),
            capacity_L: needed[0],
            low_L: needed[1],
            dipWithin_L: needed[2],
            sampleEvery_h: needed[3],
            settle_h: needed[4],
            filterEvery_days: number.value("filter"),
            inUse: inUse === "yes",
            cite: cite.trim(),
            replaces: tanks.described.filter((one) => one.tank === tank).map(({ entry }) => entry),
          })
        }
        onDone={onDone}
      />
    </div>
  );
}
