// Entering at the gauges: a reading, and what was filled. Nothing is prefilled; what looks wrong is asked about, and kept
// as typed.
import { useState } from "react";
import { latestPoint, type GaugeLevels } from "../../core/level/craft-levels.ts";
import { riseOf } from "../../core/level/gauge-series.ts";
import { readTypedNumber, type Scale } from "../../present/typed-number.ts";
import { asTitle } from "../../present/sentence-case.ts";
import type { CraftView } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Field } from "../parts/field.tsx";
import { Picker } from "../parts/picker.tsx";
import { Stepper } from "../parts/stepper.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp, useSnapshot } from "./app-context.tsx";
import { latestAt } from "./latest-at.ts";
import { unitOf, useLevelsWords, useReadingEntry } from "./levels-reading.tsx";
import { amountText, type Telling } from "./levels-view.ts";

type EntryProps = {
  readonly craft: CraftView;
  readonly gauges: readonly GaugeLevels[];
  /** The gauge that the screen shows; null on the page of all of them. */
  readonly chosen: GaugeLevels | null;
  readonly telling: Telling;
  readonly onDone: () => void;
};

/** Which gauge, where none is at hand yet. */
function GaugePicker({
  gauges,
  value,
  onChoose,
}: {
  readonly gauges: readonly GaugeLevels[];
  readonly value: string | null;
  readonly onChoose: (id: string) => void;
}) {
  const { entry } = useLevelsWords();
  const { language } = useLocale();
  const choices = gauges.map(({ gauge }) => ({
    id: gauge.id,
    name: asTitle(gauge.name[language], language),
  }));
  return <Picker label={entry.which} choices={choices} value={value} onChoose={onChoose} />;
}

export function ReadingForm({ craft, gauges, chosen, onDone }: EntryProps) {
  const [id, setId] = useState(chosen?.gauge.id ?? null);
  const one = gauges.find(({ gauge }) => gauge.id === id) ?? null;
  return (
    <div className="stack">
      {chosen === null && <GaugePicker gauges={gauges} value={id} onChoose={setId} />}
      {one !== null && <OneReading craft={craft} one={one} onDone={onDone} key={one.gauge.id} />}
    </div>
  );
}

type OneProps = { readonly craft: CraftView; readonly one: GaugeLevels; readonly onDone: () => void };

function OneReading({ craft, one, onDone }: OneProps) {
  const { device } = useApp();
  const { entry } = useLevelsWords();
  const { language } = useLocale();
  const label = asTitle(one.gauge.name[language], language);
  const { fields, reading, why } = useReadingEntry(craft, one.gauge, label);
  const save = () => {
    if (reading !== null) void device.read(craft.ledger, one.gauge.id, reading).then(onDone);
  };
  return (
    <>
      {fields}
      <Button look="filled" onPress={save} {...(why === null ? {} : { why })}>
        {entry.save}
      </Button>
    </>
  );
}

export function UpliftForm({ craft, gauges, chosen, telling, onDone }: EntryProps) {
  const filled = gauges.filter(({ gauge }) => gauge.fluid !== undefined);
  const [id, setId] = useState(chosen?.gauge.fluid === undefined ? null : chosen.gauge.id);
  const one = filled.find(({ gauge }) => gauge.id === id) ?? null;
  return (
    <div className="stack">
      {chosen?.gauge.fluid === undefined && <GaugePicker gauges={filled} value={id} onChoose={setId} />}
      {one !== null && (
        <OneUplift craft={craft} one={one} telling={telling} onDone={onDone} key={one.gauge.id} />
      )}
    </div>
  );
}

const amountScale: Scale = { decimals: 2, lowest: 0, highest: 10_000 };
const other = "other";
const notKnown = "not-known";

