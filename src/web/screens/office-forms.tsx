// Forms that an engineer or the airworthiness office signs for one machine: work done, parts in and out with their counters,
// dated matters, and the one extension of a deferral with its new last day in words.
import { useState } from "react";
import { countersNow } from "../../core/due/counters.ts";
import { deferralDeadline } from "../../core/due/deferral-deadline.ts";
import { intervalDaysOf } from "../../core/due/deferral-term.ts";
import { counterNames, obligationKinds, positionKey } from "../../core/facts/due.ts";
import type { Counters } from "../../core/facts/due.ts";
import { own } from "../../core/facts/own.ts";
import { deferralRulesOf } from "../../core/rules/deferral-rules.ts";
import { dateLong } from "../../present/words/formats.ts";
import type { CraftView } from "../device/model.ts";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Field } from "../parts/field.tsx";
import { Notice } from "../parts/notice.tsx";
import { Picker } from "../parts/picker.tsx";
import { useLocale } from "../parts/words.tsx";
import { useApp, useNames, useSnapshot } from "./app-context.tsx";
import { DateField } from "./date-field.tsx";
import type { OfficeFormProps } from "./office.tsx";
import { PartFields, partCounters } from "./office-balance.tsx";
import { NumberField } from "./number-field.tsx";
import { SignFoot } from "./sign-foot.tsx";
import { useOfficeWords } from "./use-office-words.ts";
import { useTyped } from "./use-typed.ts";

/** The machine's counters now, to a hundredth; null where one is not known. */
function craftCounters(craft: CraftView): Counters | null {
  const now = countersNow(craft.state);
  if (now === null || Object.values(now).includes(null)) return null;
  return Object.fromEntries(counterNames.map((name) => [name, Number(now[name]?.toFixed(2))])) as Counters;
}

export function WorkForm({ craft, onDone }: OfficeFormProps) {
  const { device } = useApp();
  const { office: words } = useOfficeWords();
  const names = useNames(craft);
  const typed = useTyped();
  const [task, setTask] = useState<string | null>(null);
  const counters = craftCounters(craft);
  const on = typed.date("on");
  const licence = typed.text("licence").trim();
  return (
    <div className="stack">
      <Picker
        label={words.task}
        choices={(craft.sheet?.programme ?? []).map(({ id }) => ({ id, name: names.title("task", id) }))}
        value={task}
        onChoose={setTask}
      />
      <DateField label={words.on} value={typed.text("on")} onChange={typed.set("on")} />
      <Field label={words.licence} value={typed.text("licence")} onChange={typed.set("licence")} />
      {counters === null && <Notice title={words.countersMissing} />}
      <SignFoot
        label={words.save}
        why={task === null || on === null || licence === "" || counters === null ? words.missing : null}
        onSign={() => device.sign(craft.ledger, "task.done", { task, counters, on, licence })}
        onDone={onDone}
      />
    </div>
  );
}

type PartFormProps = OfficeFormProps & { readonly how: "install" | "remove" };

export function PartForm({ craft, onDone, how }: PartFormProps) {
  const { device } = useApp();
  const { office: words } = useOfficeWords();
  const { language } = useLocale();
  const names = useNames(craft);
  const typed = useTyped();
  const [place, setPlace] = useState<string | null>(null);
  const places = (craft.sheet?.components ?? []).flatMap((component) =>
    component.positions.map((name, position) => ({
      id: positionKey(component.id, position),
      component,
      position,
      name: `${names.title("component", component.id)}, ${name[language]}`,
    })),
  );
  const chosen = places.find(({ id }) => id === place);
  const counters = craftCounters(craft);
  const held = place === null ? [] : (own(craft.state.due.components, place) ?? []);
  const replaces = held.map(({ entry }) => entry);
  const remove = () =>
    device.sign(craft.ledger, "component.removed", {
      component: chosen?.component.id,
      position: chosen?.position,
      replaces,
    });
  const serial = typed.text("part/serial").trim();
  const newOn = typed.date("part/newOn");
  const sinceNew =
    chosen === undefined || counters === null
      ? null
      : partCounters(chosen.component, typed, "part/new", counters);
  const sinceOverhaul =
    chosen?.component.overhaul === undefined || counters === null
      ? sinceNew
      : partCounters(chosen.component, typed, "part/overhaul", counters);
  const expiresOn = typed.date("part/expiresOn");
  const isWhole =
    chosen !== undefined &&
    (how === "remove" ||
      (serial !== "" &&
        newOn !== null &&
        sinceNew !== null &&
        sinceOverhaul !== null &&
        (!chosen.component.dated || expiresOn !== null)));
  const install = () =>
    device.sign(craft.ledger, "component.fitted", {
      component: chosen?.component.id,
      position: chosen?.position,
      serial,
      sinceNew,
      sinceOverhaul,
      craftCounters: counters,
      newOn,
      overhauledOn: typed.date("overhauledOn"),
      expiresOn,
      replaces,
    });
  return (
    <div className="stack">
      <Picker label={words.place} choices={places} value={place} onChoose={setPlace} />
      {held.map((fact) =>
        "serial" in fact ? <p key={fact.entry}>{`${words.serial} ${fact.serial}`}</p> : null,
      )}
      {how === "install" && chosen !== undefined && (
        <>
          <PartFields component={chosen.component} typed={typed} prefix="part" name="" />
          {chosen.component.overhaul !== undefined && (
            <DateField
              label={words.overhauled}
              value={typed.text("overhauledOn")}
              onChange={typed.set("overhauledOn")}
            />
          )}
          <p className="small quiet">{words.carried}</p>
          {counters === null && <Notice title={words.countersMissing} />}
        </>
      )}
      <SignFoot
        label={how === "install" ? words.install : words.remove}
        why={isWhole ? null : words.missing}
        onSign={how === "install" ? install : remove}
        onDone={onDone}
      />
    </div>
  );
}

