// What would make an operation ready: the fewest things to do, soonest first, and what each of them clears.
import type { Help, Remedy } from "../../core/standing/remedies.ts";
import type { Reason } from "../../core/facts/reason.ts";
import { reasonWords } from "../../present/reasons.ts";
import { asTitle, insideSentence } from "../../present/sentence-case.ts";
import { timeSeenFrom } from "../../present/words/formats.ts";
import { wordsOfReasonsIn } from "../../present/words/words.ts";
import "../look/line.css";
import { clearsBy, reasonLine } from "./told.ts";
import type { Teller } from "./told.ts";
import { useLineWords } from "./use-line-words.ts";

type WhatHelpsProps = { readonly help: Help | null; readonly teller: Teller };

export function WhatHelps({ help, teller }: WhatHelpsProps) {
  const { help: words } = useLineWords();
  const { locale, now_ms } = teller;
  return (
    <section className="opens helps">
      <h2 className="heading-small">{words.heading}</h2>
      {help === null ? (
        <p>{words.none}</p>
      ) : (
        <>
          <p>
            {help.at_ms > now_ms
              ? words.later(timeSeenFrom(now_ms, help.at_ms, locale), help.remedies.length)
              : words.now(help.remedies.length)}
          </p>
          <ol className="rows">
            {help.remedies.map((remedy, index) => (
              <Helping
                key={`${remedy.code} ${remedy.target?.id ?? ""}`}
                remedy={remedy}
                clears={help.clears[index] ?? []}
                teller={teller}
              />
            ))}
          </ol>
          <p className="quiet small">{words.fewest}</p>
        </>
      )}
    </section>
  );
}

type HelpingProps = {
  readonly remedy: Remedy;
  readonly clears: readonly Reason[];
  readonly teller: Teller;
};

function Helping({ remedy, clears, teller }: HelpingProps) {
  const { help: words } = useLineWords();
  const { language } = teller.locale;
  const [first] = clears;
  if (first === undefined) return null;
  const is = first.remedy.code === remedy.code;
  const doing = is
    ? reasonWords({ reason: first, ...teller }).remedy
    : wordsOfReasonsIn(language).remedies[remedy.code];
  return (
    <li className="helping">
      <span>
        <b>{asTitle(doing, language)}</b>
        <span className="reason-detail">
          {words.clears(
            clears.map((reason) => insideSentence(reasonLine(reason, teller), language)).join("; "),
          )}
        </span>
      </span>
      <span className="reason-clears">{clearsBy({ remedy }, teller.locale)}</span>
    </li>
  );
}
