// The opening balance of a machine, and new counters. What is left open stays open: each of it is then not known. A part's
// own counter that nothing counts by is taken as high as the machine's, never lower.
import { useState } from "react";
import { countersNow } from "../../core/due/counters.ts";
import { counterNames } from "../../core/facts/due.ts";
import type { CounterName, Counters } from "../../core/facts/due.ts";
import { own } from "../../core/facts/own.ts";
import type { Component } from "../../core/sheet/due-blocks.ts";
import type { Sheet } from "../../core/sheet/schema.ts";
import type { CraftView } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { Field } from "../parts/field.tsx";
import { useLocale } from "../parts/words.tsx";
import { useApp, useNames } from "./app-context.tsx";
import { DateField } from "./date-field.tsx";
import type { OfficeFormProps } from "./office.tsx";
import { NumberField } from "./number-field.tsx";
import { SignFoot } from "./sign-foot.tsx";
import { useOfficeWords } from "./use-office-words.ts";
import { useTyped } from "./use-typed.ts";
import type { Typed } from "./use-typed.ts";

/** The machine's counters as typed; null while one is missing. */
function countersTyped(typed: Typed): Counters | null {
  const each = counterNames.map((name) => [name, typed.number(name)] as const);
  return each.some(([, value]) => value === null) ? null : (Object.fromEntries(each) as Counters);
}

function CounterFields({ typed }: { readonly typed: Typed }) {
  const { office: words } = useOfficeWords();
  return counterNames.map((name) => (
    <NumberField key={name} label={words.counters[name]} name={name} typed={typed} />
  ));
}

/** Counters by which the part runs out; hours where none is named. */
export function countedBy({ life, overhaul }: Component): readonly CounterName[] {
  const named = counterNames.filter((name) => life?.[name] !== undefined || overhaul?.[name] !== undefined);
  return named.length === 0 ? ["flightHours_h"] : named;
}

/** What the part counted of its own, as typed under `prefix`; what nothing counts by is as high as the machine's. */
export function partCounters(
  component: Component,
  typed: Typed,
  prefix: string,
  craft: Counters,
): Counters | null {
  const named = countedBy(component);
  const each = counterNames.map(
    (name) => [name, named.includes(name) ? typed.number(`${prefix}/${name}`) : craft[name]] as const,
  );
  return each.some(([, value]) => value === null) ? null : (Object.fromEntries(each) as Counters);
}

function isInstalled(craft: CraftView, equipment: string | undefined): boolean {
  return (
    equipment === undefined ||
    (own(craft.state.equipment, equipment) ?? []).some(({ installed }) => installed)
  );
}

/** Tasks whose last day of work was typed; hours are the machine's then. */
function doneTyped(tasks: Sheet["programme"], typed: Typed, craft: Counters) {
  return tasks.flatMap(({ id, interval }) => {
    const on = typed.date(`task/${id}/on`);
    const named = counterNames.filter((name) => interval[name] !== undefined);
    const at = named.map((name) => [name, typed.number(`task/${id}/${name}`)] as const);
    if (on === null || at.some(([, value]) => value === null)) return [];
    return [{ task: id, on, counters: { ...craft, ...(Object.fromEntries(at) as Partial<Counters>) } }];
  });
}

