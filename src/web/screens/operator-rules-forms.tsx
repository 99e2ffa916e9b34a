// Forms of the operator's rules that are lists: what an operation asks of its crew, recency beyond the rule set's, the factors
// of the worksheet of risk. Each starts from what stands and puts its own part in its place.
import { useState } from "react";
import { paperKinds, recencyKinds } from "../../core/facts/crew.ts";
import type { PaperKind, RecencyKind } from "../../core/facts/crew.ts";
import { riskGroups } from "../../core/facts/flight-rules.ts";
import type { RiskFactor, RiskGroup } from "../../core/facts/flight-rules.ts";
import { Button } from "../parts/button.tsx";
import { ChoiceMany } from "../parts/choice-many.tsx";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Field } from "../parts/field.tsx";
import { Notice } from "../parts/notice.tsx";
import { Picker } from "../parts/picker.tsx";
import { useApp, useSnapshot } from "./app-context.tsx";
import { OperationPicker } from "./operation-picker.tsx";
import { crewRulesWith, recencyNames, standingFlying } from "./operator-rules.ts";
import type { OperatorFormProps } from "./operator.tsx";
import { NumberField } from "./number-field.tsx";
import { SignFoot } from "./sign-foot.tsx";
import { useOfficeWords } from "./use-office-words.ts";
import { useTyped } from "./use-typed.ts";

export function AsksForm({ onDone }: OperatorFormProps) {
  const { device } = useApp();
  const { operator: words, office } = useOfficeWords();
  const { operator } = useSnapshot();
  const [operation, setOperation] = useState<string | null>(null);
  const [recency, setRecency] = useState<readonly RecencyKind[]>([]);
  const [papers, setPapers] = useState<readonly PaperKind[]>([]);
  const { rules } = operator.state.crew;
  const choose = (chosen: string) => {
    const standing = rules.flatMap(({ asks }) => asks.filter((one) => one.operation === chosen));
    setOperation(chosen);
    setRecency(recencyKinds.filter((kind) => standing.some((one) => one.recency.includes(kind))));
    setPapers(paperKinds.filter((kind) => standing.some((one) => one.papers.includes(kind))));
  };
  const others = rules.flatMap(({ asks }) => asks.filter((one) => one.operation !== operation));
  const body =
    operation === null ? null : crewRulesWith(rules, { asks: [...others, { operation, recency, papers }] });
  return (
    <div className="stack">
      {rules.length !== 1 && <Notice title={rules.length === 0 ? words.noRules : words.rulesApart} />}
      <OperationPicker label={words.operation} value={operation} onChoose={choose} />
      {operation !== null && (
        <>
          <ChoiceMany
            name={words.asksRecency}
            choices={recencyKinds.map((value) => ({ value, label: words.recencies[value] }))}
            chosen={recency}
            onChoose={setRecency}
          />
          <ChoiceMany
            name={words.asksPapers}
            choices={paperKinds.map((value) => ({ value, label: words.papers[value] }))}
            chosen={papers}
            onChoose={setPapers}
          />
        </>
      )}
      <SignFoot
        label={office.save}
        why={rules.length === 1 ? (body === null ? office.missing : null) : words.setRulesFirst}
        onSign={() => device.sign(operator.ledger, "crewRules.set", body ?? {})}
        onDone={onDone}
      />
    </div>
  );
}

