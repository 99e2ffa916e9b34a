// The ledger of one machine: every entry, newest first, by kind, writer, state or words; what stands aside and what looks
// alike, to be dealt with; proof, export, and how long records are kept.
import { useDeferredValue, useState } from "react";
import { timeSeenFrom } from "../../present/words/formats.ts";
import type { CraftView, LedgerLine } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { Field } from "../parts/field.tsx";
import { Picker } from "../parts/picker.tsx";
import { Sheet } from "../parts/sheet.tsx";
import { Empty, Loading } from "../parts/whole-screen.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useNames, useSnapshot } from "./app-context.tsx";
import { Frame } from "./frame.tsx";
import { LooksAlike } from "./ledger-alike.tsx";
import { SetAside } from "./ledger-aside.tsx";
import { LedgerEntry, statusWords } from "./ledger-entry.tsx";
import { Proof, Retention } from "./ledger-proof.tsx";
import { useLines } from "./use-lines.ts";
import { useLedgerWords } from "./use-ledger-words.ts";

const families = {
  all: [""],
  walks: ["walk.", "closure."],
  findings: ["finding.", "event.", "deferral."],
  readings: ["reading", "uplift.", "level."],
  flights: ["flight.", "lookAlike."],
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

type Only = "all" | "aside" | "pending";

const page = 60;
const counted = ["accepted", "pending", "noted"];

type Wanted = {
  readonly family: Family;
  readonly by: string;
  readonly only: Only;
  readonly text: string;
};

function fits(line: LedgerLine, { family, by, only, text }: Wanted): boolean {
  if (!isOf(family, line.type)) return false;
  if (by !== "" && line.by !== by) return false;
  if (only === "pending" && (line.status !== "pending" || line.type === "receipt")) return false;
  if (only === "aside" && counted.includes(line.status)) return false;
  return text === "" || line.id.startsWith(text) || line.said.toLowerCase().includes(text);
}

export function LedgerScreen({ craft }: { readonly craft: CraftView }) {
  const { app, ledger: words } = useWords();
  const [opened, setOpened] = useState<string | null>(null);
  const lines = useLines(craft);
  const line = opened === null ? undefined : lines?.find(({ id }) => id === opened);
  const { screens } = useWords();
  return (
    <Frame craft={craft} name={`${craft.name} · ${app.screens.ledger}`} nameAs="h1">
      {lines === null ? (
        <Loading />
      ) : lines.length === 0 ? (
        <Empty title={words.none}>{words.noneBody}</Empty>
      ) : (
        <div className="stack">
          <SetAside craft={craft} lines={lines} onOpen={setOpened} />
          <LooksAlike craft={craft} onOpen={setOpened} />
          <Lines craft={craft} all={lines} onOpen={setOpened} />
          <Proof craft={craft} />
          <Retention />
        </div>
      )}
      <Sheet title={screens.ledger.entry} open={line !== undefined} onClose={() => setOpened(null)}>
        {line !== undefined && <LedgerEntry key={line.id} craft={craft} line={line} onOpen={setOpened} />}
      </Sheet>
    </Frame>
  );
}

type LinesProps = {
  readonly craft: CraftView;
  readonly all: readonly LedgerLine[];
  readonly onOpen: (id: string) => void;
};

function Lines({ craft, all, onOpen }: LinesProps) {
  const { screens, ledger: words } = useWords();
  const more = useLedgerWords();
  const { now_ms } = useSnapshot();
  const locale = useLocale();
  const names = useNames(craft);
  const [family, setFamily] = useState<Family>("all");
  const [by, setBy] = useState("");
  const [only, setOnly] = useState<Only>("all");
  const [typed, setTyped] = useState("");
  const [shown, setShown] = useState(page);
  const text = useDeferredValue(typed.trim().toLowerCase());
  const lines = all.filter((line) => fits(line, { family, by, only, text })).toReversed();
  const writers = [...new Set(all.map((line) => line.by))];
  return (
    <>
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
        <Picker
          label={more.who}
          choices={[
            { id: "", name: more.everybody },
            ...writers.map((id) => ({ id, name: names.person(id) })),
          ]}
          value={by}
          onChoose={(id) => {
            setBy(id);
            setShown(page);
          }}
        />
        <Picker
          label={more.only}
          choices={[
            { id: "all", name: more.onlyAll },
            { id: "aside", name: more.onlyAside },
            { id: "pending", name: more.onlyPending },
          ]}
          value={only}
          onChoose={(id) => {
            setOnly(id as Only);
            setShown(page);
          }}
        />
        <Field label={more.search} value={typed} onChange={setTyped} />
      </div>
      <p className="small quiet">
        {words.entries(lines.length)}
        <br />
        {screens.ledger.stateHash}{" "}
        <span className="mono" title={craft.stateHash}>
          {craft.stateHash.slice(0, 16)}
        </span>
      </p>
      {lines.length === 0 && <p>{more.nothingFound}</p>}
      <ul className="rows">
        {lines.slice(0, shown).map((line) => (
          <li key={line.id}>
            <button type="button" className="ledger-line" onClick={() => onOpen(line.id)}>
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
    </>
  );
}
