// What does not add up about a gauge, in the standing's own words; an engineer settles it, or starts the trend anew.
import { useState } from "react";
import type { GaugeLevels } from "../../core/level/craft-levels.ts";
import { reasonWords } from "../../present/reasons.ts";
import { phraseText } from "../../present/words/phrase.ts";
import type { CraftView, Person } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { Field } from "../parts/field.tsx";
import { Sheet } from "../parts/sheet.tsx";
import { useLocale } from "../parts/words.tsx";
import { useApp, useNames, useSnapshot } from "./app-context.tsx";
import { useLevelsWords } from "./levels-reading.tsx";

/** Who may take a question away: the same roles that may sign the entry. */
const maySettle = ["engineer", "airworthiness"];

function canSettle(me: Person | null): boolean {
  return me !== null && me.roles.some((role) => maySettle.includes(role));
}

type Settling = { readonly settles: "questions" | "trend"; readonly entries: readonly string[] };

export function LevelQuestions({ craft, one }: { readonly craft: CraftView; readonly one: GaugeLevels }) {
  const { now_ms, me } = useSnapshot();
  const { questions: words } = useLevelsWords();
  const locale = useLocale();
  const names = useNames(craft);
  const [settling, setSettling] = useState<Settling | null>(null);
  const mine = canSettle(me);
  const asked = craft.standing.reasons.filter(
    ({ code, facts }) => code === "level.asked" && facts["gauge"] === one.gauge.id,
  );
  if (asked.length === 0) return null;
  return (
    <section className="stack">
      <h3 className="heading-small">{words.name}</h3>
      <ul className="rows">
        {asked.map((reason) => {
          const { title, detail } = reasonWords({ reason, names, locale, now_ms });
          const key = `${String(reason.facts["question"])} ${reason.evidence.join(" ")}`;
          return (
            <li key={key} className="level-question">
              <b>{phraseText(title)}</b>
              <p className="small quiet">{detail}</p>
              {mine && (
                <Button
                  note={words.settleNote}
                  onPress={() => setSettling({ settles: "questions", entries: reason.evidence })}
                >
                  {words.settle}
                </Button>
              )}
            </li>
          );
        })}
      </ul>
      <Sheet title={words.settle} open={settling !== null} onClose={() => setSettling(null)}>
        {settling !== null && (
          <SettleForm
            craft={craft}
            gauge={one.gauge.id}
            settling={settling}
            onDone={() => setSettling(null)}
          />
        )}
      </Sheet>
    </section>
  );
}

/** After an engine or a seal was changed: by whoever may take a warning away. */
export function StartAnew({ craft, one }: { readonly craft: CraftView; readonly one: GaugeLevels }) {
  const { me } = useSnapshot();
  const { questions: words } = useLevelsWords();
  const [open, setOpen] = useState(false);
  if (!canSettle(me) || one.trend === null) return null;
  return (
    <>
      <Button look="plain" note={words.anewNote} onPress={() => setOpen(true)}>
        {words.anew}
      </Button>
      <Sheet title={words.anew} open={open} onClose={() => setOpen(false)}>
        <SettleForm
          craft={craft}
          gauge={one.gauge.id}
          settling={{ settles: "trend", entries: [] }}
          onDone={() => setOpen(false)}
        />
      </Sheet>
    </>
  );
}

type SettleProps = {
  readonly craft: CraftView;
  readonly gauge: string;
  readonly settling: Settling;
  readonly onDone: () => void;
};

function SettleForm({ craft, gauge, settling, onDone }: SettleProps) {
  const { device } = useApp();
  const { questions: words } = useLevelsWords();
  const [said, setSaid] = useState("");
  const save = () =>
    void device.settleLevel(craft.ledger, { gauge, ...settling, words: said.trim() }).then(onDone);
  return (
    <div className="stack">
      <Field label={words.words} value={said} onChange={setSaid} lines="many" />
      <Button look="filled" onPress={save} {...(said.trim() === "" ? { why: words.needsWords } : {})}>
        {words.save}
      </Button>
    </div>
  );
}
