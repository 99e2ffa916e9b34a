// Records that look alike, side by side, and the word of a person who has both on the screen: one matter, or two.
import { useState } from "react";
import { lookAlikes } from "../../core/facts/look-alikes.ts";
import type { LookAlike } from "../../core/facts/look-alikes.ts";
import { displayNumber } from "../../core/quantity/display.ts";
import { timeSeenFrom } from "../../present/words/formats.ts";
import type { CraftView } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { Notice } from "../parts/notice.tsx";
import { Sheet } from "../parts/sheet.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { TwoButtons } from "../parts/two-buttons.tsx";
import { useApp, useNames, useSnapshot } from "./app-context.tsx";
import { useLedgerWords } from "./use-ledger-words.ts";

/** The roles that may sign the word. */
const mayDecide = ["pilot", "engineer", "airworthiness"];

type AlikeProps = { readonly craft: CraftView; readonly onOpen: (id: string) => void };
type Recorded = {
  readonly id: string;
  readonly entry: string;
  readonly by: string;
  readonly said: string;
};

export function LooksAlike({ craft, onOpen }: AlikeProps) {
  const { alike: words } = useLedgerWords();
  const pairs = lookAlikes(craft.state);
  if (pairs.length === 0) return null;
  return (
    <section className="stack">
      <h2 className="heading-small">{words.name}</h2>
      <Notice title={words.note} />
      {pairs.map((pair) => (
        <Pair key={`${pair.one.entry} ${pair.other.entry}`} pair={pair} craft={craft} onOpen={onOpen} />
      ))}
    </section>
  );
}

function useRecorded(craft: CraftView): (pair: LookAlike) => readonly Recorded[] {
  const { alike: words } = useLedgerWords();
  const { units } = useWords();
  const { now_ms } = useSnapshot();
  const locale = useLocale();
  const names = useNames(craft);
  const when = (at_ms: number): string => timeSeenFrom(now_ms, at_ms, locale);
  const number = (value: number): string => displayNumber(value, 2, "both", locale.language);
  return (pair) =>
    pair.matter === "flight"
      ? [pair.one, pair.other].map(({ flight, entry, by, off_ms, on_ms, flight_h }) => ({
          id: flight,
          entry,
          by: names.person(by),
          said: words.flight(when(off_ms), when(on_ms), number(flight_h)),
        }))
      : [pair.one, pair.other].map(({ uplift, entry, by, amount, unit, at_ms }) => ({
          id: uplift,
          entry,
          by: names.person(by),
          said: words.uplift(`${number(amount)} ${units[unit as keyof typeof units] ?? unit}`, when(at_ms)),
        }));
}

function Pair({ pair, craft, onOpen }: AlikeProps & { readonly pair: LookAlike }) {
  const { device } = useApp();
  const { me } = useSnapshot();
  const { alike: words } = useLedgerWords();
  const [asking, setAsking] = useState(false);
  const recorded = useRecorded(craft)(pair);
  const mine = me?.roles.some((role) => mayDecide.includes(role)) ?? false;
  const decide = (counts: string | null): void => {
    const [one, other] = recorded.map(({ id }) => id);
    const says = counts === null ? "two" : "same";
    const word = { matter: pair.matter, one: one!, other: other!, says, counts, words: "" } as const;
    void device.decideAlike(craft.ledger, word).then(() => setAsking(false));
  };
  return (
    <div className="stack">
      <ul className="rows">
        {recorded.map(({ id, entry, by, said }) => (
          <li key={id}>
            <button type="button" className="ledger-line" onClick={() => onOpen(entry)}>
              <span>{said}</span>
              <span className="quiet">{words.by(by)}</span>
            </button>
          </li>
        ))}
      </ul>
      {mine ? (
        <TwoButtons
          left={{ note: words.sameNote, onPress: () => setAsking(true), children: words.same }}
          right={{ note: words.twoNote, onPress: () => decide(null), children: words.two }}
        />
      ) : (
        <p className="small quiet">{words.whoMay}</p>
      )}
      <Sheet title={words.which} open={asking} onClose={() => setAsking(false)}>
        <ul className="rows">
          {recorded.map(({ id, by, said }) => (
            <li key={id}>
              <Button note={words.by(by)} onPress={() => decide(id)}>
                {said}
              </Button>
            </li>
          ))}
        </ul>
      </Sheet>
    </div>
  );
}
