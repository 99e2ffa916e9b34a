// The ledger of one machine: every entry, newest first, what was set aside and why, and one entry whole.
import { useState } from "react";
import { timeSeenFrom } from "../../present/words/formats.ts";
import type { Words } from "../../present/words/words.ts";
import type { CraftView, LedgerLine } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { Picker } from "../parts/picker.tsx";
import { Sheet } from "../parts/sheet.tsx";
import { Empty } from "../parts/whole-screen.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useNames, useSnapshot } from "./app-context.tsx";
import { Frame } from "./frame.tsx";

const families = {
  all: [""],
  walks: ["walk.", "closure."],
  findings: ["finding.", "event."],
  readings: ["reading.", "uplift."],
  flights: ["flight."],
} as const;
type Family = keyof typeof families | "others";

const named = Object.entries(families).flatMap(([family, beginnings]) =>
  family === "all" ? [] : beginnings,
);

/** What has no family of its own stands among the others, also a type that this version does not know. */
function isOf(family: Family, type: string): boolean {
  const begins = (beginning: string): boolean => type.startsWith(beginning);
  return family === "others" ? !named.some(begins) : families[family].some(begins);
}

const page = 60;

function statusWords({ status, type }: LedgerLine, words: Words["screens"]["ledger"]): string {
  const { statusOf } = words;
  // A receipt has no receipt: it came from the server, and is not one of ours that has not gone up.
  if (type === "receipt" && status === "pending") return statusOf.byServer;
  return status in statusOf ? statusOf[status as keyof typeof statusOf] : `${statusOf.aside}: ${status}`;
}

export function LedgerScreen({ craft }: { readonly craft: CraftView }) {
  const { app, screens, ledger: words } = useWords();
  const { now_ms } = useSnapshot();
  const locale = useLocale();
  const names = useNames(craft);
  const [family, setFamily] = useState<Family>("all");
  const [shown, setShown] = useState(page);
  const [opened, setOpened] = useState<LedgerLine | null>(null);
  const lines = craft.lines.filter(({ type }) => isOf(family, type)).toReversed();
  return (
    <Frame craft={craft} name={`${craft.name} · ${app.screens.ledger}`} nameAs="h1">
      {craft.lines.length === 0 ? (
        <Empty title={words.none}>{words.noneBody}</Empty>
      ) : (
        <div className="stack">
          <div className="ledger-head">
            <Picker
              label={screens.ledger.filter}
              choices={([...Object.keys(families), "others"] as Family[]).map((id) => ({
                id,
                name: screens.ledger[id],
              }))}
              value={family}
              onChoose={(id) => {
                setFamily(id as Family);
                setShown(page);
              }}
            />
            <p className="small quiet">
              {words.entries(lines.length)}
              <br />
              {screens.ledger.stateHash}{" "}
              <span className="mono" title={craft.stateHash}>
                {craft.stateHash.slice(0, 16)}
              </span>
            </p>
          </div>
          <ul className="rows">
            {lines.slice(0, shown).map((line) => (
              <li key={line.id}>
                <button type="button" className="ledger-line" onClick={() => setOpened(line)}>
                  <span className="mono small">{timeSeenFrom(now_ms, line.at_ms, locale)}</span>
                  <span>{screens.ledger.type[line.type] ?? line.type}</span>
                  <span className="quiet">{names.person(line.by)}</span>
                  <span className="quiet small">{statusWords(line, screens.ledger)}</span>
                </button>
              </li>
            ))}
          </ul>
          {lines.length > shown && (
            <Button onPress={() => setShown((count) => count + 4 * page)}>{screens.ledger.more}</Button>
          )}
        </div>
      )}
      <Sheet title={screens.ledger.entry} open={opened !== null} onClose={() => setOpened(null)}>
        {opened !== null && <Entry craft={craft} line={opened} />}
      </Sheet>
    </Frame>
  );
}

function Entry({ craft, line }: { readonly craft: CraftView; readonly line: LedgerLine }) {
  const { screens, ledger: words } = useWords();
  const names = useNames(craft);
  return (
    <dl className="facts">
      <dt>{screens.ledger.what}</dt>
      <dd>
        {screens.ledger.type[line.type] ?? line.type} <span className="mono small">{line.type}</span>
      </dd>
      <dt>{screens.ledger.who}</dt>
      <dd>{names.person(line.by)}</dd>
      <dt>{screens.ledger.time}</dt>
      <dd className="mono">{new Date(line.at_ms).toISOString()}</dd>
      <dt>{screens.ledger.status}</dt>
      <dd>{statusWords(line, screens.ledger)}</dd>
      <dt>{screens.ledger.id}</dt>
      <dd className="mono small">{line.id}</dd>
      <dt>{screens.ledger.key}</dt>
      <dd className="mono small">{line.key}</dd>
      <dt>{screens.ledger.place}</dt>
      <dd className="mono">{line.seq}</dd>
      <dt>{screens.ledger.after}</dt>
      <dd className="mono small">{line.after.map((id) => id.slice(0, 12)).join(" ") || "–"}</dd>
      <dt>{screens.ledger.body}</dt>
      <dd>
        {line.body === null ? (
          words.erased
        ) : (
          <pre className="entry-body mono small">{JSON.stringify(line.body, null, 1)}</pre>
        )}
      </dd>
    </dl>
  );
}
