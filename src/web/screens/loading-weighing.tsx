// A weighing recorded by who may sign it: mass, arms and report; in it is the equipment that is on now. Asked for again
// before it is kept, since every load rests on it.
import { useState } from "react";
import { own } from "../../core/facts/own.ts";
import { standingWeighings } from "../../core/load/assess.ts";
import type { Sheet as TypeSheet } from "../../core/sheet/schema.ts";
import { craftConfigOf } from "../../core/walk/craft-config.ts";
import { readTypedNumber } from "../../present/typed-number.ts";
import type { CraftView } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { Field } from "../parts/field.tsx";
import { HoldButton } from "../parts/hold-button.tsx";
import { Sheet } from "../parts/sheet.tsx";
import { Stepper } from "../parts/stepper.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp, useNames, useSnapshot } from "./app-context.tsx";
import { useLoadingWords } from "./use-loading-words.ts";

/** The button for engineers and the airworthiness office, and its sheet; nothing for others. */
export function WeighingEntry({ craft, sheet }: { readonly craft: CraftView; readonly sheet: TypeSheet }) {
  const words = useLoadingWords();
  const { me } = useSnapshot();
  const [open, setOpen] = useState(false);
  const role = (["engineer", "airworthiness"] as const).find((one) => me?.roles.includes(one) === true);
  if (role === undefined) return null;
  return (
    <>
      <Button onPress={() => setOpen(true)}>{words.weighing.record}</Button>
      <Sheet title={words.weighing.record} open={open} onClose={() => setOpen(false)}>
        <WeighingInside craft={craft} sheet={sheet} role={role} onDone={() => setOpen(false)} />
      </Sheet>
    </>
  );
}

type WeighingInsideProps = {
  readonly craft: CraftView;
  readonly sheet: TypeSheet;
  readonly role: "engineer" | "airworthiness";
  readonly onDone: () => void;
};

const massScale = { decimals: 1, lowest: 100, highest: 10_000 };
const armScale = { decimals: 4, lowest: -50, highest: 50 };

function WeighingInside({ craft, sheet, role, onDone }: WeighingInsideProps) {
  const words = useLoadingWords();
  const { units } = useWords();
  const { language } = useLocale();
  const { device } = useApp();
  const names = useNames(craft);
  const [mass, setMass] = useState("");
  const [x, setX] = useState("");
  const [y, setY] = useState("");
  const [report, setReport] = useState("");
  const { variant, installed } = craftConfigOf(craft.state);
  const usual = sheet.type.variants.find(({ id }) => id === variant)?.referenceEmpty;
  const included = sheet.equipment.filter(({ id }) => own(installed, id) === true).map(({ id }) => id);
  const read = (typed: string, scale: typeof armScale): number | null => {
    const { value, issue } = readTypedNumber(typed, scale, language);
    return issue === null ? value : null;
  };
  const [mass_kg, x_m, y_m] = [read(mass, massScale), read(x, armScale), read(y, armScale)];
  const keep = async () => {
    if (mass_kg === null || x_m === null || y_m === null) return;
    const replaces = standingWeighings(craft.state).map(({ entry }) => entry);
    await device.recordWeighing(
      craft.ledger,
      { mass_kg, x_m, y_m, included, role, report: report.trim() },
      replaces,
    );
    onDone();
  };
  const isWhole = mass_kg !== null && x_m !== null && y_m !== null && report.trim() !== "";
  const arm = (label: string, typed: string, onTyped: (typed: string) => void, startAt: number) => (
    <Stepper
      label={label}
      typed={typed}
      onTyped={onTyped}
      scale={armScale}
      step={0.001}
      startAt={startAt}
      unit={units.m}
    />
  );
  return (
    <div className="stack-wide">
      <Stepper
        label={words.weighing.mass}
        typed={mass}
        onTyped={setMass}
        scale={massScale}
        step={1}
        startAt={usual?.mass_kg ?? 2_000}
        unit={units.kg}
      />
      {arm(words.weighing.along, x, setX, usual?.x_m ?? 0)}
      {arm(words.weighing.across, y, setY, 0)}
      <Field label={words.weighing.report} value={report} onChange={setReport} />
      <p className="quiet small">
        {words.weighing.included(included.map((id) => names.of("equipment", id)).join(", "))}
      </p>
      {isWhole ? (
        <HoldButton holdFor={words.weighing.hold} onHeld={() => void keep()} look="filled">
          {words.weighing.sign}
        </HoldButton>
      ) : (
        <Button look="filled" onPress={() => undefined} why={words.weighing.missing}>
          {words.weighing.sign}
        </Button>
      )}
    </div>
  );
}
