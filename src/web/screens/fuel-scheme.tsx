// What the operator's fuel scheme asks of a flight beyond the rule set: shown to everybody, set by the office with its citation.
import { useState } from "react";
import type { BaseSky } from "../../core/facts/sky.ts";
import { displayNumber } from "../../core/quantity/display.ts";
import { fuelPolicyOf } from "../../core/standing/fuel-policy.ts";
import type { Scale } from "../../present/typed-number.ts";
import { typedText } from "../../present/typed-number.ts";
import { Button } from "../parts/button.tsx";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Field } from "../parts/field.tsx";
import { Sheet } from "../parts/sheet.tsx";
import { useLocale } from "../parts/words.tsx";
import { useApp } from "./app-context.tsx";
import { SignFoot } from "./sign-foot.tsx";
import { useFuelWords } from "./use-fuel-words.ts";
import { useNumbers } from "./use-numbers.ts";

type Props = { readonly base: BaseSky; readonly isOffice: boolean };

export function FuelSchemeSection({ base, isOffice }: Props) {
  const { scheme: words } = useFuelWords();
  const { language } = useLocale();
  const [open, setOpen] = useState(false);
  const { fuelSchemes } = base.state;
  const { contingency_pct, extra_kg, landmarks, hems, refuelRunning } = fuelPolicyOf(fuelSchemes);
  const number = (value: number, unit: string) =>
    `${displayNumber(value, Number.isInteger(value) ? 0 : 1, "both", language)} ${unit}`;
  return (
    <section className="stack" aria-labelledby="fuel-scheme">
      <h2 id="fuel-scheme" className="heading-small">
        {words.title}
      </h2>
      {fuelSchemes.length === 0 ? (
        <p>{words.none}</p>
      ) : (
        <p>
          {[
            words.now(number(contingency_pct, "%"), number(extra_kg, "kg")),
            words.landmarks[landmarks ? "yes" : "no"],
            words.hems[hems ?? "none"],
            words.running[refuelRunning ? "yes" : "no"],
          ].join("; ")}
        </p>
      )}
      {fuelSchemes.map(({ entry, cite }) => (
        <p key={entry} className="small quiet">
          {cite}
        </p>
      ))}
      <Button look="plain" onPress={() => setOpen(true)} {...(isOffice ? {} : { why: words.onlyOffice })}>
        {words.set}
      </Button>
      <Sheet title={words.title} open={open} onClose={() => setOpen(false)}>
        {open && <SchemeForm base={base} onDone={() => setOpen(false)} />}
      </Sheet>
    </section>
  );
}

const scales = {
  contingency: { decimals: 1, lowest: 0, highest: 100 },
  extra: { decimals: 0, lowest: 0, highest: 10_000 },
} as const satisfies Record<string, Scale>;
type YesNo = "yes" | "no";
type Hems = "none" | "local" | "continuousSites";

function SchemeForm({ base, onDone }: { readonly base: BaseSky; readonly onDone: () => void }) {
  const { device } = useApp();
  const { scheme, tankForm } = useFuelWords();
  const { form } = scheme;
  const { language } = useLocale();
  const { fuelSchemes } = base.state;
  const held = fuelPolicyOf(fuelSchemes);
  const number = useNumbers(scales, {
    contingency: typedText(held.contingency_pct, Number.isInteger(held.contingency_pct) ? 0 : 1, language),
    extra: typedText(held.extra_kg, 0, language),
  });
  const [landmarks, setLandmarks] = useState<YesNo>(held.landmarks ? "yes" : "no");
  const [hems, setHems] = useState<Hems>(held.hems ?? "none");
  const [running, setRunning] = useState<YesNo>(held.refuelRunning ? "yes" : "no");
  const [cite, setCite] = useState("");
  const [contingency_pct, extra_kg] = [number.value("contingency"), number.value("extra")];
  const isOpen = contingency_pct === null || extra_kg === null || cite.trim() === "";
  const yesNo = (name: string, value: YesNo, onChoose: (next: YesNo) => void) => (
    <ChoiceRow
      name={name}
      choices={(["yes", "no"] as const).map((one) => ({ value: one, label: tankForm[one] }))}
      value={value}
      onChoose={onChoose}
    />
  );
  return (
    <div className="stack">
      <Field
        label={form.contingency}
        value={number.text("contingency")}
        onChange={number.set("contingency")}
        inputMode="decimal"
      />
      <Field
        label={form.extra}
        value={number.text("extra")}
        onChange={number.set("extra")}
        inputMode="decimal"
      />
      {yesNo(form.landmarks, landmarks, setLandmarks)}
      <ChoiceRow
        name={form.hems}
        width="long"
        choices={(["none", "local", "continuousSites"] as const).map((value) => ({
          value,
          label: form.hemsChoice[value],
        }))}
        value={hems}
        onChoose={setHems}
      />
      {yesNo(form.running, running, setRunning)}
      <Field label={form.cite} value={cite} onChange={setCite} />
      <SignFoot
        label={tankForm.save}
        why={isOpen ? tankForm.needs : null}
        onSign={() =>
          device.sign(base.base, "fuel.schemeSet", {
            contingency_pct,
            extra_kg,
            landmarks: landmarks === "yes",
            hems: hems === "none" ? null : hems,
            refuelRunning: running === "yes",
            cite: cite.trim(),
            replaces: fuelSchemes.map(({ entry }) => entry),
          })
        }
        onDone={onDone}
      />
    </div>
  );
}