export function ObligationForm({ craft, onDone }: OfficeFormProps) {
  const { device } = useApp();
  const { office: words } = useOfficeWords();
  const typed = useTyped();
  const [kind, setKind] = useState<(typeof obligationKinds)[number] | null>(null);
  const [settled, setSettled] = useState<"yes" | "no">("no");
  const [of, setOf] = useState<string | null>(null);
  const known = Object.values(craft.state.due.obligations)
    .flat()
    .filter((one) => !one.settled);
  const before = known.find(({ obligation }) => obligation === of);
  const said = typed.text("words").trim();
  const lastDay = typed.date("lastDay");
  const hours = typed.number("hours");
  const isBound = lastDay !== null || hours !== null || settled === "yes";
  const isNamed = before !== undefined || (kind !== null && said !== "");
  return (
    <div className="stack">
      {known.length > 0 && (
        <Picker
          label={words.obligation}
          choices={known.map(({ obligation, words: name }) => ({ id: obligation, name }))}
          value={of}
          onChoose={setOf}
        />
      )}
      {before === undefined && (
        <>
          <ChoiceRow
            name={words.kindName}
            choices={obligationKinds.map((value) => ({ value, label: words.kind[value] }))}
            value={kind}
            onChoose={setKind}
            width="even"
          />
          <Field label={words.words} value={typed.text("words")} onChange={typed.set("words")} />
        </>
      )}
      <DateField label={words.lastDay} value={typed.text("lastDay")} onChange={typed.set("lastDay")} />
      <NumberField label={words.dueHours} name={"hours"} typed={typed} />
      {before !== undefined && (
        <ChoiceRow
          name={words.settle}
          choices={[
            { value: "no", label: words.no },
            { value: "yes", label: words.yes },
          ]}
          value={settled}
          onChoose={setSettled}
        />
      )}
      <SignFoot
        label={words.save}
        why={isNamed && isBound ? null : words.missing}
        onSign={() =>
          device.sign(craft.ledger, "obligation.set", {
            obligation: before?.obligation ?? `matter${Object.keys(craft.state.due.obligations).length + 1}`,
            kind: before?.kind ?? kind,
            words: before?.words ?? said,
            lastDay,
            dueAt: hours === null ? {} : { flightHours_h: hours },
            takesAway: before?.takesAway ?? "all",
            settled: settled === "yes",
            replaces: before === undefined ? [] : [before.entry],
          })
        }
        onDone={onDone}
      />
    </div>
  );
}

const conditions = ["beyondControl", "authorityNotified", "planMade"] as const;

export function ExtendForm({ craft, onDone }: OfficeFormProps) {
  const { device } = useApp();
  const { office: words } = useOfficeWords();
  const { zone, operator } = useSnapshot();
  const locale = useLocale();
  const names = useNames(craft);
  const typed = useTyped();
  const [finding, setFinding] = useState<string | null>(null);
  const [met, setMet] = useState<Readonly<Partial<Record<(typeof conditions)[number], "yes" | "no">>>>({});
  const open = craft.standing.reasons.filter(({ code }) => code === "finding.deferred");
  const chosen = open.find(({ facts }) => facts["finding"] === finding);
  const listed = craft.sheet?.deferrals.find(({ id }) => id === chosen?.facts["deferral"]);
  const ruleSet = operator.state.crew.rules[0]?.ruleSet ?? null;
  const rule = ruleSet === null ? null : deferralRulesOf(ruleSet).extension;
  const facts = finding === null ? undefined : own(craft.state.findings, finding);
  const days = listed === undefined ? null : intervalDaysOf(listed);
  const may =
    rule !== null && listed !== undefined && rule.categories.includes(listed.category) && days !== null;
  const last =
    may && facts !== undefined ? deferralDeadline(facts.raised.at_ms, zone, "A", 2 * days).lastDay : null;
  const said = typed.text("words").trim();
  const isWhole = last !== null && said !== "" && conditions.every((one) => met[one] === "yes");
  const isAgain = chosen?.facts["extended"] === true;
  if (open.length === 0) return <p>{words.noDeferral}</p>;
  return (
    <div className="stack">
      <Picker
        label={words.extendOf}
        choices={open.map((reason) => ({
          id: String(reason.facts["finding"]),
          name: names.title("deferral", String(reason.facts["deferral"])),
        }))}
        value={finding}
        onChoose={setFinding}
      />
      {isAgain && <Notice title={words.alreadyExtended} />}
      {chosen !== undefined && !may && <Notice title={words.notExtendable(rule?.cite ?? "–")} />}
      {last !== null && rule !== null && <p>{words.until(dateLong(last, locale), rule.cite)}</p>}
      {conditions.map((one) => (
        <ChoiceRow
          key={one}
          name={words[one]}
          choices={[
            { value: "yes", label: words.yes },
            { value: "no", label: words.no },
          ]}
          value={met[one] ?? null}
          onChoose={(value) => setMet((held) => ({ ...held, [one]: value }))}
        />
      ))}
      <Field label={words.remarks} value={typed.text("words")} onChange={typed.set("words")} lines="many" />
      <SignFoot
        label={words.save}
        why={isWhole && !isAgain ? null : isAgain ? words.alreadyExtended : words.missing}
        onSign={() =>
          device.sign(craft.ledger, "deferral.extended", {
            finding,
            role: "airworthiness",
            beyondControl: true,
            authorityNotified: true,
            planMade: true,
            words: said,
          })
        }
        onDone={onDone}
      />
    </div>
  );
}
