// What the operator signs for all of its machines: papers of its people, crew rules, flying rules, weather minima confirmed or
// replaced by a person.
import { useState } from "react";
import type { ReactNode } from "react";
import { paperLastDay } from "../../core/crew/assess-crew.ts";
import { paperKinds } from "../../core/facts/crew.ts";
import { euDaySteps, euHemsCitation, euNightSteps } from "../../core/rules/eu-minima.ts";
import { displayNumber } from "../../core/quantity/display.ts";
import { dateLong } from "../../present/words/formats.ts";
import { Button } from "../parts/button.tsx";
import { Notice } from "../parts/notice.tsx";
import { Sheet } from "../parts/sheet.tsx";
import { Table } from "../parts/table.tsx";
import { useLocale } from "../parts/words.tsx";
import { useNames, useSnapshot } from "./app-context.tsx";
import { Frame } from "./frame.tsx";
import { BornForm, CrewRulesForm, ExperienceForm, FlyingForm, PaperForm } from "./operator-forms.tsx";
import { ApplyMinimaForm, ConfirmMinimaForm, ReplaceMinimaForm } from "./operator-minima.tsx";
import { CommandForm, RestForm } from "./operator-people-forms.tsx";
import { AsksForm, StricterForm, WorksheetForm } from "./operator-rules-forms.tsx";
import { useOfficeWords } from "./use-office-words.ts";

export type OperatorFormProps = { readonly onDone: () => void };
type Doing =
  | "paper"
  | "born"
  | "experience"
  | "rest"
  | "command"
  | "rules"
  | "asks"
  | "stricter"
  | "flying"
  | "worksheet"
  | "confirm"
  | "replace"
  | "apply";

const forms: Readonly<Record<Doing, (props: OperatorFormProps) => ReactNode>> = {
  paper: PaperForm,
  born: BornForm,
  experience: ExperienceForm,
  rest: RestForm,
  command: CommandForm,
  rules: CrewRulesForm,
  asks: AsksForm,
  stricter: StricterForm,
  flying: FlyingForm,
  worksheet: WorksheetForm,
  confirm: ConfirmMinimaForm,
  replace: ReplaceMinimaForm,
  apply: ApplyMinimaForm,
};

/** Who may sign what: rules and minima bind everybody, papers are kept by two offices. */
const administrators = ["administrator"] as const;
const keepers = ["administrator", "airworthiness"] as const;
const signers: Readonly<Record<Doing, readonly ("administrator" | "airworthiness")[]>> = {
  paper: keepers,
  born: keepers,
  experience: keepers,
  rest: keepers,
  command: keepers,
  rules: administrators,
  asks: administrators,
  stricter: administrators,
  flying: administrators,
  worksheet: administrators,
  confirm: administrators,
  replace: administrators,
  apply: administrators,
};

export function OperatorScreen() {
  const { operator: words, office } = useOfficeWords();
  const { me } = useSnapshot();
  const [doing, setDoing] = useState<Doing | null>(null);
  const who = (one: Doing): string =>
    office.onlyFor(signers[one].map((role) => office.role[role]).join(", "));
  const titles: Readonly<Record<Doing, string>> = {
    paper: words.paper,
    born: words.born,
    experience: words.experience,
    rest: words.recordRest,
    command: words.stateCommand,
    rules: words.setRules,
    asks: words.setAsks,
    stricter: words.setStricter,
    flying: words.setFlying,
    worksheet: words.setWorksheet,
    confirm: words.confirm,
    replace: words.replace,
    apply: words.apply,
  };
  const button = (one: Doing) => {
    const may = signers[one].some((role) => me?.roles.includes(role) === true);
    return (
      <Button key={one} onPress={() => setDoing(one)} {...(may ? {} : { why: who(one) })}>
        {titles[one]}
      </Button>
    );
  };
  const buttons = (these: readonly Doing[]) => <div className="office-buttons">{these.map(button)}</div>;
  const Form = doing === null ? null : forms[doing];
  return (
    <Frame craft={null} name={words.title} nameAs="h1">
      <div className="stack-wide settings">
        <p className="quiet">{words.intro}</p>
        <Minima />
        {buttons(["confirm", "replace", "apply"])}
        <Rules />
        {buttons(["rules", "asks", "stricter", "flying", "worksheet"])}
        <Papers />
        {buttons(["paper", "born", "experience", "command", "rest"])}
      </div>
      <Sheet title={doing === null ? "" : titles[doing]} open={doing !== null} onClose={() => setDoing(null)}>
        {Form !== null && <Form onDone={() => setDoing(null)} />}
      </Sheet>
    </Frame>
  );
}

