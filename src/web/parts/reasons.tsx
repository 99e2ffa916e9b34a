// What stands against it, or can change it: one row each, the time to clear it at the right edge.
import type { ReactNode } from "react";
import type { Effect } from "../../core/facts/reason.ts";
import type { Phrase } from "../../present/words/phrase.ts";
import { EffectGlyph } from "./glyph.tsx";
import { PhraseText } from "./phrase-text.tsx";
import { useWords } from "./words.tsx";

export type ReasonRowProps = {
  readonly effect: Effect;
  readonly title: Phrase;
  readonly detail: ReactNode;
  /** `1 min`, `engineer`, `daylight`, `not today`. */
  readonly clears: string;
  /** Opens the entries, source and remedy behind it. */
  readonly onOpen?: () => void;
};

export function ReasonRow({ effect, title, detail, clears, onOpen }: ReasonRowProps) {
  const { standing } = useWords();
  const inside = (
    <>
      <EffectGlyph effect={effect} />
      <span>
        <span className="hidden-but-said">{standing.effect[effect]}: </span>
        <span>
          <PhraseText of={title} />
        </span>
        <span className="reason-detail" style={{ display: "block" }}>
          {detail}
        </span>
      </span>
      <span className="reason-clears">{clears}</span>
    </>
  );
  if (onOpen === undefined) return <div className="reason">{inside}</div>;
  return (
    <button type="button" className="reason" onClick={onOpen}>
      {inside}
    </button>
  );
}

type ReasonListProps = {
  readonly reasons: readonly (ReasonRowProps & { readonly id: string })[];
  readonly heading?: string;
  /** It follows another list: opened by a thin rule. */
  readonly after?: boolean;
};

/** Under one heavy rule; in the order it is given, which is the soonest to clear first. */
export function ReasonList({ reasons, heading, after = false }: ReasonListProps) {
  const { standing } = useWords();
  return (
    <section className="reasons opens" data-after={after || undefined}>
      <h2 className="heading-small">{heading ?? standing.whatCanChange}</h2>
      {reasons.length === 0 ? (
        <p>{standing.nothingCanChange}</p>
      ) : (
        <ol className="rows">
          {reasons.map(({ id, ...reason }) => (
            <li key={id}>
              <ReasonRow {...reason} />
            </li>
          ))}
        </ol>
      )}
    </section>
  );
}
