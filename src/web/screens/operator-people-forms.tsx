// Forms about one person's record beyond papers: a rest that was had, and hours in command.
import { useState } from "react";
import { instantOfTime } from "../../core/facts/calendar.ts";
import { msToInstant } from "../../core/facts/instant.ts";
import { settingsInForce } from "../../ledger/operator/operator-ledger.ts";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Field } from "../parts/field.tsx";
import { useWords } from "../parts/words.tsx";
import { useApp, useSnapshot } from "./app-context.tsx";
import { DateField } from "./date-field.tsx";
import { PersonPicker } from "./operator-forms.tsx";
import type { OperatorFormProps } from "./operator.tsx";
import { NumberField } from "./number-field.tsx";
import { SignFoot } from "./sign-foot.tsx";
import { useOfficeWords } from "./use-office-words.ts";
import { useTyped } from "./use-typed.ts";

const ends = ["from", "until"] as const;

export function RestForm({ onDone }: OperatorFormProps) {
  const { device } = useApp();
  const { operator: words, office } = useOfficeWords();
  const { duty } = useWords();
  const { operator } = useSnapshot();
  const typed = useTyped();
  const [person, setPerson] = useState<string | null>(null);
  const zone = settingsInForce(operator.state)?.zone ?? "UTC";
  const at = (end: (typeof ends)[number]): number | null => {
    const date = typed.date(`${end}Date`);
    return date === null ? null : instantOfTime(date, typed.text(`${end}Time`).trim(), zone);
  };
  const [from_ms, until_ms] = [at("from"), at("until")];
  const issue = (end: (typeof ends)[number]): string | null => {
    const time = typed.text(`${end}Time`).trim();
    return time.length < 5 || typed.date(`${end}Date`) === null || at(end) !== null
      ? null
      : duty.flight.noTime(time);
  };
  return (
    <div className="stack">
      <p className="quiet">{words.restHint(zone)}</p>
      <PersonPicker value={person} onChoose={setPerson} />
      {ends.map((end) => (
        <div key={end} className="field-group">
          <DateField
            label={words.restEnds[end].date}
            value={typed.text(`${end}Date`)}
            onChange={typed.set(`${end}Date`)}
          />
          <Field
            label={words.restEnds[end].time}
            value={typed.text(`${end}Time`)}
            onChange={typed.set(`${end}Time`)}
            issue={issue(end)}
            inputMode="numeric"
          />
        </div>
      ))}
      <SignFoot
        label={office.save}
        why={person === null || from_ms === null || until_ms === null ? office.missing : null}
        onSign={() =>
          device.sign(operator.ledger, "rest.recorded", {
            person,
            from: msToInstant(from_ms ?? 0),
            until: msToInstant(until_ms ?? 0),
            replaces: [],
          })
        }
        onDone={onDone}
      />
    </div>
  );
}

const figures = ["pic_h", "helicopterPic_h", "similar_h", "nightPic_h"] as const;

export function CommandForm({ onDone }: OperatorFormProps) {
  const { device } = useApp();
  const { operator: words, office } = useOfficeWords();
  const { operator } = useSnapshot();
  const typed = useTyped();
  const [person, setPerson] = useState<string | null>(null);
  const [asCoPilot, setAsCoPilot] = useState<"yes" | "no" | null>(null);
  const on = typed.date("on");
  const hours = figures.map((figure) => [figure, typed.number(figure)] as const);
  const isWhole =
    person !== null && asCoPilot !== null && on !== null && hours.every(([, value]) => value !== null);
  const standing = operator.state.crew.commands.filter((one) => one.person === person);
  return (
    <div className="stack">
      <PersonPicker value={person} onChoose={setPerson} />
      <DateField label={words.experienceOn} value={typed.text("on")} onChange={typed.set("on")} />
      {figures.map((figure) => (
        <NumberField key={figure} label={words.command[figure]} name={figure} typed={typed} />
      ))}
      <ChoiceRow
        name={words.asCoPilot}
        choices={[
          { value: "yes", label: office.yes },
          { value: "no", label: office.no },
        ]}
        value={asCoPilot}
        onChoose={setAsCoPilot}
      />
      <SignFoot
        label={office.save}
        why={isWhole ? null : office.missing}
        onSign={() =>
          device.sign(operator.ledger, "command.stated", {
            person,
            on,
            ...Object.fromEntries(hours),
            asCoPilot: asCoPilot === "yes",
            replaces: standing.map(({ entry }) => entry),
          })
        }
        onDone={onDone}
      />
    </div>
  );
}
