// The standing line of one operation in full: 72 hours in three strips (all together, machine and crew, weather), a place on
// it that is read out in words, what would help, and every change with what makes it and what would move it.
//
// One slider goes from change to change, by arrow keys, by a finger on the strips, and by a screen reader; it is the
// browser's own, so that each of them knows what to do with it.
import { useRef, useState } from "react";
import type { Effect, Reason } from "../../core/facts/reason.ts";
import type { OperationStanding } from "../../core/standing/assess.ts";
import { compareReasons, isActive, touches } from "../../core/standing/combine.ts";
import type { Change, Span, Verdict } from "../../core/standing/combine.ts";
import { asTitle } from "../../present/sentence-case.ts";
import { timeSeenFrom } from "../../present/words/formats.ts";
import { reasonWords } from "../../present/reasons.ts";
import type { CraftView } from "../device/model.ts";
import "../look/line.css";
import { EffectGlyph } from "../parts/glyph.tsx";
import { PhraseText } from "../parts/phrase-text.tsx";
import { Ribbon, RibbonTicks } from "../parts/ribbon.tsx";
import type { RibbonTime } from "../parts/ribbon.tsx";
import { Sheet } from "../parts/sheet.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useNames, useSnapshot } from "./app-context.tsx";
import { clearsBy, reasonLine } from "./told.ts";
import type { Teller } from "./told.ts";
import { useLineWords } from "./use-line-words.ts";
import { WhatHelps } from "./what-helps.tsx";

type StandingLineProps = {
  readonly craft: CraftView;
  readonly operation: string | null;
  readonly onClose: () => void;
};

export function StandingLine({ craft, operation, onClose }: StandingLineProps) {
  const names = useNames(craft);
  const standing = craft.standing.operations.find((one) => one.operation === operation);
  return (
    <Sheet
      title={operation === null ? "" : names.title("operation", operation)}
      open={standing !== undefined}
      onClose={onClose}
    >
      {standing !== undefined && <Inside craft={craft} standing={standing} />}
    </Sheet>
  );
}

function Inside({ craft, standing }: { readonly craft: CraftView; readonly standing: OperationStanding }) {
  const { now_ms } = useSnapshot();
  const locale = useLocale();
  const names = useNames(craft);
  const words = useLineWords();
  const { standing: said } = useWords();
  const teller = { names, locale, now_ms };
  const isReady = standing.verdict === "ready" || standing.verdict === "withinLimits";
  return (
    <div className="stack-wide">
      <p className="lead">{said.verdict[standing.verdict]}</p>
      <LineFigure craft={craft} standing={standing} teller={teller} />
      {!isReady && <WhatHelps help={standing.help} teller={teller} />}
      <section className="opens">
        <h2 className="heading-small">{words.changes}</h2>
        {standing.changes.length === 0 ? (
          <p>{words.noChange}</p>
        ) : (
          <ol className="rows">
            {standing.changes.map((change) => (
              <ChangeRow key={change.at_ms} change={change} teller={teller} />
            ))}
          </ol>
        )}
      </section>
    </div>
  );
}

const effectOf: Readonly<Record<Verdict, Effect | null>> = {
  ready: null,
  withinLimits: "limits",
  notKnown: "unknown",
  notReady: "blocks",
};

type FigureProps = {
  readonly craft: CraftView;
  readonly standing: OperationStanding;
  readonly teller: Teller;
};