export function StricterForm({ onDone }: OperatorFormProps) {
  const { device } = useApp();
  const { operator: words, office } = useOfficeWords();
  const { operator } = useSnapshot();
  const typed = useTyped();
  const [recency, setRecency] = useState<(typeof recencyNames)[number] | null>(null);
  const { rules } = operator.state.crew;
  const [need, days, cite] = [typed.number("need"), typed.number("days"), typed.text("cite").trim()];
  const others = rules.flatMap(({ stricter }) => stricter.filter((one) => one.recency !== recency));
  const body =
    recency === null || need === null || days === null || cite === ""
      ? null
      : crewRulesWith(rules, { stricter: [...others, { recency, need, days, cite }] });
  return (
    <div className="stack">
      <p className="quiet">{words.stricterHint}</p>
      <Picker
        label={words.recency}
        choices={recencyNames.map((id) => ({ id, name: words.recencies[id] }))}
        value={recency}
        onChoose={(id) => setRecency(recencyNames.find((kind) => kind === id) ?? null)}
      />
      <NumberField label={words.needed} name={"need"} typed={typed} />
      <NumberField label={words.within} name={"days"} typed={typed} />
      <Field label={words.cite} value={typed.text("cite")} onChange={typed.set("cite")} />
      <SignFoot
        label={office.save}
        why={rules.length === 1 ? (body === null ? words.needsAll : null) : words.setRulesFirst}
        onSign={() => device.sign(operator.ledger, "crewRules.set", body ?? {})}
        onDone={onDone}
      />
    </div>
  );
}

export function WorksheetForm({ onDone }: OperatorFormProps) {
  const { device } = useApp();
  const { operator: words, office } = useOfficeWords();
  const { operator } = useSnapshot();
  const typed = useTyped();
  const standing = operator.state.flightRules;
  const kept = standingFlying(standing);
  const [factors, setFactors] = useState<readonly RiskFactor[]>(() => kept.worksheet?.factors ?? []);
  const [group, setGroup] = useState<RiskGroup | null>(null);
  const [said, most] = [typed.text("factor").trim(), typed.number("most")];
  const [releaseAbove, cite] = [typed.number("releaseAbove"), typed.text("cite").trim()];
  const add = () => {
    if (group === null || said === "" || most === null) return;
    const taken = new Set(factors.map(({ id }) => id));
    let next = factors.length + 1;
    while (taken.has(`factor${next}`)) next += 1;
    setFactors([...factors, { id: `factor${next}`, group, words: said, most }]);
    typed.set("factor")("");
    typed.set("most")("");
  };
  const isHalf = said !== "" || most !== null;
  const missing = riskGroups.filter((one) => !factors.some((factor) => factor.group === one));
  const why =
    missing.length > 0
      ? words.groupsMissing(missing.map((one) => words.groups[one]).join(", "))
      : isHalf
        ? words.addFirst
        : releaseAbove === null || cite === ""
          ? words.needsAll
          : null;
  return (
    <div className="stack">
      <p className="quiet">{words.worksheetHint}</p>
      <ul className="rows">
        {factors.map((factor) => (
          <li key={factor.id} className="row-with-act">
            <span>
              {factor.words}
              <span className="reason-detail">
                {words.factorOf(words.groups[factor.group], String(factor.most))}
              </span>
            </span>
            <Button look="outlined" onPress={() => setFactors(factors.filter((one) => one !== factor))}>
              {words.leaveOut}
            </Button>
          </li>
        ))}
      </ul>
      <ChoiceRow
        name={words.group}
        choices={riskGroups.map((value) => ({ value, label: words.groups[value] }))}
        value={group}
        onChoose={setGroup}
      />
      <Field label={words.factor} value={typed.text("factor")} onChange={typed.set("factor")} />
      <NumberField label={words.most} name={"most"} typed={typed} />
      <Button
        onPress={add}
        {...(group === null || said === "" || most === null ? { why: office.missing } : {})}
      >
        {words.addFactor}
      </Button>
      <NumberField label={words.releaseAbove} name={"releaseAbove"} typed={typed} />
      <Field label={words.cite} value={typed.text("cite")} onChange={typed.set("cite")} />
      <SignFoot
        label={office.save}
        why={why}
        onSign={() =>
          device.sign(operator.ledger, "flightRules.set", {
            ...kept,
            worksheet: { factors, releaseAbove, cite },
            replaces: standing.map(({ entry }) => entry),
          })
        }
        onDone={onDone}
      />
    </div>
  );
}
