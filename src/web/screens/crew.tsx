// Who is on duty with one machine: the shift as a span, each person until when and why not after; and its declaration.
import { useState } from "react";
import type { CrewRole, Shift } from "../../core/facts/crew.ts";
import { hour_ms } from "../../core/facts/instant.ts";
import type { Reason } from "../../core/facts/reason.ts";
import { readTypedNumber } from "../../present/typed-number.ts";
import { timeSeenFrom } from "../../present/words/formats.ts";
import type { CraftView, Person } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Sheet } from "../parts/sheet.tsx";
import { Stepper } from "../parts/stepper.tsx";
import { TwoButtons } from "../parts/two-buttons.tsx";
import { Empty } from "../parts/whole-screen.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp, useNames, useSnapshot } from "./app-context.tsx";
import { Frame } from "./frame.tsx";
import { reasonLine } from "./told.ts";

export function CrewScreen({ craft }: { readonly craft: CraftView }) {
  const { app, duty } = useWords();
  const { now_ms } = useSnapshot();
  const words = duty.crew;
  const [declaring, setDeclaring] = useState(false);
  const shifts = craft.state.shifts.filter(({ from_ms, until_ms }) => from_ms <= now_ms && now_ms < until_ms);
  return (
    <Frame
      craft={craft}
      name={`${craft.name} · ${app.screens.crew}`}
      nameAs="h1"
      foot={<TwoButtons right={{ children: words.declare, onPress: () => setDeclaring(true) }} />}
    >
      {shifts.length === 0 ? (
        <Empty title={words.none}>{words.noneBody}</Empty>
      ) : (
        shifts.map((shift) => <OneShift key={shift.entry} craft={craft} shift={shift} />)
      )}
      <Sheet title={words.declare} open={declaring} onClose={() => setDeclaring(false)}>
        <Declare craft={craft} onDone={() => setDeclaring(false)} />
      </Sheet>
    </Frame>
  );
}

const forbids = ({ effect }: Reason): boolean => effect === "blocks" || effect === "unknown";

function OneShift({ craft, shift }: { readonly craft: CraftView; readonly shift: Shift }) {
  const { duty } = useWords();
  const { now_ms } = useSnapshot();
  const locale = useLocale();
  const names = useNames(craft);
  const words = duty.crew;
  const of = craft.standing.reasons.filter(({ code }) => code.startsWith("crew."));
  const general = of.filter(({ facts }) => typeof facts["person"] !== "string");
  const time = (at_ms: number): string => timeSeenFrom(now_ms, at_ms, locale);
  return (
    <section className="stack">
      <h2 className="title">{words.shift(time(shift.from_ms), time(shift.until_ms))}</h2>
      <ul className="rows">
        {shift.people.map(({ person, roles }) => (
          <li key={person} className="ends-row">
            <div>
              <b>{names.person(person)}</b>{" "}
              <span className="quiet">
                {roles.flatMap((role) => (role === "hoistOperator" ? [] : [words.role[role]])).join(", ")}
              </span>
              <Reasons craft={craft} reasons={of.filter(({ facts }) => facts["person"] === person)} />
            </div>
            <ShiftBar shift={shift} reasons={of.filter(({ facts }) => facts["person"] === person)} />
          </li>
        ))}
        {general.length > 0 && (
          <li className="ends-row">
            <div>
              <b>{words.general}</b>
              <Reasons craft={craft} reasons={general} />
            </div>
          </li>
        )}
      </ul>
    </section>
  );
}

function Reasons({ craft, reasons }: { readonly craft: CraftView; readonly reasons: readonly Reason[] }) {
  const { duty, standing } = useWords();
  const { now_ms } = useSnapshot();
  const locale = useLocale();
  const names = useNames(craft);
  if (reasons.length === 0) return <p className="small">{duty.crew.readyNow}</p>;
  const lines = new Map<string, Reason>();
  for (const reason of reasons) {
    const begins =
      reason.from_ms !== null && reason.from_ms > now_ms
        ? `${duty.crew.from(timeSeenFrom(now_ms, reason.from_ms, locale))}: `
        : "";
    lines.set(`${begins}${reasonLine(reason, { names, locale, now_ms })}`, reason);
  }
  return (
    <ul className="small">
      {[...lines.keys()].map((line) => (
        <li key={line}>{line}</li>
      ))}
      {lines.size === 0 && <li>{standing.verdictLow.ready}</li>}
    </ul>
  );
}