function OneUplift({ craft, one, telling, onDone }: OneProps & { readonly telling: Telling }) {
  const { device } = useApp();
  const { now_ms, zone } = useSnapshot();
  const { uplift: words } = useLevelsWords();
  const allWords = useWords();
  const { language } = useLocale();
  const { gauge } = one;
  const fluid = craft.sheet?.fluids.find(({ id }) => id === gauge.fluid);
  const units = [
    ...new Set(["L", ...(fluid?.density_kgL === undefined ? [] : ["kg"]), "usgal", gauge.unit]),
  ].filter((unit) => riseOf(gauge, fluid, { amount: 1, unit }) !== null);
  const [typed, setTyped] = useState("");
  const [unit, setUnit] = useState(units[0] ?? gauge.unit);
  const [choice, setChoice] = useState<string | null>(null);
  const [gradeTyped, setGradeTyped] = useState("");
  const [batch, setBatch] = useState("");
  const [time, setTime] = useState("");
  const amount = readTypedNumber(typed, amountScale, language);
  const at_ms = time.trim() === "" ? now_ms : latestAt(time.trim(), now_ms, zone);
  const grade = choice === other ? gradeTyped.trim() : choice;
  const hasAmount = amount.value !== null && amount.issue === null && amount.value > 0;
  const hasGrade = grade !== null && grade !== "";
  const rise = hasAmount ? riseOf(gauge, fluid, { amount: amount.value, unit }) : null;
  const before = latestPoint(one.series)?.value ?? null;
  const above =
    rise !== null && before !== null && gauge.capacity !== undefined && before + rise > gauge.capacity;
  const isMixed =
    fluid !== undefined &&
    !fluid.mixable &&
    hasGrade &&
    grade !== notKnown &&
    one.series.uplifts.some(({ uplift }) => uplift.grade !== null && uplift.grade !== grade);
  const why = !hasAmount
    ? words.needsAmount
    : at_ms === null
      ? words.noTime(time)
      : hasGrade
        ? null
        : words.needsGrade;
  const save = () => {
    if (!hasAmount || at_ms === null || !hasGrade || fluid === undefined) return;
    const said = {
      fluid: fluid.id,
      gauge: gauge.id,
      amount: amount.value,
      unit,
      typed: typed.trim(),
      grade: grade === notKnown ? null : grade,
      batch: batch.trim() === "" ? null : batch.trim(),
      at_ms,
    };
    void device.fill(craft.ledger, said).then(onDone);
  };
  return (
    <>
      {fluid !== undefined && fluid.topUpBy !== "pilot" && (
        <p className="small quiet">{words.notYours(words.roles[fluid.topUpBy])}</p>
      )}
      <Stepper
        label={words.amount}
        typed={typed}
        onTyped={setTyped}
        scale={amountScale}
        step={0.25}
        startAt={0.25}
        unit={unitOf(unit, allWords)}
        hint={rise === null ? "" : words.rises(amountText(one, rise, telling, 2))}
        issue={
          above
            ? words.above(
                amountText(one, before + rise, telling, 2),
                amountText(one, gauge.capacity, telling),
              )
            : null
        }
      />
      {units.length > 1 && (
        <ChoiceRow
          name={words.unit}
          choices={units.map((value) => ({ value, label: unitOf(value, allWords) }))}
          value={unit}
          onChoose={setUnit}
        />
      )}
      <ChoiceRow
        name={words.grade}
        width="long"
        choices={[
          ...(fluid?.grades ?? []).map((value) => ({ value, label: value })),
          { value: other, label: words.gradeOther },
          { value: notKnown, label: words.gradeNotKnown },
        ]}
        value={choice}
        onChoose={setChoice}
      />
      {choice === other && <Field label={words.gradeTyped} value={gradeTyped} onChange={setGradeTyped} />}
      {isMixed && <p role="alert">{words.mixed}</p>}
      <Field label={words.batch} value={batch} onChange={setBatch} />
      <Field
        label={words.when}
        value={time}
        onChange={setTime}
        hint={words.whenHint}
        issue={at_ms === null && time.trim().length >= 5 ? words.noTime(time) : null}
      />
      <Button look="filled" onPress={save} {...(why === null ? {} : { why })}>
        {words.save}
      </Button>
    </>
  );
}
