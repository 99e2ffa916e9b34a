// To which kinds of flying the rule set's table of minima applies, and the table itself:
// the rule set's weather minima confirmed as they stand, or replaced by the operator's own figures, by a person and with the
// citation of the approved manual.
import { useState } from "react";
import type { MinimaLight, OwnMinimaStep } from "../../core/facts/situation.ts";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Field } from "../parts/field.tsx";
import { useApp, useSnapshot } from "./app-context.tsx";
import { OperationPicker } from "./operation-picker.tsx";
import type { OperatorFormProps } from "./operator.tsx";
import { NumberField } from "./number-field.tsx";
import { SignFoot } from "./sign-foot.tsx";
import { useOfficeWords } from "./use-office-words.ts";
import { useTyped } from "./use-typed.ts";

export function ConfirmMinimaForm({ onDone }: OperatorFormProps) {
  const { device } = useApp();
  const { operator: words, office } = useOfficeWords();
  const { operator } = useSnapshot();
  const typed = useTyped();
  const [cite, edition] = [typed.text("cite").trim(), typed.text("edition").trim()];
  return (
    <div className="stack">
      <p>{words.minimaOpen}</p>
      <Field label={words.cite} value={typed.text("cite")} onChange={typed.set("cite")} />
      <Field label={words.edition} value={typed.text("edition")} onChange={typed.set("edition")} />
      <SignFoot
        label={office.save}
        why={cite === "" || edition === "" ? words.needsAll : null}
        onSign={() =>
          device.sign(operator.ledger, "minima.settled", {
            how: "confirmed",
            cite,
            edition,
            tables: [],
            replaces: operator.state.minima.map(({ entry }) => entry),
          })
        }
        onDone={onDone}
      />
    </div>
  );
}

const steps = ["1", "2", "3"] as const;

export function ReplaceMinimaForm({ onDone }: OperatorFormProps) {
  const { device } = useApp();
  const { operator: words, office } = useOfficeWords();
  const { operator } = useSnapshot();
  const typed = useTyped();
  const [light, setLight] = useState<MinimaLight | null>(null);
  const [pilots, setPilots] = useState<"1" | "2" | "any" | null>(null);
  const [cite, edition] = [typed.text("cite").trim(), typed.text("edition").trim()];
  const stated = steps.flatMap((step): OwnMinimaStep[] => {
    const [ceilingFrom_ft, visibility_m] = [
      typed.number(`ceiling${step}`),
      typed.number(`visibility${step}`),
    ];
    return ceilingFrom_ft === null || visibility_m === null ? [] : [{ ceilingFrom_ft, visibility_m }];
  });
  const isHalf = steps.some(
    (step) => (typed.number(`ceiling${step}`) === null) !== (typed.number(`visibility${step}`) === null),
  );
  const isWhole =
    light !== null && pilots !== null && stated.length > 0 && !isHalf && cite !== "" && edition !== "";
  const held = operator.state.minima;
  const kept = held.flatMap(({ tables }) =>
    tables.filter((table) => table.light !== light || String(table.pilots ?? "any") !== pilots),
  );
  return (
    <div className="stack">
      <ChoiceRow
        name={words.light}
        choices={[
          { value: "day", label: words.day },
          { value: "night", label: words.night },
        ]}
        value={light}
        onChoose={setLight}
      />
      <ChoiceRow
        name={words.pilots}
        choices={[
          { value: "1", label: "1" },
          { value: "2", label: "2" },
          { value: "any", label: words.anyPilots },
        ]}
        value={pilots}
        onChoose={setPilots}
      />
      {steps.map((step) => (
        <div key={step} className="field-group">
          <NumberField label={`${words.ceiling(step)} (ft)`} name={`ceiling${step}`} typed={typed} />
          <NumberField label={`${words.visibility(step)} (m)`} name={`visibility${step}`} typed={typed} />
        </div>
      ))}
      <p className="small quiet">{words.onlyThisLight}</p>
      <Field label={words.cite} value={typed.text("cite")} onChange={typed.set("cite")} />
      <Field label={words.edition} value={typed.text("edition")} onChange={typed.set("edition")} />
      <SignFoot
        label={office.save}
        why={isWhole ? null : words.needsAll}
        onSign={() =>
          device.sign(operator.ledger, "minima.settled", {
            how: "replaced",
            cite,
            edition,
            tables: [
              ...kept.map((table) => ({ ...table })),
              {
                kind: "instead",
                operations: "all",
                light,
                pilots: pilots === "any" ? null : Number(pilots),
                steps: stated,
              },
            ],
            replaces: held.map(({ entry }) => entry),
          })
        }
        onDone={onDone}
      />
    </div>
  );
}