function LineFigure({ craft, standing, teller }: FigureProps) {
  const words = useLineWords();
  const { standing: said } = useWords();
  const { locale, now_ms, names } = teller;
  const { line, rows, kept } = standing;
  const strips = useRef<HTMLDivElement>(null);
  const [chosen, setChosen] = useState(0);
  const at = Math.min(chosen, line.length - 1);
  const span = line[at];
  const [begin, end] = [line[0]?.from_ms ?? now_ms, line.at(-1)?.until_ms ?? now_ms + 1];
  const time: RibbonTime = { from_ms: begin, until_ms: end, now_ms };
  if (span === undefined) return null;
  const share = (at_ms: number): string => `${((at_ms - begin) / (end - begin)) * 100}%`;
  const pick = (clientX: number) => {
    const box = strips.current?.getBoundingClientRect();
    if (box === undefined) return;
    const at_ms = begin + ((clientX - box.left) / box.width) * (end - begin);
    const found = line.findIndex(({ from_ms, until_ms }) => from_ms <= at_ms && at_ms < until_ms);
    if (found >= 0) setChosen(found);
  };
  const sentence = words.span(
    at === 0 ? words.from : timeSeenFrom(now_ms, span.from_ms, locale),
    at === line.length - 1 ? words.farEnd : timeSeenFrom(now_ms, span.until_ms, locale),
    said.verdictLow[span.verdict],
  );
  const strip = (name: string, spans: readonly Span[], keptSpans?: readonly Span[]) => (
    <div className="line-strip">
      <span className="line-strip-name">{asTitle(name, locale.language)}</span>
      <Ribbon
        name={name}
        spans={spans}
        {...(keptSpans === undefined ? {} : { kept: keptSpans })}
        time={time}
      />
    </div>
  );
  return (
    <figure className="line" aria-label={words.figure(names.title("operation", standing.operation))}>
      <div
        ref={strips}
        className="line-strips"
        onPointerDown={({ clientX }) => pick(clientX)}
        onPointerMove={({ clientX, buttons }) => {
          if (buttons === 1) pick(clientX);
        }}
      >
        {strip(words.together, line, kept.line)}
        {strip(said.machineAndCrew, rows.machine)}
        {strip(said.weather, rows.sky)}
        <RibbonTicks time={time} />
        <span
          className="line-here"
          aria-hidden="true"
          style={{
            insetInlineStart: share(span.from_ms),
            insetInlineEnd: `calc(100% - ${share(span.until_ms)})`,
          }}
        />
        <input
          className="line-slider"
          type="range"
          min={0}
          max={line.length - 1}
          step={1}
          value={at}
          disabled={line.length === 1}
          aria-label={words.slider}
          aria-valuetext={sentence}
          onChange={({ target }) => setChosen(Number(target.value))}
        />
      </div>
      <figcaption className="stack">
        <p className="quiet small">{words.keptNote}</p>
        <div className="line-reading" aria-live="polite">
          <p>
            <b>{asTitle(sentence, locale.language)}</b>
          </p>
          <Deciding craft={craft} standing={standing} span={span} teller={teller} />
        </div>
      </figcaption>
    </figure>
  );
}

const shownAtOnce = 3;

/** What makes a span what it is. */
function Deciding({ craft, standing, span, teller }: FigureProps & { readonly span: Span }) {
  const words = useLineWords();
  const effect = effectOf[span.verdict];
  if (effect === null) return <p>{words.nothingAgainst}</p>;
  const deciding = craft.standing.reasons
    .filter(
      (reason) =>
        reason.effect === effect && touches(reason, standing.operation) && isActive(reason, span.from_ms),
    )
    .toSorted(compareReasons);
  const more = deciding.length - shownAtOnce;
  return (
    <ul className="line-deciding">
      {deciding.slice(0, shownAtOnce).map((reason, index) => (
        <li key={`${reason.code} ${index}`}>
          {reasonLine(reason, teller)}
          <span className="quiet small"> {reasonWords({ reason, ...teller }).remedy}</span>
        </li>
      ))}
      {more > 0 && <li className="quiet small">{words.andMore(more)}</li>}
    </ul>
  );
}

/** One change: when, to what, by what, and what would move it. */
function ChangeRow({ change, teller }: { readonly change: Change; readonly teller: Teller }) {
  const words = useLineWords();
  const { standing: said } = useWords();
  const { locale, now_ms } = teller;
  const { at_ms, from, to, begins, lapses } = change;
  const effect = effectOf[to] ?? "advises";
  return (
    <li className="line-change">
      <EffectGlyph effect={effect} />
      <span>
        <b>
          {timeSeenFrom(now_ms, at_ms, locale)}{" "}
          {from === to ? `${said.verdictLow[to]}, ${words.numbersOnly}` : said.verdictLow[to]}
        </b>
        {begins.map((reason, index) => (
          <Cause key={`b${index}`} reason={reason} teller={teller} />
        ))}
        {lapses.map((reason, index) => (
          <span key={`l${index}`} className="reason-detail">
            {words.lapses(reasonLine(reason, teller))}
          </span>
        ))}
      </span>
      <span className="reason-clears">
        {begins[0] === undefined ? words.byItself : clearsBy(begins[0], locale)}
      </span>
    </li>
  );
}

function Cause({ reason, teller }: { readonly reason: Reason; readonly teller: Teller }) {
  const { title, remedy } = reasonWords({ reason, ...teller });
  return (
    <span className="reason-detail">
      <PhraseText of={title} />; {remedy}
    </span>
  );
}
