// Every machine with its standing now, the ribbon of the next 24 hours, what ends it first, and who has it.
import { useState } from "react";
import { hour_ms } from "../../core/facts/instant.ts";
import { countingCustody } from "../../core/standing/custody.ts";
import type { CraftView } from "../device/model.ts";
import { Picker } from "../parts/picker.tsx";
import { Ribbon, RibbonTicks } from "../parts/ribbon.tsx";
import { Empty, Loading } from "../parts/whole-screen.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp, useNames, useSnapshot } from "./app-context.tsx";
import { Frame } from "./frame.tsx";
import { pathOf } from "./route.ts";
import { clearedBy, decidingReason, endsFirst, reasonLine } from "./told.ts";

const ahead_h = 24;

export function Machines() {
  const { base, craft, now_ms, exchange } = useSnapshot();
  const { app, screens } = useWords();
  const [first] = craft;
  const names = useNames(first ?? null);
  const operations = first?.standing.operations.map(({ operation }) => operation) ?? [];
  const [chosen, setChosen] = useState<string | null>(null);
  const operation = chosen ?? operations[0] ?? "any";
  const time = { from_ms: now_ms - hour_ms / 2, until_ms: now_ms + ahead_h * hour_ms, now_ms };
  return (
    <Frame craft={null} name={screens.machines.title(base)} nameAs="h1">
      {first === undefined ? (
        exchange.arrived !== null && exchange.arrived > 0 ? (
          <Empty title={screens.machines.arriving(exchange.arrived)}>{screens.machines.arrivingBody}</Empty>
        ) : exchange.running ? (
          <Loading />
        ) : (
          <Empty title={screens.machines.none}>{screens.machines.noneBody}</Empty>
        )
      ) : (
        <div className="machines">
          <div className="machines-choice">
            <Picker
              label={screens.machines.operation}
              choices={operations.map((id) => ({ id, name: names.title("operation", id) }))}
              value={operation}
              onChoose={setChosen}
            />
          </div>
          <div className="machines-head" aria-hidden="true">
            <span>{screens.machines.craft}</span>
            <span>{screens.machines.now}</span>
            <span>{screens.machines.line(names.of("operation", operation))}</span>
            <span>{screens.machines.endsFirst}</span>
            <span>{screens.machines.with}</span>
          </div>
          <ul className="rows">
            {craft.map((view) => (
              <li key={view.ledger}>
                <Machine view={view} operation={operation} time={time} />
              </li>
            ))}
          </ul>
          <div className="machine" data-ticks="">
            <span className="machine-line">
              <RibbonTicks time={time} />
            </span>
          </div>
          <p className="quiet small machines-caution">{app.approvedDocumentsPrevail}</p>
        </div>
      )}
    </Frame>
  );
}

type MachineProps = {
  readonly view: CraftView;
  readonly operation: string;
  readonly time: { readonly from_ms: number; readonly until_ms: number; readonly now_ms: number };
};

function Machine({ view, operation, time }: MachineProps) {
  const { goTo } = useApp();
  const { standing: words, screens } = useWords();
  const locale = useLocale();
  const names = useNames(view);
  const standing =
    view.standing.operations.find((candidate) => candidate.operation === operation) ??
    view.standing.operations[0];
  if (standing === undefined) return null;
  const to = { screen: "standing", craft: view.ledger.replace("craft:", "") } as const;
  const teller = { names, locale, now_ms: time.now_ms };
  const worst = decidingReason(standing);
  const ends = endsFirst(standing, teller) ?? (worst === null ? null : clearedBy(worst, teller));
  return (
    <a
      className="machine"
      href={pathOf(to)}
      onClick={(event) => {
        if (event.metaKey || event.ctrlKey || event.shiftKey || event.altKey) return;
        event.preventDefault();
        goTo(to);
      }}
    >
      <span className="machine-name">{view.name}</span>
      <span className="machine-now">
        {words.verdict[standing.verdict]}
        {worst !== null && <span className="machine-why">{reasonLine(worst, teller)}</span>}
      </span>
      <span className="machine-line">
        <Ribbon
          name={names.title("operation", standing.operation)}
          spans={standing.line}
          kept={standing.kept.line}
          time={time}
        />
      </span>
      <span className="machine-ends quiet">{ends ?? screens.machines.noChange}</span>
      <span className="machine-with quiet">{custodyWords(view, names.person, screens.machines)}</span>
    </a>
  );
}

type CustodyWords = {
  readonly crew: string;
  readonly maintenance: string;
  readonly outOfService: string;
  readonly nobody: string;
};

function custodyWords({ state }: CraftView, person: (id: string) => string, words: CustodyWords): string {
  const custody = countingCustody(state);
  if (custody === null) return words.nobody;
  const people = custody.people.map(person).join(", ");
  return people === "" ? words[custody.custody] : `${words[custody.custody]} ${people}`;
}