/** The shift from its first to its last hour, hatched from where this person may no longer fly. */
function ShiftBar({ shift, reasons }: { readonly shift: Shift; readonly reasons: readonly Reason[] }) {
  const { duty } = useWords();
  const { now_ms } = useSnapshot();
  const locale = useLocale();
  const ends = reasons.filter(forbids).map(({ from_ms }) => from_ms ?? shift.from_ms);
  const end_ms = Math.max(shift.from_ms, Math.min(shift.until_ms, ...ends));
  const x = (300 * (end_ms - shift.from_ms)) / (shift.until_ms - shift.from_ms);
  const words =
    end_ms >= shift.until_ms ? duty.crew.whole : duty.crew.until(timeSeenFrom(now_ms, end_ms, locale));
  return (
    <figure className="ends-figure">
      <svg className="ends-bar" viewBox="0 0 300 14" preserveAspectRatio="none" aria-hidden="true">
        <rect x="0" y="5" width={x} height="4" className="ends-holds" />
        <path
          className="ends-hatch"
          d={Array.from({ length: 60 }, (_, index) => index * 6)
            .filter((at) => at >= x && at < 300)
            .map((at) => `M${at} 14L${Math.min(300, at + 6)} 0`)
            .join("")}
        />
      </svg>
      <figcaption className="small quiet">{words}</figcaption>
    </figure>
  );
}

const roles = ["none", "pilot", "technicalCrew", "medic"] as const;
type Chosen = (typeof roles)[number];

/** A technical crew member works the hoist as well. */
const dutiesOf: Readonly<Record<Exclude<Chosen, "none">, readonly CrewRole[]>> = {
  pilot: ["pilot"],
  technicalCrew: ["technicalCrew", "hoistOperator"],
  medic: ["medic"],
};
const hours = { decimals: 1, lowest: 0, highest: 168 } as const;

function Declare({ craft, onDone }: { readonly craft: CraftView; readonly onDone: () => void }) {
  const { device } = useApp();
  const { people, now_ms } = useSnapshot();
  const { duty } = useWords();
  const { language } = useLocale();
  const words = duty.crew;
  const [chosen, setChosen] = useState<Readonly<Record<string, Chosen>>>({});
  const [rested, setRested] = useState<Readonly<Record<string, string>>>({});
  const [lasts, setLasts] = useState("");
  const flying = people.filter((one) => one.roles.includes("pilot") || one.roles.includes("crewMember"));
  const onDuty = flying.filter(({ id }) => (chosen[id] ?? "none") !== "none");
  const read = (typed: string): number | null => readTypedNumber(typed, hours, language).value;
  const length_h = read(lasts);
  const rests = onDuty.map(({ id }) => read(rested[id] ?? ""));
  const isWhole = length_h !== null && length_h > 0 && rests.every((one) => one !== null);
  const why = onDuty.length === 0 ? words.needsPeople : isWhole ? null : words.needsHours;
  const save = () =>
    device
      .declareShift(craft.ledger, {
        from_ms: now_ms,
        until_ms: now_ms + (length_h ?? 0) * hour_ms,
        people: onDuty.map(({ id }, index) => ({
          person: id,
          roles: dutiesOf[chosen[id] as Exclude<Chosen, "none">],
          lastDutyEnd_ms: now_ms - (rests[index] ?? 0) * hour_ms,
        })),
      })
      .then(onDone);
  return (
    <div className="stack">
      <Stepper
        label={words.hours}
        typed={lasts}
        onTyped={setLasts}
        scale={hours}
        step={1}
        startAt={12}
        unit="h"
      />
      <h3 className="heading-small">{words.who}</h3>
      {flying.map((person) => (
        <div key={person.id} className="stack">
          <ChoiceRow
            name={words.roleOf(person.name)}
            choices={rolesOf(person).map((role) => ({ value: role, label: words.role[role] }))}
            value={chosen[person.id] ?? "none"}
            onChoose={(role) => setChosen((held) => ({ ...held, [person.id]: role }))}
          />
          {onDuty.includes(person) && (
            <Stepper
              label={words.rested(person.name)}
              typed={rested[person.id] ?? ""}
              onTyped={(typed) => setRested((held) => ({ ...held, [person.id]: typed }))}
              scale={hours}
              step={1}
              startAt={8}
              unit="h"
            />
          )}
        </div>
      ))}
      <Button look="filled" onPress={() => void save()} {...(why === null ? {} : { why })}>
        {words.save}
      </Button>
    </div>
  );
}

function rolesOf(person: Person): readonly Chosen[] {
  return person.roles.includes("pilot") ? roles : roles.filter((role) => role !== "pilot");
}
