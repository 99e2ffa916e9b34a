// What stands aside, by why, and the word of who has dealt with it; of two entries in one place, which counts.
import { useState } from "react";
import type { CraftView, LedgerLine } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { Field } from "../parts/field.tsx";
import { Notice } from "../parts/notice.tsx";
import { Sheet } from "../parts/sheet.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { timeSeenFrom } from "../../present/words/formats.ts";
import { useApp, useNames, useSnapshot } from "./app-context.tsx";
import { useLedgerWords } from "./use-ledger-words.ts";

const counted = ["accepted", "pending", "noted"];
/** Other readers count these: only a newer version can deal with them. */
const ofNewer = ["unknownType", "newerVersion"];

type AsideProps = {
  readonly craft: CraftView;
  readonly lines: readonly LedgerLine[];
  readonly onOpen: (id: string) => void;
};

export function SetAside({ craft, lines: all, onOpen }: AsideProps) {
  const { aside: words } = useLedgerWords();
  const lines = all.filter(({ status }) => !counted.includes(status));
  if (lines.length === 0) return null;
  const byCode = [...Map.groupBy(lines, ({ status }) => status)];
  return (
    <section className="stack">
      <h2 className="heading-small">{words.name}</h2>
      <Notice title={words.note} />
      {byCode.map(([code, held]) => (
        <Group key={code} code={code} lines={held} craft={craft} onOpen={onOpen} />
      ))}
    </section>
  );
}

type GroupProps = AsideProps & { readonly code: string };

function Group({ code, lines, craft, onOpen }: GroupProps) {
  const { device } = useApp();
  const { screens } = useWords();
  const { me, now_ms } = useSnapshot();
  const { aside: words } = useLedgerWords();
  const locale = useLocale();
  const names = useNames(craft);
  const [dealing, setDealing] = useState<{ readonly counts: string | null } | null>(null);
  const may = (roles: readonly string[]): boolean => me?.roles.some((role) => roles.includes(role)) ?? false;
  const isFork = code === "fork";
  const mine = isFork ? may(["administrator"]) : may(["administrator", "airworthiness"]);
  const deal = (said: string): void => {
    const counts = dealing?.counts ?? null;
    const done =
      counts === null
        ? device.settleAside(craft.ledger, lines.map(({ id }) => id).slice(0, 1_000), said)
        : device.decideFork(craft.ledger, counts, said);
    void done.then(() => setDealing(null));
  };
  return (
    <div className="stack">
      <p>
        <b>{words.code[code] ?? code}</b>
      </p>
      <ul className="rows">
        {lines.map((line) => (
          <li key={line.id} className="stack">
            <button type="button" className="ledger-line" onClick={() => onOpen(line.id)}>
              <span className="mono small">{timeSeenFrom(now_ms, line.at_ms, locale)}</span>
              <span>{screens.ledger.type[line.type] ?? line.type}</span>
              <span className="quiet">{names.person(line.by)}</span>
            </button>
            {isFork && mine && (
              <Button note={words.forkNote} onPress={() => setDealing({ counts: line.id })}>
                {words.counts}
              </Button>
            )}
          </li>
        ))}
      </ul>
      {ofNewer.includes(code) ? (
        <p className="small quiet">{words.cannot}</p>
      ) : mine ? (
        !isFork && (
          <Button note={words.settleNote} onPress={() => setDealing({ counts: null })}>
            {words.settle}
          </Button>
        )
      ) : (
        <p className="small quiet">{isFork ? words.forkWhoMay : words.whoMay}</p>
      )}
      <Sheet
        title={isFork ? words.fork : words.settle}
        open={dealing !== null}
        onClose={() => setDealing(null)}
      >
        <DealForm onSave={deal} />
      </Sheet>
    </div>
  );
}

function DealForm({ onSave }: { readonly onSave: (words: string) => void }) {
  const { aside: words } = useLedgerWords();
  const [said, setSaid] = useState("");
  return (
    <div className="stack">
      <Field label={words.words} value={said} onChange={setSaid} lines="many" />
      <Button
        look="filled"
        onPress={() => onSave(said.trim())}
        {...(said.trim() === "" ? { why: words.needsWords } : {})}
      >
        {words.save}
      </Button>
    </div>
  );
}