/** The table of the rule set as it is shipped, with its edition, and what a person said of it. */
function Minima() {
  const { operator: words } = useOfficeWords();
  const { language } = useLocale();
  const { craft, operator } = useSnapshot();
  const [first] = craft;
  const names = useNames(first ?? null);
  const { minima, minimaUses, crew } = operator.state;
  const metres = (value: number) =>
    value === Infinity ? words.airspace : `${displayNumber(value, 0, "both", language)} m`;
  const one = [...euDaySteps(false, Infinity), ...euNightSteps(false)];
  const two = [...euDaySteps(true, Infinity), ...euNightSteps(true)];
  const rows = one.map((step, index) => ({
    step,
    two: two[index],
    light: index < 3 ? words.day : words.night,
  }));
  const bound = [...new Set(minimaUses.flatMap(({ uses }) => uses.map(({ operation }) => operation)))];
  return (
    <section className="stack">
      <h2 className="heading-small">{words.minima}</h2>
      {crew.rules.some(({ ruleSet }) => ruleSet === "eu") && (
        <>
          <Table
            caption={words.minimaTable}
            rows={rows}
            rowId={({ step, light }) => `${light} ${step.ceilingFrom_ft}`}
            columns={[
              {
                id: "ceiling",
                head: words.column.ceiling,
                kind: "name",
                cell: ({ step, light }) =>
                  `${light}, ${displayNumber(step.ceilingFrom_ft, 0, "both", language)} ft`,
              },
              {
                id: "one",
                head: words.column.one,
                kind: "number",
                cell: ({ step }) => metres(step.visibility_m),
              },
              {
                id: "two",
                head: words.column.two,
                kind: "number",
                cell: ({ two: step }) => metres(step?.visibility_m ?? Number.NaN),
              },
            ]}
          />
          <p className="small quiet">{`${euHemsCitation.cite}, ${euHemsCitation.edition}`}</p>
        </>
      )}
      {minima.length === 0 ? (
        <Notice title={words.minimaOpen} />
      ) : (
        minima.map(({ entry, how, cite, edition, tables }) => (
          <div key={entry}>
            <p>{words.minimaSettled(words.how[how], cite, edition)}</p>
            <ul className="small">
              {tables.map((table) => (
                <li key={JSON.stringify(table)}>
                  {words[table.light]}, {words.pilots} {table.pilots ?? words.anyPilots}:{" "}
                  {table.steps
                    .map(
                      ({ ceilingFrom_ft, visibility_m }) =>
                        `${displayNumber(ceilingFrom_ft, 0, "both", language)} ft ${metres(visibility_m)}`,
                    )
                    .join("; ")}
                </li>
              ))}
            </ul>
          </div>
        ))
      )}
      <p>
        {bound.length === 0
          ? words.bindsNothing
          : words.bindsNow(bound.map((operation) => names.of("operation", operation)).join(", "))}
      </p>
    </section>
  );
}