const usAsked = ["mountainous", "local", "aided"] as const;

/** Which table binds one kind of flying, and what the table has to be told besides crew and light. */
export function ApplyMinimaForm({ onDone }: OperatorFormProps) {
  const { device } = useApp();
  const { operator: words, office } = useOfficeWords();
  const { operator } = useSnapshot();
  const typed = useTyped();
  const [operation, setOperation] = useState<string | null>(null);
  const [binds, setBinds] = useState<"yes" | "no" | null>(null);
  const [performanceClass, setPerformanceClass] = useState<"1" | "2" | "3" | null>(null);
  const [told, setTold] = useState<Readonly<Partial<Record<(typeof usAsked)[number], "yes" | "no">>>>({});
  const { minimaUses, crew } = operator.state;
  const ruleSet = crew.rules[0]?.ruleSet ?? null;
  const cite = typed.text("cite").trim();
  const airspaceVisibility_m = typed.number("airspace");
  const others = minimaUses.flatMap(({ uses }) => uses.filter((one) => one.operation !== operation));
  const isWhole =
    operation !== null &&
    (binds === "no" ||
      (binds === "yes" &&
        cite !== "" &&
        (ruleSet === "eu"
          ? performanceClass !== null && airspaceVisibility_m !== null
          : usAsked.every((one) => told[one] !== undefined))));
  const yesNo = [
    { value: "yes", label: office.yes },
    { value: "no", label: office.no },
  ] as const;
  const use =
    ruleSet === "eu"
      ? { ruleSet, operation, cite, performanceClass: Number(performanceClass), airspaceVisibility_m }
      : { ruleSet, operation, cite, ...Object.fromEntries(usAsked.map((one) => [one, told[one] === "yes"])) };
  return (
    <div className="stack">
      <OperationPicker label={words.operation} value={operation} onChoose={setOperation} />
      <ChoiceRow name={words.tableBinds} choices={yesNo} value={binds} onChoose={setBinds} />
      {binds === "yes" && ruleSet === "eu" && (
        <>
          <ChoiceRow
            name={words.performanceClass}
            choices={(["1", "2", "3"] as const).map((value) => ({ value, label: value }))}
            value={performanceClass}
            onChoose={setPerformanceClass}
          />
          <NumberField label={words.airspaceVisibility} name={"airspace"} typed={typed} />
        </>
      )}
      {binds === "yes" &&
        ruleSet === "us" &&
        usAsked.map((one) => (
          <ChoiceRow
            key={one}
            name={words.usTable[one]}
            choices={yesNo}
            value={told[one] ?? null}
            onChoose={(answer) => setTold({ ...told, [one]: answer })}
          />
        ))}
      {binds === "yes" && (
        <Field label={words.cite} value={typed.text("cite")} onChange={typed.set("cite")} />
      )}
      <SignFoot
        label={office.save}
        why={ruleSet === null ? words.setRulesFirst : isWhole ? null : words.needsAll}
        onSign={() =>
          device.sign(operator.ledger, "minima.applied", {
            uses: binds === "no" ? others : [...others, use],
            replaces: minimaUses.map(({ entry }) => entry),
          })
        }
        onDone={onDone}
      />
    </div>
  );
}