export function BalanceForm({ craft, onDone }: OfficeFormProps) {
  const { device } = useApp();
  const { office: words } = useOfficeWords();
  const { language } = useLocale();
  const names = useNames(craft);
  const typed = useTyped();
  const [remarks, setRemarks] = useState("");
  const [matters, setMatters] = useState(0);
  const tasks = (craft.sheet?.programme ?? []).filter(({ equipment }) => isInstalled(craft, equipment));
  const places = (craft.sheet?.components ?? [])
    .filter(({ equipment }) => isInstalled(craft, equipment))
    .flatMap((component) =>
      component.positions.map((name, position) => ({
        component,
        position,
        key: `part/${component.id}/${position}`,
        name: `${names.title("component", component.id)}, ${name[language]}`,
      })),
    );
  const counters = countersTyped(typed);
  const done = counters === null ? [] : doneTyped(tasks, typed, counters);
  const parts =
    counters === null
      ? []
      : places.flatMap(({ component, position, key }) => {
          const serial = typed.text(`${key}/serial`).trim();
          const sinceNew = partCounters(component, typed, `${key}/new`, counters);
          const sinceOverhaul =
            component.overhaul === undefined
              ? sinceNew
              : partCounters(component, typed, `${key}/overhaul`, counters);
          const newOn = typed.date(`${key}/newOn`);
          if (serial === "" || sinceNew === null || sinceOverhaul === null || newOn === null) return [];
          const expiresOn = typed.date(`${key}/expiresOn`);
          return [
            {
              component: component.id,
              position,
              serial,
              sinceNew,
              sinceOverhaul,
              craftCounters: counters,
              newOn,
              overhauledOn: null,
              expiresOn,
            },
          ];
        });
  const obligations = Array.from({ length: matters }, (_, index) => `matter/${index}`).flatMap(
    (key, index) => {
      const said = typed.text(`${key}/words`).trim();
      const hours = typed.number(`${key}/hours`);
      if (said === "") return [];
      return [
        {
          obligation: `opening${index + 1}`,
          kind: "directive",
          words: said,
          lastDay: typed.date(`${key}/lastDay`),
          dueAt: hours === null ? {} : { flightHours_h: hours },
          takesAway: "all",
          settled: false,
        },
      ];
    },
  );
  const open = tasks.length + places.length - done.length - parts.length;
  return (
    <div className="stack">
      <p>{words.balanceIntro}</p>
      <CounterFields typed={typed} />
      {tasks.map(({ id, interval }) => (
        <div key={id} className="field-group">
          <DateField
            label={words.lastDoneOn(names.title("task", id))}
            value={typed.text(`task/${id}/on`)}
            onChange={typed.set(`task/${id}/on`)}
          />
          {counterNames
            .filter((name) => interval[name] !== undefined)
            .map((name) => (
              <NumberField
                key={name}
                label={`${names.title("task", id)}: ${words.counters[name]}`}
                name={`task/${id}/${name}`}
                typed={typed}
              />
            ))}
        </div>
      ))}
      {places.map(({ component, key, name }) => (
        <div key={key} className="field-group">
          <PartFields component={component} typed={typed} prefix={key} name={`${name}: `} />
        </div>
      ))}
      {Array.from({ length: matters }, (_, index) => (
        <div key={index} className="field-group">
          <Field
            label={`${words.kind.directive} ${index + 1}: ${words.words}`}
            value={typed.text(`matter/${index}/words`)}
            onChange={typed.set(`matter/${index}/words`)}
          />
          <DateField
            label={`${words.kind.directive} ${index + 1}: ${words.lastDay}`}
            value={typed.text(`matter/${index}/lastDay`)}
            onChange={typed.set(`matter/${index}/lastDay`)}
          />
          <NumberField
            label={`${words.kind.directive} ${index + 1}: ${words.dueHours}`}
            name={`matter/${index}/hours`}
            typed={typed}
          />
        </div>
      ))}
      <Button onPress={() => setMatters((held) => held + 1)}>{words.obligation}</Button>
      <Field label={words.remarks} value={remarks} onChange={setRemarks} lines="many" />
      {counters !== null && open > 0 && <p>{words.skipped(String(open))}</p>}
      <SignFoot
        label={words.save}
        why={counters === null ? words.missing : null}
        onSign={() =>
          device.sign(craft.ledger, "balance.signed", {
            counters,
            done,
            components: parts,
            obligations,
            words: remarks.trim(),
          })
        }
        onDone={onDone}
      />
    </div>
  );
}

type PartFieldsProps = {
  readonly component: Component;
  readonly typed: Typed;
  readonly prefix: string;
  /** Before each label, where many parts stand in one form. */
  readonly name: string;
};

export function PartFields({ component, typed, prefix, name }: PartFieldsProps) {
  const { office: words } = useOfficeWords();
  const counted = countedBy(component);
  return (
    <>
      <Field
        label={`${name}${words.serial}`}
        value={typed.text(`${prefix}/serial`)}
        onChange={typed.set(`${prefix}/serial`)}
      />
      {counted.map((counter) => (
        <NumberField
          key={counter}
          label={`${name}${words.sinceNew(words.counters[counter])}`}
          name={`${prefix}/new/${counter}`}
          typed={typed}
        />
      ))}
      {component.overhaul !== undefined &&
        counted.map((counter) => (
          <NumberField
            key={counter}
            label={`${name}${words.sinceOverhaul(words.counters[counter])}`}
            name={`${prefix}/overhaul/${counter}`}
            typed={typed}
          />
        ))}
      <DateField
        label={`${name}${words.newDay}`}
        value={typed.text(`${prefix}/newOn`)}
        onChange={typed.set(`${prefix}/newOn`)}
      />
      {component.dated && (
        <DateField
          label={`${name}${words.bears}`}
          value={typed.text(`${prefix}/expiresOn`)}
          onChange={typed.set(`${prefix}/expiresOn`)}
        />
      )}
    </>
  );
}

export function CountersForm({ craft, onDone }: OfficeFormProps) {
  const { device } = useApp();
  const { office: words } = useOfficeWords();
  const typed = useTyped();
  const counters = countersTyped(typed);
  const why = typed.text("why").trim();
  const now = countersNow(craft.state);
  return (
    <div className="stack">
      <p className="small quiet">
        {counterNames.map((name) => `${words.counters[name]} ${now?.[name]?.toFixed(1) ?? "–"}`).join(", ")}
      </p>
      <CounterFields typed={typed} />
      <Field label={words.stepWhy} value={typed.text("why")} onChange={typed.set("why")} lines="many" />
      <SignFoot
        label={words.save}
        why={counters === null || why === "" ? words.missing : null}
        onSign={() =>
          device.sign(craft.ledger, "counters.stepped", {
            counters,
            why,
            replaces: craft.state.due.bases.map(({ entry }) => entry),
          })
        }
        onDone={onDone}
      />
    </div>
  );
}