function Rules() {
  const { operator: words } = useOfficeWords();
  const { language } = useLocale();
  const { craft, operator } = useSnapshot();
  const { crew, flightRules } = operator.state;
  const names = useNames(craft[0] ?? null);
  const asked = crew.rules.flatMap(({ entry, asks }) => asks.map((one) => ({ entry, ...one })));
  const stricter = crew.rules.flatMap(({ entry, stricter: own }) => own.map((one) => ({ entry, ...one })));
  const worksheets = flightRules.flatMap(({ entry, worksheet }) =>
    worksheet === null ? [] : [{ entry, ...worksheet }],
  );
  return (
    <section className="stack">
      <h2 className="heading-small">{words.rules}</h2>
      {crew.rules.length === 0 && <Notice title={words.noRules} />}
      {crew.rules.map(({ entry, ruleSet, duty }) => (
        <p key={entry}>
          {duty === null
            ? `${ruleSet.toUpperCase()}: ${words.builtIn}`
            : words.rulesNow(ruleSet.toUpperCase(), String(duty.duty_h), String(duty.rest_h), duty.cite)}
        </p>
      ))}
      {flightRules.map(({ entry, meter }) =>
        meter === null ? null : (
          <p key={entry}>{words.flyingNow(displayNumber(meter.tolerance_h, 2, "both", language))}</p>
        ),
      )}
      {asked.length + stricter.length + worksheets.length > 0 && (
        <ul className="rows told-rows">
          {asked.map(({ entry, operation, recency, papers }) => (
            <li key={`${entry} ${operation}`}>
              {names.title("operation", operation)}
              <span className="reason-detail">
                {[
                  ...recency.map((kind) => words.recencies[kind]),
                  ...papers.map((paper) => words.papers[paper]),
                ].join(", ")}
              </span>
            </li>
          ))}
          {stricter.map(({ entry, recency, need, days, cite }) => (
            <li key={`${entry} ${recency} ${need} ${days}`}>
              {words.stricterNow(words.recencies[recency], String(need), String(days))}
              <span className="reason-detail">{cite}</span>
            </li>
          ))}
          {worksheets.map(({ entry, factors, releaseAbove, cite }) => (
            <li key={entry}>
              {words.worksheetNow(String(factors.length), String(releaseAbove))}
              <span className="reason-detail">{cite}</span>
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}

/** Who holds what until when, by the rule or by what the paper states, the earlier. */
function Papers() {
  const { operator: words } = useOfficeWords();
  const locale = useLocale();
  const { people, operator } = useSnapshot();
  const { crew } = operator.state;
  const [ruleSet] = crew.rules.map((rules) => rules.ruleSet);
  const names = useNames(null);
  const rows = people.flatMap(({ id }) =>
    paperKinds.flatMap((paper) => {
      const held = crew.papers.filter((one) => one.person === id && one.paper === paper);
      const issued = held
        .map(({ issuedOn }) => issuedOn)
        .toSorted()
        .at(-1);
      if (issued === undefined) return [];
      const last = paperLastDay(crew, id, paper, ruleSet ?? "eu");
      return [{ key: `${id} ${paper}`, id, paper, issued, last }];
    }),
  );
  return (
    <section className="stack">
      <Table
        caption={words.people}
        rows={rows}
        rowId={({ key }) => key}
        columns={[
          { id: "who", head: words.person, kind: "name", cell: ({ id }) => names.person(id) },
          { id: "paper", head: words.paperKind, cell: ({ paper }) => words.papers[paper] },
          { id: "issued", head: words.issuedOn, cell: ({ issued }) => dateLong(issued, locale) },
          {
            id: "last",
            head: words.lastHead,
            cell: ({ last }) => (last === null ? words.noLast : dateLong(last, locale)),
          },
        ]}
      />
      <ul className="rows told-rows">
        {crew.commands.map(
          ({ entry, person, on, pic_h, helicopterPic_h, similar_h, nightPic_h, asCoPilot }) => (
            <li key={entry}>
              {words.commandNow(names.person(person), dateLong(on, locale))}
              <span className="reason-detail">
                {[
                  ...Object.entries({ pic_h, helicopterPic_h, similar_h, nightPic_h }).map(
                    ([figure, hours]) =>
                      `${words.command[figure as keyof typeof words.command]} ${displayNumber(hours, 0, "lower", locale.language)} h`,
                  ),
                  ...(asCoPilot ? [words.asCoPilotShort] : []),
                ].join("; ")}
              </span>
            </li>
          ),
        )}
      </ul>
    </section>
  );
}
